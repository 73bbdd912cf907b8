"""The commands on the built-in examples: what a newcomer sees."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from faultkit.cli import main
from faultkit.reading.resources import data_folder

EXAMPLES = ("one_fault", "three_faults", "conflict", "motor_on_suspicion")


@pytest.fixture(scope="module")
def schema() -> Draft202012Validator:
    text = (data_folder("schemas") / "diagnosis.v1.json").read_text(encoding="utf-8")
    Draft202012Validator.check_schema(json.loads(text))
    return Draft202012Validator(json.loads(text))


@pytest.mark.parametrize("name", EXAMPLES)
def test_json_of_each_example_is_valid(
    name: str, schema: Draft202012Validator, capsys: pytest.CaptureFixture[str]
) -> None:
    code = main(["diagnose", "--example", name, "--format", "json"])
    data = json.loads(capsys.readouterr().out)
    assert [e.message for e in schema.iter_errors(data)] == []
    assert code == (0 if data["consistent"] else 1)
    assert data["consistent"] is (name != "conflict")
    assert all(e["probability"]["low"] <= e["probability"]["high"] for e in data["events"])


def test_the_schema_refuses_what_is_no_diagnosis(schema: Draft202012Validator) -> None:
    assert list(schema.iter_errors({"schema": 1, "kind": "diagnosis"}))


def test_three_faults_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", "--example"]) == 0
    said = capsys.readouterr().out
    proved, rest = said.split("MORE TO FIND")
    assert "Shared splice corroded" in proved
    assert "rail.coil.fan.left.motor_failed" in proved
    assert "because" in proved
    assert "roof_unit.condenser_dirty" in rest  # the masked one: suspected, not proved
    assert "roof_unit.condenser_dirty" not in proved
    following = said.split("NEXT")[1]
    assert following.index("CAUTION") < following.index("in all")  # cautions before the steps
    assert max(len(line) for line in said.splitlines()) <= 92


def test_a_call_with_remedies_says_what_they_did_and_that_it_can_be_closed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["diagnose", "--example", "motor_on_suspicion"]) == 0
    said = capsys.readouterr().out
    done = said.split("DONE (2)")[1].split("PROVED CAUSES")[0]
    assert "lead broken: found [f5, f9], and proved gone" in " ".join(done.split())
    assert "motor burnt out: chance that it was there" in done  # replaced on suspicion, and not the fault
    assert "NOT PROVED" not in done
    assert "THE CALL CAN BE CLOSED" in said
    assert max(len(line) for line in said.splitlines()) <= 92


def test_four_remedies_leave_a_proof_and_a_cause_open(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", "--example", "four_remedies", "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert [(m["kind"], m["what"], m["needs"]) for m in data["closing"]["missing"]] == [
        ("unproved_repair", "roof_unit.clean_condenser", ["roof_unit.condensing_split"]),
        ("damage", "roof_unit.high_pressure_tripped", ["roof_unit.head_high"]),
    ]
    motor = next(e for e in data["events"] if e["event"] == "rail.coil.fan.left.motor_failed")
    assert [(p["stage"], p["verdict"]) for p in motor["past"]] == [(0, "confirmed")]
    assert motor["verdict"] == "ruled_out"
    links = {(x["cause"].removeprefix("rail.coil."), x["effect"].removeprefix("rail.coil.")) for x in data["causes"]}
    chain = ["kitchen_circuit.splice_corroded", "kitchen_circuit.low", "rail.supply_low", "fan.left.low_feed",
             "fan.left.motor_failed", "fan.left.stopped", "fan.left.air_lost"]
    assert links >= set(pairwise(chain))


def test_a_conflict_names_its_facts(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", "--example", "conflict"]) == 1
    said = capsys.readouterr().out
    assert "CANNOT ALL BE TRUE" in said
    assert "[f2]" in said.split("PROVED")[0]
    assert "[f3]" in said.split("PROVED")[0]
    assert "take again" in said


@pytest.mark.parametrize("what", ["types", "events", "readings", "checks", "remedies"])
def test_listings(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list", what]) == 0
    table = capsys.readouterr().out
    assert main(["list", what, "--format", "json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    assert len(table.splitlines()) == len(rows) + 1
    assert all(row["title"] for row in rows)


def test_the_two_trees_are_as_large_as_promised(capsys: pytest.CaptureFixture[str]) -> None:
    main(["list", "--format", "json"])
    rows = {r["name"]: r for r in json.loads(capsys.readouterr().out)}
    both = [rows["prep_rail_forced_air"], rows["condensing_unit_receiver"]]
    assert sum(r["basic_events"] for r in both) >= 50
    assert sum(r["readings"] for r in both) >= 40
    assert sum(r["checks"] for r in both) >= 40


def test_the_same_bytes_from_another_process(tmp_path: Path) -> None:
    """Design guarantee: same site and entries, same diagnosis, whatever the hash seed."""
    command = [sys.executable, "-m", "faultkit", "diagnose", "--example", "one_fault", "--format", "json"]
    outputs = {
        subprocess.run(
            command, check=True, capture_output=True, cwd=tmp_path, env={**os.environ, "PYTHONHASHSEED": seed}
        ).stdout
        for seed in ("0", "1", "271828")
    }
    assert len(outputs) == 1


def test_help_and_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out.startswith("faultkit ")
    assert main([]) == 2
    assert "exit codes" in capsys.readouterr().out
