"""Compressors: ratings with their guards, efficiencies, directions, bad input."""

from __future__ import annotations

import inspect
from math import isclose

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from faultkit.calculators import Argument, Calculator
from faultkit.calculators.ask import ask
from faultkit.calculators.compressor import COMPRESSOR
from faultkit.calculators.compressor.efficiency import (
    clearance_volumetric_efficiency,
    compressor_current_ratio,
    compressor_displacement,
    isentropic_efficiency,
    overall_isentropic_efficiency,
    return_gas_factor,
    suction_density_correction,
    volumetric_efficiency,
)
from faultkit.calculators.compressor.rating import (
    compressor_capacity,
    compressor_current,
    compressor_mass_flow,
    compressor_power,
    read_coefficients,
)
from faultkit.problems import InputError
from faultkit.units import from_si, to_si
from tests.calculators.directions import declared, moves_as_declared
from tests.calculators.evidence.compressor import MASS_FLOW, POWER

BY_NAME = {c.name: c for c in COMPRESSOR}
NARROW = {
    "suction": (250.0, 285.0), "return_gas": (290.0, 320.0), "rated_return_gas": (290.0, 320.0),
    "mass_flow": (0.005, 0.05), "displacement": (3e-3, 1e-2), "suction_density": (10.0, 25.0),
    "compression_ratio": (1.0, 12.0), "clearance": (0.0, 0.08), "suction_pressure": (1.5e5, 3.5e5),
    "suction_temperature": (285.0, 295.0), "discharge_pressure": (8e5, 1.4e6), "discharge_temperature": (340.0, 400.0),
    "power": (500.0, 3000.0),
}
SLOW = {"return_gas_factor", "isentropic_efficiency", "overall_isentropic_efficiency"}


def f(degrees: float) -> float:
    return to_si(degrees, "degF")


@pytest.mark.parametrize(
    ("calculator", "name"), [d for d in declared(COMPRESSOR) if d[0].name not in SLOW],
    ids=lambda x: getattr(x, "name", x),
)
@given(st.data())
def test_moves_as_declared(calculator: Calculator, name: str, data: st.DataObject) -> None:
    moves_as_declared(calculator, name, data, NARROW, {})


@settings(max_examples=20, deadline=None)
@given(
    st.sampled_from(("R-134a", "R-290", "R-404A")), st.floats(250.0, 280.0), st.floats(2.0, 40.0), st.floats(2.0, 40.0)
)
def test_return_gas_moves_as_declared(name: str, dew: float, over: float, rated: float) -> None:
    warm = return_gas_factor(name, dew, dew + over, dew + rated)
    assert return_gas_factor(name, dew, dew + over + 5.0, dew + rated) < warm
    assert return_gas_factor(name, dew, dew + over, dew + rated + 5.0) > warm
    # With no share of the change, no change: the factor moves it one way for each pair of gases.
    assert return_gas_factor(name, dew, dew + over, dew + rated, 0.0) == 1.0
    half = return_gas_factor(name, dew, dew + over, dew + rated, 0.375)
    assert isclose(half - 1.0, (warm - 1.0) / 2.0, abs_tol=1e-12)


@settings(max_examples=15, deadline=None)
@given(st.floats(2e5, 3e5), st.floats(9e5, 1.3e6), st.floats(345.0, 390.0))
def test_hotter_gas_and_more_power_mean_less_efficiency(suction: float, discharge: float, hot: float) -> None:
    try:
        cool = isentropic_efficiency("R-134a", suction, 290.0, discharge, hot)
    except InputError:
        assume(condition=False)
        raise
    assert isentropic_efficiency("R-134a", suction, 290.0, discharge, hot + 5.0) < cool
    some = overall_isentropic_efficiency("R-134a", suction, 290.0, discharge, 0.02, 2000.0)
    assert overall_isentropic_efficiency("R-134a", suction, 290.0, discharge, 0.02, 2500.0) == pytest.approx(0.8 * some)
    assert overall_isentropic_efficiency("R-134a", suction, 290.0, discharge, 0.025, 2500.0) == pytest.approx(some)


