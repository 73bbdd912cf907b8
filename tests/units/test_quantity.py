"""Quantities read from text and shown again."""

from __future__ import annotations

import pickle
import timeit

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.units import UNITS, Kind, Quantity, UnitError, format_si, parse_quantity, to_si


def assert_helpful(error: UnitError) -> None:
    assert error.what
    assert error.expected


def fault(text: str, kind: Kind | None = None) -> tuple[str, str]:
    with pytest.raises(UnitError) as caught:
        parse_quantity(text, kind)
    return caught.value.what, caught.value.expected


@pytest.mark.parametrize(
    ("text", "value", "kind"),
    [
        ("8 psig", 8 * 6894.757293168, Kind.GAUGE_PRESSURE),
        ("8psig", 8 * 6894.757293168, Kind.GAUGE_PRESSURE),
        ("-12.5 degF", (-12.5 + 459.67) * 5 / 9, Kind.TEMPERATURE),
        ("1.2e3 ohm", 1200.0, Kind.RESISTANCE),
        ("10 inHg_vac", -33863.88640341, Kind.GAUGE_PRESSURE),
        ("500 micron", 66.6611937075, Kind.ABSOLUTE_PRESSURE),
        (" 208V ", 208.0, Kind.VOLTAGE),
        ("+5 V", 5.0, Kind.VOLTAGE),
        (".5 A", 0.5, Kind.CURRENT),
        ("5. A", 5.0, Kind.CURRENT),
        ("1E-3 A", 1e-3, Kind.CURRENT),
        ("85 %", 0.85, Kind.RATIO),
        ("85%", 0.85, Kind.RATIO),
        ("\N{MINUS SIGN}40 °F", 233.15, Kind.TEMPERATURE),
        ("35 µF", 35e-6, Kind.CAPACITANCE),
        ("1200 ft", 365.76, Kind.LENGTH),
        ("90 min", 5400.0, Kind.TIME),
        ("8\tpsig", 8 * 6894.757293168, Kind.GAUGE_PRESSURE),
        ("0 psig", 0.0, Kind.GAUGE_PRESSURE),
        ("3 count", 3.0, Kind.COUNT),
        ("-8 A", -8.0, Kind.CURRENT),
        ("2 furlong", 402.336, Kind.LENGTH),
    ],
)
def test_parse(text: str, value: float, kind: Kind) -> None:
    quantity = parse_quantity(text)
    assert quantity.value == pytest.approx(value, rel=1e-5 if "furlong" in text else 1e-12)
    assert quantity.kind is kind
    assert quantity.text == text.strip()
    assert parse_quantity(text, kind) == quantity


NUMBER_AND_UNIT = "write a number and its unit, for example '8 psig'"
ONE_NUMBER = "write one number and its unit, for example '8 psig'"


@pytest.mark.parametrize(
    ("text", "what", "expected"),
    [
        ("", "the quantity is empty", NUMBER_AND_UNIT),
        (" \n", "the quantity is empty", NUMBER_AND_UNIT),
        ("8", "'8' has no unit", "write the unit, for example '8 psig'"),
        ("8e3", "'8e3' has no unit", "write the unit, for example '8 psig'"),
        ("cold", "'cold' does not start with a number", NUMBER_AND_UNIT),
        ("psig 8", "'psig 8' does not start with a number", NUMBER_AND_UNIT),
        ("inHg", "'inHg' does not start with a number", NUMBER_AND_UNIT),
        ("nan psig", "'nan psig' is not a finite number", NUMBER_AND_UNIT),
        ("-Inf V", "'-Inf V' is not a finite number", NUMBER_AND_UNIT),
        ("infinity", "'infinity' is not a finite number", NUMBER_AND_UNIT),
        ("1e999 V", "'1e999 V' is too large", "a number that can be measured"),
        ("1e308 kW", "'1e308 kW' is too large", "a number that can be measured"),
        (
            "1,200 W",
            "'1,200 W' is not one number and a unit",
            "write the number without commas and with a decimal point, for example '1200.5 W'",
        ),
        (
            "1/4 in",
            "'1/4 in' is not one number and a unit",
            "write the fraction as a decimal number, for example '0.25 in'",
        ),
        ("1 1/2 in", "'1 1/2 in' is not one number and a unit", ONE_NUMBER),
        ("8-10 psig", "'8-10 psig' is not one number and a unit", ONE_NUMBER),
        ("8 - 10 psig", "'8 - 10 psig' is not one number and a unit", ONE_NUMBER),
        ("8 psgi", "unknown unit 'psgi'", "did you mean 'psi' or 'psig'?"),
        (
            "70 F",
            "unit 'F' can mean several things",
            "write 'degF' for a temperature or 'delta_degF' for a difference",
        ),
        ("-500 degF", "'-500 degF' cannot be a temperature", "at least -459.67 degF"),
        ("-1 psia", "'-1 psia' cannot be an absolute pressure", "at least 0 psia"),
        ("-1 ohm", "'-1 ohm' cannot be a resistance", "at least 0 ohm"),
        ("-20 psig", "'-20 psig' cannot be a gauge pressure", "at least -15.954 psig"),
        ("40 inHg_vac", "'40 inHg_vac' cannot be a gauge pressure", "at most 32.483 inHg_vac"),
        ("٣ V", "'٣ V' does not start with a number", NUMBER_AND_UNIT),
    ],
)
def test_message(text: str, what: str, expected: str) -> None:
    assert fault(text) == (what, expected)


