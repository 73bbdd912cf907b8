"""The standard atmosphere and the step between gauge and absolute pressure."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.units import Kind, UnitError, atmosphere, convert_pressure, from_si, to_si

GAUGE, ABSOLUTE, DIFFERENCE = Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE, Kind.PRESSURE_DIFFERENCE


# U.S. Standard Atmosphere, 1976 (NOAA-S/T 76-1562), pressure by geometric altitude; from memory.
@pytest.mark.parametrize(
    ("metres", "millibar"),
    [
        (-1000, 1139.3),
        (0, 1013.25),
        (500, 954.61),
        (1000, 898.76),
        (2000, 795.01),
        (3000, 701.21),
        (5000, 540.48),
    ],
)
def test_published_pressure_in_metres(metres: float, millibar: float) -> None:
    half_a_digit = 0.05 if millibar > 1100 else 0.005
    assert from_si(atmosphere(metres), "mbar") == pytest.approx(millibar, abs=half_a_digit)


# The same standard in psia by feet, three decimals: The Engineering Toolbox, "U.S. Standard Atmosphere".
# A mix-up of geometric and geopotential height shows at 10 000 ft and above.
@pytest.mark.parametrize(
    ("feet", "psia"),
    [
        (-5000, 17.554),
        (0, 14.696),
        (5000, 12.228),
        (10000, 10.108),
        (15000, 8.297),
        (20000, 6.759),
        (25000, 5.461),
        (30000, 4.373),
        (35000, 3.468),
    ],
)
def test_published_pressure_in_feet(feet: float, psia: float) -> None:
    assert from_si(atmosphere(to_si(feet, "ft")), "psia") == pytest.approx(psia, abs=5.1e-4)


@given(st.floats(-5000, 10999), st.floats(0.1, 1))
def test_air_thins_with_height(low: float, step: float) -> None:
    assert atmosphere(low + step) < atmosphere(low)


@pytest.mark.parametrize("metres", [-5000.1, 11000.1, float("nan"), float("inf")])
def test_altitude_outside_the_layer(metres: float) -> None:
    with pytest.raises(UnitError) as caught:
        atmosphere(metres)
    assert caught.value.what == f"altitude {metres:g} m is outside the standard atmosphere used here"
    assert caught.value.expected == "-5000 m to 11000 m"


def test_gauge_to_absolute_and_back() -> None:
    assert convert_pressure(to_si(10, "psig"), GAUGE, ABSOLUTE, 101_325.0) == pytest.approx(
        to_si(24.6959488, "psia")
    )
    assert convert_pressure(101_325.0, ABSOLUTE, GAUGE, 101_325.0) == 0.0
    # 29.92 inHg of vacuum at sea level is a nearly perfect one.
    assert convert_pressure(to_si(29.92, "inHg_vac"), GAUGE, ABSOLUTE, 101_325.0) == pytest.approx(
        4.25, abs=0.05
    )


@given(st.floats(-1e5, 5e6), st.floats(5e4, 1.1e5))
def test_round_trip(value: float, air: float) -> None:
    there = convert_pressure(value, GAUGE, ABSOLUTE, air)
    assert convert_pressure(there, ABSOLUTE, GAUGE, air) == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize("kind", [GAUGE, ABSOLUTE, DIFFERENCE])
def test_same_kind_stays(kind: Kind) -> None:
    assert convert_pressure(5.0, kind, kind, 101_325.0) == 5.0


@pytest.mark.parametrize(
    ("start", "end", "words"),
    [
        (DIFFERENCE, GAUGE, "a pressure difference"),
        (ABSOLUTE, DIFFERENCE, "a pressure difference"),
        (Kind.VOLTAGE, GAUGE, "a voltage"),
        (Kind.VOLTAGE, Kind.VOLTAGE, "a voltage"),
    ],
)
def test_other_kinds_do_not_convert(start: Kind, end: Kind, words: str) -> None:
    with pytest.raises(UnitError) as caught:
        convert_pressure(5.0, start, end, 101_325.0)
    assert caught.value.what == f"{words} cannot be turned into another pressure"
    assert caught.value.expected == "say psig (gauge) or psia (absolute)"


@pytest.mark.parametrize("air", [0.0, -1.0, float("nan"), float("inf")])
def test_impossible_atmosphere(air: float) -> None:
    with pytest.raises(UnitError, match=r"atmosphere .* Pa; expected: a pressure above 0 Pa"):
        convert_pressure(5.0, GAUGE, ABSOLUTE, air)
