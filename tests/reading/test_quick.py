# ruff: noqa: E501 - tables: one case in each line
"""The shortcuts against jsonschema without them: the same verdict and the same errors."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from faultkit.reading.parse import parse_file
from faultkit.reading.quick import QUICK, accepts_text
from faultkit.reading.resources import builtin_catalogue
from faultkit.reading.schemas import schema, validator

EQUIPMENT: dict[str, Any] = {
    "schema": 1,
    "equipment": "rail",
    "settings": {"volts": "208 V", "amps": {"unit": "A"}, "gas": {"words": ["R-134a"], "default": "R-134a"}},
    "house_events": {"lid": {"default": "no"}, "fan": "yes"},
    "states": {"running": "It runs"},
    "joins": {"fed_by": {"events": ["dead"]}, "serves": {"reverse_of": "served_by", "optional": "no"}},
    "sections": {"coil": {"use": "coil", "settings": {"v": "volts"}, "events": {"dead": "fed_by.dead"}}},
    "readings": {
        "a": {"unit": "V", "bands": ["low", "8 V", "high"], "in": "running", "range": ["0 V", "9 V"]},
        "b": "yes_no",
        "c": {"one_of": ["x", "y"]},
        "d": {"unit": "V", "bands": {"running": ["low", {"at": "8 V"}, "high"]}, "calculate": {"use": "sum", "a": "a"}},
    },
    "tells": {"a": [{"e": {"low": "always"}, "source": "s"}, {"otherwise": {"high": 0.9, "low": "2 %"}}]},
    "events": {
        "e": {"how_common": "rare", "broken_by": {"f": "seldom"}},
        "f": {"how_common": {"winter": "rare", "otherwise": "3 %"}, "stays": "yes"},
        "g": {"any_of": ["e", {"f": 0.5}, "each fan.stopped"], "other": "5 %"},
        "h": {"at_least": 2, "of": ["e", "f"]},
    },
    "checks": {"m": {"gives": ["a in running"], "minutes": 1, "power": "live", "steps": ["Do it."]}},
    "remedies": {"r": {"ends": ["e"], "minutes": 2.5, "prove": {"a": "high"}, "may_leave": {"f": "rarely"}}},
    "parts": {"fan": {"copies": ["left", "right"], "events": {"stopped": {"how_common": 0.1}}}},
}
CALL: dict[str, Any] = {
    "schema": 1,
    "call": "c",
    "site": "s.yaml",
    "opened": "2026-07-14T10:05",
    "entries": [
        {"kind": "complaint", "event": "a.b", "words": "warm", "by": "customer", "time": "10:05"},
        {"kind": "fact", "reading": "a.c", "value": "8 V"},
        {"kind": "fact", "reading": "a.c", "value": 8, "unit": "V", "instrument": "meter"},
        {"kind": "conditions", "forbid": {"power": ["live"], "hazards": ["fire"]}, "crew": 1},
        {"kind": "correction", "corrects": "e2", "retract": "yes"},
        {"kind": "note", "text": "x"},
    ],
}

VALUES = st.sampled_from(
    ["", "yes", "no", "always", "common", "85 %", "0 %", "8 V", "Bad Name", "a.b", "each a.b", "a in b", "yes_no", "live",
     "any", "10:05", "25:61", "2026-07-14T10:05:00+02:00", 0, 1, 0.5, -1, 2.5, True, False, None, [], {}, ["a"], [1],
     {"a": "b"}, {"use": "x"}, {"at": "8 V"}, {"otherwise": "rare"}, {"kind": "fact"}, {"unit": "V", "title": 3}]
)  # fmt: skip


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    found = [path]
    members = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, member in members:
        found += places(member, (*path, key))
    return found


def errors(made: Any, instance: Any) -> set[tuple[Any, ...]]:
    return {
        (*map(str, e.absolute_path), "|", e.validator, e.message.replace(r"\\Z", "$"))
        for e in made.iter_errors(instance)
    }


@settings(max_examples=120, deadline=None)
@given(st.data(), st.sampled_from([("equipment", EQUIPMENT), ("call", CALL)]))
def test_damaged_documents_give_the_same_errors(data: st.DataObject, sample: tuple[str, dict[str, Any]]) -> None:
    kind, good = sample
    document = copy.deepcopy(good)
    for _ in range(data.draw(st.integers(1, 3))):
        path = data.draw(st.sampled_from(places(document)[1:]))
        at = document
        for step in path[:-1]:
            at = at[step]
        action = data.draw(st.sampled_from(["replace", "remove", "add"]))
        if action == "replace":
            at[path[-1]] = copy.deepcopy(data.draw(VALUES))
        elif action == "remove":
            del at[path[-1]]
        elif isinstance(at, dict):
            at[data.draw(st.sampled_from(["title", "source", "Bad Name", "other", "kind", "xyzzy"]))] = copy.deepcopy(
                data.draw(VALUES)
            )
        if len(places(document)) < 2:
            return
    assert errors(validator(kind), document) == errors(Draft202012Validator(schema(kind)), document)


@pytest.mark.parametrize(("kind", "good"), [("equipment", EQUIPMENT), ("call", CALL)])
def test_the_samples_are_valid(kind: str, good: dict[str, Any]) -> None:
    assert errors(Draft202012Validator(schema(kind)), good) == set()
    assert errors(validator(kind), good) == set()


TEXTS = st.one_of(
    st.sampled_from(["", "yes", "always", "rare", "85 %", "85%", "8", "a", "a.b", "each a", "each  a.b in c", "A", "a b", "10:05"]),
    st.text(alphabet="ab_.% 019eEinch:-", max_size=8),
)  # fmt: skip


@settings(max_examples=100, deadline=None)
@given(TEXTS)
def test_a_shortcut_accepts_just_the_valid_texts(text: str) -> None:
    whole = schema("equipment")
    plain = Draft202012Validator(whole)
    ready: Any = validator("equipment").schema
    tried = 0
    for name, member in ready["properties"].items():
        if QUICK in member:
            tried += 1
            assert member[QUICK](text) is plain.evolve(schema=whole["properties"][name]).is_valid(text), name
    for name, part in whole["$defs"].items():
        if not {"if", "$ref"} & part.keys() and "type" in part:
            test = accepts_text(part)
            assert test is not None
            tried += 1
            assert test(text) is plain.evolve(schema=part).is_valid(text), name
    assert tried > 20


@pytest.mark.parametrize("kind", ["equipment", "section", "call", "site", "common"])
def test_texts_have_shortcuts(kind: str) -> None:
    found: list[dict[str, Any]] = []

    def walk(part: Any) -> None:
        if isinstance(part, dict):
            if part.get("type") == "string":
                found.append(part)
            for key, member in part.items():
                if key != QUICK:
                    walk(member)
        elif isinstance(part, list):
            for member in part:
                walk(member)

    walk(validator(kind).schema)
    # Not the one that only asks for the type in an if.
    assert all(QUICK in p for p in found if p.keys() != {"type"})


def test_schemas_out_of_reach_have_no_shortcut() -> None:
    assert accepts_text({"type": "string", "format": "date"}) is None
    assert accepts_text({"type": "string", "allOf": [{"not": {"const": "a"}}]}) is None
    assert accepts_text({"if": {"anyOf": []}, "then": True}) is None


def test_the_builtin_catalogue_is_valid_for_jsonschema_alone() -> None:
    for path in sorted(builtin_catalogue().rglob("*.yaml")):
        node = parse_file(path, [])
        assert node is not None
        for kind in ("equipment", "section", "common"):
            if kind in node.value:
                assert errors(Draft202012Validator(schema(kind)), node.plain()) == set()
