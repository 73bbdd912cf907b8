"""A comparison as a table for a reviewer, and as data."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

from faultkit.compare.calls import CallChange
from faultkit.compare.changes import Change, How
from faultkit.compare.facets import Bearing
from faultkit.reports.words import percent, wrapped

__all__ = ["as_data", "as_text"]


def as_text(changes: Sequence[Change], calls: Sequence[CallChange] | None) -> str:
    """The comparison in plain text. ``calls`` is None where none were asked for."""
    out = list(_changes(changes))
    if calls is not None:
        out += ["", *_calls(calls)]
    return "\n".join(out) + "\n"


def _changes(changes: Sequence[Change]) -> Iterator[str]:
    if not changes:
        yield "the catalogues say the same"
        return
    count = Counter(c.bearing for c in changes)
    parts = ", ".join(f"{count[b]} bear on {b.value}" for b in Bearing if count[b])
    yield f"{len(changes)} difference{'' if len(changes) == 1 else 's'}: {parts}"
    owner = ""
    for c in changes:
        if c.thing.owner != owner:
            owner = c.thing.owner
            yield ""
            yield owner
        yield from wrapped(f"{c.bearing.value:<8} {_what(c)}", 2, 11)


def _what(c: Change) -> str:
    thing = f"{c.thing.area} {c.thing.name}".strip()
    about = f"{thing}, {c.key}" if c.key else thing
    if c.how is How.CHANGED:
        return f"{about}: {c.old} → {c.new}"
    text = c.new if c.how is How.ADDED else c.old
    return f"{about} {c.how.value}" + (f": {text}" if text else "")


def _calls(calls: Sequence[CallChange]) -> Iterator[str]:
    moved = [c for c in calls if not c.same]
    yield f"{len(moved)} of {len(calls)} call{'' if len(calls) == 1 else 's'} come out differently"
    for c in moved:
        yield ""
        yield c.name
        for side, why in zip(("OLD", "NEW"), c.broken, strict=True):
            if why:
                yield from wrapped(f"{side} cannot diagnose it: {why}", 2, 4)
        if any(c.broken):
            continue
        if c.consistent[0] != c.consistent[1]:
            yield "  facts conflict: " + " → ".join("no" if x else "yes" for x in c.consistent)
        for v in c.verdicts:
            yield f"  {v.event}: {v.old or 'not there'} → {v.new or 'not there'}"
        if c.first_suspect[0] != c.first_suspect[1]:
            shown = (f"{e} {percent(p)}" if e else "none" for e, p in zip(c.first_suspect, c.chance, strict=True))
            yield "  first suspect: " + " → ".join(shown)
        if c.next[0] != c.next[1]:
            yield "  next: " + " → ".join(x or "nothing" for x in c.next)


def as_data(changes: Sequence[Change], calls: Sequence[CallChange] | None) -> dict[str, Any]:
    """JSON-ready data, valid against ``schemas/comparison.v1.json``."""
    return {
        "schema": 1,
        "kind": "comparison",
        "same": not changes and all(c.same for c in calls or ()),
        "changes": [
            {
                "how": c.how.value, "owner": c.thing.owner, "area": c.thing.area, "name": c.thing.name, "key": c.key,
                "old": c.old, "new": c.new, "bears_on": c.bearing.value,
            }
            for c in changes
        ],
        "calls": None if calls is None else [_call(c) for c in calls],
    }


def _call(c: CallChange) -> dict[str, Any]:
    return {
        "name": c.name,
        "same": c.same,
        "verdicts": [{"event": v.event, "old": v.old, "new": v.new} for v in c.verdicts],
        "first_suspect": _pair(c.first_suspect),
        "chance": _pair(c.chance),
        "next": _pair(c.next),
        "consistent": _pair(c.consistent),
        "broken": _pair(c.broken),
    }


def _pair(pair: tuple[Any, Any]) -> dict[str, Any]:
    return {"old": pair[0], "new": pair[1]}
