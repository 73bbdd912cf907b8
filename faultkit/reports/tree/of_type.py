"""An equipment type or a section as a book."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from faultkit.model.types import Calculation, Common, EquipmentType, Event, Gate, Join, Link, Observable, Reading, Ref
from faultkit.reports.tree.book import Book, BookKind, Cause, Item, Kind, Reader, Row, Ruler, Task
from faultkit.reports.tree.words import spoken

__all__ = ["book_of_section", "book_of_type", "homes_of", "item_kind"]

_KINDS = {Gate.ANY_OF: Kind.ANY_OF, Gate.ALL_OF: Kind.ALL_OF, Gate.AT_LEAST: Kind.AT_LEAST, Gate.BASIC: Kind.BASIC}


def item_kind(event: Event) -> Kind:
    """What an event is in the picture."""
    return _KINDS[event.gate]


def homes_of(join: Join, types: Mapping[str, EquipmentType]) -> tuple[str, ...]:
    """The types that have everything a join uses."""
    return tuple(
        name
        for name, t in types.items()
        if all(e in t.events or e in t.house_events for e in join.events)
        and all(r in t.readings for r in join.readings)
        and all(s in t.settings for s in join.settings)
    )


def book_of_type(kind: EquipmentType, common: Common, types: Mapping[str, EquipmentType]) -> Book:
    """The book of a type; ``types`` are those its joins may lead to."""
    return _Binder(kind, types, {}).book(BookKind.TYPE, common)


def book_of_section(section: EquipmentType, needs: Mapping[str, str], common: Common) -> Book:
    """The book of a section on its own: what it needs (name → title) comes from outside."""
    return _Binder(section, {}, needs).book(BookKind.SECTION, common)


class _Binder:
    """Gives every reference a name in the book; what is not of the type becomes an outside item."""

    def __init__(self, kind: EquipmentType, types: Mapping[str, EquipmentType], needs: Mapping[str, str]) -> None:
        self.kind = kind
        self.types = types
        self.needs = needs
        self.homes = {name: homes_of(join, types) for name, join in kind.joins.items()}
        self.events: dict[str, Item] = {}
        self.readings: dict[str, Reader] = {}

    def book(self, kind: BookKind, common: Common) -> Book:
        t = self.kind
        for event in t.events.values():
            self.events[event.name] = Item(
                event.name, event.title, item_kind(event), event.plain, self.causes(event.inputs),
                self.causes(event.broken_by), event.only_with, event,
            )
        for name, house in t.house_events.items():
            self.events[name] = Item(name, house.title or spoken(name), Kind.HOUSE, house=house)
        for reading in t.readings.values():
            self.readings[reading.name] = self.reader(reading)
        checks = {
            c.name: Task(c.name, c.title, c, gives=self.read(c.gives), place=c.place) for c in t.checks.values()
        }
        remedies = {
            r.name: Task(
                r.name, r.title, r, ends=self.happen(r.ends),
                prove=tuple((self.read([ref])[0], band) for ref, band in r.prove),
                may_leave=self.causes(r.may_leave), disturbs=self.read(r.disturbs), place=r.place,
            )
            for r in t.remedies.values()
        }
        # What comes from outside is found on the way, and stands last.
        events = {n: self.events[n] for n in (*t.events, *t.house_events)} | self.events
        readings = {n: self.readings[n] for n in t.readings} | self.readings
        return Book(
            t.name, t.title, kind, t.plain, events, readings, checks, remedies, t.settings, t.joins, t.states, {},
            common,
        )

    # -- names ----------------------------------------------------------------

    def causes(self, links: Iterable[Link]) -> tuple[Cause, ...]:
        return tuple(Cause(self.happen([link.ref])[0], link.strength) for link in links)

    def happen(self, refs: Iterable[Ref]) -> tuple[str, ...]:
        """Events by name; one not of the type is added as an outside item."""
        return tuple(self.outside_event(ref) for ref in refs)

    def read(self, refs: Iterable[Ref]) -> tuple[str, ...]:
        return tuple(self.outside_reading(ref) for ref in refs)

    def outside_event(self, ref: Ref) -> str:
        name = f"{ref.join}.{ref.name}" if ref.join else ref.name
        if ref.join is None and (name in self.kind.events or name in self.kind.house_events):
            return name
        if name not in self.events:
            if ref.join is None:
                note = "comes from the type that includes this section"
                self.events[name] = Item(name, self.needs.get(name, spoken(name)), Kind.OUTSIDE, note=note)
            else:
                titles = [self.types[t].events[ref.name].title for t in self.homes[ref.join]
                          if ref.name in self.types[t].events]
                title = f"{self.joined(ref.join)}: {titles[0] if titles else spoken(ref.name)}"
                self.events[name] = Item(name, title, Kind.OUTSIDE, note=self.note(ref), homes=self.home(ref))
        return name

    def outside_reading(self, ref: Ref) -> str:
        """The observable or reading by name; that of a joined unit is added as an outside reader."""
        if ref.join is None:
            return ref.name
        name = f"{ref.join}.{ref.name}"
        plain = name.partition(" in ")[0]
        if plain not in self.readings:
            known = [self.types[t].readings.get(ref.name.partition(" in ")[0]) for t in self.homes[ref.join]]
            titles = [r.title for r in known if r is not None]
            title = f"{self.joined(ref.join)}: {titles[0] if titles else spoken(plain)}"
            self.readings[plain] = Reader(plain, title, note=self.note(ref), homes=self.home(ref))
        return name

    def joined(self, join: str) -> str:
        return self.kind.joins[join].title or spoken(join)

    def note(self, ref: Ref) -> str:
        back = ref.join is not None and self.kind.joins[ref.join].reverse_of
        many = "of each unit joined as" if back else "of the unit joined as"
        return f"{many} '{ref.join}'"

    def home(self, ref: Ref) -> tuple[tuple[str, str], ...]:
        assert ref.join
        return tuple((t, ref.name.partition(" in ")[0]) for t in self.homes[ref.join])

    # -- readings -------------------------------------------------------------

    def reader(self, reading: Reading) -> Reader:
        rulers = tuple(self.ruler(o) for o in reading.observables)
        inputs = self.inputs(reading.calculation) if reading.calculation else {}
        return Reader(reading.name, reading.title, reading, rulers, inputs)

    def ruler(self, o: Observable) -> Ruler:
        rows = tuple(Row(self.happen([r.event])[0] if r.event else None, r.chances, r.basis) for r in o.rows)
        return Ruler(o.name, o.state or "", o.bands, o.cuts, rows)

    def inputs(self, c: Calculation) -> dict[str, str]:
        return {
            **{arg: self.outside_reading(ref) for arg, ref in c.readings.items()},
            **{arg: str(ref) for arg, ref in c.settings.items()},
            **{arg: q.text for arg, q in c.quantities.items()},
            **c.words,
        }
