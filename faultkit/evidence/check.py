"""Is an entry usable at this site? Every fault of it at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from types import MappingProxyType

from faultkit.evidence.corrections import effective, root_of
from faultkit.evidence.values import interval_of, is_words, sign_of, word_of
from faultkit.model.entries import (
    Complaint,
    Conditions,
    Correction,
    Decision,
    Entry,
    Fact,
    Location,
    Part,
    Product,
    RefrigerantMoved,
    RemedyDone,
    SetupChange,
)
from faultkit.model.order import moment
from faultkit.model.types import Power
from faultkit.network.site import Site
from faultkit.problems import InputError, Problem, did_you_mean
from faultkit.units import Kind, UnitError, parse_accuracy, parse_quantity
from faultkit.units.quantity import split_number

__all__ = ["check_entry", "two_values"]

_NONE: Mapping[str, Entry] = MappingProxyType({})


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


def check_entry(site: Site, entry: Entry, others: Mapping[str, Entry] = _NONE) -> list[Problem]:
    """Problems of an entry against its site and the ``others`` by id; empty when it is fine."""
    names = _Names(entry)
    try:
        datetime.fromisoformat(entry.time or "2000-01-01")
    except ValueError:
        what = f"'time' of a {entry.kind} entry is {entry.time!r}"
        return [Problem(what, "a date and time as in 2026-07-14T10:05", entry.where)]
    if isinstance(entry, Fact):
        if names.known("reading", entry.reading, site.all_readings):
            return _fact(site, entry)
    elif isinstance(entry, Correction):
        return _correction(site, entry, others)
    elif isinstance(entry, Complaint):
        names.known("event", entry.event, (n for n, e in site.events.items() if e.fixed is None))
    elif isinstance(entry, Location):
        names.known("place", entry.place, dict.fromkeys(u.place for u in site.plan.units.values()))
    elif isinstance(entry, Conditions):
        _conditions(site, entry, names)
    elif isinstance(entry, SetupChange | RemedyDone | Decision | Part):
        _of_unit(site, entry, names)
    elif isinstance(entry, RefrigerantMoved | Product):
        _moved(site, entry, names)
    return names.problems


def _moved(site: Site, entry: RefrigerantMoved | Product, names: _Names) -> None:
    """Refrigerant or food: its unit, and the amounts that are read later."""
    if entry.unit or isinstance(entry, RefrigerantMoved):
        names.known("unit", entry.unit, site.plan.units)
    try:
        if isinstance(entry, RefrigerantMoved):
            mass = parse_quantity(entry.mass, Kind.MASS)
            if entry.accuracy:
                parse_accuracy(entry.accuracy, split_number(mass.text)[1])
        elif entry.temperature:
            parse_quantity(entry.temperature, Kind.TEMPERATURE)
    except UnitError as fault:
        names.problems.append(Problem(fault.what, fault.expected, entry.where))
    if isinstance(entry, Product) and entry.instrument and site.instrument(entry.instrument) is None:
        names.known("instrument", entry.instrument, [*site.plan.instruments, *site.common.instruments])


def _of_unit(site: Site, entry: SetupChange | RemedyDone | Decision | Part, names: _Names) -> None:
    if not names.known("unit", entry.unit, site.plan.units):
        return
    if isinstance(entry, SetupChange):
        for s in (*entry.on, *entry.off):
            names.known("set-up", s, site.common.setups)
    elif entry.remedy or not isinstance(entry, Part):
        mine = [r.name.partition(".")[2] for r in site.remedies.values() if r.unit == entry.unit]
        names.known("remedy", entry.remedy, mine)


def _conditions(site: Site, entry: Conditions, names: _Names) -> None:
    for hazard in entry.forbid.get("hazards", ()):
        names.known("hazard", hazard, site.common.hazards)
    for power in entry.forbid.get("power", ()):
        names.known("power state", power, [p.value for p in Power])
    for tool in entry.missing_tools:
        names.known("tool", tool, site.common.tools)


def _fact(site: Site, fact: Fact) -> list[Problem]:
    """Instrument, state and value."""
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
    return problems


def two_values(entries: Sequence[Entry], new: Iterable[Entry]) -> list[Problem]:
    """Facts among ``new`` that disagree with another by the same instrument at the same time.

    ``order`` tells two looks at one time apart; what was withdrawn or corrected
    counts as it is in the end. Every entry has a time.
    """
    named = {e.id: e.corrects for e in entries if isinstance(e, Correction)}
    fresh = set()
    for entry in new:
        if isinstance(entry, Fact | Correction):
            ident = entry.id
            while ident in named:
                ident = named[ident]
            fresh.add(ident)
    if not fresh:
        return []
    # Corrections change neither the reading nor the time, so others cannot matter.
    looked = [(e, (e.reading, moment(e.time))) for e in entries if isinstance(e, Fact)]
    wanted = {place for e, place in looked if e.id in fresh}
    about = [e for e, place in looked if place in wanted]
    live, withdrawn = effective([*about, *(e for e in entries if isinstance(e, Correction))])
    problems: list[Problem] = []
    first: dict[tuple[object, ...], Fact] = {}
    for fact in live:
        if not isinstance(fact, Fact) or fact.id in withdrawn:
            continue
        look = (fact.reading, fact.state, fact.instrument, moment(fact.time), fact.order, fact.by)
        other = first.setdefault(look, fact)
        if (other.value, other.unit) != (fact.value, fact.unit) and not fresh.isdisjoint((fact.id, other.id)):
            if fact.id not in fresh:
                fact, other = other, fact  # noqa: PLW2901 - said of the new one
            problems.append(
                Problem(
                    f"{fact.reading} is {fact.value!r}, and {other.value!r} in entry '{other.id}' at the same "
                    "time by the same instrument",
                    "one value, a later time, or the instrument that took the other one",
                    fact.where,
                )
            )
    return problems


def _correction(site: Site, entry: Correction, others: Mapping[str, Entry]) -> list[Problem]:
    if entry.corrects not in others:
        return [
            Problem(
                f"'{entry.corrects}' is not an earlier entry", did_you_mean(entry.corrects, others), entry.where
            )
        ]
    target = root_of(entry, others)
    if target is None:
        what = f"the corrections from '{entry.id}' on lead to no entry: they correct each other, or what is not known"
        return [Problem(what, "the id of an entry that is no correction", entry.where)]
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
    return _fact(site, corrected)
