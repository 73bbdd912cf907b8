"""The cases of the built-in trees. All of them run in ``faultkit test``; here the quickest file does."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.cases.bench import Bench, find_case_files
from faultkit.cases.reading import load_case_file, load_floors
from faultkit.cases.run import run_cases
from faultkit.loading import load_catalogue
from faultkit.reading import builtin_catalogue

FILES = find_case_files([builtin_catalogue()])
TYPES = (
    "branch_circuit", "condensing_unit_receiver", "glass_door_merchandiser", "prep_rail_cold_wall",
    "prep_rail_forced_air", "reach_in_refrigerator", "undercounter_base", "walk_in_cooler", "walk_in_freezer",
)


@pytest.mark.parametrize("name", TYPES)
def test_each_type_has_cases_of_every_sort(name: str) -> None:
    plan = load_case_file(next(f for f in FILES if f.name == f"{name}.cases.yaml"))
    assert plan.name == name
    expected = [c.expect for c in plan.cases]
    assert len(expected) >= 10
    assert any(e.conflict for e in expected)          # a fact was misread
    assert any(e.next for e in expected)              # what to do first
    assert any(e.not_confirmed for e in expected)     # what must not be condemned
    assert all(len(c.story.split()) >= 10 for c in plan.cases)


def test_the_floors_are_for_all_of_them() -> None:
    assert tuple(load_floors(builtin_catalogue() / "coverage.yaml")) == TYPES


def test_a_file_of_them_passes() -> None:
    [path] = [f for f in FILES if f.name == "branch_circuit.cases.yaml"]
    results = list(run_cases(Bench(load_catalogue(installed=False)).load(Path(path))))
    assert [r.case.name for r in results if not r.good] == []
