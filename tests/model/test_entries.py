"""Entries: one schema everywhere, and every fault of an entry at once."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from faultkit.loading import load_call
from faultkit.model.entries import Fact, entry_from_data
from faultkit.problems import InputError
from faultkit.reading.resources import data_folder

EXAMPLES = Path(__file__).parents[2] / "examples"
SCHEMA = json.loads((data_folder("schemas") / "entry.v1.json").read_text(encoding="utf-8"))

ALL_KINDS: list[dict[str, Any]] = [
    {"kind": "complaint", "id": "c1", "event": "rail.pans_warm", "words": "warm", "by": "customer"},
    {"kind": "fact", "id": "f1", "reading": "rail.pan", "value": 51.5, "unit": "degF", "time": "2026-07-14T10:05"},
    {"kind": "fact", "id": "f2", "reading": "rail.warmest_pan", "value": "51 degF", "instrument": "probe_7"},
    {"kind": "conditions", "forbid": {"hazards": ["live_voltage"]}, "missing_tools": ["gauges"], "crew": 2},
    {"kind": "location", "place": "roof"},
    {"kind": "setup", "unit": "rail", "on": ["coil_cover_off"]},
    {"kind": "remedy", "unit": "rail", "remedy": "thaw", "id": "r1"},
    {"kind": "decision", "unit": "rail", "remedy": "thaw", "answer": "declined"},
    {"kind": "correction", "corrects": "f1", "retract": "yes", "reason": "wrong pan"},
    {"kind": "note", "text": "gasket looks new"},
    {"kind": "fact", "id": "f3", "reading": "rail.coil.fan.left.voltage", "value": 0.0, "unit": "V"},
    {"kind": "note", "text": "second look", "time": "2026-07-14T10:05:30+02:00", "order": 2, "who": "Kim, licence 77"},
    {"kind": "opened", "time": "2026-07-14T10:05", "call": "one", "site": "corner", "site_file": "site.yaml"},
    {"kind": "part", "unit": "rail", "part": "fan_motor", "count": 2, "number": "9-W", "remedy": "replace_motor"},
    {
        "kind": "refrigerant", "unit": "roof_unit", "way": "out", "refrigerant": "R-404A", "mass": "4.2 lb",
        "accuracy": "0.1 lb", "cylinder": "recovery 3", "who": "Kim, licence 77",
    },
    {
        "kind": "product", "food": "cut tomatoes", "action": "discarded", "by": "manager", "unit": "rail",
        "temperature": "51 degF", "instrument": "probe_7", "amount": "3 pans", "to": "bin",
    },
    {"kind": "closed", "outcome": "cause_not_proved", "reason": "supply house shut"},
]


@pytest.mark.parametrize("data", ALL_KINDS, ids=lambda d: str(d["kind"]))
def test_an_entry_goes_out_as_it_came_in(data: dict[str, Any]) -> None:
    entry = entry_from_data(data)
    out = entry.to_dict()
    assert [e.message for e in Draft202012Validator(SCHEMA).iter_errors(out)] == []
    assert entry_from_data(out) == entry
    assert {k: v for k, v in out.items() if k in data} == data


@pytest.mark.parametrize("name", ["one_fault", "three_faults", "conflict"])
def test_entries_of_the_examples_are_valid_as_a_log(name: str) -> None:
    call = load_call(EXAMPLES / f"{name}.call.yaml")
    assert len(call.entries) > 3
    for entry in call.entries:
        line = json.loads(json.dumps(entry.to_dict()))
        assert [e.message for e in Draft202012Validator(SCHEMA).iter_errors(line)] == []
        assert entry_from_data(line) == entry


def test_every_fault_of_an_entry_is_said() -> None:
    with pytest.raises(InputError) as caught:
        entry_from_data({"kind": "fact", "valu": "8 psig", "time": "noon", "state": 3})
    said = str(caught.value)
    assert "did you mean 'value'" in said
    assert "no 'reading'" in said
    assert "no 'value'" in said
    assert "2026-07-14T10:05" in said
    assert "'state' of a fact entry is 3" in said


@pytest.mark.parametrize(
    ("data", "part"),
    [
        ({"kind": "facts"}, "did you mean 'fact'"),
        ({}, "kind"),
        ({"kind": "correction", "corrects": "f1"}, "changes nothing"),
        ({"kind": "decision", "unit": "a", "remedy": "b", "answer": "perhaps"}, "approved, declined, deferred"),
        ({"kind": "fact", "reading": "a.b", "value": True}, "yes or no"),
        ({"kind": "conditions", "crew": 0}, "whole number"),
        ({"kind": "conditions", "forbid": {"smell": []}}, "hazards"),
        ({"kind": "setup", "unit": "a", "on": "gauges"}, "a list of names"),
        ({"kind": "fact", "reading": "a.b", "value": float("nan")}, "can be measured"),
        ({"kind": "fact", "reading": "a.b", "value": 10**400}, "a fact entry is 1000"),
        ({"kind": "note", "text": "x", "id": "a b"}, "letters, digits"),
        ({"kind": "note", "text": "x", "order": -1}, "a whole number from 0"),
        ({"kind": "note", "text": "x", "order": True}, "a whole number from 0"),
        ({"kind": "note", "text": "x", "time": "2026-07-14"}, "a date and time"),
        ({"kind": "note", "text": "x", "time": "2026-W29-2T10:05"}, "a date and time"),
        ({"kind": "opened", "site": "a"}, "no 'time'"),
        ({"kind": "part", "unit": "a", "part": "Fan motor"}, "small letters"),
        ({"kind": "refrigerant", "unit": "a", "way": "down", "refrigerant": "R-22", "mass": "1 lb"}, "one of in, out"),
        ({"kind": "product", "food": "ham", "action": "eaten"}, "one of moved, discarded, kept"),
        ({"kind": "closed", "outcome": "done"}, "one of repaired, cause_not_proved, left_open_by_decision"),
    ],
)
def test_what_is_wrong_is_said(data: dict[str, Any], part: str) -> None:
    with pytest.raises(InputError, match=part):
        entry_from_data(data)


def test_told_is_who_did_not_measure() -> None:
    assert Fact(reading="a.b", value="yes", by="customer").told
    assert not Fact(reading="a.b", value="yes", by="technician").told
    assert not Fact(reading="a.b", value="yes", by="instrument").told
