"""Bounds on an instrument's error."""

from __future__ import annotations

import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.units import Accuracy, UnitError, parse_accuracy, to_si

PSI = 6894.757293168


def assert_helpful(error: UnitError) -> None:
    assert error.what
    assert error.expected


def fault(text: str, unit: str) -> tuple[str, str]:
    with pytest.raises(UnitError) as caught:
        parse_accuracy(text, unit)
    return caught.value.what, caught.value.expected


@pytest.mark.parametrize(
    ("text", "unit", "percent", "absolute"),
    [
        ("1 %", "V", 1.0, 0.0),
        ("0.5 V", "V", 0.0, 0.5),
        ("1 % + 0.5 V", "V", 1.0, 0.5),
        ("0.5 V + 1 %", "V", 1.0, 0.5),
        ("1%+0.5V", "V", 1.0, 0.5),
        ("500 mV", "V", 0.0, 0.5),
        ("±2 delta_degF", "degF", 0.0, 10 / 9),
        ("+/- 2 delta_degF", "°F", 0.0, 10 / 9),
        ("1 delta_degC", "degF", 0.0, 1.0),
        ("1 psi", "psig", 0.0, PSI),
        ("1 psi", "psia", 0.0, PSI),
        ("1 kPa", "psig", 0.0, 1000.0),
        ("1 inHg", "inHg_vac", 0.0, 3386.388640341),
        ("2 % + 1 inHg", "inHg_vac", 2.0, 3386.388640341),
        ("5 delta_micron", "micron", 0.0, 0.666611937),
        ("2 points", "%", 0.0, 0.02),
        ("2 % of reading", "%", 2.0, 0.0),
        ("2 % of the reading + 1 points", "%", 2.0, 0.01),
        ("1 percent", "A", 1.0, 0.0),
        ("1e+3 ohm", "ohm", 0.0, 1000.0),
        ("1 % + 1e+3 ohm", "ohm", 1.0, 1000.0),
        ("0 V", "V", 0.0, 0.0),
        ("5 % + 1 delta_degF", "delta_degF", 5.0, 5 / 9),
        ("1 atm", "atm_abs", 0.0, 101325.0),
        ("10 rpm", "rpm", 0.0, 1.0471975512),
    ],
)
def test_parse(text: str, unit: str, percent: float, absolute: float) -> None:
    accuracy = parse_accuracy(text, unit)
    assert accuracy.percent == percent
    assert accuracy.absolute == pytest.approx(absolute, rel=1e-9)
    assert accuracy.text == text


