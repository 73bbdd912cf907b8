"""A call: an immutable record of entries at a site, and its diagnosis."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from faultkit.circuit.compile import Limits
from faultkit.diagnosis.diagnose import diagnose
from faultkit.diagnosis.result import Diagnosis
from faultkit.evidence.check import check_entry
from faultkit.model.entries import Entry, Fact, entry_from_data
from faultkit.network.site import Site
from faultkit.problems import InputError, Problem

__all__ = ["Call"]


@dataclass(frozen=True)
class Call:
    """Entries of one call at a site, oldest first. ``opened`` is an ISO date and time.

    Nothing is ever changed: ``add`` returns a new call. Where entries are stored is the caller's affair.

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

    def add(self, entry: Entry | Mapping[str, Any]) -> Call:
        """The call with one more entry. The same entry twice changes nothing.

        Raises InputError with everything wrong with the entry, or when its id
        is taken by a different one.
        """
        return self.add_all([entry])

    def add_all(self, entries: Iterable[Entry | Mapping[str, Any]]) -> Call:
        """The call with more entries; InputError holds the problems of all of them."""
        problems: list[Problem] = []
        mine = list(self.entries)
        ids = {e.id: e for e in mine}
        for given in entries:
            try:
                entry = given if isinstance(given, Entry) else entry_from_data(given)
            except InputError as fault:
                problems += fault.problems
                continue
            if not entry.id:
                entry = replace(entry, id=self._free_id(ids))
            if entry.id in ids:
                if ids[entry.id] != entry:
                    problems.append(
                        Problem(f"entry id '{entry.id}' is taken by a different entry", "an id of its own", entry.where)
                    )
                continue
            found = check_entry(self.site, entry, mine)
            problems += found
            ids[entry.id] = entry
            if not found:
                mine.append(entry)
        if problems:
            raise InputError(problems)
        return replace(self, entries=tuple(mine))

    @staticmethod
    def _free_id(ids: Mapping[str, Entry]) -> str:
        n = len(ids) + 1
        while f"e{n}" in ids:
            n += 1
        return f"e{n}"

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
