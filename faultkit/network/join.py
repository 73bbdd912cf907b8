"""Units of a site joined: names made global, cuts made numbers, loops refused."""

from __future__ import annotations

from collections.abc import Mapping
from graphlib import CycleError, TopologicalSorter

from faultkit.calculators import Calculator
from faultkit.model.site import SitePlan, Unit
from faultkit.model.types import (
    Calculation,
    Check,
    Common,
    EquipmentType,
    Event,
    Gate,
    Join,
    Link,
    Reading,
    Ref,
    Remedy,
)
from faultkit.network.calculations import BoundCalculation, bind
from faultkit.network.cuts import Settings, edges_of
from faultkit.network.site import (
    Premise,
    Site,
    SiteCheck,
    SiteEvent,
    SiteLink,
    SiteReading,
    SiteRemedy,
    SiteSign,
)
from faultkit.problems import InputError, Problem, Where, did_you_mean
from faultkit.units import Quantity, atmosphere

__all__ = ["join_site"]


def join_site(
    plan: SitePlan,
    types: Mapping[str, EquipmentType],
    common: Common,
    *,
    catalogue: str = "",
    calculators: Mapping[str, Calculator] | None = None,
) -> Site:
    """Join the units of a site.

    ``catalogue`` is the hash of the catalogue the types come from, ``calculators``
    the calculators by name. Raises InputError with every problem found.
    """
    joiner = _Joiner(plan, types, common, calculators or {})
    joiner.run()
    if joiner.problems:
        raise InputError(joiner.problems)
    return Site(
        plan=plan,
        catalogue=catalogue,
        common=common,
        atmosphere=atmosphere(plan.altitude),
        events=joiner.sorted_events(),
        signs=joiner.signs,
        all_readings=joiner.readings,
        checks=joiner.checks,
        remedies=joiner.remedies,
        states={u.name: dict(types[u.equipment].states) for u in plan.units.values()},
        calculators=calculators or {},
    )