@pytest.mark.parametrize("calculator", COMPRESSOR, ids=lambda c: c.name)
def test_example_source_and_defaults(calculator: Calculator) -> None:
    assert calculator.source
    assert ask(calculator, calculator.example).figures
    taken = inspect.signature(calculator.function).parameters
    for a in calculator.arguments:
        default = taken[a.name].default
        assert getattr(a, "default", None) == (None if default is inspect.Parameter.empty else default)
        assert not isinstance(a, Argument) or a.default is None or a.valid[0] <= a.default <= a.valid[1]


# -- ratings -----------------------------------------------------------------------


def test_a_published_set() -> None:
    assert from_si(compressor_mass_flow(MASS_FLOW, f(45.0), f(130.0)), "lb_per_h") == pytest.approx(459.45, abs=0.01)
    assert compressor_power(POWER, f(45.0), f(130.0)) == pytest.approx(3074.97, abs=0.01)
    flow = compressor_mass_flow(MASS_FLOW, 279.0, 315.0)
    assert from_si(flow, "lb_per_h") == pytest.approx(454.41, abs=0.01)


def test_text_and_numbers_are_the_same_set() -> None:
    text = "217.3163128, 5.094492028; -0.593170311\n4.38E-2 -2.14E-2 1.04E-2 7.9e-5 -5.73e-5 1.79e-4 -8.08e-5"
    assert compressor_mass_flow(text, f(45.0), f(130.0)) == compressor_mass_flow(MASS_FLOW, f(45.0), f(130.0))
    assert read_coefficients(read_coefficients(text)) == read_coefficients(text)


def test_uncertain_temperatures_carry_through() -> None:
    flow = ask(BY_NAME["compressor_mass_flow"], BY_NAME["compressor_mass_flow"].example)["compressor_mass_flow"]
    assert flow.low is not None
    assert flow.high is not None
    corners = [compressor_mass_flow(MASS_FLOW, f(s), f(d)) for s in (44.0, 46.0) for d in (129.0, 131.0)]
    assert flow.low == pytest.approx(min(corners), rel=2e-3)
    assert flow.high == pytest.approx(max(corners), rel=2e-3)


@given(
    st.lists(st.floats(0.01, 10.0), min_size=10, max_size=10), st.floats(0.1, 100.0), st.floats(1.0, 60.0),
    st.floats(70.0, 150.0),
)
def test_ratings_are_linear_in_their_coefficients(numbers: list[float], k: float, s: float, d: float) -> None:
    assume(s < d)
    for rated in (compressor_mass_flow, compressor_power, compressor_capacity, compressor_current):
        one = rated(numbers, f(s), f(d))
        assert rated([k * c for c in numbers], f(s), f(d)) == pytest.approx(k * one, rel=1e-9)


def test_an_impossible_point_is_refused() -> None:
    """At 0 and 0 °F the polynomial gives -561 W: inside the widest ratings, so its sign must tell."""
    with pytest.raises(InputError, match=r"rated power at -20 degF and 41 degF comes out as -"):
        compressor_power([-561.0, -15.6, 4.6, *[0.0] * 7], f(-20.0), f(41.0))
    with pytest.raises(InputError, match="suction 80 degF is outside the envelope") as caught:
        compressor_power(POWER, f(80.0), f(30.0))
    assert len(caught.value.problems) == 3  # suction, discharge, and one above the other
    with pytest.raises(InputError, match="20 degF to 50 degF"):
        compressor_power(POWER, f(15.0), f(100.0), lowest_suction=f(20.0), highest_suction=f(50.0))


@pytest.mark.parametrize(
    ("coefficients", "told"),
    [
        ("1 2 3", "coefficients has 3 numbers"), ("", "could not convert"), ("1 2 3 4 5 6 7 8 9 ten", "'ten'"),
        ("1 2 3 4 5 6 7 8 9 nan", "coefficients has 9 numbers"),
        ("1 2 3 4 5 6 7 8 9 10 11", "coefficients has 11 numbers"),
    ],
)
def test_bad_coefficients(coefficients: str, told: str) -> None:
    with pytest.raises(InputError, match=told) as caught:
        ask(BY_NAME["compressor_power"], {**BY_NAME["compressor_power"].example, "coefficients": coefficients})
    assert "ten numbers, C1 to C10" in caught.value.problems[0].expected
    with pytest.raises(InputError, match=told):
        compressor_power(coefficients, f(45.0), f(130.0))


