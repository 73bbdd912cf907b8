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
    ],
)
def test_what_is_wrong_is_said(data: dict[str, Any], part: str) -> None:
    with pytest.raises(InputError, match=part):
        entry_from_data(data)


def test_told_is_who_did_not_measure() -> None:
    assert Fact(reading="a.b", value="yes", by="customer").told
    assert not Fact(reading="a.b", value="yes", by="technician").told
    assert not Fact(reading="a.b", value="yes", by="instrument").told
