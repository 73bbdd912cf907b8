# ruff: noqa: E501 - tables: one case in each line
"""Mistakes in case files: all of a file at once, each at its place."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from faultkit.cases.bench import Bench, find_case_files, folders_with_trees
from faultkit.cases.model import Case
from faultkit.cases.reading import load_case_file, load_floors
from faultkit.problems import InputError
from faultkit.reading import builtin_catalogue
from tests.cases.conftest import BURNT, HEAD

Load = Callable[..., tuple[Case, ...]]

FACT = '{kind: fact, id: f1, reading: b.turns, value: "no"}'


def case(expect: str, entries: str = f"[{FACT}]", more: str = "") -> str:
    return f"  one: {{story: x, entries: {entries}, expect: {expect}{more}}}\n"


def test_everything_is_read(cases: Load) -> None:
    [first, second] = cases(
        BURNT + "{confirmed: [b.motor_failed], next: [b.new_motor, b.look]}\n"
        + case("{conflict: [f1]}", more=", opened: 2026-01-02T03:04, known_to_fail: because")
    )
    assert (first.full_name, first.call.name, first.call.opened) == ("box.burnt", "box.burnt", "2026-05-12T08:30")
    assert [e.id for e in first.call.entries] == ["air", "turns", "volts"]
    assert [n.name for n in first.expect.next] == ["b.new_motor", "b.look"]
    assert str(first.expect.confirmed[0].where) == "box.cases.yaml:13:26"
    assert str(first.where) == "box.cases.yaml:7:3"
    assert second.call.month == 1
    assert second.known_to_fail == "because"


@pytest.mark.parametrize(
    ("text", "what", "expected"),
    [
        (case("«{}"), "'expect' is empty", "at least one"),
        (case("{«confirmd: [b.stopped]}"), "'confirmd' is not a key of an expectation", "did you mean 'confirmed'"),
        (case("{confirmed: «b.stopped}"), "'confirmed' is a text, a list", "a list of events"),
        (case("{confirmed: «[]}"), "'confirmed' is empty", "a list of events"),
        (case("{confirmed: [«Stopped]}"), "item 1 of 'confirmed'", "unit.name"),
        (case("{confirmed: [«b.stoped]}"), "'b.stoped' is not an event of this site", "did you mean 'b.stopped'"),
        (case("{open: [«b.turns]}"), "'b.turns' is not an event", "b."),
        (case("{first_suspect: [«b.stopped]}"), "'b.stopped' is not a basic event", "b."),
        (case("{next: [«b.stopped]}"), "'b.stopped' is not a check or remedy", "b."),
        (case("{conflict: [«f2]}"), "'f2' is not an entry of this case", "one of f1"),
        (case("{confirmed: [b.stopped, «b.stopped]}"), "stands twice in 'confirmed'", "each once"),
        (case("{confirmed: [b.stopped], ruled_out: [«b.stopped]}"), "cannot be both 'confirmed' and 'ruled_out'", "one"),
        (case("{confirmed: [b.stopped], not_confirmed: [«b.stopped]}"), "both 'confirmed' and 'not_confirmed'", "one"),
        (case("{open: [b.stopped]}", "[«{kind: fact, reading: b.turn, value: x}]"), "reading 'b.turn' is not known", "'b.turns'"),
        (case("{open: [b.stopped]}", "[{kind: «fakt, text: x}]"), "'fakt'", "did you mean 'fact'"),
        (case("{open: [b.stopped]}", "«[]"), "'entries' is empty", ""),
        ("  one: «{entries: [{kind: note, text: x}], expect: {open: [b.stopped]}}\n", "'one' has no 'story'", "What the technician meets"),
        (case("{open: [b.stopped]}", more=", opened: «2026-02-30T10:00"), "no such date and time", "2026"),
        (case("{open: [b.stopped]}") + case("{open: [b.stopped]}").replace("one", "«one"), "'one' stands twice", ""),
    ],
)  # fmt: skip
def test_mistakes(cases: Load, text: str, what: str, expected: str) -> None:
    before = text.split("«", maxsplit=1)[0].splitlines() or [""]
    place = f"{len(HEAD.splitlines()) + len(before)}:{len(before[-1]) + 1}"
    with pytest.raises(InputError) as caught:
        cases(text.replace("«", ""))
    [problem] = caught.value.problems
    assert str(problem.where) == f"box.cases.yaml:{place}", str(caught.value)
    assert what in problem.what
    assert expected in problem.expected


@pytest.mark.parametrize(
    ("head", "place", "what"),
    [
        (HEAD.replace("units:\n  b: {equipment: box, title: Box, place: kitchen}\n", ""), "2:1", "the cases have no site"),
        (HEAD.replace("units:", "site: s.yaml\nunits:"), "5:1", "two sites: 'site' and 'units'"),
        (HEAD.replace("units:\n  b: {equipment: box, title: Box, place: kitchen}\n", "site: s.yaml\n"), "4:7", "no site file 's.yaml'"),
        (HEAD.replace("units:\n  b: {equipment: box, title: Box, place: kitchen}\n", "site: s.yaml\naltitude: 3 ft\n"), "1:1", "'altitude' but no 'units'"),
        (HEAD.replace("equipment: box", "equipment: bix"), "5:18", "equipment type 'bix' of unit 'b' is not known"),
        (HEAD.replace("cases: box", "case: box"), "2:1", "'case' is not the head of a file"),
        (HEAD.replace("opened: 2026-05-12T08:30\n", ""), "1:1", "the file has no 'opened'"),
    ],
)  # fmt: skip
def test_mistakes_of_the_head(cases: Load, head: str, place: str, what: str) -> None:
    with pytest.raises(InputError) as caught:
        cases(case("{open: [b.stopped]}"), head)
    assert what in str(caught.value)
    assert str(caught.value.problems[0].where) == f"box.cases.yaml:{place}", str(caught.value)


def test_all_mistakes_of_all_files_come_together(folder: Path, bench: Bench) -> None:
    for name in ("a", "b"):
        text = HEAD + case("{open: [b.x], next: [b.y], conflict: [z]}")
        (folder / f"{name}.cases.yaml").write_text(text)
    with pytest.raises(InputError) as caught:
        bench.load_all(["a.cases.yaml", "b.cases.yaml", "gone.cases.yaml"])
    assert len(caught.value.problems) == 7
    assert [str(p.where).split(":", maxsplit=1)[0] for p in caught.value.problems] == (
        ["a.cases.yaml"] * 3 + ["b.cases.yaml"] * 3 + ["gone.cases.yaml"]
    )


def test_a_set_has_a_name_of_its_own(folder: Path, bench: Bench) -> None:
    for name in ("a", "b"):
        (folder / f"{name}.cases.yaml").write_text(HEAD + case("{open: [b.door_open]}"))
    with pytest.raises(InputError, match=r"'one' of a set 'box' stands in two files, first at a\.cases\.yaml:7:3"):
        bench.load_all(["a.cases.yaml", "b.cases.yaml"])


def test_another_kind_of_file_is_refused(folder: Path) -> None:
    with pytest.raises(InputError, match="this is a file of kind 'equipment', one of kind 'cases' is wanted"):
        load_case_file(folder / "box.yaml")


def test_a_case_file_is_no_part_of_a_catalogue(folder: Path) -> None:
    from faultkit.loading import load_catalogue

    (folder / "other.yaml").write_text("schema: 1\ncoverage: all\nminimum: {box: {events: 3}}\n")
    (folder / "box.cases.yaml").write_text("broken: [")
    catalogue = load_catalogue([folder], installed=False)
    assert "box" in catalogue.types
    assert not any(f.endswith(("other.yaml", "box.cases.yaml")) for f in catalogue.files)


def test_files_are_found_once_and_hidden_ones_not(folder: Path) -> None:
    for name in ("x.cases.yaml", ".git/y.cases.yaml", "deep/z.cases.yaml", "deep/z.yaml"):
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text("")
    found = find_case_files([".", "x.cases.yaml", folder])
    assert [os.fspath(p) for p in found] == [os.path.join("deep", "z.cases.yaml"), "x.cases.yaml"]  # noqa: PTH118
    with pytest.raises(InputError, match="gone:1:1: there is no such file or folder"):
        find_case_files(["gone"])


def test_trees_beside_cases_are_seen(folder: Path) -> None:
    (folder / "deep").mkdir()
    (folder / "deep" / "site.yaml").write_text("schema: 1\nsite: here\n")
    files = [folder / "a.cases.yaml", folder / "deep" / "b.cases.yaml", folder / "c.cases.yaml"]
    assert folders_with_trees(files) == [folder]
    assert folders_with_trees(find_case_files([builtin_catalogue()])) == []


FLOORS = "schema: 1\ncoverage: all\nminimum:\n  box: {events: 50, rows: 12.5}\n"


def test_floors_are_read_with_their_places(folder: Path) -> None:
    (folder / "coverage.yaml").write_text(FLOORS)
    floors = load_floors("coverage.yaml")
    assert {k: v[0] for k, v in floors["box"].items()} == {"events": 50.0, "rows": 12.5}
    assert str(floors["box"]["rows"][1]) == "coverage.yaml:4:27"


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("50", "101", "'events' is 101"),
        ("50", "-1", "'events' is -1"),
        ("50", "50 %", "'events' is a text, a number is wanted here"),
        ("events", "event", "'event' is not a key of minimums of a type"),
        ("{events: 50, rows: 12.5}", "{}", "'box' is empty"),
    ],
)
def test_mistakes_in_floors(folder: Path, old: str, new: str, what: str) -> None:
    (folder / "coverage.yaml").write_text(FLOORS.replace(old, new))
    with pytest.raises(InputError, match=what):
        load_floors("coverage.yaml")
