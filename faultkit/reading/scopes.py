"""Scopes: the type, its included sections, and each copy of a part, with the names declared in them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from faultkit.model.types import HouseEvent, Join, ReadingKind, Ref, Setting
from faultkit.problems import Where
from faultkit.reading.mistakes import Mistakes
from faultkit.reading.nodes import Node

__all__ = ["Declared", "Part", "Scope", "declared_reading", "walk"]


@dataclass(frozen=True, slots=True)
class Declared:
    """What a reading's head says, before its numbers are read.

    ``kind`` is None when the head is wrong (noted later, where it is read);
    ``bands`` maps state (None: no state) → band names.
    """

    name: str
    node: Node
    where: Where
    kind: ReadingKind | None
    states: tuple[str, ...]
    bands: Mapping[str | None, tuple[str, ...]]

    def observable(self, state: str | None) -> str:
        """The name of the observable in a state."""
        return f"{self.name} in {state}" if len(self.states) > 1 else self.name

    def observables(self) -> dict[str, tuple[str, ...]]:
        """Bands by observable; a reading without bands has none."""
        return {self.observable(state): bands for state, bands in self.bands.items()}


@dataclass(slots=True)
class Part:
    """A part: its copies by name, or one piece under '' when it has no copies."""

    name: str
    copies: dict[str, Scope] = field(default_factory=dict)

    @property
    def copied(self) -> bool:
        """Whether the part has copies with names."""
        return "" not in self.copies


@dataclass(slots=True)
class Scope:
    """A namespace. ``prefix`` ('' or ``coil.fan.left.``) stands before the names declared here.

    ``label`` and ``spoken`` stand before titles and customer's words;
    ``home`` is the enclosing file scope of a part's copy, None for a file.
    ``needs`` maps a section's need → the event bound to it (None: wrong, noted).
    ``unreadable`` are includes already complained of: what they would hold is not missed again.
    ``states`` is shared by a whole type, ``own_states`` are those of this file and the sections below.
    """

    prefix: str
    node: Node
    mistakes: Mistakes
    source: str
    label: str = ""
    spoken: str = ""
    home: Scope | None = None
    where: Where | None = None
    events: dict[str, Node] = field(default_factory=dict)
    readings: dict[str, Declared] = field(default_factory=dict)
    settings: dict[str, Setting] = field(default_factory=dict)
    house_events: dict[str, HouseEvent] = field(default_factory=dict)
    needs: dict[str, Ref | None] = field(default_factory=dict)
    joins: dict[str, Join] = field(default_factory=dict)
    sections: dict[str, Scope] = field(default_factory=dict)
    parts: dict[str, Part] = field(default_factory=dict)
    unreadable: set[str] = field(default_factory=set)
    states: dict[str, str] = field(default_factory=dict)
    own_states: tuple[str, ...] = ()

    @property
    def file(self) -> Scope:
        """The scope of the file that this one stands in."""
        return self.home or self

    def bad(self, where: Where | None, what: str, expected: str = "") -> None:
        """Note a mistake."""
        self.mistakes.add(where, what, expected)


def walk(scope: Scope) -> Iterator[Scope]:
    """A file's scope, its parts' copies, then its sections with all in them."""
    yield scope
    for part in scope.parts.values():
        yield from part.copies.values()
    for section in scope.sections.values():
        yield from walk(section)


def _texts(node: Node | None) -> tuple[str, ...]:
    return () if node is None else tuple(str(n.value) for n in node.list() if isinstance(n.value, str))


def _bands_of(node: Node | None) -> tuple[str, ...]:
    """Band names of a ruler written ``[name, cut, name …]``, unchecked."""
    return tuple(str(n.value) for n in node.list()[::2]) if node is not None and node.is_list else ()


def declared_reading(name: str, node: Node, where: Where) -> Declared:
    """The head of a reading, lenient: what is wrong is noted when its body is read."""
    if node.value == "yes_no":
        return Declared(name, node, where, ReadingKind.YES_NO, (), {None: ("yes", "no")})
    kinds = {"unit": ReadingKind.QUANTITY, "yes_no": ReadingKind.YES_NO, "one_of": ReadingKind.ONE_OF}
    kind = next((k for key, k in kinds.items() if node.get(key) is not None), None)
    rulers = node.get("bands")
    states = tuple(dict.fromkeys(_texts(node.get("in"))))
    if kind is ReadingKind.QUANTITY and rulers is not None and rulers.is_map:
        bands: dict[str | None, tuple[str, ...]] = {
            state: _bands_of(ruler) for state, ruler in rulers.items()
        }
        return Declared(name, node, where, kind, tuple(state for state, _ in rulers.items()), bands)
    plain: tuple[str, ...] = ("yes", "no")
    if kind is ReadingKind.ONE_OF:
        plain = _texts(node.get("one_of"))
    elif kind is not ReadingKind.YES_NO:
        plain = _bands_of(rulers)
    return Declared(name, node, where, kind, states, dict.fromkeys(states or (None,), plain) if plain else {})
