"""The order of entries, whoever made them: by observed time, then by ``order``, then by id."""

from __future__ import annotations

import hashlib
import json
import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

from faultkit.model.entry_kinds import Entry

__all__ = ["content_id", "has_zone", "moment", "place", "same_entry", "sort_key"]

Key = tuple[datetime, int, tuple[tuple[int, int, str], ...], str]

_PIECES = re.compile(r"[0-9]+|[^0-9]+")


def moment(text: str) -> datetime:
    """A time to compare by: one with an offset in UTC, one without as it stands."""
    found = datetime.fromisoformat(text)
    return found.astimezone(UTC).replace(tzinfo=None) if found.tzinfo else found


def has_zone(text: str) -> bool:
    """Whether a time has an offset from UTC."""
    return datetime.fromisoformat(text).tzinfo is not None


def sort_key(entry: Entry) -> Key:
    """What entries with a time are ordered by; ids as people count them, f9 before f10."""
    return (moment(entry.time), entry.order, _natural(entry.id), entry.id)


def _natural(text: str) -> tuple[tuple[int, int, str], ...]:
    return tuple(
        (0, int(p), "") if p[0].isdigit() and p.isascii() else (1, 0, p) for p in _PIECES.findall(text)
    )


def content_id(entry: Entry, count: int) -> str:
    """An id from the count of entries and what this one says, so that two phones do not give the same one.

    Two different entries of the same count share an id with a chance of one in four thousand million;
    even then nothing is lost: merging them is an error.
    """
    text = json.dumps(replace(entry, id="").to_dict(), sort_keys=True, ensure_ascii=True)
    return f"e{count}-{hashlib.sha256(text.encode()).hexdigest()[:8]}"


def place(entry: Entry, before: Entry | None, among: Sequence[Entry], opened: str) -> Entry:
    """A new entry with what it did not say: its time, its order among others of that time, its id.

    Without a time it counts at the time of the entry ``before`` it. ``among`` are
    the entries there are, in order; the new one comes last of its time.
    """
    given = entry.time
    if not given:
        entry = replace(entry, time=before.time if before is not None else opened)
    at = moment(entry.time)
    first = bisect_left(among, at, key=lambda e: moment(e.time))
    last = bisect_right(among, at, lo=first, key=lambda e: moment(e.time))
    if not entry.id:
        entry = replace(entry, id=content_id(entry, len(among) + 1))
    if entry.order or first == last:
        return entry
    top = among[last - 1]
    if not given or top.order or sort_key(top) > sort_key(entry):
        entry = replace(entry, order=top.order + 1)
    return entry


def same_entry(given: Entry, kept: Entry) -> bool:
    """Whether an entry is the one kept under its id; what it does not say was filled in."""
    if given == kept:
        return True
    filled = replace(given, time=given.time or kept.time, order=given.order or kept.order)
    return filled == kept
