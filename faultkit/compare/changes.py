"""Differences of two catalogues in what they say, not in how it is written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from faultkit.compare.facets import Bearing, Facet, Thing, facets_of
from faultkit.model.catalogue import Catalogue

__all__ = ["Change", "How", "changes_of"]

_AREAS = (
    "equipment", "settings", "house_events", "states", "joins", "events", "readings", "tells", "checks", "remedies",
    "hazards", "setups", "instruments", "tools",
)


class How(StrEnum):
    """What happened to a thing, or to what is said of it."""

    ADDED = "added"
    REMOVED = "removed"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True)
class Change:
    """One difference. ``key`` is '' where the whole thing came or went; ``old`` and ``new`` are texts."""

    how: How
    thing: Thing
    key: str
    old: str
    new: str
    bearing: Bearing


def changes_of(old: Catalogue, new: Catalogue) -> tuple[Change, ...]:
    """Every difference, by owner, area and name."""
    before, after = facets_of(old), facets_of(new)
    found: list[Change] = []
    for thing in sorted(before.keys() | after.keys(), key=_order):
        whole = Thing(thing.owner, "equipment")
        if thing != whole and (whole in before) != (whole in after) and thing.owner != "common":
            continue  # a type that came or went says it once
        found += _thing(thing, before.get(thing), after.get(thing))
    return tuple(found)


def _order(thing: Thing) -> tuple[str, int, str]:
    return thing.owner, _AREAS.index(thing.area), thing.name


def _thing(thing: Thing, old: Mapping[str, Facet] | None, new: Mapping[str, Facet] | None) -> Iterator[Change]:
    if old is None or new is None:
        there = new if old is None else old
        assert there is not None
        how = How.ADDED if old is None else How.REMOVED
        text = "; ".join(f"{k} {f.text}" for k, f in there.items() if f.bearing is not Bearing.WORDS)
        yield Change(how, thing, "", "" if old is None else text, text if old is None else "", _bearing(thing, there))
        return
    gone = old.keys() ^ new.keys()
    for key in dict.fromkeys((*old, *new)):
        if key.removeprefix("source of ") in gone - {key}:
            continue  # the source of a row or cut comes and goes with it
        change = _facet(thing, key, old.get(key), new.get(key))
        if change is not None:
            yield change


def _bearing(thing: Thing, facets: Mapping[str, Facet]) -> Bearing:
    """The heaviest of what is said; a type of its own is logic."""
    if thing.area == "equipment":
        return Bearing.LOGIC
    said = {f.bearing for f in facets.values()}
    return next((b for b in Bearing if b in said), Bearing.WORDS)


def _facet(thing: Thing, key: str, old: Facet | None, new: Facet | None) -> Change | None:
    if old is None or new is None:
        only = new if old is None else old
        assert only is not None
        how = How.ADDED if old is None else How.REMOVED
        bearing = only.bearing if only.bearing in {Bearing.WORDS, Bearing.WORK} else Bearing.LOGIC
        return Change(how, thing, key, old.text if old else "", new.text if new else "", bearing)
    before, after = old.value, new.value
    if thing.area == "tells" and key == "order":
        # A row that came or went is said of that row; here only rows that both have count.
        both = set(before) & set(after)
        before, after = ([r for r in x if r in both] for x in (before, after))
    if before == after:
        return None
    return Change(How.CHANGED, thing, key, old.text, new.text, _heavier(old, new))


def _heavier(old: Facet, new: Facet) -> Bearing:
    """A chance that becomes always or never, or stops being so, is logic."""
    if Bearing.LOGIC in {old.bearing, new.bearing}:
        return Bearing.LOGIC
    if old.bearing is Bearing.CHANCES and _hard(old.value) != _hard(new.value):
        return Bearing.LOGIC
    return old.bearing


def _hard(value: Any) -> Any:
    """What of a row is logic: its bands that are sure, and those that cannot be."""
    if isinstance(value, tuple):
        return {(band, x) for band, x in value if x in {0.0, 1.0}}
    return value in {0.0, 1.0}
