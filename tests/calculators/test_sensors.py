"""Sensor faults, verdicts, displays and transducers; directions, ranges and examples of every declaration."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from faultkit.calculators import Argument, Calculator, Direction, Word
from faultkit.calculators.ask import ask
from faultkit.calculators.sensors import CURVES, SENSORS, find_curve
from faultkit.calculators.sensors.check import sensor_check, sensor_deviation, sensor_error
from faultkit.calculators.sensors.faults import (
    lead_wire_error,
    parallel_leakage_error,
    series_resistance_error,
    wrong_curve_error,
    wrong_curve_reading,
)
from faultkit.calculators.sensors.probes import ice_bath_check, probe_check, probe_offset, thermometer_limit
from faultkit.calculators.sensors.transducers import (
    loop_check,
    loop_current,
    loop_pressure,
    ratiometric_check,
    ratiometric_pressure,
    ratiometric_signal,
    transducer_error,
)
from faultkit.problems import InputError
from faultkit.units import Kind
from tests.calculators.soundness import numbers_or_a_clear_error

BY_NAME = {c.name: c for c in SENSORS}
EACH = pytest.mark.parametrize("calculator", SENSORS, ids=lambda c: c.name)
NAMES = st.sampled_from(sorted(CURVES))

# Where the declared range is wide because curves differ, or where most of it has no meaning together.
DRAWN: dict[tuple[str, str], tuple[float, float]] = {
    ("loop_current", "pressure"): (0.0, 1e6), ("ratiometric_signal", "pressure"): (0.0, 1e6),
    ("ratiometric_pressure", "supply"): (4.0, 6.0), ("ratiometric_pressure", "signal"): (0.3, 4.0),
    ("beta_resistance", "nominal"): (100.0, 1e6), ("beta_temperature", "nominal"): (100.0, 1e5),
}
RANGES = {"low": (-1e5, 0.0), "high": (1e6, 4e6), "zero": (0.05, 0.2), "full": (0.8, 0.95), "beta": (2500.0, 5000.0)}
ROWS = {
    "cold_temperature": (253.0, 263.0), "cold_resistance": (6e4, 8e4), "middle_temperature": (297.0, 299.0),
    "middle_resistance": (9.9e3, 10.1e3), "warm_temperature": (340.0, 345.0), "warm_resistance": (1.7e3, 2.2e3),
}


def strategy(calculator: Calculator, argument: Argument, words: dict[str, str]) -> st.SearchStrategy[float]:
    usual = {**RANGES, **ROWS}.get(argument.name, argument.valid)
    low, high = DRAWN.get((calculator.name, argument.name), usual)
    curve = find_curve(words.get("curve", words.get("sensor", "pt100")))
    if argument.name == "temperature" and {"curve", "sensor"} & set(words):
        low, high = curve.lowest, curve.highest
    if argument.name == "resistance" and "curve" in words:
        low, high = curve.ends
    if calculator.name.startswith("three_point"):
        low, high = {"resistance": (2300.0, 5.9e4), "temperature": (264.0, 339.0)}.get(argument.name, (low, high))
    if argument.name in {"added", "leakage"}:
        return st.floats(0.0, 6.0).map(lambda e: min(max(10.0**e * 10.0, argument.valid[0]), argument.valid[1]))
    return st.floats(low, high)


def drawn(calculator: Calculator, data: st.DataObject) -> dict[str, Any]:
    words = {a.name: data.draw(st.sampled_from(a.choices), a.name) for a in calculator.arguments if isinstance(a, Word)}
    values: dict[str, Any] = dict(words)
    for a in calculator.arguments:
        if isinstance(a, Argument):
            values[a.name] = data.draw(strategy(calculator, a, words), a.name)
    return values


SINGLE = [(c, a) for c in SENSORS if not isinstance(c.result, tuple)
          for a in c.arguments if isinstance(a, Argument) and a.direction is not None]


@pytest.mark.parametrize(("calculator", "argument"), SINGLE, ids=lambda x: x.name)
@given(st.data())
def test_each_direction_is_true(calculator: Calculator, argument: Argument, data: st.DataObject) -> None:
    values = drawn(calculator, data)
    words = {k: v for k, v in values.items() if isinstance(v, str)}
    steps = sorted(data.draw(st.lists(strategy(calculator, argument, words), min_size=3, max_size=3)))
    try:
        results = [calculator.function(**{**values, argument.name: v}) for v in steps]
    except InputError:
        assume(False)
    slack = 1e-9 * max(1.0, *map(abs, results))
    rises = all(b >= a - slack for a, b in pairwise(results))
    falls = all(b <= a + slack for a, b in pairwise(results))
    assert {
        Direction.RISING: rises, Direction.FALLING: falls, Direction.EITHER: rises or falls,
    }[argument.direction or Direction.EITHER]


@EACH
@given(st.data())
def test_whatever_the_ranges_allow_gives_numbers_or_a_clear_error(calculator: Calculator, data: st.DataObject) -> None:
    numbers_or_a_clear_error(calculator, data)


@EACH
def test_declared_in_full(calculator: Calculator) -> None:
    assert calculator.source
    assert calculator.subject == "sensors"
    assert set(calculator.example) >= {
        a.name for a in calculator.arguments if not isinstance(a, Word) and getattr(a, "default", None) is None
    }
    assert ">>> " in (calculator.function.__doc__ or "")
    assert all(a.title for a in calculator.arguments)
    assert ask(calculator, calculator.example).figures


@EACH
def test_a_number_out_of_range_is_named_with_its_range(calculator: Calculator) -> None:
    for a in calculator.arguments:
        if isinstance(a, Argument):
            example = ask(calculator, calculator.example).values
            values = {**example, a.name: (a.valid[1] * 1.01 + 1.0,) * 2}
            with pytest.raises(InputError, match=f"'{a.name}' of '{calculator.name}' is (.|\n)*expected: .* to "):
                calculator.figures(values)


def test_a_signal_is_dead_or_a_pressure_never_both() -> None:
    for c in ("loop_check", "ratiometric_check"):
        results = {r.name: r.kind for r in BY_NAME[c].result}  # type: ignore[union-attr]
        assert results == {"verdict": None, "pressure": Kind.GAUGE_PRESSURE, "causes": None}


# -- faults ---------------------------------------------------------------------


@given(NAMES, st.floats(0.0, 1.0))
def test_a_sensor_on_its_own_curve_is_right(name: str, share: float) -> None:
    curve = CURVES[name]
    t = curve.lowest + share * (curve.highest - curve.lowest)
    assert wrong_curve_error(name, name, t) == pytest.approx(0.0, abs=1e-8)
    assert series_resistance_error(name, t, 0.0) == pytest.approx(0.0, abs=1e-8)
    assert sensor_deviation(name, curve.resistance(t), t) == pytest.approx(0.0, abs=1e-12)
    assert sensor_error(name, curve.resistance(t), t) == pytest.approx(0.0, abs=1e-8)


@pytest.mark.parametrize("other", ["ntc_10k_type_3", "ntc_10k_3435"])
def test_curves_of_one_r25_cross_there(other: str) -> None:
    assert wrong_curve_error(other, "ntc_10k_type_2", 298.15) == pytest.approx(0.0, abs=0.01)
    assert wrong_curve_error(other, "ntc_10k_type_2", 273.15) > 1.5
    assert wrong_curve_error(other, "ntc_10k_type_2", 323.15) < -1.5


def test_a_curve_far_off_shows_an_alarm() -> None:
    with pytest.raises(InputError, match=r"'ptc_1k' the control meets 814\.86 ohm and shows a sensor alarm"):
        wrong_curve_reading("ptc_1k", "pt100", 273.15)


@given(NAMES, st.floats(-40.0, 90.0), st.floats(1.0, 200.0))
def test_added_ohms_read_cold_on_ntc_and_warm_on_the_rest(name: str, celsius: float, added: float) -> None:
    try:
        series = series_resistance_error(name, celsius + 273.15, added)
        leak = parallel_leakage_error(name, celsius + 273.15, 1e6)
    except InputError:
        assume(False)
    assert (series < 0.0) is name.startswith("ntc")
    assert (leak > 0.0) is name.startswith("ntc")


@given(NAMES, st.floats(-30.0, 80.0), st.floats(1.0, 50.0))
def test_leak_and_added_ohms_that_make_the_same_ohms_read_the_same(name: str, celsius: float, change: float) -> None:
    t = celsius + 273.15
    ohms = CURVES[name].resistance(t)
    lower = ohms - min(change, ohms / 20.0)
    down = parallel_leakage_error(name, t, ohms * lower / (ohms - lower))
    assert down == pytest.approx(CURVES[name].temperature(lower) - t, abs=1e-7)
    back = series_resistance_error(name, CURVES[name].temperature(lower), ohms - lower)
    assert back == pytest.approx(-down, abs=1e-7)


def test_a_hundred_ohm_platinum_feels_its_leads_ten_times_as_much() -> None:
    small, big = (lead_wire_error(name, 275.0, 30.0, "20") for name in ("pt1000", "pt100"))
    assert big == pytest.approx(10.0 * small, rel=1e-2)
    assert lead_wire_error("pt100", 275.0, 60.0, "20") == pytest.approx(2.0 * big, rel=1e-2)
    # Three sizes up is half the ohms, near enough.
    assert lead_wire_error("pt100", 275.0, 30.0, "17") == pytest.approx(big / 2.0, rel=0.02)


# -- verdicts -------------------------------------------------------------------


@given(NAMES, st.floats(-45.0, 95.0), st.floats(-8.0, 8.0))
def test_good_within_tolerance_drift_beyond(name: str, celsius: float, off: float) -> None:
    curve, t = CURVES[name], celsius + 273.15
    assume(curve.lowest < t + off < curve.highest and 223.15 < t + off < 423.15)
    found = sensor_check(name, curve.resistance(t + off), t, tolerance=3.0)
    assert found.error == pytest.approx(off, abs=1e-6)
    assert found.expected == curve.resistance(t)
    if abs(abs(off) - 3.0) > 1e-6:
        assert found.verdict == ("good" if abs(off) < 3.0 else "drift")


@pytest.mark.parametrize("name", sorted(CURVES))
def test_open_and_short(name: str) -> None:
    for ohms, verdict in ((0.0, "short"), (5.0, "short"), (1e7, "open"), (1e9, "open")):
        found = sensor_check(name, ohms, 275.0)
        assert (found.verdict, found.reads, found.error) == (verdict, None, None)


def test_the_limits_of_open_and_short_are_the_callers() -> None:
    ohms = find_curve("pt1000").resistance(450.0)
    assert sensor_check("pt1000", ohms, 275.0).verdict == "open"
    assert sensor_check("pt1000", ohms, 275.0, hottest=500.0).verdict == "drift"
    with pytest.raises(InputError, match="coldest 104 degF is not below hottest 32 degF"):
        sensor_check("pt1000", 1000.0, 275.0, coldest=313.15, hottest=273.15)


def test_a_verdict_too_close_to_call_says_so() -> None:
    answer = ask(BY_NAME["sensor_check"], {
        "curve": "10k type 2", "resistance": "31.0 kohm ± 1 %", "temperature": "32 degF ± 0.3 delta_degF",
    })
    assert answer["verdict"].value == "good"
    assert answer["verdict"].others == ("drift",)
    sure = ask(BY_NAME["sensor_check"], {"curve": "10k type 2", "resistance": "50 Mohm",
                                               "temperature": "32 degF ± 2 delta_degF"})
    assert sure["verdict"].value == "open"
    assert sure["verdict"].others == ()
    assert sure["reads"].value is None


# -- displays -------------------------------------------------------------------


@given(st.floats(200.0, 400.0), st.floats(200.0, 400.0))
def test_offset_puts_the_display_right(shown: float, reference: float) -> None:
    assert shown + probe_offset(shown, reference) == pytest.approx(reference, abs=1e-9)
    found = probe_check(shown, reference, 0.2)
    assert found.offset == -found.error


@given(st.floats(-4.0, 4.0), st.floats(0.0, 2.0), st.sampled_from(["food", "air"]))
def test_a_mirrored_error_has_the_same_verdict(off: float, accuracy: float, use: str) -> None:
    one, other = (ice_bath_check(273.15 + s * off, accuracy, use) for s in (1.0, -1.0))
    if abs(abs(abs(off) - one.limit) - accuracy) > 1e-9:
        assert one.verdict == other.verdict


def test_food_is_stricter_than_air_and_celsius_than_fahrenheit() -> None:
    limits = [thermometer_limit(u, s) for u in ("food", "air") for s in ("celsius", "fahrenheit")]
    assert limits == sorted(limits)
    for wrong in (("oven", "celsius"), ("food", "kelvin")):
        with pytest.raises(InputError):
            thermometer_limit(*wrong)


# -- transducers ----------------------------------------------------------------

SPANS = st.tuples(st.floats(-1e5, 1e6), st.floats(1e4, 5e6)).map(lambda s: (s[0], s[0] + s[1]))


@given(SPANS, st.floats(0.0, 1.0), st.floats(4.5, 5.5))
def test_signals_there_and_back(span: tuple[float, float], share: float, supply: float) -> None:
    low, high = span
    p = min(low + share * (high - low), high)
    near = pytest.approx(p, abs=1e-9 * (high - low) + 1e-6)
    assert loop_pressure(loop_current(p, low, high), low, high) == near
    assert ratiometric_pressure(ratiometric_signal(p, supply, low, high), supply, low, high) == near
    assert loop_check(loop_current(p, low, high), low, high).verdict == "good"
    found = ratiometric_check(ratiometric_signal(p, supply, low, high), supply, low, high)
    assert found.verdict == "good"
    assert found.pressure == near


@given(SPANS, st.floats(0.01, 1.2), st.floats(4.6, 5.4))
def test_a_signal_counts_by_its_supply_alone(span: tuple[float, float], scale: float, supply: float) -> None:
    base = ratiometric_pressure(0.4 * supply, supply, *span)
    assert ratiometric_pressure(0.4 * supply * scale, supply * scale, *span) == pytest.approx(base, rel=1e-9, abs=1e-3)


@given(st.floats(0.0, 0.1), SPANS)
def test_a_dead_loop_gives_no_pressure(current: float, span: tuple[float, float]) -> None:
    found = loop_check(current, *span)
    assert (found.pressure is None) is (found.verdict in {"open", "short"})
    assert bool(found.causes) is (found.verdict != "good")


@given(st.floats(0.0, 6.0), st.floats(0.0, 6.0), SPANS)
def test_a_dead_signal_gives_no_pressure(signal: float, supply: float, span: tuple[float, float]) -> None:
    found = ratiometric_check(signal, supply, *span)
    dead = found.verdict in {"bad supply", "stuck low", "stuck high"}
    assert (found.pressure is None) is dead
    if not dead:
        assert found.pressure == pytest.approx(ratiometric_pressure(signal, supply, *span), rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("call", [
    lambda: loop_pressure(0.01, 1e6, 0.0), lambda: loop_current(2e6, 0.0, 1e6), lambda: loop_current(5e5, 1e6, 1e6),
    lambda: ratiometric_pressure(0.1, 5.0, 0.0, 1e6), lambda: ratiometric_pressure(4.9, 5.0, 0.0, 1e6),
    lambda: ratiometric_signal(-1.0, 5.0, 0.0, 1e6), lambda: ratiometric_signal(1.0, 5.0, 0.0, 1e6, 0.9, 0.1),
    lambda: loop_check(0.01, 0.0, 1e6, least=3e-3), lambda: transducer_error(1.0, 1.0, 5.0, 5.0),
])
def test_signals_without_a_meaning(call: object) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert all(p.expected for p in caught.value.problems)
