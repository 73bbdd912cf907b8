"""Recorded calls under two catalogues, and the command around it."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from faultkit.cli import main
from faultkit.compare.calls import compare_calls, find_calls
from faultkit.model.catalogue import Catalogue
from faultkit.plugins import load_plugins
from faultkit.problems import InputError
from faultkit.reading.resources import builtin_schemas

SITE = "schema: 1\nsite: s\nunits:\n  b: {equipment: box, title: Box}\n"
CALL = """\
schema: 1
call: one
site: site.yaml
opened: 2026-01-14T10:05
entries:
  - {kind: fact, id: f1, reading: b.air, value: 40.3 degF, instrument: fine}
  - {kind: fact, id: f2, reading: b.turns, value: "no", state: running}
  - {kind: fact, id: f3, reading: b.volts, value: 110 V}
"""
CASES = """\
schema: 1
cases: box
opened: 2026-05-12T08:30
units: {b: {equipment: box}}
calls:
  smelt:
    story: It smells burnt.
    entries: [{kind: fact, reading: b.smell, value: burnt}]
    expect: {open: [b.motor_failed]}
"""

Pair = Callable[[str, str], tuple[Catalogue, Catalogue]]
Command = Callable[..., tuple[int, str, str]]


@pytest.fixture
def calls(tmp_path: Path) -> Path:
    folder = tmp_path / "calls"
    folder.mkdir()
    instruments = "instruments: {fine: {accuracy: 0.1 delta_degF}}\n"
    (folder / "site.yaml").write_text(SITE.replace("units:", instruments + "units:"))
    (folder / "one.call.yaml").write_text(CALL)
    (folder / "box.cases.yaml").write_text(CASES)
    return folder


@pytest.fixture
def run(catalogues: Pair, tmp_path: Path, calls: Path, capsys: pytest.CaptureFixture[str]) -> Command:
    """``faultkit compare`` after one edit: exit code, standard output and error."""

    def go(old: str, new: str, *options: str) -> tuple[int, str, str]:
        catalogues(old, new)
        more = ["--calls", str(calls)] if "--no-calls" not in options else []
        rest = [o for o in options if o != "--no-calls"]
        code = main(["compare", str(tmp_path / "old"), str(tmp_path / "new"), *more, *rest])
        said = capsys.readouterr()
        return code, said.out, said.err

    return go


def test_the_same_is_the_same(run: Command) -> None:
    code, out, _ = run("", "")
    assert code == 0
    assert out == "the catalogues say the same\n\n0 of 2 calls come out differently\n"


def test_a_moved_cut_moves_a_verdict(run: Command) -> None:
    # 40.3 degF is cold by a cut at 41 and warm by one at 39: with a standing fan cold air is a contradiction.
    code, out, _ = run("41 degF", "39 degF")
    assert code == 1
    assert "1 difference: 1 bear on logic" in out
    assert "logic    readings air, cut cold | warm: 41 degF → 39 degF" in out
    assert "1 of 2 calls come out differently\n\none\n  facts conflict: yes → no" in out
    assert "  b.warm: open → confirmed\n" in out


def test_a_rarer_fault_moves_the_first_suspect(run: Command) -> None:
    code, out, _ = run("motor_failed: {how_common: common", "motor_failed: {how_common: 0.00001")
    assert code == 1
    smelt = out.split("box.smelt")[1]
    assert "first suspect: b.motor_failed " in smelt
    assert "→ b." in smelt


def test_words_change_no_call(run: Command) -> None:
    code, out, _ = run("title: Box warm", "title: Box too warm")
    assert code == 1
    assert "words    events warm, title: Box warm → Box too warm" in out
    assert "0 of 2 calls" in out


def test_a_reading_gone_is_said_of_its_calls(catalogues: Pair, calls: Path) -> None:
    old, _ = catalogues("", "")
    old = replace(old, calculators=load_plugins(installed=False).calculators)
    box = old.types["box"]
    fewer = replace(box, readings={k: r for k, r in box.readings.items() if k != "smell"})
    new = replace(old, types={"box": fewer})
    gone, same = compare_calls(find_calls(calls), old, new)
    assert same.name == "one"
    assert same.same
    assert gone.name.endswith("box.cases.yaml")
    assert gone.broken[0] == ""
    assert "reading 'b.smell' is not known at this site" in gone.broken[1]
    assert not gone.same


def test_what_neither_can_read_is_bad_input(run: Command, calls: Path) -> None:
    (calls / "one.call.yaml").write_text(CALL.replace("b.air", "b.heir"))
    code, out, err = run("41 degF", "39 degF")
    assert (code, out) == (2, "")
    assert "reading 'b.heir' is not known at this site" in err


def test_bad_folders(run: Command, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("", "", "--no-calls")[0] == 0
    assert main(["compare", str(tmp_path / "old"), str(tmp_path / "gone")]) == 2
    assert "there is no such folder" in capsys.readouterr().err
    (tmp_path / "empty").mkdir()
    assert main(["compare", str(tmp_path / "old"), str(tmp_path / "new"), "--calls", str(tmp_path / "empty")]) == 2
    assert "no *.call.yaml or *.cases.yaml here" in capsys.readouterr().err
    with pytest.raises(InputError):
        find_calls(tmp_path / "empty")


@pytest.mark.parametrize("calls_too", [True, False])
def test_json_is_valid(run: Command, *, calls_too: bool) -> None:
    options = ["--format", "json", *([] if calls_too else ["--no-calls"])]
    code, out, _ = run("41 degF", "39 degF", *options)
    assert code == 1
    data = json.loads(out)
    schema = json.loads((builtin_schemas() / "comparison.v1.json").read_text())
    assert [e.message for e in Draft202012Validator(schema).iter_errors(data)] == []
    assert data["same"] is False
    [change] = data["changes"]
    assert (change["area"], change["name"], change["bears_on"]) == ("readings", "air", "logic")
    if not calls_too:
        assert data["calls"] is None
        return
    by_name = {c["name"]: c for c in data["calls"]}
    assert by_name["box.smelt"]["same"] is True
    assert by_name["one"]["consistent"] == {"old": False, "new": True}
    assert list(Draft202012Validator(schema).iter_errors({"schema": 1, "kind": "comparison"}))
