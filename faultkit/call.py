"""A call: an immutable record of entries at a site, and its diagnosis."""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from faultkit.circuit.compile import Limits
from faultkit.diagnosis.diagnose import diagnose
from faultkit.diagnosis.result import Diagnosis
from faultkit.evidence.check import check_entry, two_values
from faultkit.evidence.corrections import effective
from faultkit.model.entries import Closed, Correction, Entry, Fact, Opened, entry_from_data
from faultkit.model.order import has_zone, moment, place, same_entry, sort_key
from faultkit.network.site import Site
from faultkit.problems import InputError, Problem

__all__ = ["Call"]


@dataclass(frozen=True)
class Call:
    """Entries of one call at a site, oldest first. ``opened`` is an ISO date and time.

    Nothing is ever changed: ``add`` and ``merge`` return a new call. Entries come in by them only, and each
    then has an id, a time and its place; where they are stored is the caller's affair.

    >>> call = Call(site, opened="2026-07-14T10:05")                       # doctest: +SKIP
    >>> call = call.record("rail.pan_temperature", "51 degF", instrument="probe_7")   # doctest: +SKIP
    >>> call.diagnose().suspects()[0].event                                # doctest: +SKIP
    """

    site: Site
    opened: str
    name: str = ""
    title: str = ""
    entries: tuple[Entry, ...] = ()

    def __post_init__(self) -> None:
        try:
            datetime.fromisoformat(self.opened)
        except (TypeError, ValueError):
            raise InputError(
                f"the call was opened at {self.opened!r}", "a date and time as in 2026-07-14T10:05"
            ) from None

    @property
    def month(self) -> int:
        """Month the call was opened in, 1 to 12: picks seasonal frequencies."""
        return datetime.fromisoformat(self.opened).month

    @property
    def opening(self) -> Opened:
        """The head of the call as an entry, the first of a record."""
        return Opened(id="opened", time=self.opened, call=self.name, site=self.site.name, title=self.title)

    @property
    def closing(self) -> Closed | None:
        """The closing that counts: the latest that was not withdrawn."""
        live, withdrawn = effective(self.entries)
        return next((e for e in reversed(live) if isinstance(e, Closed) and e.id not in withdrawn), None)

    def add(self, entry: Entry | Mapping[str, Any]) -> Call:
        """The call with one more entry, made here and now. The same entry twice changes nothing.

        Without a time it counts at the time of the latest entry; without an id it
        gets one. Raises InputError with everything wrong with the entry, or when
        its id is taken by a different one.
        """
        return self.add_all([entry])

    def add_all(self, entries: Iterable[Entry | Mapping[str, Any]]) -> Call:
        """The call with more entries, in the order they were made; InputError holds the problems of all of them.

        An entry without a time counts at the time of the one before it, and of
        those of one time the last comes last.
        """
        problems: list[Problem] = []
        mine, ids = list(self.entries), {e.id: e for e in self.entries}
        before = mine[-1] if mine else None
        new: list[Entry] = []
        for entry in self._read(entries, problems):
            if _bad_time(entry):
                problems += check_entry(self.site, entry, ids)
                continue
            if isinstance(entry, Correction) and before and entry.corrects in ids:
                before = max(before, ids[entry.corrects], key=sort_key)  # made after what it corrects
            made = entry if entry.id in ids else place(entry, before, mine, self.opened)
            before = ids.get(made.id, made)
            if made.id in ids:
                problems += _taken(entry, before)
                continue
            ids[made.id] = made
            insort(mine, made, key=sort_key)
            # Where it was told apart from another of its time only here, the two may still disagree.
            new.append(replace(made, order=entry.order) if entry.time else made)
        # Only now: by the time on its clock a correction may stand before what it corrects.
        wrong = [check_entry(self.site, entry, ids) for entry in new]
        problems += [p for found in wrong for p in found]
        good = [e for e, found in zip(new, wrong, strict=True) if not found]
        problems += two_values([*self.entries, *good], good)
        if problems:
            raise InputError(problems)
        return replace(self, entries=tuple(mine))

    def merge(self, entries: Iterable[Entry | Mapping[str, Any]]) -> Call:
        """The call with entries made elsewhere, as on a second phone, in whatever order they arrive.

        Each has its id and its time, and keeps them: entries stand by observed
        time, then ``order``, then id, so the order of arrival changes nothing.
        Known entries are passed over. Raises InputError with all problems, also
        for an id with two contents.
        """
        problems: list[Problem] = []
        ids = {e.id: e for e in self.entries}
        new: list[Entry] = []
        for entry in self._read(entries, problems):
            found = [] if _bad_time(entry) else self._incomplete(entry)
            if found or entry.id in ids:
                problems += found or _taken(entry, ids[entry.id])
                continue
            ids[entry.id] = entry
            new.append(entry)
        for entry in new:
            problems += check_entry(self.site, entry, ids)
        if problems:
            raise InputError(problems)
        mine = sorted((*self.entries, *new), key=sort_key)
        problems = two_values(mine, new)
        if problems:
            raise InputError(problems)
        return replace(self, entries=tuple(mine))

    def _read(self, entries: Iterable[Entry | Mapping[str, Any]], problems: list[Problem]) -> list[Entry]:
        """Entries from whatever they were given as; the head of this call itself is left out."""
        found: list[Entry] = []
        for given in entries:
            try:
                entry = given if isinstance(given, Entry) else entry_from_data(given)
            except InputError as fault:
                problems += fault.problems
                continue
            if isinstance(entry, Opened):
                problems += self._another(entry)
            else:
                found.append(entry)
        return found

    def _another(self, head: Opened) -> list[Problem]:
        """What tells the head of another call from that of this one."""
        mine = self.opening
        for what, theirs, ours in (
            ("is of site", head.site, mine.site), ("is of call", head.call, mine.call),
            ("was opened at", head.time, mine.time),
        ):
            if theirs != ours:
                said = f"the record {what} '{theirs}', this one {what} '{ours}'"
                return [Problem(said, "entries of the same call at the same site", head.where)]
        return []

    def _incomplete(self, entry: Entry) -> list[Problem]:
        """What an entry made elsewhere lacks to find its place."""
        name = f"entry '{entry.id}'" if entry.id else f"a {entry.kind} entry"
        missing = [f"'{key}'" for key in ("id", "time") if not getattr(entry, key)]
        if missing:
            what = f"{name} has no {' and no '.join(missing)}: an entry made elsewhere needs its own"
            return [Problem(what, "id: a1, time: 2026-07-14T10:05", entry.where)]
        if has_zone(entry.time) != has_zone(self.opened):
            has = "a time zone" if has_zone(entry.time) else "no time zone"
            what = f"the time '{entry.time}' of {name} has {has}, unlike that of the call, '{self.opened}'"
            return [Problem(what, "both with one, as in +02:00, or both without", entry.where)]
        return []

    def record(self, reading: str, value: str | float, **more: str) -> Call:
        """The call with one more fact: ``record("rail.box_air", "51 degF", state="running")``."""
        return self.add(entry_from_data({"kind": Fact.kind, "reading": reading, "value": value, **more}))

    def diagnose(self, *, limits: Limits | None = None, advice: bool = True) -> Diagnosis:
        """The diagnosis of this moment. Same site and same entries give the same result, to the byte."""
        return diagnose(
            self.site, self.entries, month=self.month, call=self.name, limits=limits, advice=advice
        )

    def what_if(self, entry: Entry | Mapping[str, Any]) -> Diagnosis:
        """The diagnosis if this entry were added; the call itself stays as it is."""
        return self.add(entry).diagnose()


def _bad_time(entry: Entry) -> bool:
    try:
        moment(entry.time or "2000-01-01")
    except ValueError:
        return True
    return False


def _taken(given: Entry, kept: Entry) -> list[Problem]:
    if same_entry(given, kept):
        return []
    return [Problem(f"entry id '{given.id}' is taken by a different entry", "an id of its own", given.where)]
