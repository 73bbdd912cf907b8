"""Corrections applied: what each entry says in the end, and which were taken back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from faultkit.model.entries import Correction, Entry, Fact
from faultkit.model.order import moment

__all__ = ["effective", "root_of"]


def effective(entries: Sequence[Entry]) -> tuple[list[Entry], set[str]]:
    """Entries with corrections applied, in order of time, and the ids that were withdrawn.

    Of several corrections of one entry the latest counts. One that names a
    correction replaces what that one said, or undoes it. An entry without a time
    counts at the time of the one before it.
    """
    ordered = _in_time(entries)
    said = _last_words(ordered)
    withdrawn = {i for i, word in said.items() if word is None}
    return [_corrected(e, said.get(e.id)) for e in ordered if not isinstance(e, Correction)], withdrawn


def _in_time(entries: Iterable[Entry]) -> list[Entry]:
    clock = datetime(1, 1, 1)  # noqa: DTZ001 - before any time given, with or without an offset
    placed: list[tuple[datetime, int, int, Entry]] = []
    for n, entry in enumerate(entries):
        clock = moment(entry.time) if entry.time else clock
        placed.append((clock, entry.order, n, entry))
    return [entry for *_, entry in sorted(placed, key=lambda p: p[:3])]


def _last_words(ordered: Sequence[Entry]) -> dict[str, Correction | None]:
    """The last word on each corrected entry: a correction with what it says in the end, or None: withdrawn."""
    about: dict[str, list[Correction]] = {}
    for entry in ordered:
        if isinstance(entry, Correction):
            about.setdefault(entry.corrects, []).append(entry)
    # From the entries outwards, then back: a correction is settled before what it corrects.
    level: list[str] = [e.id for e in ordered if not isinstance(e, Correction)]
    outwards: list[str] = []
    while level:
        level = [i for i in level if i in about]
        outwards += level
        level = [c.id for i in level for c in about[i]]
    said: dict[str, Correction | None] = {}
    for ident in reversed(outwards):
        standing = [c for c in about[ident] if said.get(c.id, c) is not None]
        if standing:
            last = standing[-1]
            word = said.get(last.id, last)
            assert word is not None
            said[ident] = None if word.retract else _merged(last, word)
    return said


def _merged(old: Correction, new: Correction) -> Correction:
    """``old`` with the value of ``new``, which may be its own correction."""
    return replace(
        new, instrument=new.instrument or old.instrument, state=new.state or old.state, where=new.where or old.where
    )


def _corrected(entry: Entry, word: Correction | None) -> Entry:
    if word is None or word.value is None or not isinstance(entry, Fact):
        return entry
    return replace(
        entry, value=word.value, unit=word.unit, instrument=word.instrument or entry.instrument,
        state=word.state or entry.state, where=word.where or entry.where,
    )


def root_of(entry: Correction, entries: Mapping[str, Entry]) -> Entry | None:
    """The entry that a chain of corrections ends at, or None where one of them is not known."""
    seen: set[str] = set()
    found: Entry | None = entry
    while isinstance(found, Correction) and found.id not in seen:
        seen.add(found.id)
        found = entries.get(found.corrects)
    return None if isinstance(found, Correction) else found
