"""``faultkit calculate``: every calculator described and asked, results in both forms, bad input."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from faultkit.calculators import Calculator, Log
from faultkit.cli import main
from faultkit.plugins import load_plugins

CALCULATORS = tuple(load_plugins(installed=False).calculators.values())
WITH_EXAMPLE = [c for c in CALCULATORS if c.example]


def words(calculator: Calculator, folder: Path) -> list[str]:
    """The example of a calculator as a command line; its logs become files."""
    found = []
    for name, text in calculator.example.items():
        if isinstance(calculator.argument(name), Log):
            path = folder / f"{name}.csv"
            path.write_text(text, encoding="utf-8")
            found.append(f"{name}={path}")
        else:
            found.append(f"{name}={text}")
    return found


def test_all_are_listed_by_subject(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calculate"]) == 0
    told = capsys.readouterr().out
    for c in CALCULATORS:
        assert f"  {c.name} " in told
        assert f"{c.subject}\n" in told


def test_one_subject_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calculate", "refrigerants", "--format", "json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    assert {r["subject"] for r in rows} == {"refrigerants"}
    assert "superheat" in {r["name"] for r in rows}


def test_only_plain_arithmetic_has_no_example() -> None:
    assert {c.subject for c in CALCULATORS if not c.example} <= {"basic"}


@pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda c: c.name)
def test_every_calculator_is_described(calculator: Calculator, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calculate", calculator.name]) == 0
    told = capsys.readouterr().out
    assert all(a.name in told for a in calculator.arguments)
    assert calculator.source in told
    assert calculator.caution in " ".join(told.split())


@pytest.mark.parametrize("calculator", WITH_EXAMPLE, ids=lambda c: c.name)
def test_every_example_is_answered(
    calculator: Calculator, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    given = words(calculator, tmp_path)
    assert main(["calculate", calculator.name, *given]) == 0, capsys.readouterr().err
    told = capsys.readouterr().out
    assert calculator.caution in " ".join(told.split())
    assert told.startswith("Mind:") or not calculator.caution
    assert main(["calculate", calculator.name, *given, "--format", "json", "--si"]) == 0
    data: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert data["calculator"] == calculator.name
    for result in data["results"]:
        if result.get("low") is not None:
            assert result["low"] <= result["value"] + 1e-9 * abs(result["value"])
            assert result["value"] <= result["high"] + 1e-9 * abs(result["high"])


def asked(capsys: pytest.CaptureFixture[str], *argv: str) -> dict[str, Any]:
    assert main(["calculate", *argv, "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    return {r["name"]: r for r in data["results"]}


def test_bounds_and_unit_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    given = ("superheat", "suction_pressure=22.1 psig ± 1 psi", "line_temperature=35 degF", "refrigerant=R-134a")
    plain = asked(capsys, *given)["superheat"]
    assert plain["unit"] == "delta_degF"
    assert plain["low"] < 10.0 < plain["high"]
    metric = asked(capsys, *given, "--in", "delta_degC")["superheat"]
    assert metric["value"] == pytest.approx(plain["value"] / 1.8)


def test_altitude_moves_a_gauge_pressure(capsys: pytest.CaptureFixture[str]) -> None:
    """The standard atmosphere at 5000 ft is 12.228 psia, 2.468 psi less than at the sea."""
    low, high = (
        asked(capsys, "dew_pressure", "temperature=25 degF", "refrigerant=R-134a", *more)["dew_pressure"]["value"]
        for more in ((), ("--altitude", "5000 ft"))
    )
    assert high - low == pytest.approx(2.468, abs=0.002)


def test_a_table_comes_in_rows(capsys: pytest.CaptureFixture[str]) -> None:
    argv = ["calculate", "pressure_table", "refrigerant=R-404A", "coldest=0 degF", "hottest=20 degF"]
    assert main(argv) == 0
    told = capsys.readouterr().out
    assert "temperature (degF)  bubble point (psig)  dew point (psig)" in told
    assert [line.split() for line in told.splitlines()[2:3]] == [["0", "33.66", "32.61"]]


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        (["superheet"], "did you mean 'superheat'"),
        (["superheat", "suction_pressure"], "'suction_pressure' is not NAME=VALUE"),
        (["superheat", "suction=3 psig"], "'suction' is no argument of 'superheat'"),
        (["superheat", "refrigerant=R-134a", "refrigerant=R-22"], "refrigerant is given twice"),
        (["superheat", "refrigerant=R-134a"], "has no value for suction_pressure, line_temperature"),
        (["dew_pressure", "temperature=25 degF", "refrigerant=R-22", "--in", "degF"], "cannot be turned into"),
        (["dew_pressure", "temperature=25 degF", "refrigerant=R-22", "--in", "psgi"], "psgi"),
        (["dew_pressure", "temperature=25 degF", "refrigerant=R-22", "--altitude", "5000"], "--altitude"),
        (["dew_pressure", "temperature=25 degF", "refrigerant=R-22", "--altitude", "90000 ft"], "--altitude"),
        (["dew_pressure", "temperature=400 degF", "refrigerant=R-22"], "R-22 at 400 degF"),
    ],
)
def test_bad_input(argv: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calculate", *argv]) == 2
    error = capsys.readouterr().err
    assert told in error
    assert "Traceback" not in error


@pytest.mark.parametrize(
    ("name", "told"), [("R-290", "R-290 is highly flammable (A3)"), ("R-454C", "(A2L)"), ("R-22", "")]
)
def test_a_flammable_refrigerant_is_cautioned_of(name: str, told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calculate", "dew_pressure", "temperature=25 degF", f"refrigerant={name}"]) == 0
    said = capsys.readouterr().out
    assert told in said
    assert said.startswith("Mind:") == bool(told)
