"""Entries of a call in order of time, with corrections applied, each in its stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from faultkit.model.entries import Correction, Entry, Fact, RemedyDone

__all__ = ["Timeline", "effective", "timeline"]


@dataclass(frozen=True, slots=True)
class Timeline:
    """Entries oldest first, each with the number of remedies before it.

    ``remedies`` are the remedies done: the n-th starts stage n. ``withdrawn`` holds the ids taken back.
    """

    entries: tuple[tuple[Entry, int], ...]
    remedies: tuple[RemedyDone, ...]
    withdrawn: frozenset[str]

    @property
    def names(self) -> tuple[str, ...]:
        """The remedies done by the names they have at the site."""
        return tuple(f"{r.unit}.{r.remedy}" for r in self.remedies)


def timeline(entries: Sequence[Entry]) -> Timeline:
    """Entries in their stages. What was observed before a remedy belongs before it, whenever it was entered."""
    live, withdrawn = effective(entries)
    counted: list[tuple[Entry, int]] = []
    remedies: list[RemedyDone] = []
    for entry in live:
        if isinstance(entry, RemedyDone) and entry.id not in withdrawn:
            remedies.append(entry)
        counted.append((entry, len(remedies)))
    return Timeline(tuple(counted), tuple(remedies), frozenset(withdrawn))


def effective(entries: Sequence[Entry]) -> tuple[list[Entry], set[str]]:
    """Entries with corrections applied, in order of time, and the ids that were withdrawn.

    An entry without a time counts at the time of the one before it.
    """
    out: dict[str, Entry] = {}
    withdrawn = _withdrawn(entries)
    clock = datetime(1, 1, 1)  # noqa: DTZ001 - before any time given, with or without an offset
    order: dict[str, tuple[datetime, int]] = {}
    for n, entry in enumerate(entries):
        clock = _moment(entry.time) if entry.time else clock
        if isinstance(entry, Correction):
            old = out.get(entry.corrects)
            if isinstance(old, Fact) and entry.value is not None and entry.id not in withdrawn:
                out[old.id] = replace(
                    old,
                    value=entry.value,
                    unit=entry.unit,
                    instrument=entry.instrument or old.instrument,
                    state=entry.state or old.state,
                    where=entry.where or old.where,
                )
            continue
        out[entry.id] = entry
        order[entry.id] = (clock, n)
    return [out[i] for i in sorted(out, key=lambda i: order[i])], withdrawn


def _moment(text: str) -> datetime:
    """A time to compare by: one with an offset in UTC, one without as it stands."""
    found = datetime.fromisoformat(text)
    return found.astimezone(UTC).replace(tzinfo=None) if found.tzinfo else found


def _withdrawn(entries: Sequence[Entry]) -> set[str]:
    """Ids taken back; a correction can be taken back too, by a later one."""
    out: set[str] = set()
    for entry in reversed(entries):
        if isinstance(entry, Correction) and entry.retract and entry.id not in out:
            out.add(entry.corrects)
    return out
