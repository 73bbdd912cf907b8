"""What the checks look at: a catalogue, and each type compiled once and only when asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from typing import Any

from faultkit.consistency.logic import Logic
from faultkit.consistency.standalone import Standalone, stand_alone
from faultkit.model.catalogue import Catalogue
from faultkit.model.types import EquipmentType, HouseEvent, Reading, Ref

__all__ = ["Subject", "TypeView", "full_name"]

#: Configurations of one type that are looked at; beyond that only those with at most two switches off or on.
_CONFIGURATIONS = 64


def full_name(ref: Ref) -> str:
    """A reference as the author of the type writes it, without ``each``."""
    return f"{ref.join}.{ref.name}" if ref.join else ref.name


class TypeView:
    """One type with what follows from it."""

    def __init__(self, kind: EquipmentType) -> None:
        self.kind = kind
        self._alone: dict[tuple[tuple[str, bool], ...], Standalone] = {}
        self._logic: dict[tuple[tuple[str, bool], ...], Logic] = {}

    @cached_property
    def switches(self) -> tuple[HouseEvent, ...]:
        """House events that a site sets: those of the type itself. Those within a section are handed down."""
        return tuple(h for h in self.kind.house_events.values() if not h.alias and "." not in h.name)

    def configurations(self) -> Iterator[dict[str, bool]]:
        """Settings of the switches, all on first."""
        names = [h.name for h in self.switches]
        n = len(names)
        sizes = list(range(n + 1)) if 2**n <= _CONFIGURATIONS else [0, 1, 2, n - 1, n]
        for size in sizes:
            for off in combinations(names, size):
                yield {n: n not in off for n in names}

    def alone(self, house: Mapping[str, bool]) -> Standalone:
        """The type on its own in a configuration."""
        key = tuple(house.items())
        if key not in self._alone:
            self._alone[key] = stand_alone(self.kind, house)
        return self._alone[key]

    def decisions(self, event: str) -> Iterator[tuple[dict[str, bool], bool | None]]:
        """For each configuration in which an event (joined name) exists: what that alone makes of it, or None."""
        for house in self.configurations():
            alone = self.alone(house)
            if alone.site.events[event].fixed is None:
                yield house, alone.fixed.get(event)

    def logic_of(self, house: Mapping[str, bool]) -> Logic:
        """Its functions in a configuration."""
        key = tuple(house.items())
        if key not in self._logic:
            self._logic[key] = Logic(self.alone(house))
        return self._logic[key]

    @cached_property
    def logic(self) -> Logic:
        """Its functions with every switch on: nothing is left out."""
        return self.logic_of(next(self.configurations()))

    @cached_property
    def measured(self) -> frozenset[str]:
        """Observables and bare readings that checks of the type give, joined ones written with their join."""
        return frozenset(full_name(ref) for check in self.kind.checks.values() for ref in check.gives)

    def bases(self, reading: str) -> frozenset[str]:
        """Measured readings that a reading rests on; itself when nothing calculates it."""
        found = self.kind.readings.get(reading)
        if found is None or found.calculation is None:
            return frozenset({reading})
        refs = found.calculation.readings.values()
        return frozenset().union(*(self.bases(r.name) if r.join is None else {full_name(r)} for r in refs))

    @cached_property
    def obtainable(self) -> frozenset[str]:
        """Observables that the checks of the type can give, calculated ones included."""
        found: set[str] = set()
        given = {name.partition(" in ")[0] for name in self.measured}
        for reading in self.kind.readings.values():
            calculated = reading.calculation is not None and self.bases(reading.name) <= given
            found |= {o.name for o in reading.observables if calculated or o.name in self.measured}
        return frozenset(found)

    def telling(self) -> Iterator[Reading]:
        """Readings with rows."""
        for reading in self.kind.readings.values():
            if any(o.rows for o in reading.observables):
                yield reading


@dataclass
class Subject:
    """A catalogue under test.

    ``covered`` maps a type to the events that its cases confirm; None where cases are not known.
    ``lines`` gives the lines of each file by the name shown. ``baselines`` is what was accepted
    before, by type. ``wanted`` are the types to look at in full (None: all); the others are there to
    be joined with. Everything else is worked out when asked for.
    """

    catalogue: Catalogue
    calculators: Mapping[str, Any] = field(default_factory=dict)
    covered: Mapping[str, frozenset[str]] | None = None
    lines: Mapping[str, Sequence[str]] = field(default_factory=dict)
    baselines: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    wanted: frozenset[str] | None = None
    memo: dict[Any, Any] = field(default_factory=dict)

    @cached_property
    def views(self) -> dict[str, TypeView]:
        """Each type that is looked at in full, by name."""
        types = self.catalogue.types.items()
        return {name: TypeView(kind) for name, kind in types if self.wanted is None or name in self.wanted}

    def partners(self, kind: EquipmentType, join: str) -> list[EquipmentType]:
        """Types of the catalogue that have all that a join uses."""
        wanted = kind.joins[join]
        return [
            t
            for t in self.catalogue.types.values()
            if set(wanted.events) <= t.events.keys()
            and set(wanted.readings) <= t.readings.keys()
            and set(wanted.settings) <= t.settings.keys()
            and (not wanted.reverse_of or wanted.reverse_of in t.joins)
        ]

    @cached_property
    def used_elsewhere(self) -> dict[str, dict[str, set[str]]]:
        """For each type, what joins of other types use of it: ``events`` and ``readings``."""
        found: dict[str, dict[str, set[str]]] = {
            name: {"events": set(), "readings": set()} for name in self.catalogue.types
        }
        for kind in self.catalogue.types.values():
            for join in kind.joins.values():
                for partner in self.partners(kind, join.name):
                    found[partner.name]["events"] |= set(join.events)
                    found[partner.name]["readings"] |= {r.partition(" in ")[0] for r in join.readings}
        return found

    @cached_property
    def ended_elsewhere(self) -> set[str]:
        """Events that remedies of a joined type end (by their name there)."""
        return {
            ref.name
            for kind in self.catalogue.types.values()
            for remedy in kind.remedies.values()
            for ref in remedy.ends
            if ref.join is not None
        }