class _Joiner:
    """Collects the joined parts and the problems; thrown away afterwards."""

    def __init__(
        self,
        plan: SitePlan,
        types: Mapping[str, EquipmentType],
        common: Common,
        calculators: Mapping[str, Calculator],
    ) -> None:
        self.plan = plan
        self.types = types
        self.common = common
        self.calculators = calculators
        self.problems: list[Problem] = []
        self.house: dict[str, dict[str, bool]] = {}
        self.settings: dict[str, Settings] = {}
        self.events: dict[str, SiteEvent] = {}
        self.readings: dict[str, SiteReading] = {}
        self.signs: dict[str, SiteSign] = {}
        self.checks: dict[str, SiteCheck] = {}
        self.remedies: dict[str, SiteRemedy] = {}

    def say(self, what: str, expected: str, where: Where | None) -> None:
        self.problems.append(Problem(what, expected, where))

    # -- the steps ------------------------------------------------------------

    def run(self) -> None:
        """All steps, each standing on the one before; stops where going on would only repeat a problem."""
        units = list(self.plan.units.values())
        for unit in units:
            self.known_type(unit)
        if self.problems:
            return
        for unit in units:
            self.unit_settings(unit)
            self.unit_joins(unit)
        if self.problems:
            return
        self.members([(unit, self.types[unit.equipment]) for unit in units])
        self.loops()

    def members(self, kinds: list[tuple[Unit, EquipmentType]]) -> None:
        """Events of all units first, then readings that tell of them, then what takes and ends them."""
        for unit, kind in kinds:
            for house in kind.house_events:
                self.house_event(unit, house)
            for event in kind.events.values():
                self.event(unit, event)
        for unit, kind in kinds:
            for reading in kind.readings.values():
                self.reading(unit, reading)
        for unit, kind in kinds:
            for check in kind.checks.values():
                self.check(unit, check)
            for remedy in kind.remedies.values():
                self.remedy(unit, remedy)

    def known_type(self, unit: Unit) -> None:
        if unit.equipment not in self.types:
            self.say(
                f"equipment type '{unit.equipment}' of unit '{unit.name}' is not known",
                did_you_mean(unit.equipment, self.types),
                unit.places.get("equipment", unit.where),
            )

    def unit_settings(self, unit: Unit) -> None:
        kind = self.types[unit.equipment]
        mine = Settings(
            unit, kind, self.say,
            lambda join: next((self.settings[name] for name in self.joined(unit, join) if name in self.settings), None),
        )
        self.settings[unit.name] = mine
        self.house[unit.name] = mine.house_events()
        mine.complain_unknown()

    def unit_joins(self, unit: Unit) -> None:
        kind = self.types[unit.equipment]
        for name in unit.joins:
            join = kind.joins.get(name)
            if join is None or join.reverse_of:
                forward = [j for j, v in kind.joins.items() if not v.reverse_of]
                self.say(
                    f"'{name}' is not a join of equipment type '{kind.name}' that a unit can give",
                    did_you_mean(name, forward),
                    unit.places.get(name, unit.where),
                )
        for name, join in kind.joins.items():
            if join.reverse_of:
                continue
            target = unit.joins.get(name)
            if target is None:
                if not join.optional:
                    self.say(
                        f"unit '{unit.name}' does not say what it is joined to by '{name}'",
                        f"joins: {{{name}: <unit>}}",
                        unit.where,
                    )
            elif target == unit.name:
                self.say(
                    f"unit '{unit.name}' is joined to itself by '{name}'",
                    "the name of another unit",
                    unit.places.get(name, unit.where),
                )
            elif target in self.plan.units:
                self.uses(join, unit, self.plan.units[target])
        for join in kind.joins.values():
            if join.reverse_of:
                for other in self.joined(unit, join.name):
                    self.uses(join, unit, self.plan.units[other])

    def uses(self, join: Join, unit: Unit, target: Unit) -> None:
        """The joined unit must have what the join uses of it."""
        kind = self.types[target.equipment]
        have = {"event": kind.events, "reading": kind.readings, "setting": kind.settings}
        for what, names in (("event", join.events), ("reading", join.readings), ("setting", join.settings)):
            for name in names:
                if name not in have[what]:
                    self.say(
                        f"join '{join.name}' of '{unit.name}' uses the {what} '{name}', which "
                        f"'{target.name}' ({kind.name}) does not have",
                        did_you_mean(name, have[what]),
                        join.where or unit.where,
                    )

    # -- names ----------------------------------------------------------------

    def joined(self, unit: Unit, join: str) -> list[str]:
        """The units joined to ``unit`` under ``join`` (none for an optional join not given)."""
        declared = self.types[unit.equipment].joins[join]
        if declared.reverse_of:
            return [
                other.name
                for other in self.plan.units.values()
                if other.joins.get(declared.reverse_of) == unit.name
            ]
        target = unit.joins.get(join)
        return [target] if target else []

    def globals_of(self, unit: Unit, ref: Ref) -> list[str]:
        """Global names of a reference; empty where nothing is joined."""
        if ref.join is None:
            return [f"{unit.name}.{ref.name}"]
        return [f"{u}.{ref.name}" for u in self.joined(unit, ref.join)]

    def links(self, unit: Unit, links: tuple[Link, ...]) -> tuple[SiteLink, ...]:
        return tuple(SiteLink(g, link.strength) for link in links for g in self.globals_of(unit, link.ref))

    def off(self, unit: Unit, only_with: tuple[str, ...]) -> bool:
        return not all(self.house[unit.name].get(h, False) for h in only_with)

    # -- events ---------------------------------------------------------------

    def house_event(self, unit: Unit, name: str) -> None:
        kind = self.types[unit.equipment]
        declared = kind.house_events[name]
        event = Event(name=name, gate=Gate.ALL_OF, title=declared.title or name, where=declared.where)
        full = f"{unit.name}.{name}"
        self.events[full] = SiteEvent(full, unit.name, event, fixed=self.house[unit.name][name])

    def event(self, unit: Unit, event: Event) -> None:
        full = f"{unit.name}.{event.name}"
        fixed = False if self.off(unit, event.only_with) else None
        self.events[full] = SiteEvent(
            full,
            unit.name,
            event,
            () if fixed is False else self.links(unit, event.inputs),
            () if fixed is False else self.links(unit, event.broken_by),
            fixed,
        )

    def loops(self) -> None:
        if self.problems:
            return
        try:
            self._sorter().prepare()
        except CycleError as fault:
            loop = list(reversed(fault.args[1]))
            first = self.events[loop[0]]
            self.say(
                "events stand on each other in a loop: " + " -> ".join(loop),
                "one of these links must go: let a reading's row tell of it, or make one of them a basic event",
                first.event.where,
            )

    def _sorter(self) -> TopologicalSorter[str]:
        return TopologicalSorter(
            {e.name: [x.cause for x in (*e.inputs, *e.broken_by)] for e in self.events.values()}
        )

    def sorted_events(self) -> dict[str, SiteEvent]:
        return {name: self.events[name] for name in self._sorter().static_order()}

    # -- readings -------------------------------------------------------------

    def reading(self, unit: Unit, reading: Reading) -> None:
        if self.off(unit, reading.only_with):
            return
        full = f"{unit.name}.{reading.name}"
        names: list[str] = []
        for o in reading.observables:
            name = f"{unit.name}.{o.name}"
            edges, premises = edges_of(o, reading, self.settings[unit.name], self.say)
            rows = [(self.row(unit, r.event), r.chances) for r in o.rows]
            kept = [(event, chances) for event, chances in rows if event != ""]
            self.signs[name] = SiteSign(
                name,
                full,
                o.state,
                o.bands,
                edges,
                tuple(event for event, _ in kept),
                tuple(chances for _, chances in kept),
                tuple(Premise(f"{unit.name}.{s}", text) for s, text in premises),
            )
            names.append(name)
        c = reading.calculation
        inputs, bound = self.calculation(unit, reading, c) if c else ({}, None)
        self.readings[full] = SiteReading(full, unit.name, reading, tuple(names), c, inputs, bound)

    def row(self, unit: Unit, ref: Ref | None) -> str | None:
        """The event of a row; '' when nothing is joined there."""
        if ref is None:
            return None
        return next(iter(self.globals_of(unit, ref)), "")

    def calculation(
        self, unit: Unit, reading: Reading, c: Calculation
    ) -> tuple[dict[str, str], BoundCalculation | None]:
        if c.calculator not in self.calculators:
            self.say(
                f"calculator '{c.calculator}' is not known", did_you_mean(c.calculator, self.calculators), c.where
            )
            return {}, None
        inputs = {arg: g for arg, ref in c.readings.items() for g in self.globals_of(unit, ref)}
        if len(inputs) < len(c.readings):
            return inputs, None  # an input of a unit that is not joined
        units = {}
        for arg, name in inputs.items():
            owner, _, local = name.partition(".")
            units[arg] = self.types[self.plan.units[owner].equipment].readings[local].unit
        settings: dict[str, tuple[Quantity | str, Where | None]] = {}
        for arg, ref in c.settings.items():
            owner = unit.name if ref.join is None else next(iter(self.joined(unit, ref.join)), unit.name)
            value = self.settings[owner].value(ref.name, c.where)
            if value is None:
                return inputs, None  # said already, or of a unit that is not joined
            settings[arg] = (value, self.plan.units[owner].places.get(ref.name, c.where))
        bound = bind(
            self.calculators[c.calculator], reading, c, units, settings, atmosphere(self.plan.altitude), self.say
        )
        return inputs, bound

    # -- checks and remedies --------------------------------------------------

    def place(self, unit: Unit, join: str) -> str:
        target = next(iter(self.joined(unit, join)), None) if join else None
        return self.plan.units[target].place if target else unit.place

    def check(self, unit: Unit, check: Check) -> None:
        if self.off(unit, check.only_with):
            return
        wanted = [g for ref in check.gives for g in self.globals_of(unit, ref)]
        gives = tuple(g for g in wanted if g in self.signs or g in self.readings)
        if gives:
            full = f"{unit.name}.{check.name}"
            self.checks[full] = SiteCheck(full, unit.name, check, gives, self.place(unit, check.place))

    def remedy(self, unit: Unit, remedy: Remedy) -> None:
        ends = tuple(
            g
            for ref in remedy.ends
            for g in self.globals_of(unit, ref)
            if g in self.events and self.events[g].fixed is None
        )
        if self.off(unit, remedy.only_with) or not ends:
            return
        prove = tuple(
            (g, band) for ref, band in remedy.prove for g in self.globals_of(unit, ref) if g in self.signs
        )
        full = f"{unit.name}.{remedy.name}"
        self.remedies[full] = SiteRemedy(
            full, unit.name, remedy, ends, prove, self.place(unit, remedy.place)
        )
