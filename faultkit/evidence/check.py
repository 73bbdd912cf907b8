"""Is an entry usable at this site? Every fault of it at once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from faultkit.evidence.values import interval_of, is_words, sign_of, word_of
from faultkit.model.entries import (
    Complaint,
    Conditions,
    Correction,
    Decision,
    Entry,
    Fact,
    Location,
    RemedyDone,
    SetupChange,
)
from faultkit.model.types import Power
from faultkit.network.site import Site
from faultkit.problems import InputError, Problem, did_you_mean

__all__ = ["check_entry"]


class _Names:
    """Looks names up and keeps the problems of those not found."""

    def __init__(self, entry: Entry) -> None:
        self.where = entry.where
        self.problems: list[Problem] = []

    def known(self, what: str, name: str, names: Iterable[str]) -> bool:
        """Whether a name is known; a problem is kept where it is not."""
        names = list(names)
        if name in names:
            return True
        self.problems.append(
            Problem(f"{what} '{name}' is not known at this site", did_you_mean(name, names), self.where)
        )
        return False


def check_entry(site: Site, entry: Entry, earlier: Sequence[Entry] = ()) -> list[Problem]:
    """Problems of an entry against its site and the entries before it; empty when it is fine."""
    names = _Names(entry)
    try:
        datetime.fromisoformat(entry.time or "2000-01-01")
    except ValueError:
        what = f"'time' of a {entry.kind} entry is {entry.time!r}"
        return [Problem(what, "a date and time as in 2026-07-14T10:05", entry.where)]
    if isinstance(entry, Fact):
        if names.known("reading", entry.reading, site.all_readings):
            return _fact(site, entry, earlier)
    elif isinstance(entry, Correction):
        return _correction(site, entry, earlier)
    elif isinstance(entry, Complaint):
        names.known("event", entry.event, (n for n, e in site.events.items() if e.fixed is None))
    elif isinstance(entry, Location):
        names.known("place", entry.place, dict.fromkeys(u.place for u in site.plan.units.values()))
    elif isinstance(entry, Conditions):
        _conditions(site, entry, names)
    elif isinstance(entry, SetupChange | RemedyDone | Decision):
        _of_unit(site, entry, names)
    return names.problems


def _of_unit(site: Site, entry: SetupChange | RemedyDone | Decision, names: _Names) -> None:
    if not names.known("unit", entry.unit, site.plan.units):
        return
    if isinstance(entry, SetupChange):
        for s in (*entry.on, *entry.off):
            names.known("set-up", s, site.common.setups)
    else:
        mine = [r.name.partition(".")[2] for r in site.remedies.values() if r.unit == entry.unit]
        names.known("remedy", entry.remedy, mine)


def _conditions(site: Site, entry: Conditions, names: _Names) -> None:
    for hazard in entry.forbid.get("hazards", ()):
        names.known("hazard", hazard, site.common.hazards)
    for power in entry.forbid.get("power", ()):
        names.known("power state", power, [p.value for p in Power])
    for tool in entry.missing_tools:
        names.known("tool", tool, site.common.tools)


def _fact(site: Site, fact: Fact, earlier: Sequence[Entry]) -> list[Problem]:
    """Instrument, state, value; and no second value at the same time by the same instrument."""
    problems: list[Problem] = []
    if fact.instrument and site.instrument(fact.instrument) is None:
        names = [*site.plan.instruments, *site.common.instruments]
        problems.append(
            Problem(f"instrument '{fact.instrument}' is not known", did_you_mean(fact.instrument, names), fact.where)
        )
    reading = site.all_readings[fact.reading]
    try:
        sign_of(fact, reading, site)
        if is_words(reading):
            bands = next(iter(reading.reading.observables)).bands
            word_of(fact, bands)
        else:
            interval_of(fact, reading, site)
    except InputError as fault:
        problems += fault.problems
    for other in earlier:
        if (
            isinstance(other, Fact)
            and fact.time
            and (other.reading, other.state, other.instrument, other.time, other.by)
            == (fact.reading, fact.state, fact.instrument, fact.time, fact.by)
            and (other.value, other.unit) != (fact.value, fact.unit)
        ):
            problems.append(
                Problem(
                    f"{fact.reading} is {fact.value!r}, and {other.value!r} in entry '{other.id}' at the same "
                    "time by the same instrument",
                    "one value, a later time, or the instrument that took the other one",
                    fact.where,
                )
            )
    return problems


def _correction(site: Site, entry: Correction, earlier: Sequence[Entry]) -> list[Problem]:
    target = next((e for e in earlier if e.id == entry.corrects), None)
    if target is None:
        return [
            Problem(
                f"'{entry.corrects}' is not an earlier entry",
                did_you_mean(entry.corrects, [e.id for e in earlier]),
                entry.where,
            )
        ]
    if entry.retract:
        return []
    if not isinstance(target, Fact):
        return [Problem(f"entry '{target.id}' is no fact: it has no value to correct", "retract: yes", entry.where)]
    assert entry.value is not None
    corrected = Fact(
        id=entry.id,
        reading=target.reading,
        value=entry.value,
        unit=entry.unit,
        instrument=entry.instrument or target.instrument,
        state=entry.state or target.state,
        by=entry.by,
        where=entry.where,
    )
    return _fact(site, corrected, ())
