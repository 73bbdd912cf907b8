"""Electrical calculators: declarations, directions, ranges, examples; supply and unbalance."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from faultkit.calculators import Argument, Calculator, Word
from faultkit.calculators.ask import ask
from faultkit.calculators.electrical import ELECTRICAL
from faultkit.calculators.electrical.rolling import rolled_leads_check
from faultkit.calculators.electrical.supply import (
    dual_voltage_deviation,
    loaded_voltage,
    motor_voltage_check,
    source_impedance,
    utilization_voltage_check,
    utilization_voltage_deviation,
    voltage_sag,
)
from faultkit.calculators.electrical.unbalance import (
    current_unbalance,
    unbalance_derating,
    unbalance_rise_share,
    voltage_unbalance,
    voltage_unbalance_check,
)
from faultkit.problems import InputError
from faultkit.units import Kind
from tests.calculators.directions import declared, moves_as_declared
from tests.calculators.soundness import numbers_or_a_clear_error

BY_NAME = {c.name: c for c in ELECTRICAL}
EACH = pytest.mark.parametrize("calculator", ELECTRICAL, ids=lambda c: c.name)
#: Values most of which go together; the rest of the valid range is drawn from too.
NARROW = {
    "no_load_voltage": (230.0, 250.0), "loaded_voltage": (180.0, 230.0), "current": (5.0, 20.0),
    "other_current": (1.0, 30.0), "lower_rated_voltage": (200.0, 210.0), "upper_rated_voltage": (215.0, 240.0),
    "cold_resistance": (1.0, 1.2), "hot_resistance": (1.1, 1.7), "cold_temperature": (285.0, 300.0),
    "power": (100.0, 1500.0), "voltage": (180.0, 260.0), "other_voltage": (190.0, 250.0), "heaters": (1.0, 6.0),
    "winding_temperature": (283.15, 333.15), "rated_voltage": (200.0, 260.0), "current_each": (5.0, 20.0),
}
# Counts are whole; their directions have a test of their own.
WHOLE = {"heater_bank_current", "open_heaters"}
DIRECTED = [(c, name) for c, name in declared(ELECTRICAL) if c.name not in WHOLE]
VOLTS = st.floats(200.0, 250.0)
AMPS = st.floats(0.5, 200.0)


@pytest.mark.parametrize(("calculator", "argument"), DIRECTED, ids=lambda v: getattr(v, "name", v))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(data=st.data())
def test_every_declared_direction_holds(calculator: Calculator, argument: str, data: st.DataObject) -> None:
    moves_as_declared(calculator, argument, data, NARROW, {})


@EACH
def test_declared_in_full(calculator: Calculator) -> None:
    assert calculator.source
    assert calculator.subject == "electrical"
    assert set(calculator.example) >= {
        a.name for a in calculator.arguments if not isinstance(a, Word) and getattr(a, "default", None) is None
    }
    assert ">>> " in (calculator.function.__doc__ or "")
    assert all(a.title for a in calculator.arguments)
    assert ask(calculator, calculator.example).figures


@EACH
def test_live_readings_capacitors_and_megohm_tests_carry_their_caution(calculator: Calculator) -> None:
    told = calculator.caution.lower()
    assert (not told) == (calculator.name in {
        "unbalance_derating", "unbalance_rise_share", "unbalance_rise", "wire_resistance", "wire_impedance",
    })
    if "insulation" in calculator.name or calculator.name == "ground_limit":
        assert "vacuum" in told
        assert "electronics" in told
    if "capacit" in calculator.name:
        assert "resistor" in told
    if calculator.name == "overload_pattern":
        assert "starts without warning" in told
    assert not told or "codes" in told


@EACH
@given(st.data())
@settings(max_examples=25, deadline=None)
def test_whatever_the_ranges_allow_gives_numbers_or_a_clear_error(calculator: Calculator, data: st.DataObject) -> None:
    numbers_or_a_clear_error(calculator, data)


@EACH
def test_a_number_out_of_range_is_named_with_its_range(calculator: Calculator) -> None:
    for a in calculator.arguments:
        if isinstance(a, Argument):
            example = ask(calculator, calculator.example).values
            for bad in (a.valid[1] * 1.01 + 1.0, a.valid[0] - 1.0 - abs(a.valid[0])):
                with pytest.raises(InputError, match=f"'{a.name}' of '{calculator.name}' is (.|\n)*expected: .* to "):
                    calculator.figures({**example, a.name: (bad, bad)})


@EACH
def test_a_word_not_known_is_refused_by_the_function_too(calculator: Calculator) -> None:
    plain = {n: v[0] if isinstance(v, tuple) else v for n, v in ask(calculator, calculator.example).values.items()}
    for a in calculator.arguments:
        if isinstance(a, Word):
            with pytest.raises(InputError, match="neverheard"):
                calculator.function(**{**plain, a.name: "neverheard"})


# -- supply -----------------------------------------------------------------------


@pytest.mark.parametrize(("volts", "verdict"), [
    (126.0, "range A"), (108.0, "range A"), (107.9, "range B"), (104.0, "range B"), (103.9, "below range B"),
    (126.5, "range B"), (127.1, "above range B"),
])
def test_ranges_belong_to_their_limits(volts: float, verdict: str) -> None:
    assert utilization_voltage_check(volts, "120").verdict == verdict


def test_circuits_with_lighting_have_the_narrower_range() -> None:
    assert utilization_voltage_check(187.0, "208").verdict == "range A"
    assert utilization_voltage_check(187.0, "208", "lighting").verdict == "range B"


@given(st.sampled_from(("120", "208", "240", "277", "480", "600")), st.floats(0.0, 700.0))
def test_outside_range_a_is_not_zero_and_range_b_is_wider(system: str, volts: float) -> None:
    verdict = utilization_voltage_check(volts, system).verdict
    off_a = utilization_voltage_deviation(volts, system, "range_A")
    off_b = utilization_voltage_deviation(volts, system, "range_B")
    assert (off_a == 0.0) == (verdict == "range A")
    assert (off_b == 0.0) == (verdict in {"range A", "range B"})
    assert abs(off_b) <= abs(off_a)


def test_two_ratings_are_one_band() -> None:
    assert dual_voltage_deviation(215.0, 208.0, 230.0) == 0.0
    assert motor_voltage_check(187.3, 208.0, 230.0).verdict == "within"
    assert motor_voltage_check(187.1, 208.0, 230.0).verdict == "low"
    assert motor_voltage_check(253.1, 208.0, 230.0).verdict == "high"
    assert motor_voltage_check(200.0, 230.0, 230.0).verdict == "low"
    with pytest.raises(InputError, match="lower_rated_voltage 230 V is above upper_rated_voltage 208 V"):
        dual_voltage_deviation(215.0, 230.0, 208.0)


def test_a_sag_within_the_meter_is_kept_and_a_rise_is_refused() -> None:
    low, high = BY_NAME["source_impedance"].evaluate(
        {"no_load_voltage": (119.0, 121.0), "loaded_voltage": (118.5, 120.5), "current": (10.0, 10.0)}
    )
    assert low < 0.0 < high
    with pytest.raises(InputError, match="loaded_voltage 130 V is above no_load_voltage 118 V"):
        voltage_sag(118.0, 130.0)


def test_no_more_amps_than_the_supply_can_give() -> None:
    with pytest.raises(InputError, match=r"no voltage left(.|\n)*less than 192 A"):
        loaded_voltage(120.0, 115.0, 8.0, 200.0)


@given(VOLTS, st.floats(0.01, 1.0), AMPS)
def test_source_impedance_comes_back_from_the_volts_it_makes(volts: float, ohm: float, amps: float) -> None:
    loaded = volts - ohm * amps
    if loaded > 0.0:
        assert isclose(source_impedance(volts, loaded, amps), ohm, rel_tol=1e-6, abs_tol=1e-9)
        assert isclose(loaded_voltage(volts, loaded, amps, amps), loaded, rel_tol=1e-9)


# -- unbalance --------------------------------------------------------------------


def test_the_spread_is_not_the_unbalance() -> None:
    assert round(voltage_unbalance(460.0, 467.0, 450.0) * 100.0, 2) == 1.96
    assert round(voltage_unbalance(231.0, 240.0, 228.0) * 100.0, 2) == 3.0
    assert round(current_unbalance(12.1, 14.0, 11.4) * 100.0, 2) == 12.0


@given(VOLTS, VOLTS, VOLTS, st.floats(0.5, 3.0))
def test_unbalance_is_of_the_shape_alone(a: float, b: float, c: float, scale: float) -> None:
    found = voltage_unbalance(a, b, c)
    assert found >= 0.0
    assert found <= (max(a, b, c) - min(a, b, c)) / ((a + b + c) / 3.0) + 1e-12
    assert isclose(voltage_unbalance(c, a, b), found, abs_tol=1e-12)
    assert isclose(voltage_unbalance(scale * a, scale * b, scale * c), found, abs_tol=1e-12)


def test_voltages_that_cannot_be_of_one_supply_are_refused() -> None:
    with pytest.raises(InputError, match="480 V, 100 V, 100 V do not belong to one three-phase supply"):
        voltage_unbalance(480.0, 100.0, 100.0)
    assert voltage_unbalance(480.0, 240.0, 240.0) == 0.5  # a leg lost
    with pytest.raises(InputError, match="all three currents are zero"):
        current_unbalance(0.0, 0.0, 0.0)


@pytest.mark.parametrize(("volts", "verdict"), [
    ((230.0, 230.0, 230.0), "good"), ((231.0, 240.0, 228.0), "reduce the load"), ((230.0, 230.0, 200.0), "do not run"),
])
def test_what_unbalance_means(volts: tuple[float, float, float], verdict: str) -> None:
    found = voltage_unbalance_check(*volts)
    assert found.verdict == verdict
    assert (found.derating is None) == (found.unbalance > 0.05)
    assert found.average == sum(volts) / 3.0


def test_the_farthest_line_is_named() -> None:
    assert voltage_unbalance_check(231.0, 240.0, 228.0).farthest == ("L2-L3",)
    assert voltage_unbalance_check(480.0, 476.0, 472.0).farthest == ("L1-L2", "L3-L1")
    assert voltage_unbalance_check(230.0, 230.0, 230.0).farthest == ()


def test_above_five_percent_there_is_no_curve() -> None:
    for function in (unbalance_derating, unbalance_rise_share):
        with pytest.raises(InputError, match=r"5.1 %(.|\n)*0 % to 5 %"):
            function(0.051)
    assert unbalance_derating(0.0) == unbalance_derating(0.01) == 1.0
    with pytest.raises(InputError, match="limit 6 % is above stop 5 %"):
        voltage_unbalance_check(231.0, 240.0, 228.0, 0.06, 0.05)


def test_rolled_leads_with_no_unbalance_and_with_both_causes() -> None:
    assert rolled_leads_check(10.0, 10.1, 10.0, 10.0, 10.0, 10.1).verdict == "no unbalance"
    assert rolled_leads_check(46.0, 50.0, 54.0, 50.0, 50.0, 50.1).verdict == "both: take the third hookup too"


def test_what_a_tree_may_band_is_one_number() -> None:
    for name, kind in (
        ("voltage_unbalance", Kind.RATIO), ("voltage_deviation", Kind.RATIO), ("voltage_drop", Kind.VOLTAGE),
        ("splice_watts", Kind.POWER), ("splice_resistance", Kind.RESISTANCE), ("winding_sum_error", Kind.RATIO),
        ("capacitance", Kind.CAPACITANCE), ("capacitance_deviation", Kind.RATIO), ("power_factor", Kind.RATIO),
        ("current_ratio", Kind.RATIO), ("source_impedance", Kind.RESISTANCE), ("excess_voltage_drop", Kind.VOLTAGE),
        ("locked_rotor_ratio", Kind.RATIO), ("open_heaters", Kind.COUNT), ("winding_temperature", Kind.TEMPERATURE),
    ):
        assert BY_NAME[name].result is kind