@pytest.mark.parametrize(
    ("asked", "changed", "told"),
    [
        ("compressor_mass_flow", {"units": "metric"}, "'units' is 'metric'"),
        ("compressor_mass_flow", {"suction": "135 degF", "highest_suction": "140 degF"}, "is not below discharge 130"),
        ("return_gas_factor", {"return_gas": "40 degF"}, "is not all vapor"),
        ("return_gas_factor", {"refrigerant": "R-9999"}, "is not known"),
        ("clearance_volumetric_efficiency", {"compression_ratio": "0.5 count"}, "1 count to 30 count"),
        ("clearance_volumetric_efficiency", {"compression_ratio": "28 count", "clearance": "10 %"}, "nothing is drawn"),
        ("volumetric_efficiency", {"mass_flow": "900 lb_per_h"}, "more than the displacement holds"),
        ("isentropic_efficiency", {"discharge_temperature": "120 degF"}, "colder than any compression makes it"),
        ("isentropic_efficiency", {"discharge_temperature": "90 degF"}, "is not all vapor"),
        ("isentropic_efficiency", {"suction_pressure": "200 psig"}, "suction_pressure 215 psia is not below"),
        ("overall_isentropic_efficiency", {"power": "300 W"}, "300 W cannot move 150 lb_per_h"),
        ("compressor_current_ratio", {"voltage": "0 V"}, "'voltage'"),
        ("compressor_displacement", {"speed": "0 rpm"}, "'speed'"),
        ("suction_density_correction", {"rated_density": "0 lb_per_ft3"}, "'rated_density'"),
    ],
)
def test_bad_input_names_itself_and_what_belongs_there(asked: str, changed: dict[str, str], told: str) -> None:
    calculator = BY_NAME[asked]
    with pytest.raises(InputError, match=told) as caught:
        ask(calculator, {**calculator.example, **changed})
    assert all(p.expected for p in caught.value.problems)


# -- efficiencies --------------------------------------------------------------------


@given(st.floats(1e-3, 1.0), st.floats(1.0, 50.0), st.floats(0.0, 1.0))
def test_no_change_of_density_is_no_correction(flow: float, density: float, factor: float) -> None:
    assert suction_density_correction(flow, density, density, factor) == flow


@given(st.floats(0.01, 0.2), st.floats(0.01, 0.2), st.integers(1, 8), st.floats(10.0, 400.0), st.floats(1.0, 40.0))
def test_a_full_cylinder_is_all_of_it(bore: float, stroke: float, cylinders: int, speed: float, density: float) -> None:
    swept = compressor_displacement(bore, stroke, cylinders, speed)
    assert volumetric_efficiency(swept * density, swept, density) == pytest.approx(1.0)
    assert compressor_displacement(2 * bore, stroke, cylinders, speed) == pytest.approx(4 * swept)


@given(st.floats(1.0, 12.0), st.floats(0.0, 0.08))
def test_clearance_costs_nothing_at_one_to_one(ratio: float, clearance: float) -> None:
    assert clearance_volumetric_efficiency(1.0, clearance) == pytest.approx(1.0)
    assert clearance_volumetric_efficiency(ratio, 0.0) == pytest.approx(1.0)
    assert clearance_volumetric_efficiency(ratio, clearance) <= 1.0 + 1e-12


def test_a_third_less_current_shows_at_any_voltage() -> None:
    assert compressor_current_ratio(5.0, 7.5, 230.0, 230.0) == pytest.approx(2 / 3)
    assert compressor_current_ratio(7.5 * 230.0 / 208.0, 7.5, 208.0, 230.0) == pytest.approx(1.0)
