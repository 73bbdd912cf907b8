"""What a page shows: the events, readings, checks and remedies of a type, a section or a site, by one set of names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from faultkit.model.types import Basis, Check, Common, Cut, Event, HouseEvent, Join, Reading, Remedy, Setting

__all__ = ["Book", "BookKind", "Cause", "Item", "Kind", "Machine", "Reader", "Row", "Ruler", "Task"]


class BookKind(StrEnum):
    """What a book is about."""

    TYPE = "equipment type"
    SECTION = "section"
    SITE = "site"


class Kind(StrEnum):
    """What an event is in the picture."""

    ANY_OF = "any_of"
    ALL_OF = "all_of"
    AT_LEAST = "at_least"
    BASIC = "basic"
    HOUSE = "house"        # a switch of the configuration
    OUTSIDE = "outside"    # an event of a joined unit, or one that an including type binds


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause by its name in the book, and how strongly it acts (1.0: always)."""

    event: str
    strength: float = 1.0


@dataclass(frozen=True, slots=True)
class Item:
    """An event. ``damage`` are the causes that break the part of a basic event.

    ``event`` is the event as its author wrote it, None for what comes from outside;
    ``only_with`` names house events of the book. ``fixed`` is set where the
    configuration of a site decides. ``homes`` are the types an outside event may belong to.
    """

    name: str
    title: str
    kind: Kind
    plain: str = ""
    causes: tuple[Cause, ...] = ()
    damage: tuple[Cause, ...] = ()
    only_with: tuple[str, ...] = ()
    event: Event | None = None
    house: HouseEvent | None = None
    unit: str = ""
    fixed: bool | None = None
    note: str = ""
    homes: tuple[tuple[str, str], ...] = ()

    @property
    def below(self) -> tuple[Cause, ...]:
        """Causes and what breaks it."""
        return (*self.causes, *self.damage)


@dataclass(frozen=True, slots=True)
class Row:
    """A row of what a reading tells: the event (None: otherwise) and the chance of each band."""

    event: str | None
    chances: tuple[float, ...]
    basis: Basis | None = None


@dataclass(frozen=True, slots=True)
class Ruler:
    """A reading in one state: its bands, the cuts between them, the rows in the order they are asked."""

    name: str
    state: str
    bands: tuple[str, ...]
    cuts: tuple[Cut, ...] = ()
    rows: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class Reader:
    """A reading. ``inputs`` maps an argument of its calculator to what feeds it: a reading's name, or text."""

    name: str
    title: str
    reading: Reading | None = None
    rulers: tuple[Ruler, ...] = ()
    inputs: Mapping[str, str] = field(default_factory=dict)
    unit: str = ""
    note: str = ""
    homes: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Task:
    """A check (``gives`` readings) or a remedy (``ends`` events) with names of the book."""

    name: str
    title: str
    source: Check | Remedy
    gives: tuple[str, ...] = ()
    ends: tuple[str, ...] = ()
    prove: tuple[tuple[str, str], ...] = ()
    may_leave: tuple[Cause, ...] = ()
    disturbs: tuple[str, ...] = ()
    place: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Machine:
    """A unit of a site."""

    name: str
    title: str
    equipment: str
    place: str
    joins: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Book:
    """All that is shown of one type, section or site. Maps keep the author's order; readings by reading's name."""

    name: str
    title: str
    kind: BookKind
    plain: str = ""
    events: Mapping[str, Item] = field(default_factory=dict)
    readings: Mapping[str, Reader] = field(default_factory=dict)
    checks: Mapping[str, Task] = field(default_factory=dict)
    remedies: Mapping[str, Task] = field(default_factory=dict)
    settings: Mapping[str, Setting] = field(default_factory=dict)
    joins: Mapping[str, Join] = field(default_factory=dict)
    states: Mapping[str, str] = field(default_factory=dict)
    units: Mapping[str, Machine] = field(default_factory=dict)
    common: Common = field(default_factory=Common)
    #: The event the book was cut down to, '' for all.
    top: str = ""

    def tops(self) -> tuple[str, ...]:
        """Events nothing stands on that have causes; with ``top``, that one.

        Gates come first, then parts that others break, both in the author's order.
        """
        if self.top:
            return (self.top,)
        used = {c.event for item in self.events.values() for c in item.below}
        found = [i for n, i in self.events.items() if i.below and n not in used and i.fixed is None]
        return tuple(i.name for i in sorted(found, key=lambda i: i.kind is Kind.BASIC))

    def reading_of(self, observable: str) -> str:
        """The reading that an observable (``suction_pressure in running``) belongs to."""
        return observable.partition(" in ")[0]
