"""Food: what became of it, and temperatures read several times."""

from __future__ import annotations

import re
from collections.abc import Iterable

from faultkit.call import Call
from faultkit.evidence.values import interval_of
from faultkit.model.entries import Entry, Fact, Product
from faultkit.model.order import moment
from faultkit.network.site import SiteReading
from faultkit.problems import InputError
from faultkit.reports.visit.data import Food, Log
from faultkit.units import Kind, kind_of

__all__ = ["foods", "is_food", "logs"]

#: Rows that make a log of something else than food; food is one from two.
_LEAST = 3
_FOOD = re.compile(r"\bfoods?\b|\bproducts?\b", re.IGNORECASE)


def is_food(reading: SiteReading) -> bool:
    """Whether a reading is a temperature whose title or plain words speak of food or product."""
    r = reading.reading
    return bool(r.unit) and kind_of(r.unit) is Kind.TEMPERATURE and bool(_FOOD.search(f"{r.title} {r.plain}"))


def foods(entries: Iterable[Entry]) -> tuple[Food, ...]:
    """What became of food, by time."""
    return tuple(
        Food(e.id, e.time, e.food, e.action, e.unit, e.amount, e.temperature, e.to, e.by)
        for e in entries if isinstance(e, Product)
    )


def logs(call: Call, entries: Iterable[Entry]) -> tuple[Log, ...]:
    """Measured temperatures read at several times, in the order of the site; what somebody told is left out."""
    taken: dict[str, list[Fact]] = {}
    for e in entries:
        if isinstance(e, Fact) and not e.told:
            taken.setdefault(e.reading, []).append(e)
    found = []
    for name, reading in call.site.all_readings.items():
        unit = reading.reading.unit
        if name in taken and unit and kind_of(unit) is Kind.TEMPERATURE:
            log = _log(call, reading, taken[name])
            if log is not None:
                found.append(log)
    return tuple(found)


def _log(call: Call, reading: SiteReading, facts: list[Fact]) -> Log | None:
    rows: dict[float, tuple[float, float, str]] = {}
    first = moment(facts[0].time)
    for fact in facts:
        try:
            low, high = interval_of(fact, reading, call.site)
        except InputError:  # the fact is listed with this reason elsewhere
            continue
        # Of two readings at one time the later entry counts.
        rows[(moment(fact.time) - first).total_seconds()] = ((low + high) / 2, (high - low) / 2, fact.id)
    food = is_food(reading)
    if len(rows) < (2 if food else _LEAST):
        return None
    start = min(rows)
    at = tuple((t - start, k, a) for t, (k, a, _) in sorted(rows.items()))
    made = Log(
        reading.name, food, next(f.time for f in facts if f.id == rows[start][2]), at,
        tuple(rows[t][2] for t in sorted(rows)),
    )
    return _held(made) if food else made


def _held(log: Log) -> Log:
    """The log with how long it was above the cold-holding limit; as it is where the calculator refuses it."""
    from dataclasses import replace

    from faultkit.calculators.food.holding import cold_holding
    from faultkit.calculators.food.terms import COLD_K, GAP

    assert GAP.default is not None
    try:
        # One accuracy for the whole log: the widest, so that nothing is called sure that is not.
        found = cold_holding(
            tuple((t, k) for t, k, _ in log.rows), COLD_K, max(a for _, _, a in log.rows), GAP.default
        )
    except InputError:
        return log
    return replace(
        log, limit=COLD_K, above=found.above, surely_above=found.surely_above, possibly_above=found.possibly_above,
        highest=found.highest, unknown=found.unknown, verdict=found.verdict,
    )