@pytest.mark.parametrize(
    ("text", "unit", "what", "expected"),
    [
        (
            "2 %",
            "degF",
            "accuracy '2 %': a percentage of a temperature in degF means nothing",
            "write an amount, for example '0.5 delta_degF'",
        ),
        (
            "2 % + 1 delta_degC",
            "K",
            "accuracy '2 % + 1 delta_degC': a percentage of a temperature in K means nothing",
            "write an amount, for example '0.5 delta_K'",
        ),
        (
            "2 degF",
            "degF",
            "accuracy '2 degF': 'degF' is a temperature, not a temperature difference",
            "write it in 'delta_degF'",
        ),
        (
            "1 psig",
            "psig",
            "accuracy '1 psig': 'psig' is a gauge pressure, not a pressure difference",
            "write it in 'psi'",
        ),
        (
            "1 inHg_vac",
            "inHg_vac",
            "accuracy '1 inHg_vac': 'inHg_vac' is a gauge pressure, not a pressure difference",
            "write it in 'inHg'",
        ),
        (
            "1 atm_abs",
            "atm_abs",
            "accuracy '1 atm_abs': 'atm_abs' is an absolute pressure, not a pressure difference",
            "write it in 'atm'",
        ),
        ("3 A", "V", "accuracy '3 A': 'A' is a current, not a voltage", "write it in 'V'"),
        (
            "1 delta_degF",
            "psig",
            "accuracy '1 delta_degF': 'delta_degF' is a temperature difference, not a pressure difference",
            "write it in 'psi'",
        ),
        (
            "2 %",
            "%",
            "accuracy '2 %' of a reading in % can mean two things",
            "write '2 points' for an amount or '2 % of reading' for a share",
        ),
        ("-1 V", "V", "accuracy '-1 V' is negative", "write how far off it can be, for example '0.5 V'"),
        (
            "1 % + -1 V",
            "V",
            "accuracy '1 % + -1 V' is negative",
            "write how far off it can be, for example '0.5 V'",
        ),
        (
            "1 % + 2 %",
            "V",
            "accuracy '1 % + 2 %' gives the same part twice",
            "at most one percentage and one amount",
        ),
        (
            "1 V + 2 V",
            "V",
            "accuracy '1 V + 2 V' gives the same part twice",
            "at most one percentage and one amount",
        ),
        ("100 %", "V", "accuracy '100 %' says nothing about the reading", "a percentage below 100"),
        ("5", "V", "'5' has no unit", "write the unit, for example '0.5 V'"),
        ("", "V", "the quantity is empty", "write a number and its unit, for example '0.5 V'"),
        ("1 V +", "V", "the quantity is empty", "write a number and its unit, for example '0.5 V'"),
        (
            "good",
            "psig",
            "'good' does not start with a number",
            "write a number and its unit, for example '0.5 psi'",
        ),
        ("1 vlot", "V", "unknown unit 'vlot'", "did you mean 'V'?"),
        ("1 V", "vlots", "unknown unit 'vlots'", "did you mean 'V'?"),
    ],
)
def test_message(text: str, unit: str, what: str, expected: str) -> None:
    assert fault(text, unit) == (what, expected)


def test_bound_is_a_share_of_the_reading_plus_the_amount() -> None:
    assert parse_accuracy("1 % + 0.5 V", "V").bound(200.0) == pytest.approx(2.5)
    assert parse_accuracy("1 % + 0.5 V", "V").bound(-200.0) == pytest.approx(2.5)
    assert parse_accuracy("1 delta_degC", "degF").bound(300.0) == 1.0


def test_percent_of_a_gauge_pressure_counts_from_the_atmosphere() -> None:
    accuracy = parse_accuracy("1 % + 1 psi", "psig")
    assert accuracy.bound(to_si(100, "psig")) == pytest.approx(2 * PSI)
    assert accuracy.bound(0.0) == pytest.approx(PSI)
    assert parse_accuracy("10 %", "inHg_vac").bound(to_si(20, "inHg_vac")) == pytest.approx(
        2 * 3386.388640341
    )


def test_an_accuracy_is_frozen_hashable_and_pickles() -> None:
    accuracy = parse_accuracy("1 % + 0.5 V", "V")
    assert pickle.loads(pickle.dumps(accuracy)) == accuracy  # noqa: S301 - our own bytes
    assert {accuracy: 1}[Accuracy(1.0, 0.5, "1 % + 0.5 V")] == 1
    assert not hasattr(accuracy, "__dict__")


@given(st.text(), st.sampled_from(["V", "degF", "psig", "%", "inHg_vac", "count"]))
def test_any_text_parses_or_says_what_is_wrong(text: str, unit: str) -> None:
    try:
        accuracy = parse_accuracy(text, unit)
    except UnitError as error:
        assert_helpful(error)
    else:
        assert accuracy.bound(1.0) >= 0.0


@given(st.floats(0, 99), st.floats(0, 1e4), st.floats(-1e4, 1e4))
def test_parts_add_up(percent: float, volts: float, value: float) -> None:
    both = parse_accuracy(f"{percent} % + {volts} V", "V").bound(value)
    apart = parse_accuracy(f"{percent} %", "V").bound(value) + parse_accuracy(f"{volts} V", "V").bound(value)
    assert both == pytest.approx(apart)
