"""Unit names outside the table, and what is said about those nobody knows."""

from __future__ import annotations

import pickle
import subprocess
import sys

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from faultkit.units import Kind, UnitError, difference_kind, kind_of, physical_range, to_si, wrong_kind
from faultkit.units.foreign import foreign_unit


def assert_helpful(error: UnitError) -> None:
    assert error.what
    assert error.expected


def fault(unit: str) -> tuple[str, str]:
    with pytest.raises(UnitError) as caught:
        kind_of(unit)
    return caught.value.what, caught.value.expected


@pytest.mark.parametrize(
    ("unit", "kind", "si"),
    [
        # Expected values from the definitions of the units.
        ("furlong", Kind.LENGTH, 660 * 0.3048),
        ("atm", Kind.PRESSURE_DIFFERENCE, 101325.0),
        ("atm_abs", Kind.ABSOLUTE_PRESSURE, 101325.0),
        ("atm_gauge", Kind.GAUGE_PRESSURE, 101325.0),
        ("weeks", Kind.TIME, 604800.0),
        ("MW", Kind.POWER, 1e6),
        ("pF", Kind.CAPACITANCE, 1e-12),
        ("MHz", Kind.FREQUENCY, 1e6),
        ("rps", Kind.ROTATION, 6.283185307179586),
        ("turn", Kind.ANGLE, 6.283185307179586),
        ("degR", Kind.TEMPERATURE, 5 / 9),
        ("delta_degRe", Kind.TEMPERATURE_DIFFERENCE, 1.25),
        ("acre", Kind.AREA, 4046.87),
        ("quart", Kind.VOLUME, 9.46352946e-4),
        ("knot", Kind.SPEED, 1852 / 3600),
        ("kg/day", Kind.MASS_FLOW, 1 / 86400),
        ("MJ", Kind.ENERGY, 1e6),
        ("permille", Kind.RATIO, 1e-3),
        ("stone", Kind.MASS, 6.35029318),
        ("m^3/hour", Kind.VOLUME_FLOW, 1 / 3600),
        ("Mcount", Kind.COUNT, 1e6),
        ("mW*hour", Kind.ENERGY, 3.6),
        ("GV", Kind.VOLTAGE, 1e9),
        ("nA", Kind.CURRENT, 1e-9),
        ("Gohm", Kind.RESISTANCE, 1e9),
    ],
)
def test_unit_found_in_pint(unit: str, kind: Kind, si: float) -> None:
    assert kind_of(unit) is kind
    assert to_si(1.0, unit) == pytest.approx(si, rel=1e-5)


def test_offset_scale_found_in_pint() -> None:
    # Réaumur: water freezes at 0, boils at 80.
    assert to_si(0.0, "degRe") == pytest.approx(273.15)
    assert to_si(80.0, "degRe") == pytest.approx(373.15)


@pytest.mark.parametrize(
    ("unit", "what", "expected"),
    [
        ("psgi", "unknown unit 'psgi'", "did you mean 'psi' or 'psig'?"),
        ("vlots", "unknown unit 'vlots'", "did you mean 'V'?"),
        ("delta_degX", "unknown unit 'delta_degX'", "did you mean 'delta_degF' or 'delta_degC'?"),
        ("", "the unit is missing", "write the unit, for example 'psig'"),
        (
            "F",
            "unit 'F' can mean several things",
            "write 'degF' for a temperature or 'delta_degF' for a difference",
        ),
        (
            "c",
            "unit 'c' can mean several things",
            "write 'degC' for a temperature or 'delta_degC' for a difference",
        ),
        (
            "tons",
            "unit 'tons' can mean several things",
            "write 'ton_refrigeration' for cooling power or 'lb' for a weight",
        ),
        (
            "mohm",
            "unit 'mohm' can mean several things",
            "write 'Mohm' for a megohm or '0.001 ohm' for a milliohm",
        ),
        (
            "vac",
            "unit 'vac' can mean several things",
            "write 'inHg_vac' or 'micron' for a vacuum, 'V' for a voltage",
        ),
        ("dBm", "unit 'dBm' is not linear", "write the value in a plain unit, for example 'W'"),
        (
            "newton",
            "unit 'newton' measures nothing that is read here",
            "a unit of temperature, pressure, voltage, current, time or another kind in the units table",
        ),
        (
            "degC/hour",
            "unit 'degC/hour' measures nothing that is read here",
            "a unit of temperature, pressure, voltage, current, time or another kind in the units table",
        ),
    ],
)
def test_message(unit: str, what: str, expected: str) -> None:
    assert fault(unit) == (what, expected)


def test_a_word_like_no_unit_lists_what_is_known() -> None:
    what, expected = fault("zzzzzz")
    assert what == "unknown unit 'zzzzzz'"
    assert expected.startswith("one of degF, delta_degF, degC")
    assert expected.endswith(", …")


def test_long_text_is_cut_in_the_message() -> None:
    what, _ = fault("x" * 100_000)
    assert what == "unknown unit '" + "x" * 60 + "…'"


@pytest.mark.parametrize(
    "unit",
    [
        "V**99",
        "V**9**9",
        "2*V",
        "V V",
        "psi + psi",
        "__import__('os')",
        "furlong_abs",
        "revolutions_per_minute*revolutions_per_minute",
    ],
)
def test_expressions_pint_would_work_on_are_not_handed_over(unit: str) -> None:
    assert foreign_unit(unit) is None


