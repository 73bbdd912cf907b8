"""The joined network: named Boolean nodes and the signs that readings are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property

__all__ = ["Network", "Node", "NodeKind", "Sign", "plain", "since"]


class NodeKind(StrEnum):
    """What a node is. The first four are roots with a prior, the rest are gates."""

    BASIC = "basic"            # a basic event of its author
    LEAK = "leak"              # causes that an any_of gate does not list
    INHIBITOR = "inhibitor"    # decides whether a weak link acts
    COMES = "comes"            # a fault that a remedy brings with it
    ANY_OF = "any_of"
    ALL_OF = "all_of"
    AT_LEAST = "at_least"


ROOTS = frozenset({NodeKind.BASIC, NodeKind.LEAK, NodeKind.INHIBITOR, NodeKind.COMES})


def plain(name: str) -> str:
    """The name of a node or sign without the stage it dates from."""
    return name.partition("#")[0]


def since(name: str) -> int:
    """The stage a node or sign dates from: ``x`` from before any remedy, ``x#2`` from the second one on."""
    return int(name.partition("#")[2] or 0)


@dataclass(frozen=True, slots=True)
class Node:
    """One Boolean variable.

    ``inputs`` are indices of earlier nodes (empty for roots), ``k`` the
    threshold of an AT_LEAST gate, ``prior`` the chance of a root, inside (0, 1).
    """

    name: str
    kind: NodeKind
    inputs: tuple[int, ...] = ()
    k: int = 0
    prior: float = 0.0

    @property
    def is_root(self) -> bool:
        """Whether it has a prior of its own."""
        return self.kind in ROOTS


@dataclass(frozen=True, slots=True)
class Sign:
    """An observable: the first true row decides how its bands come.

    ``rows`` are node indices; ``chances[j]`` the chance of each band when row j
    decides, the last entry belongs to ``otherwise``.
    """

    name: str
    bands: tuple[str, ...]
    rows: tuple[int, ...]
    chances: tuple[tuple[float, ...], ...]


@dataclass(frozen=True)
class Network:
    """Nodes in topological order (inputs first) and signs by name.

    ``faults`` are the nodes an author calls a basic event (a damaged part is a
    gate here) and the leaks: what a diagnosis may name as a cause. ``earlier``
    are the same events as they were before a remedy changed them.
    """

    nodes: tuple[Node, ...]
    signs: Mapping[str, Sign] = field(default_factory=dict)
    faults: tuple[int, ...] = ()
    earlier: tuple[int, ...] = ()

    @cached_property
    def index(self) -> Mapping[str, int]:
        """Node name → index."""
        return {n.name: i for i, n in enumerate(self.nodes)}

    @cached_property
    def fault_set(self) -> frozenset[int]:
        """The faults of all stages."""
        return frozenset((*self.faults, *self.earlier))

    def ancestors(self, of: Iterable[int]) -> frozenset[int]:
        """The nodes given and everything they stand on."""
        seen = set(of)
        stack = list(seen)
        while stack:
            for i in self.nodes[stack.pop()].inputs:
                if i not in seen:
                    seen.add(i)
                    stack.append(i)
        return frozenset(seen)

    def with_gates(self, gates: Iterable[Node]) -> Network:
        """The same network with more gates behind the last node."""
        return replace(self, nodes=(*self.nodes, *gates))
