"""What `faultkit new` writes works from the first minute and never lies over what is there."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from faultkit.cli import main
from faultkit.reading.resources import data_folder

ROOT = Path(__file__).resolve().parents[2]
SITE = data_folder("examples") / "site.yaml"


def said(capsys: pytest.CaptureFixture[str]) -> str:
    return capsys.readouterr().err


def test_a_new_type_passes_check_and_its_own_cases(tmp_path: Path) -> None:
    assert main(["new", "equipment", "reach_in", "--in", str(tmp_path)]) == 0
    home = tmp_path / "reach_in"
    assert {p.name for p in home.iterdir()} == {"reach_in.yaml", "reach_in.cases.yaml"}
    assert main(["check", str(home)]) == 0
    assert main(["test", str(home), "--coverage"]) == 0


def test_its_schema_line_leads_to_what_schema_writes(tmp_path: Path) -> None:
    assert main(["new", "equipment", "reach_in", "--in", str(tmp_path)]) == 0
    assert main(["schema", "--catalogue", str(tmp_path), "--out", str(tmp_path / "schemas")]) == 0
    for path in (tmp_path / "reach_in").iterdir():
        named = path.read_text(encoding="utf-8").splitlines()[0].split("$schema=")[1]
        assert (path.parent / named).is_file()


def test_the_cases_of_a_new_type_fail_on_a_tree_that_says_otherwise(tmp_path: Path) -> None:
    assert main(["new", "equipment", "reach_in", "--in", str(tmp_path)]) == 0
    tree = tmp_path / "reach_in" / "reach_in.yaml"
    tree.write_text(tree.read_text(encoding="utf-8").replace("{no: always}", "{no: usually}"), encoding="utf-8")
    assert main(["test", str(tree.parent)]) != 0


def test_cases_for_a_type_that_stands_alone(tmp_path: Path) -> None:
    assert main(["new", "equipment", "reach_in", "--in", str(tmp_path)]) == 0
    trees = ["--catalogue", str(tmp_path)]
    assert main(["new", "cases", "reach_in", "--in", str(tmp_path / "more"), *trees]) == 0
    made = tmp_path / "more" / "reach_in.cases.yaml"
    assert "confirmed: [unit.door_hangs" in made.read_text(encoding="utf-8")
    assert main(["test", str(made), *trees]) == 0


@pytest.mark.slow
def test_cases_for_a_type_that_needs_a_site(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["new", "cases", "prep_rail_forced_air", "--in", str(tmp_path)]
    assert main(arguments) == 2
    assert "--site" in said(capsys)
    assert list(tmp_path.iterdir()) == []
    assert main([*arguments, "--site", str(SITE)]) == 0
    assert main(["test", str(tmp_path / "prep_rail_forced_air.cases.yaml")]) == 0


@pytest.mark.parametrize("what", ["equipment", "plugin"])
@pytest.mark.parametrize("name", ["Reach-In", "", "9lives", "../out", "a b", "true", "null"])
def test_a_bad_name_is_refused(what: str, name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", what, name, "--in", str(tmp_path)]) == 2
    assert "no name of" in said(capsys)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("what", "name", "told"), [
    ("equipment", "branch_circuit", "already"), ("plugin", "builtin", "already"), ("cases", "branch_circus", "known"),
])
def test_names_that_are_taken_or_unknown(
    what: str, name: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", what, name, "--in", str(tmp_path)]) == 2
    assert told in said(capsys)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("what", "there"), [
    ("equipment", "reach_in/reach_in.cases.yaml"), ("plugin", "reach_in/tests/test_plugin.py"),
])
def test_nothing_is_overwritten(what: str, there: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    mine = tmp_path / there
    mine.parent.mkdir(parents=True)
    mine.write_text("mine", encoding="utf-8")
    assert main(["new", what, "reach_in", "--in", str(tmp_path)]) == 2
    assert "there already" in said(capsys)
    assert [p for p in tmp_path.rglob("*") if p.is_file()] == [mine]
    assert mine.read_text(encoding="utf-8") == "mine"


@pytest.mark.slow
def test_a_new_plugin_passes_its_own_tests_once_installed(tmp_path: Path) -> None:
    assert main(["new", "plugin", "ice_chest", "--in", str(tmp_path)]) == 0
    home, target = tmp_path / "ice_chest", tmp_path / "site"
    installing = [
        sys.executable, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps",
        "--no-build-isolation", "--target", str(target), str(home),
    ]
    done = subprocess.run(installing, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    testing = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", str(home / "tests")]
    environment = os.environ | {
        "PYTHONPATH": os.pathsep.join([str(target), str(ROOT)]), "PYTHONDONTWRITEBYTECODE": "1"
    }
    done = subprocess.run(testing, capture_output=True, text=True, check=False, cwd=home, env=environment)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "5 passed" in done.stdout
