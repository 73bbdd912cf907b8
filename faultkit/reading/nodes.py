"""YAML nodes that know where they stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from faultkit.problems import Where

__all__ = ["Node"]


@dataclass(frozen=True, slots=True)
class Node:
    """A YAML value with its place.

    ``value`` is a dict of name → Node, a list of Nodes, or a scalar (str, int,
    float, bool, None). ``keys`` gives the place of each key of a mapping.
    """

    where: Where
    value: Any
    keys: Mapping[str, Where] = field(default_factory=dict, repr=False)

    @property
    def is_map(self) -> bool:
        """Whether it is a mapping."""
        return isinstance(self.value, dict)

    @property
    def is_list(self) -> bool:
        """Whether it is a list."""
        return isinstance(self.value, list)

    def get(self, key: str) -> Node | None:
        """The value under ``key`` of a mapping, or None."""
        found: Node | None = self.value.get(key) if isinstance(self.value, dict) else None
        return found

    def items(self) -> Iterator[tuple[str, Node]]:
        """Pairs of a mapping in the author's order; nothing for other nodes."""
        if isinstance(self.value, dict):
            yield from self.value.items()

    def list(self) -> list[Node]:
        """Members of a list; a single value counts as a list of one."""
        return self.value if isinstance(self.value, list) else [self]

    def text(self, key: str, default: str = "") -> str:
        """The scalar under ``key`` as text, or ``default``."""
        node = self.get(key)
        return default if node is None or node.value is None else str(node.value)

    def at_key(self, key: str) -> Where:
        """The place of ``key``, or of the mapping when it is missing."""
        return self.keys.get(key, self.where)

    def plain(self) -> Any:
        """The value without places, as JSON would hold it."""
        if isinstance(self.value, dict):
            return {k: n.plain() for k, n in self.value.items()}
        if isinstance(self.value, list):
            return [n.plain() for n in self.value]
        return self.value