def test_wanted_kind_shapes_the_message() -> None:
    assert fault("8", Kind.TEMPERATURE)[1] == "write the unit, for example '8 degF'"
    assert fault("8", Kind.VOLTAGE)[1] == "write the unit, for example '8 V'"
    assert fault("8 psi", Kind.GAUGE_PRESSURE)[1] == "say psig (gauge) or psia (absolute)"
    assert fault("8 degF", Kind.TEMPERATURE_DIFFERENCE)[1] == "write it in 'delta_degF'"


def test_absolute_zero_and_full_vacuum_can_be_written() -> None:
    assert parse_quantity("-459.67 degF").value == 0.0
    assert parse_quantity("-273.15 degC").value == 0.0
    assert parse_quantity("29.92 inHg_vac").value == pytest.approx(-101_320.7, abs=0.1)


def test_long_text_is_shown_on_one_short_line() -> None:
    what, _ = fault("very\nlong " * 50)
    assert "\n" not in what
    assert len(what) < 100


def test_a_quantity_is_frozen_hashable_and_pickles() -> None:
    quantity = parse_quantity("8 psig")
    assert pickle.loads(pickle.dumps(quantity)) == quantity  # noqa: S301 - our own bytes
    assert {quantity: 1}[Quantity(quantity.value, Kind.GAUGE_PRESSURE, "8 psig")] == 1
    assert not hasattr(quantity, "__dict__")
    with pytest.raises(AttributeError):
        quantity.value = 1.0  # type: ignore[misc]


@given(st.text())
def test_any_text_parses_or_says_what_is_wrong(text: str) -> None:
    try:
        quantity = parse_quantity(text)
    except UnitError as error:
        assert_helpful(error)
    else:
        assert quantity.text == text.strip()


@given(
    st.floats(0, 1e9), st.sampled_from(sorted(set(UNITS) - {"inHg_vac"})), st.sampled_from(["", " ", "  "])
)
def test_what_python_prints_is_read_back(number: float, unit: str, space: str) -> None:
    assert parse_quantity(f"{number!r}{space}{unit}").value == to_si(number, unit)


@pytest.mark.parametrize(
    ("value", "unit", "digits", "shown"),
    [
        (278.15, "degF", 3, "41 degF"),
        (278.15, "°F", 3, "41 degF"),
        (8.246 * 6894.757293168, "psig", 3, "8.25 psig"),
        (8.246 * 6894.757293168, "psig", 2, "8.2 psig"),
        (-33863.88640341, "inHg_vac", 3, "10 inHg_vac"),
        (1725 * 0.10471975512, "rpm", 3, "1725 rpm"),
        (0.85, "%", 3, "85 %"),
        (0.0, "V", 3, "0 V"),
        (1.5e-4, "A", 3, "0.00015 A"),
        (1e-12, "A", 3, "1e-12 A"),
        (99.96, "V", 3, "100 V"),
        (9.994, "V", 3, "9.99 V"),
        (1e20, "V", 3, "1e+20 V"),
        (118.37, "V", 1, "118 V"),
        (-0.0, "V", 3, "0 V"),
        (-2.5, "A", 3, "-2.5 A"),
        (to_si(0.0, "degF"), "degF", 3, "0 degF"),
        (float("inf"), "V", 3, "inf V"),
        (1.0, "delta_degF", 3, "1.8 delta_degF"),
        (100.0, "V", 3, "100 V"),
        (201.168, "furlong", 3, "1 furlong"),
    ],
)
def test_format(value: float, unit: str, digits: int, shown: str) -> None:
    assert format_si(value, unit, digits) == shown


def test_format_needs_a_digit_and_a_known_unit() -> None:
    with pytest.raises(ValueError, match="digits is 0; it must be at least 1"):
        format_si(1.0, "V", 0)
    with pytest.raises(UnitError, match="unknown unit 'vlots'"):
        format_si(1.0, "vlots")


@given(st.floats(-1e9, 1e9), st.integers(1, 12))
def test_shown_number_is_right_to_its_digits(value: float, digits: int) -> None:
    number, unit = format_si(value, "V", digits).split()
    assert unit == "V"
    assert abs(float(number) - value) <= 0.500001 * 10.0 ** (1 - digits) * abs(value) + 1e-300


@given(st.sampled_from(sorted(UNITS)), st.floats(0.001, 30.0))
def test_shown_quantity_is_read_back(unit: str, number: float) -> None:
    value = to_si(number, unit)
    again = parse_quantity(format_si(value, unit, 12))
    assert again.value == pytest.approx(value, rel=1e-10)
    assert again.kind is UNITS[unit].kind


def test_parsing_is_quick() -> None:
    # About 1.3 µs; the bound only catches a registry or a search on the common path.
    best = min(timeit.repeat(lambda: parse_quantity("8 psig"), number=2000, repeat=5)) / 2000
    assert best < 20e-6
