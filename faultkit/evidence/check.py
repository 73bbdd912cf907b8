"""Is an entry usable at this site? Every fault of it at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

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


def check_entry(site: Site, entry: Entry, earlier: Sequence[Entry] = ()) -> list[Problem]:
    """Problems of an entry against its site and the entries before it; empty when it is fine."""
    problems: list[Problem] = []

    def known(what: str, name: str, names: Iterable[str]) -> bool:
        names = list(names)
        if name in names:
            return True
        problems.append(Problem(f"{what} '{name}' is not known at this site", did_you_mean(name, names), entry.where))
        return False

    if isinstance(entry, Fact):
        if known("reading", entry.reading, site.all_readings):
            problems += _fact(site, entry, earlier)
    elif isinstance(entry, Complaint):
        known("event", entry.event, (n for n, e in site.events.items() if e.fixed is None))
    elif isinstance(entry, Location):
        known("place", entry.place, dict.fromkeys(u.place for u in site.plan.units.values()))
    elif isinstance(entry, SetupChange):
        if known("unit", entry.unit, site.plan.units):
            for s in (*entry.on, *entry.off):
                known("set-up", s, site.common.setups)
    elif isinstance(entry, RemedyDone | Decision):
        if known("unit", entry.unit, site.plan.units):
            known("remedy", f"{entry.unit}.{entry.remedy}", site.remedies)
    elif isinstance(entry, Conditions):
        _conditions(site, entry, known_words=known)
    elif isinstance(entry, Correction):
        problems += _correction(site, entry, earlier)
    return problems


def _conditions(site: Site, entry: Conditions, known_words: object) -> None:
    known = known_words
    assert callable(known)
    named: Mapping[str, Iterable[str]] = {"hazards": site.common.hazards, "power": [p.value for p in Power]}
    for group, names in entry.forbid.items():
        for name in names:
            known("hazard" if group == "hazards" else "power state", name, named[group])
    for tool in entry.missing_tools:
        known("tool", tool, site.common.tools)


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
            word_of(fact, reading, bands)
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
