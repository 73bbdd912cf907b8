"""Random small sites and calls."""

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
from faultkit.model.types import Common, EquipmentType, Instrument, Join, ReadingKind
from faultkit.network.join import join_site
from faultkit.network.site import Site
from faultkit.units import parse_accuracy, parse_quantity
from tests.engine.maker import CUTS, Maker

__all__ = ["Case", "calls", "cases", "examples", "make_call", "make_case"]

INSTRUMENTS = {"fine": "0 V", "coarse": "4 V", "rough": "12 V"}
COMMON = Common(
    instruments={n: Instrument(n, parse_accuracy(a, "V")) for n, a in INSTRUMENTS.items()},
)


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
        reading = rng.choice(readings)
        if again and rng.randrange(4) == 0:
            reading = site.all_readings[rng.choice(again)["reading"]]
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
    return st.integers(0, 2**32 - 1).map(lambda seed: make(random.Random(seed)))  # noqa: S311


def cases() -> st.SearchStrategy[Case]:
    return _drawn(make_case)


def calls(most: int = 5) -> st.SearchStrategy[tuple[Case, list[dict[str, Any]]]]:
    def both(rng: random.Random) -> tuple[Case, list[dict[str, Any]]]:
        case = make_case(rng)
        return case, make_call(rng, case, most)

    return _drawn(both)