@settings(max_examples=200, deadline=None)
@given(
    st.one_of(
        st.text(max_size=12), st.from_regex(r"[a-zA-Z_°%]{1,6}([*/^]{1,2}[a-z0-9-]{1,3})?", fullmatch=True)
    )
)
@example("m^-2")
@example("degC*degC")
@example("dB")
@example("delta_")
@example("\N{SUPERSCRIPT TWO}")
@example("_abs")
def test_any_text_is_a_unit_or_a_unit_error(text: str) -> None:
    try:
        kind = kind_of(text)
    except UnitError as error:
        assert_helpful(error)
    else:
        assert kind in set(Kind)


def test_import_and_table_units_leave_pint_alone() -> None:
    code = (
        "import sys, faultkit.units as u; u.parse_quantity('8 psig'); u.parse_accuracy('1 %', 'V');"
        "assert 'pint' not in sys.modules; u.kind_of('furlong'); assert 'pint' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True, timeout=60)


def test_without_pint_an_outside_unit_is_unknown() -> None:
    code = (
        "import sys; sys.modules['pint'] = None\n"
        "import faultkit.units as u\n"
        "try: u.kind_of('furlong')\n"
        "except u.UnitError as e: assert e.what == \"unknown unit 'furlong'\", e.what\n"
        "else: raise AssertionError\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, timeout=60)


@pytest.mark.parametrize(
    ("text", "unit", "wanted", "what", "expected"),
    [
        (
            "8 psi",
            "psi",
            Kind.GAUGE_PRESSURE,
            "'8 psi' is a pressure difference, not a gauge pressure",
            "say psig (gauge) or psia (absolute)",
        ),
        (
            "3 inHg",
            "inHg",
            Kind.ABSOLUTE_PRESSURE,
            "'3 inHg' is a pressure difference, not an absolute pressure",
            "say inHg_vac (gauge) or inHg_abs (absolute)",
        ),
        (
            "3 atm",
            "atm",
            Kind.GAUGE_PRESSURE,
            "'3 atm' is a pressure difference, not a gauge pressure",
            "say atm_gauge (gauge) or atm_abs (absolute)",
        ),
        (
            "8 psia",
            "psia",
            Kind.GAUGE_PRESSURE,
            "'8 psia' is an absolute pressure, not a gauge pressure",
            "a gauge pressure, for example in 'psig'",
        ),
        (
            "3 degF",
            "degF",
            Kind.TEMPERATURE_DIFFERENCE,
            "'3 degF' is a temperature, not a temperature difference",
            "write it in 'delta_degF'",
        ),
        (
            "3 delta_degC",
            "delta_degC",
            Kind.TEMPERATURE,
            "'3 delta_degC' is a temperature difference, not a temperature",
            "write it in 'degC'",
        ),
        (
            "3 psig",
            "psig",
            Kind.PRESSURE_DIFFERENCE,
            "'3 psig' is a gauge pressure, not a pressure difference",
            "write it in 'psi'",
        ),
        (
            "3 atm_abs",
            "atm_abs",
            Kind.PRESSURE_DIFFERENCE,
            "'3 atm_abs' is an absolute pressure, not a pressure difference",
            "write it in 'atm'",
        ),
        ("3 A", "A", Kind.VOLTAGE, "'3 A' is a current, not a voltage", "a voltage, for example in 'V'"),
    ],
)
def test_wrong_kind(text: str, unit: str, wanted: Kind, what: str, expected: str) -> None:
    error = wrong_kind(text, unit, wanted)
    assert (error.what, error.expected) == (what, expected)


def test_unit_error_is_a_value_error_that_pickles() -> None:
    error = UnitError("no", "yes")
    again = pickle.loads(pickle.dumps(error))  # noqa: S301 - our own bytes
    assert issubclass(UnitError, ValueError)
    assert type(again) is UnitError
    assert (again.what, again.expected, str(again)) == ("no", "yes", "no; expected: yes")
    assert str(UnitError("no")) == "no"


@pytest.mark.parametrize("kind", Kind)
def test_difference_of_a_difference_is_itself(kind: Kind) -> None:
    assert difference_kind(difference_kind(kind)) is difference_kind(kind)


def test_difference_kinds() -> None:
    changed = {k: difference_kind(k) for k in Kind if difference_kind(k) is not k}
    assert changed == {
        Kind.TEMPERATURE: Kind.TEMPERATURE_DIFFERENCE,
        Kind.GAUGE_PRESSURE: Kind.PRESSURE_DIFFERENCE,
        Kind.ABSOLUTE_PRESSURE: Kind.PRESSURE_DIFFERENCE,
    }


def test_physical_ranges() -> None:
    assert physical_range(Kind.TEMPERATURE) == (0.0, float("inf"))
    assert physical_range(Kind.ABSOLUTE_PRESSURE)[0] == 0.0
    assert physical_range(Kind.TEMPERATURE_DIFFERENCE) == (float("-inf"), float("inf"))
    assert physical_range(Kind.CURRENT)[0] == float("-inf")
    # A full vacuum at sea level must be readable on a gauge.
    assert physical_range(Kind.GAUGE_PRESSURE)[0] < -101_325.0
