"""The schemas themselves: valid, described, closed, and in step with the code."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import fields
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from faultkit.model import entries
from faultkit.model.types import Power
from faultkit.model.words import CHANCE_WORDS, HOW_COMMON_WORDS, SEASONS
from faultkit.problems import Problem
from faultkit.reading.parse import parse_file
from faultkit.reading.resources import builtin_catalogue, builtin_schemas, data_folder
from faultkit.reading.schemas import KINDS, schema
from faultkit.reading.validate import kind_of_file, validate

ALL = (*KINDS, "entry", "record")
FILES = sorted(builtin_schemas().glob("*.v1.json"))


def parts(value: Any, path: str = "#") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every mapping in a schema with its place."""
    if isinstance(value, dict):
        yield path, value
        for key, member in value.items():
            yield from parts(member, f"{path}/{key}")
    elif isinstance(value, list):
        for index, member in enumerate(value):
            yield from parts(member, f"{path}/{index}")


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.name)
def test_a_schema_is_valid_and_names_itself(file: Any) -> None:
    loaded = json.loads(file.read_text())
    Draft202012Validator.check_schema(loaded)
    assert loaded["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert loaded["$id"] == f"https://faultkit.example/schemas/{file.name}"


@pytest.mark.parametrize("kind", ALL)
def test_every_property_is_described(kind: str) -> None:
    found = 0
    for path, part in parts(schema(kind)):
        # Under if: it repeats a property to test it, which no editor shows.
        for name, member in part.get("properties", {}).items() if not path.endswith("/if") else ():
            found += 1
            assert member.get("description"), f"{path}/properties/{name}"
            assert member["description"][0] != member["description"][0].lower() or member["description"].startswith(
                ("any;", "approved,", "yes:")
            ), f"{path}/properties/{name}"
    assert found > 5


@pytest.mark.parametrize("kind", ALL)
def test_every_definition_has_a_title_and_is_used(kind: str) -> None:
    whole = schema(kind)
    used = {p["$ref"] for _, p in parts(whole) if "$ref" in p}
    assert used == {f"#/$defs/{name}" for name in whole["$defs"]}
    for name, part in whole["$defs"].items():
        assert part.get("title"), name


@pytest.mark.parametrize("kind", ALL)
def test_objects_are_closed_and_nothing_is_a_blind_choice(kind: str) -> None:
    for path, part in parts(schema(kind)):
        assert not {"oneOf", "anyOf", "not"} & part.keys(), path
        if part.get("type") == "object" and ("properties" in part or "patternProperties" in part):
            closed = part.get("additionalProperties") is False
            assert closed or "allOf" in part, path  # an entry is closed by the schema of its kind


@pytest.mark.parametrize("kind", ALL)
def test_patterns_hold_from_end_to_end(kind: str) -> None:
    for path, part in parts(schema(kind)):
        patterns = list(part.get("patternProperties", {}))
        patterns += [part["pattern"]] if isinstance(part.get("pattern"), str) and not path.endswith("/if") else []
        for pattern in patterns:
            assert pattern.startswith("^"), path
            assert pattern.endswith("$"), path
            re.compile(pattern)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("equipment", "section"), ("entry", "call"), ("entry", "record"), ("common", "site"), ("call", "cases"),
        ("site", "cases"),
    ],
)
def test_a_definition_that_two_schemas_hold_is_the_same_in_both(one: str, other: str) -> None:
    # Each file stands alone, since editors differ in how they follow references between files.
    first, second = schema(one)["$defs"], schema(other)["$defs"]
    shared = first.keys() & second.keys()
    assert len(shared) > 2
    for name in shared:
        assert first[name] == second[name], name


def test_the_entry_of_a_call_is_the_entry() -> None:
    alone = {k: v for k, v in schema("entry").items() if not k.startswith("$")}
    assert schema("call")["$defs"]["entry"] == schema("cases")["$defs"]["entry"] == alone
    assert schema("record")["$defs"]["entry"] == alone


def test_words_are_those_of_the_code() -> None:
    defs = schema("equipment")["$defs"]
    assert defs["chance"]["else"]["else"]["enum"] == list(CHANCE_WORDS)
    assert defs["frequency"]["else"]["else"]["enum"] == list(HOW_COMMON_WORDS)
    assert list(defs["seasons"]["properties"]) == [*SEASONS, "otherwise"]
    assert defs["power"]["enum"] == [p.value for p in Power]


def test_entries_are_those_of_the_code() -> None:
    classes = {c.kind: c for c in entries.Entry.__subclasses__()}
    whole = schema("entry")
    assert whole["properties"]["kind"]["enum"] == list(classes)
    for kind, cls in classes.items():
        wanted = {f.name for f in fields(cls)} - {"where"}
        assert whole["$defs"][kind]["properties"].keys() - {"kind"} == wanted
        assert whole["$defs"][kind]["properties"]["kind"]["const"] == kind
    assert whole["$defs"]["closed"]["properties"]["outcome"]["enum"] == list(entries.OUTCOMES)


@pytest.mark.parametrize("kind", KINDS)
def test_a_name_does_not_end_in_a_line_break(kind: str) -> None:
    from faultkit.reading.schemas import validator

    head = {"schema": 1, kind: "a\n"}
    errors = [e for e in validator(kind).iter_errors(head) if list(e.absolute_path) == [kind]]
    assert [e.validator for e in errors] == ["pattern"]


def test_what_comes_with_faultkit_is_valid_and_names_its_schema() -> None:
    files = [p for f in (builtin_catalogue(), data_folder("examples")) for p in sorted(f.rglob("*.yaml"))]
    assert {"cases", "coverage"} < {p.name.split(".")[-2] for p in files}
    for path in files:
        problems: list[Problem] = []
        node = parse_file(path, problems)
        assert node is not None, problems
        kind = kind_of_file(node, problems)
        assert kind is not None, problems
        assert validate(node, kind, problems), problems
        first = path.read_text().splitlines()[0]
        found = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)", first)
        assert found, path
        assert (path.parent / found[1]).resolve() == (builtin_schemas() / f"{kind}.v1.json").resolve()
