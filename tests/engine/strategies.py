"""Random small sites and calls with every feature of the format."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st

from faultkit.calculators.basic import BASIC
from faultkit.call import Call
from faultkit.model.site import SitePlan, Unit
from faultkit.model.types import (
    Calculation,
    Check,
    Common,
    Cut,
    CutKind,
    Dimension,
    EquipmentType,
    Event,
    Gate,
    HouseEvent,
    Instrument,
    Join,
    Link,
    Observable,
    Prior,
    Reading,
    ReadingKind,
    Ref,
    Remedy,
    Row,
    Setting,
)
from faultkit.network.join import join_site
from faultkit.network.site import Site
from faultkit.units import parse_accuracy, parse_quantity

__all__ = ["Case", "Maker", "calls", "cases", "examples", "make_call", "make_case"]

#: Volts with a binary fraction, so that no cut is missed by rounding.
CUTS = (8.0, 16.0, 24.0, 40.0)
INSTRUMENTS = {"fine": "0 V", "coarse": "4 V", "rough": "12 V"}
COMMON = Common(
    instruments={n: Instrument(n, parse_accuracy(a, "V")) for n, a in INSTRUMENTS.items()},
)
PRIORS = (0.3, 0.25, 0.1, 0.03, 0.01, 0.001, 1e-6, 1e-9)
STRENGTHS = (0.97, 0.85, 0.5, 0.15, 0.03)
SHARES = (0.02, 0.05, 0.3, 0.9)


def examples(n: int) -> settings:
    """A fixed number of fixed examples, the same on every machine."""
    slow = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]
    return settings(
        derandomize=True,
        deadline=None,
        max_examples=n,
        database=None,
        phases=(Phase.explicit, Phase.generate),
        report_multiple_bugs=False,
        suppress_health_check=slow,
    )


@dataclass(frozen=True)
class Case:
    """A site before it is joined."""

    plan: SitePlan
    types: Mapping[str, EquipmentType]
    common: Common
    month: int

    @property
    def opened(self) -> str:
        return f"2026-{self.month:02d}-14T10:05"

    def call(self, entries: Iterable[Mapping[str, Any]] = ()) -> Call:
        return Call(self.site(), self.opened, "call").add_all(entries)

    def site(self) -> Site:
        return join_site(
            self.plan, self.types, self.common, catalogue="tests", calculators={c.name: c for c in BASIC}
        )


class Maker:
    """Draws one equipment type. ``joins`` maps a join to the events it may use (``each`` for many units)."""

    def __init__(self, rng: random.Random, name: str, size: int) -> None:
        self.rng = rng
        self.name = name
        self.size = size
        self.events: dict[str, Event] = {}
        self.readings: dict[str, Reading] = {}
        self.house: dict[str, HouseEvent] = {}
        self.links: list[Ref] = []      # joined events a gate may stand on
        self.joined: list[Ref] = []     # joined events a row may name
        self.joins: dict[str, Join] = {}
        self.settings = {"rated": Setting("rated", Dimension.QUANTITY, unit="V", default=parse_quantity("20 V"))}
        self.states: dict[str, str] = {}

    def often(self, chance: float) -> bool:
        return self.rng.randrange(100) < 100 * chance

    def join(self, join: Join) -> None:
        self.joins[join.name] = join
        refs = [Ref(e, join.name, each=bool(join.reverse_of)) for e in join.events]
        self.links += refs
        if not join.reverse_of:
            self.joined += refs

    def link(self, ref: Ref, weak: float) -> Link:
        return Link(ref, self.rng.choice(STRENGTHS) if self.often(weak) else 1.0)

    def only_with(self, chance: float) -> tuple[str, ...]:
        return (self.rng.choice(list(self.house)),) if self.house and self.often(chance) else ()

    def make_house(self) -> None:
        if self.often(0.5):
            self.house["switch"] = HouseEvent("switch", default=self.often(0.5))

    def make_basics(self) -> None:
        rng = self.rng
        for n in range(rng.randint(1, self.size)):
            name = f"b{n}"
            # The first has no cause: a feeder may look back at it, and loops are refused.
            earlier = [*(Ref(e) for e in self.events), *self.joined] if n else []
            causes = tuple(self.link(r, 0.6) for r in rng.sample(earlier, 1)) if earlier and self.often(0.2) else ()
            seasons = {rng.choice(("summer", "winter")): rng.choice(PRIORS)} if self.often(0.2) else {}
            self.events[name] = Event(
                name, Gate.BASIC, name, name,
                prior=Prior(rng.choice(PRIORS), seasons),
                broken_by=causes,
                intermittent=self.often(0.12),
                only_with=self.only_with(0.1),
            )

    def make_gates(self, most: int) -> None:
        rng = self.rng
        for n in range(rng.randint(1, most)):
            pool = [*(Ref(e) for e in self.events), *(Ref(h) for h in self.house if self.often(0.3)), *self.links]
            inputs = rng.sample(pool, min(len(pool), rng.randint(1, 3)))
            gate = rng.choice((Gate.ANY_OF, Gate.ANY_OF, Gate.ALL_OF, Gate.AT_LEAST))
            closed = gate is not Gate.ANY_OF or self.often(0.6)
            self.events[f"g{n}"] = Event(
                f"g{n}", gate, f"g{n}", f"g{n}",
                inputs=tuple(self.link(r, 0.2) for r in inputs),
                k=rng.randint(1, len(inputs)) if gate is Gate.AT_LEAST else 0,
                complete="tests" if closed and gate is Gate.ANY_OF else "",
                other=0.0 if closed else rng.choice(SHARES),
                only_with=self.only_with(0.05),
            )

    def chances(self, n: int) -> tuple[float, ...]:
        """Certain, part excluded, or anything goes."""
        rng = self.rng
        style = rng.randrange(4)
        if style == 0:
            one = rng.randrange(n)
            return tuple(float(b == one) for b in range(n))
        parts = [rng.choice((0, 0, 1, 2, 5) if style < 3 else (1, 3, 10, 40)) for _ in range(n)]
        if not any(parts):
            parts[rng.randrange(n)] = 1
        return tuple(p / sum(parts) for p in parts)

    def rows(self, n: int) -> tuple[Row, ...]:
        pool = [*(Ref(e) for e in self.events), *self.joined]
        chosen = self.rng.sample(pool, min(len(pool), self.rng.randint(1, 3)))
        return (*(Row(r, self.chances(n)) for r in chosen), Row(None, self.chances(n)))

    def ruler(self) -> tuple[tuple[str, ...], tuple[Cut, ...]]:
        cuts = [Cut(CutKind.VALUE, f"{c} V", c) for c in sorted(self.rng.sample(CUTS, self.rng.randint(1, 3)))]
        if self.often(0.2):
            cuts = [
                Cut(CutKind.SETTING, "rated - 2 V", setting="rated", offset=-2.0),
                Cut(CutKind.PERCENT, "150 % of rated", setting="rated", percent=150.0),
            ]
        return ("low", "normal", "high", "top")[: len(cuts) + 1], tuple(cuts)

    def make_readings(self, most: int) -> None:
        for n in range(self.rng.randint(1, most)):
            self.readings[f"r{n}"] = self.reading(f"r{n}", self.only_with(0.05))
        if self.often(0.2):
            self.difference()

    def reading(self, name: str, only_with: tuple[str, ...]) -> Reading:
        kind = self.rng.choice((ReadingKind.QUANTITY, ReadingKind.QUANTITY, ReadingKind.YES_NO, ReadingKind.ONE_OF))
        cuts: tuple[Cut, ...] = ()
        bands: tuple[str, ...] = ("yes", "no") if kind is ReadingKind.YES_NO else ("none", "some", "much")
        states: tuple[str, ...] = self.rng.choice(((), (), ("running",), ("running", "off")))
        self.states.update({s: s for s in states})
        observables = []
        for s in states or (None,):
            if kind is ReadingKind.QUANTITY:
                bands, cuts = self.ruler()
            full = name if len(states) < 2 else f"{name} in {s}"
            observables.append(Observable(full, name, s, bands, cuts, self.rows(len(bands))))
        quantity = kind is ReadingKind.QUANTITY
        return Reading(
            name, kind,
            unit="V" if quantity else "",
            accuracy=parse_accuracy("2 V", "V") if quantity and self.often(0.5) else None,
            states=states,
            observables=tuple(observables),
            only_with=only_with,
        )

    def difference(self) -> None:
        """Two readings that are only read, and the split between them."""
        for name in ("left", "right"):
            self.readings[name] = Reading(name, ReadingKind.QUANTITY, unit="V", accuracy=parse_accuracy("1 V", "V"))
        bands, cuts = self.ruler()
        self.readings["split"] = Reading(
            "split", ReadingKind.QUANTITY, unit="V",
            observables=(Observable("split", "split", None, bands, cuts, self.rows(len(bands))),),
            calculation=Calculation("difference", {"a": Ref("left"), "b": Ref("right")}),
        )

    def checks(self) -> dict[str, Check]:
        """One check for most observables."""
        out = {}
        for reading in self.readings.values():
            for n, o in enumerate(reading.observables):
                if reading.calculation is None and self.often(0.8):
                    name = f"look_at_{reading.name}_{n}"
                    out[name] = Check(name, (Ref(o.name),), float(self.rng.randint(1, 20)))
        return out

    def remedies(self) -> dict[str, Remedy]:
        basics = [e.name for e in self.events.values() if e.gate is Gate.BASIC]
        out = {}
        while basics:
            ends, basics = basics[: self.rng.randint(1, 2)], basics[2:]
            name = f"mend_{ends[0]}"
            seen = [o for r in self.readings.values() for o in r.observables if o.rows]
            proof = self.rng.sample(seen, min(len(seen), self.rng.randrange(3)))
            out[name] = Remedy(
                name,
                tuple(Ref(e) for e in ends),
                float(self.rng.randint(5, 90)),
                prove=tuple((Ref(o.name), o.bands[0]) for o in proof),
            )
        return out

    def build(self, gates: int, readings: int) -> EquipmentType:
        self.make_house()
        self.make_basics()
        self.make_gates(gates)
        self.make_readings(readings)
        return EquipmentType(
            self.name,
            states=self.states,
            settings=self.settings,
            house_events=self.house,
            joins=self.joins,
            events=self.events,
            readings=self.readings,
            checks=self.checks(),
            remedies=self.remedies(),
        )


def make_case(rng: random.Random) -> Case:
    """One unit; or one or two served by another, which may look back at them."""
    month = rng.choice((1, 7))
    if rng.randrange(10) < 6:
        types = {"alone": Maker(rng, "alone", 5).build(3, 4)}
        units = {"u": _unit(rng, "u", types["alone"])}
        return Case(_plan(rng, units), types, COMMON, month)
    lower = Maker(rng, "lower", 2)
    looks_back = rng.randrange(2) == 0
    if looks_back:
        lower.join(Join("serves", reverse_of="fed_by", events=("b0",)))
    feeder = lower.build(2, 2)
    upper = Maker(rng, "upper", 2)
    upper.join(Join("fed_by", events=tuple(feeder.events), optional=True))
    types = {"lower": feeder, "upper": upper.build(2, 2)}
    units = {"f": _unit(rng, "f", feeder)}
    for n in range(rng.randint(1, 2)):
        joins = {"fed_by": "f"} if rng.randrange(8) else {}
        units[f"u{n}"] = _unit(rng, f"u{n}", types["upper"], joins)
    return Case(_plan(rng, units), types, COMMON, month)


def _unit(rng: random.Random, name: str, kind: EquipmentType, joins: Mapping[str, str] | None = None) -> Unit:
    settings: dict[str, Any] = {h: rng.randrange(2) == 0 for h in kind.house_events if rng.randrange(2)}
    if rng.randrange(3) == 0:
        settings["rated"] = parse_quantity("24 V")
    return Unit(name, kind.name, name, "kitchen", settings, joins or {})


def _plan(rng: random.Random, units: Mapping[str, Unit]) -> SitePlan:
    return SitePlan("place", hemisphere=rng.choice(("north", "south")), units=units)


def make_call(rng: random.Random, case: Case, most: int = 5) -> list[dict[str, Any]]:
    """Entries as data: facts of every sort, complaints, corrections."""
    site = case.site()
    readings = [r for r in site.all_readings.values() if r.calculation is None]
    entries: list[dict[str, Any]] = []
    minutes = rng.sample(range(10, 60), most)
    for n in range(rng.randint(min(1, most), most) if readings else 0):
        entry: dict[str, Any] = {"kind": "fact", "id": f"f{n}"}
        again = [e for e in entries if e["kind"] == "fact"]
        reading = site.all_readings[rng.choice(again)["reading"]] if again and rng.randrange(4) == 0 else rng.choice(readings)
        entry["reading"] = reading.name
        entry["value"] = _value(rng, site, reading.name)
        if reading.reading.unit:
            entry["instrument"] = rng.choice(("", "fine", "coarse", "rough"))
        if reading.reading.states and rng.randrange(8):
            entry["state"] = rng.choice(reading.reading.states)
        if rng.randrange(5) == 0:
            entry["by"] = rng.choice(("customer", "neighbour"))
        if rng.randrange(3):
            entry["time"] = f"2026-07-14T10:{minutes[n]}"
        entries.append(entry)
    events = [e.name for e in site.events.values() if e.fixed is None]
    if events and rng.randrange(3) == 0:
        entries.insert(0, {"kind": "complaint", "id": "c", "event": rng.choice(events)})
    entries += _correction(rng, site, entries)
    return entries


def _correction(rng: random.Random, site: Site, entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    facts = [e for e in entries if e["kind"] == "fact"]
    if not facts or rng.randrange(5):
        return []
    wrong = rng.choice(facts)
    if rng.randrange(2):
        return [{"kind": "correction", "id": "k", "corrects": wrong["id"], "retract": True}]
    return [{"kind": "correction", "id": "k", "corrects": wrong["id"], "value": _value(rng, site, wrong["reading"])}]


def _value(rng: random.Random, site: Site, name: str) -> str:
    reading = site.all_readings[name].reading
    if reading.kind is not ReadingKind.QUANTITY:
        return rng.choice(reading.observables[0].bands)
    return f"{rng.choice((*CUTS, *range(2, 48, 3)))} V"


def _drawn(make: Callable[[random.Random], Any]) -> st.SearchStrategy[Any]:
    # A seed, not a stream of draws: a site has hundreds of them, and shrinking a seed is of no use.
    return st.integers(0, 2**32 - 1).map(lambda seed: make(random.Random(seed)))


def cases() -> st.SearchStrategy[Case]:
    return _drawn(make_case)


def calls(most: int = 5) -> st.SearchStrategy[tuple[Case, list[dict[str, Any]]]]:
    def both(rng: random.Random) -> tuple[Case, list[dict[str, Any]]]:
        case = make_case(rng)
        return case, make_call(rng, case, most)

    return _drawn(both)
