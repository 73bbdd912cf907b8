"""Sensor curves: both ways, one way only, ranges, spellings; thermistor constants; platinum classes."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators import sensors
from faultkit.calculators.sensors import CURVES, Curve, find_curve
from faultkit.calculators.sensors.convert import sensor_resistance, sensor_temperature
from faultkit.calculators.sensors.curves import curve_word
from faultkit.calculators.sensors.models import Beta, Platinum, SteinhartHart
from faultkit.calculators.sensors.thermistors import (
    beta_resistance,
    beta_temperature,
    steinhart_hart,
    thermistor_beta,
    three_point_resistance,
    three_point_temperature,
)
from faultkit.calculators.sensors.thermocouples import thermocouple_temperature, thermocouple_voltage
from faultkit.calculators.sensors.tolerances import rtd_limits, rtd_tolerance
from faultkit.problems import InputError

ALL = pytest.mark.parametrize("curve", CURVES.values(), ids=lambda c: c.name)
PLACES = st.floats(0.0, 1.0)


@pytest.mark.parametrize("name", [m.name for m in pkgutil.iter_modules(sensors.__path__)])
def test_examples_in_docstrings_hold(name: str) -> None:
    module = importlib.import_module(f"faultkit.calculators.sensors.{name}")
    assert doctest.testmod(module).failed == 0


def at(curve: Curve, share: float) -> float:
    return curve.lowest + share * (curve.highest - curve.lowest)


@ALL
@given(PLACES)
def test_there_and_back(curve: Curve, share: float) -> None:
    t = at(curve, share)
    r = sensor_resistance(curve.name, t)
    assert sensor_temperature(curve.name, r) == pytest.approx(t, abs=2e-9)
    assert sensor_resistance(curve.name, sensor_temperature(curve.name, r)) == pytest.approx(r, rel=1e-11)


@ALL
@given(PLACES, PLACES)
def test_one_way_only(curve: Curve, one: float, other: float) -> None:
    cold, warm = sorted((at(curve, one), at(curve, other)))
    if warm - cold > 1e-6:
        cold_ohms, warm_ohms = curve.resistance(cold), curve.resistance(warm)
        assert (warm_ohms > cold_ohms) is curve.rises


@ALL
def test_steps_of_a_tenth_never_turn_back(curve: Curve) -> None:
    steps = int((curve.highest - curve.lowest) * 10.0)
    ohms = [curve.resistance(curve.lowest + 0.1 * i) for i in range(steps + 1)]
    assert all((b > a) is curve.rises for a, b in pairwise(ohms))


@ALL
def test_only_thermistors_fall(curve: Curve) -> None:
    assert curve.rises is not curve.name.startswith("ntc")


@ALL
@pytest.mark.parametrize("beyond", [-1.0, 1.0])
def test_beyond_its_range_is_told_with_the_range(curve: Curve, beyond: float) -> None:
    t = curve.lowest - 1.0 if beyond < 0.0 else curve.highest + 1.0
    with pytest.raises(InputError, match=r"temperature is [-\d.]+ degF\n.*expected: .* degF to .* degF on curve"):
        sensor_resistance(curve.name, t)
    with pytest.raises(InputError, match=f"off curve '{curve.name}'.*\n.*ohm to .*ohm"):
        sensor_temperature(curve.name, curve.model.resistance(t))


@pytest.mark.parametrize(("name", "ohms"), [
    ("ntc_10k_type_2", 1e4), ("ntc_10k_type_3", 1e4), ("ntc_10k_3435", 1e4), ("ntc_5k", 5e3), ("ntc_3k", 3e3),
    ("ntc_2252", 2252.0), ("ntc_2k", 2e3), ("ptc_1k", 1e3), ("ptc_990", 990.0),
])
def test_named_by_the_ohms_at_25_degc(name: str, ohms: float) -> None:
    assert sensor_resistance(name, 298.15) == pytest.approx(ohms, rel=2e-4)


@pytest.mark.parametrize(("name", "beta"), [
    ("ntc_10k_type_2", 3976.0), ("ntc_10k_type_3", 3695.0), ("ntc_10k_3435", 3435.0), ("ntc_5k", 3976.0),
])
def test_titles_name_the_beta_of_the_curve(name: str, beta: float) -> None:
    found = thermistor_beta(298.15, sensor_resistance(name, 298.15), 358.15, sensor_resistance(name, 358.15))
    assert found == pytest.approx(beta, abs=5.0)


@pytest.mark.parametrize(("written", "meant"), [
    ("Pt1000", "pt1000"), ("PT 100", "pt100"), ("10k type 2", "ntc_10k_type_2"), ("10K Type II", "ntc_10k_type_2"),
    ("10k-Type-III", "ntc_10k_type_3"), ("NTC 10k 3435", "ntc_10k_3435"), ("5 k", "ntc_5k"), ("NTC_2252", "ntc_2252"),
    ("PTC 990", "ptc_990"), ("1K", "ptc_1k"),
])
def test_spellings(written: str, meant: str) -> None:
    assert curve_word(written) == meant
    assert find_curve(written) is CURVES[meant]


@pytest.mark.parametrize("written", ["10k", "10k type 4", "", "pt500", "type 2"])
def test_no_guess_at_a_curve(written: str) -> None:
    with pytest.raises(InputError, match="is no sensor curve"):
        curve_word(written)


@given(st.floats(1.0, 1e5), st.floats(73.15, 1123.15))
def test_platinum_scales_with_its_ice_point_ohms(ice: float, t: float) -> None:
    assert Platinum(ice).resistance(t) / ice == pytest.approx(Platinum(100.0).resistance(t) / 100.0, rel=1e-12)


@given(st.floats(100.0, 1e6), st.floats(1500.0, 6000.0), st.floats(213.15, 423.15))
def test_beta_there_and_back(nominal: float, beta: float, t: float) -> None:
    assert Beta(nominal, beta).temperature(beta_resistance(nominal, beta, t)) == pytest.approx(t, rel=1e-12)
    if 214.0 < t < 423.0:
        assert beta_temperature(nominal, beta, beta_resistance(nominal, beta, t)) == pytest.approx(t, rel=1e-12)


@given(st.floats(100.0, 1e6), st.floats(1500.0, 6000.0), st.floats(213.15, 350.0), st.floats(1.0, 73.0))
def test_beta_from_two_points_of_its_own_curve(nominal: float, beta: float, cold: float, apart: float) -> None:
    warm = cold + apart
    ohms = beta_resistance(nominal, beta, cold), beta_resistance(nominal, beta, warm)
    assert thermistor_beta(cold, ohms[0], warm, ohms[1]) == pytest.approx(beta, rel=1e-9)


NTC = st.sampled_from([c for c in CURVES.values() if not c.rises])
POINTS = st.lists(st.floats(-50.0, 110.0), min_size=3, max_size=3).map(sorted).filter(
    lambda t: t[1] - t[0] > 5.0 and t[2] - t[1] > 5.0
)


@given(NTC, POINTS, PLACES)
def test_three_points_give_the_curve_they_lie_on(curve: Curve, celsius: list[float], share: float) -> None:
    kelvins = [t + 273.15 for t in celsius]
    rows = tuple(v for t in kelvins for v in (t, curve.resistance(t)))
    assert isinstance(curve.model, SteinhartHart)
    found = steinhart_hart(*rows)
    assert (found.a, found.b) == pytest.approx((curve.model.a, curve.model.b), rel=1e-6)
    assert found.c == pytest.approx(curve.model.c, rel=1e-4)
    t = kelvins[0] + share * (kelvins[2] - kelvins[0])
    ohms = min(max(curve.resistance(t), rows[5]), rows[1])
    assert three_point_temperature(ohms, *rows) == pytest.approx(t, abs=1e-6)
    assert three_point_resistance(t, *rows) == pytest.approx(ohms, rel=1e-7)


@given(st.floats(1500.0, 6000.0), POINTS, PLACES)
def test_three_points_of_a_plain_beta_curve(beta: float, celsius: list[float], share: float) -> None:
    """The third coefficient is nothing there, and rounding may put it below zero."""
    kelvins = [t + 273.15 for t in celsius]
    rows = tuple(v for t in kelvins for v in (t, beta_resistance(1e4, beta, t)))
    t = kelvins[0] + share * (kelvins[2] - kelvins[0])
    assert three_point_resistance(t, *rows) == pytest.approx(beta_resistance(1e4, beta, t), rel=1e-6)


GOOD = (273.15, 32650.0, 298.15, 10000.0, 343.15, 1752.0)


@pytest.mark.parametrize(("rows", "message"), [
    ((298.15, 10000.0, 273.15, 32650.0, 343.15, 1752.0), "temperatures do not rise"),
    ((273.15, 32650.0, 273.15, 32650.0, 343.15, 1752.0), "temperatures do not rise"),
    ((273.15, 1752.0, 298.15, 10000.0, 343.15, 32650.0), "resistances do not fall"),
    ((273.15, 32650.0, 298.15, 32640.0, 300.15, 1752.0), "no thermistor curve"),
])
def test_three_points_that_are_none(rows: tuple[float, ...], message: str) -> None:
    with pytest.raises(InputError, match=message):
        steinhart_hart(*rows)


def test_three_points_hold_only_between_them() -> None:
    with pytest.raises(InputError, match=r"resistance is 40000 ohm\n.*1752 ohm to 32650 ohm, between the points"):
        three_point_temperature(40000.0, *GOOD)
    with pytest.raises(InputError, match=r"temperature is 23 degF\n.*32 degF to 158 degF, between the points"):
        three_point_resistance(268.15, *GOOD)


def test_two_points_that_are_none() -> None:
    with pytest.raises(InputError, match="cold_temperature 77 degF is not below warm_temperature 32 degF"):
        thermistor_beta(298.15, 1e4, 273.15, 3e4)
    with pytest.raises(InputError, match="cold_resistance 1000 ohm is not above warm_resistance 2000 ohm"):
        thermistor_beta(273.15, 1000.0, 298.15, 2000.0)


@pytest.mark.parametrize("ohms", [1.0, 1e9])
def test_beta_gives_no_temperature_for_an_open_or_a_short(ohms: float) -> None:
    with pytest.raises(InputError):
        beta_temperature(1e4, 3435.0, ohms)


@given(st.sampled_from(["AA", "A", "B"]), st.sampled_from(["film", "wire_wound"]), st.floats(0.0, 150.0))
def test_platinum_classes_in_order_and_ohms_in_step(grade: str, element: str, celsius: float) -> None:
    t = celsius + 273.15
    allowed = rtd_tolerance(grade, t, element)
    assert rtd_tolerance("AA", t, element) <= allowed <= rtd_tolerance("B", t, element)
    found = rtd_limits("pt1000", grade, t, element)
    assert found.low < found.nominal < found.high
    assert sensor_temperature("pt1000", found.high) - t == pytest.approx(allowed, abs=1e-9)
    assert t - sensor_temperature("pt1000", found.low) == pytest.approx(allowed, abs=1e-9)
    hundred = rtd_limits("pt100", grade, t, element)
    assert (found.low, found.high) == pytest.approx((10.0 * hundred.low, 10.0 * hundred.high), rel=1e-12)


def test_platinum_classes_end_where_the_standard_ends_them() -> None:
    with pytest.raises(InputError, match=r"temperature is -4 degF\n.*32 degF to 302 degF for class AA, film"):
        rtd_tolerance("AA", 253.15)
    assert rtd_tolerance("AA", 253.15, "wire_wound") == pytest.approx(0.134)
    for call in (
        lambda: rtd_tolerance("C", 273.15), lambda: rtd_tolerance("A", 273.15, "foil"),
        lambda: rtd_limits("ptc_1k", "A", 273.15),
    ):
        with pytest.raises(InputError):
            call()


COUPLES = st.sampled_from([("K", 1372.0), ("T", 400.0), ("J", 760.0)])


@given(COUPLES, PLACES, st.floats(-40.0, 85.0))
def test_thermocouple_there_and_back(couple: tuple[str, float], share: float, junction: float) -> None:
    name, highest = couple
    t, ends = -200.0 + share * (highest + 200.0) + 273.15, junction + 273.15
    volts = thermocouple_voltage(name, t, ends)
    assert thermocouple_temperature(name, volts, ends) == pytest.approx(t, abs=1e-6)
    assert thermocouple_voltage(name, ends, ends) == 0.0


@given(COUPLES, PLACES, st.floats(-40.0, 85.0), st.floats(-40.0, 85.0))
def test_thermocouple_voltages_add_up(couple: tuple[str, float], share: float, one: float, other: float) -> None:
    name, highest = couple
    t, a, b = -200.0 + share * (highest + 200.0) + 273.15, one + 273.15, other + 273.15
    through = thermocouple_voltage(name, t, b) + thermocouple_voltage(name, b, a)
    assert through == pytest.approx(thermocouple_voltage(name, t, a), abs=1e-12)


@pytest.mark.parametrize(("name", "highest"), [("K", 1372), ("T", 400), ("J", 760)])
def test_thermocouple_voltage_never_turns_back(name: str, highest: int) -> None:
    volts = [thermocouple_voltage(name, 273.15 + t / 2.0) for t in range(-400, 2 * highest + 1)]
    assert all(b > a for a, b in pairwise(volts))


@pytest.mark.parametrize("call", [
    lambda: thermocouple_voltage("K", 2000.0), lambda: thermocouple_voltage("T", 700.0),
    lambda: thermocouple_temperature("J", 0.05), lambda: thermocouple_voltage("X", 300.0),
    lambda: thermocouple_voltage("K", 300.0, 20.0),
])
def test_thermocouple_out_of_range_or_unknown(call: object) -> None:
    with pytest.raises(InputError):
        call()  # type: ignore[operator]
