"""The functions for the rest of the package: everything or an InputError with all problems."""

from __future__ import annotations

import pickle
import time
from pathlib import Path

import pytest

from faultkit.problems import InputError, Problem
from faultkit.reading import builtin_catalogue, load_call_file, load_catalogue_folders, load_site_file
from faultkit.reading.parse import parse_text
from faultkit.reading.validate import validate

SITE = "schema: 1\nsite: s\nunits:\n  a: {equipment: b, joins: {fed_by: a, served_by: c}}\n  d: {equipment: b}\n"
CALL = "schema: 1\ncall: c\nsite: s.yaml\nopened: 2026-07-14T10:05\nentries: []\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("s.yaml").write_text(SITE.replace("fed_by: a, served_by: c", "fed_by: d"))
    Path("c.yaml").write_text(CALL)
    return tmp_path


@pytest.mark.usefixtures("folder")
def test_good_files_are_loaded() -> None:
    assert load_site_file("s.yaml").units["a"].joins == {"fed_by": "d"}
    assert load_call_file("c.yaml").site == "s.yaml"


@pytest.mark.usefixtures("folder")
def test_all_problems_are_raised_together() -> None:
    Path("s.yaml").write_text(SITE)
    with pytest.raises(InputError) as caught:
        load_site_file("s.yaml")
    assert [str(p.where) for p in caught.value.problems] == ["s.yaml:4:37", "s.yaml:4:51"]
    assert "s.yaml:4:37: unit 'a' is joined to itself" in str(caught.value)


@pytest.mark.usefixtures("folder")
@pytest.mark.parametrize(
    ("text", "place", "what"),
    [
        ("a: [", "1:4", "the text ends here"),
        ("- a", "1:1", "a mapping is wanted"),
        (SITE + "x: 1\n", "6:1", "'x' is not a key"),
    ],
)
def test_each_step_that_can_fail(text: str, place: str, what: str) -> None:
    Path("s.yaml").write_text(text)
    with pytest.raises(InputError) as caught:
        load_site_file("s.yaml")
    [problem] = caught.value.problems
    assert str(problem.where) == f"s.yaml:{place}"
    assert what in problem.what


@pytest.mark.usefixtures("folder")
def test_the_wrong_kind_of_file() -> None:
    with pytest.raises(InputError) as caught:
        load_site_file("c.yaml")
    [problem] = caught.value.problems
    assert "of kind 'call', one of kind 'site' is wanted" in problem.what
    with pytest.raises(InputError, match="of kind 'site'"):
        load_call_file("s.yaml")


def test_a_missing_file(folder: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        load_call_file(folder / "cc.yaml")


def test_the_builtin_catalogue_loads_the_same_twice_and_can_be_pickled() -> None:
    first = load_catalogue_folders([builtin_catalogue()])
    assert first.types
    assert load_catalogue_folders([builtin_catalogue()]) == first
    assert pickle.loads(pickle.dumps(first)) == first  # noqa: S301 - our own


def test_five_thousand_lines_are_parsed_and_validated_in_a_blink() -> None:
    rows = "".join(
        f"  m{i}: {{gives: [each fan.volts, pressure in running], minutes: 4, power: live, tools: [meter]}}\n"
        f"  n{i}:\n    gives: [a, b]\n    title: Measure at the motor\n    minutes: 3\n"
        for i in range(1000)
    )
    text = "schema: 1\nequipment: rail\nchecks:\n" + rows
    assert text.count("\n") > 5000
    problems: list[Problem] = []
    small = parse_text("schema: 1\nequipment: a\n", "f.yaml", problems)
    assert small is not None
    assert validate(small, "equipment", problems)  # the schema is read now
    start = time.perf_counter()
    node = parse_text(text, "f.yaml", problems)
    assert node is not None
    assert validate(node, "equipment", problems)
    # About 0.1 s on the machine this was written on; the margin is for slower ones.
    assert time.perf_counter() - start < 1.0
