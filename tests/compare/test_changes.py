# ruff: noqa: E501 - tables: one case in each line
"""One edit of a tree, one difference: what it is called, and what it bears on."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from enum import StrEnum
from functools import singledispatch
from typing import Any

import pytest

from faultkit.compare.changes import Change, changes_of
from faultkit.compare.facets import Bearing
from faultkit.model import types
from faultkit.model.catalogue import Catalogue
from faultkit.model.types import Prior, Ref
from faultkit.units import Accuracy, Kind, Quantity

Changes = Callable[[str, str], tuple[Change, ...]]
Pair = Callable[[str, str], tuple[Catalogue, Catalogue]]

EDITS: dict[str, tuple[str, str, str, str, str, str, str]] = {
    # old text, new text, area name, key, old, new, bears on
    "a cut": ("41 degF", "40 degF", "readings air", "cut cold | warm", "41 degF", "40 degF", "logic"),
    "a cut of a setting": ("90 % of supply", "85 % of supply", "readings volts", "cut low | good", "90 % of supply", "85 % of supply", "logic"),
    "a prior": ("door_open: {how_common: common}", "door_open: {how_common: rare}", "events door_open", "how_common", "common", "rare", "chances"),
    "a season": ("winter: rare", "winter: very_rare", "events no_feed", "how_common", "winter rare, otherwise common", "winter very_rare, otherwise common", "chances"),
    "a weak link": ("{door_open: often}", "{door_open: seldom}", "events warm", "cause door_open", "often", "seldom", "chances"),
    "a weak link made sure": ("{door_open: often}", "door_open", "events warm", "cause door_open", "often", "always", "logic"),
    "a cause gone": ("[stopped, {door_open: often}]", "[stopped]", "events warm", "cause door_open", "often", "", "logic"),
    "a gate": ("all_of: [no_feed, motor_failed]", "at_least: 2, of: [no_feed, motor_failed]", "events both", "gate", "all_of", "at_least 2", "logic"),
    "damage": ("broken_by: {no_feed: seldom}", "broken_by: {no_feed: often}", "events motor_failed", "broken_by no_feed", "seldom", "often", "chances"),
    "the reason of completeness": ("nothing else stops it", "only these", "events stopped", "complete_because", "nothing else stops it", "only these", "words"),
    "a leak": ("], title: Box warm", "], other: 5 %, title: Box warm", "events warm", "other", "2 %", "5 %", "chances"),
    "a row": ("{large: usually}", "{large: often}", "tells lift", "row warm", "small seldom, large usually", "small 30 %, large often", "chances"),
    "a row made sure": ("{large: usually}", "{large: always}", "tells lift", "row warm", "small seldom, large usually", "large always", "logic"),
    "minutes": ("minutes: 3", "minutes: 4", "checks measure", "minutes", "3", "4", "work"),
    "a tool": (", tools: [ladder]", "", "checks look", "tools", "ladder", "", "work"),
    "a step": ("steps: [Look.]", "steps: [Look twice.]", "checks look", "steps", "Look.", "Look twice.", "words"),
    "what may be left": ("may_leave: {no_feed: rarely}", "may_leave: {no_feed: seldom}", "remedies new_motor", "may_leave no_feed", "rarely", "seldom", "work"),
    "a title": ("title: Box warm", "title: Box too warm", "events warm", "title", "Box warm", "Box too warm", "words"),
    "accuracy": ("accuracy: 1 delta_degF", "accuracy: 2 delta_degF", "readings air", "accuracy", "1 delta_degF", "2 delta_degF", "logic"),
    "a calculation": ("{use: difference, a: room, b: air}", "{use: difference, a: air, b: room}", "readings lift", "calculate", "difference(a: room, b: air)", "difference(a: air, b: room)", "logic"),
    "a house event": ("{default: no}", "{default: yes}", "house_events lamp", "default", "", "yes", "logic"),
    "a setting": ("supply: 115 V", "supply: 120 V", "settings supply", "default", "115 V", "120 V", "logic"),
    "a state": ("running: It runs", "running: It has run", "states running", "title", "It runs", "It has run", "words"),
    "a caution": ("caution: Keep out", "caution: Keep clear", "hazards shock", "caution", "Keep out", "Keep clear", "words"),
    "a set-up": ("cover_off: {minutes: 4}", "cover_off: {minutes: 5}", "setups cover_off", "minutes", "4", "5", "work"),
    "an instrument": ("accuracy: 1 V", "accuracy: 2 V", "instruments meter", "accuracy", "1 V", "2 V", "logic"),
    "a tool's name": ("ladder: Ladder", "ladder: Long ladder", "tools ladder", "title", "Ladder", "Long ladder", "words"),
}  # fmt: skip


@pytest.mark.parametrize("name", EDITS)
def test_one_edit_is_one_difference(changes: Changes, name: str) -> None:
    old_text, new_text, thing, key, old, new, bearing = EDITS[name]
    [change] = changes(old_text, new_text)
    assert f"{change.thing.area} {change.thing.name}" == thing
    assert (change.key, change.old, change.new, change.bearing.value) == (key, old, new, bearing)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("", ""),
        ("41 degF", "41.0 °F"),
        ("{large: usually}", "{large: 85 %}"),
        ("[stopped, {door_open: often}]", "[{door_open: 0.7}, {stopped: always}]"),
        ("gives: [turns, smell]", "gives: [smell, turns]"),
        ("supply: 115 V", "supply: 0.115 kV"),
        ("accuracy: 1 V", "accuracy: 1.0 V"),
        ("events:\n  warm", "# a remark\nevents:\n  warm"),
        ("minutes: 40", "minutes: 40.0"),
    ],
)
def test_another_spelling_is_no_difference(changes: Changes, old: str, new: str) -> None:
    assert changes(old, new) == ()


def test_rows_that_change_places(changes: Changes) -> None:
    one, two = "{motor_failed: {burnt: usually}}", "{no_feed: {burnt: rarely}}"
    [change] = changes(f"{one}, {two}", f"{two}, {one}")
    assert (change.key, change.bearing) == ("order", Bearing.LOGIC)
    assert change.new == "no_feed, motor_failed, otherwise"


def test_a_row_that_goes_moves_no_others(changes: Changes) -> None:
    [change] = changes(", {no_feed: {burnt: rarely}}", "")
    assert (change.how.value, change.key, change.bearing.value) == ("removed", "row no_feed", "logic")


def test_things_that_come_and_go_are_said_once(changes: Changes) -> None:
    found = changes("  door_open: {how_common: common}\n", "  door_open: {how_common: common}\n  gasket: {how_common: rare}\n")
    [change] = found
    assert (change.how.value, change.thing.name, change.key) == ("added", "gasket", "")
    assert change.new == "gate basic; how_common rare"
    [change] = changes("  measure: {gives: [volts], minutes: 3, setups: [cover_off]}\n", "")
    assert (change.how.value, change.thing.area, change.bearing) == ("removed", "checks", Bearing.WORK)


def test_a_type_that_comes_is_one_difference(catalogues: Pair) -> None:
    old, _ = catalogues("", "")
    more = replace(old, types={**old.types, "crate": replace(old.types["box"], name="crate")})
    [change] = changes_of(old, more)
    assert (change.how.value, change.thing.owner, change.thing.area) == ("added", "crate", "equipment")
    [change] = changes_of(more, old)
    assert (change.how.value, change.thing.owner) == ("removed", "crate")


# -- nothing of the model is overlooked ---------------------------------------

#: Fields that are no statement of their own: names are keys, ``inherited`` is how a source was written,
#: an observable's ``reading`` and ``state`` are in its name, the text of a number is its spelling.
NOT_SAID = {
    "name", "where", "inherited", "text", "Observable.reading", "Observable.state",
    "Instrument.measures",  # follows from its accuracy
}


#: What stands in a field that is empty.
_LINK = (types.Link(Ref("warm")),)
FILLED: Mapping[str, Any] = {
    "accuracy": Accuracy(1.0, 0.0, "1 %"), "range": (0.0, 1.0), "default": Quantity(1.0, Kind.VOLTAGE, "1 V"),
    "prior": Prior(0.1), "calculation": types.Calculation("difference"), "basis": types.Basis("a book"),
    "inputs": _LINK, "broken_by": _LINK, "may_leave": _LINK, "prove": ((Ref("turns"), "yes"),),
    "gives": (Ref("turns"),), "ends": (Ref("turns"),), "disturbs": (Ref("turns"),),
}  # fmt: skip
UNFILLED = {"observables", "cuts", "rows"}
#: What a calculation could be given besides.
GIVEN: Mapping[str, Any] = {
    "settings": {"s": Ref("supply")}, "words": {"w": "x"}, "quantities": {"q": Quantity(1.0, Kind.VOLTAGE, "1 V")},
}  # fmt: skip


def other(value: Any, field: Any) -> Iterator[Any]:
    """Another value for a field of the model."""
    if value is None or value == ():
        if field.name in FILLED:
            yield FILLED[field.name]
        elif value == () and field.name not in UNFILLED:
            yield ("more",)
    elif field.name == "unit":
        yield "A" if value != "A" else "V"
    else:
        yield from altered(value)


@singledispatch
def altered(value: object) -> Iterator[Any]:
    """Another value of the same type; none for what is taken apart further."""
    yield from ()
    assert value is not None


altered.register(bool, lambda v: iter([not v]))
altered.register(int, lambda v: iter([v + 1]))
altered.register(float, lambda v: iter([v + 1]))
altered.register(str, lambda v: iter([v + "x"]))
altered.register(StrEnum, lambda v: iter([next(m for m in type(v) if m is not v)]))
altered.register(Quantity, lambda v: iter([Quantity(v.value + 1, v.kind, "more")]))
altered.register(Accuracy, lambda v: iter([Accuracy(v.percent + 1, v.absolute, "more")]))
altered.register(Prior, lambda v: iter([Prior(v.otherwise / 2, v.seasons)]))


@altered.register
def _(value: tuple) -> Iterator[Any]:  # type: ignore[type-arg]
    if all(isinstance(v, str) for v in value):
        yield (*value[:-1], value[-1] + "x")
    elif all(isinstance(v, float) for v in value):
        yield (value[0] / 2, *value[1:-1], value[-1] + 0.1)


def given_more(value: object) -> Iterator[tuple[str, Any]]:
    """A calculation with one more argument of each sort."""
    if isinstance(value, types.Calculation):
        for name, more in GIVEN.items():
            changed: dict[str, Any] = {name: {**getattr(value, name), **more}}
            yield f"Calculation.{name}", replace(value, **changed)


def edits(value: Any) -> Iterator[tuple[str, Any]]:
    """Every copy of a part of the model with one field made different, and which field that was."""
    if isinstance(value, Mapping):
        for k, v in value.items():
            for path, made in edits(v):
                yield path, {**value, k: made}
    elif isinstance(value, tuple):
        for i, v in enumerate(value):
            for path, made in edits(v):
                yield path, (*value[:i], made, *value[i + 1 :])
    yield from given_more(value)
    if is_dataclass(value) and not isinstance(value, (type, Quantity, Accuracy, Prior, Ref)):
        for f in fields(value):
            label = f"{type(value).__name__}.{f.name}"
            if f.name in NOT_SAID or label in NOT_SAID:
                continue
            now = getattr(value, f.name)
            for made in other(now, f):
                yield label, replace(value, **{f.name: made})
            for path, made in edits(now):
                yield path, replace(value, **{f.name: made})


def test_no_field_of_the_model_is_overlooked(catalogues: Pair) -> None:
    """Whatever is made different in a type or its common words is a difference somewhere."""
    old, _ = catalogues("", "")
    seen: set[str] = set()
    found: set[str] = set()
    for label, made in edits({"types": old.types, "common": old.common}):
        seen.add(label)
        if changes_of(old, replace(old, types=made["types"], common=made["common"])):
            found.add(label)
    assert {"Event.stays", "Check.crew", "Remedy.who", "Cut.offset", "Join.optional", "Calculation.words"} <= seen
    assert len(seen) > 70
    assert found >= seen - {"Event.k"}  # no gate of this tree counts its inputs; an edit above does
