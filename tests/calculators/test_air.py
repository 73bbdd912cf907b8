"""Air: directions, round trips, bad input, and what has to hold of any air."""

from __future__ import annotations

import inspect
from math import isclose

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from faultkit.calculators import Argument, Calculator
from faultkit.calculators.air import AIR
from faultkit.calculators.air.airflow import air_temperature_split, airflow, sensible_capacity
from faultkit.calculators.air.coil import (
    coil_capacity,
    coil_moisture_removed,
    coil_sensible_capacity,
    coil_sensible_heat_ratio,
    coil_total_capacity,
)
from faultkit.calculators.air.humidity import (
    dew_point,
    dry_air_density,
    humidity_ratio,
    moist_air_density,
    moist_air_enthalpy,
    relative_humidity_from_dew_point,
    relative_humidity_from_wet_bulb,
    water_vapor_pressure,
    wet_bulb,
)
from faultkit.calculators.air.moist import saturation
from faultkit.calculators.air.sweat import (
    outside_surface_temperature,
    surface_dew_point_margin,
    sweat_margin,
    sweating_humidity,
    sweating_surface,
)
from faultkit.calculators.ask import ask
from faultkit.problems import InputError
from faultkit.units import to_si
from tests.calculators.directions import declared, moves_as_declared
from tests.calculators.soundness import numbers_or_a_clear_error

WET = "relative_humidity_from_wet_bulb"
BY_NAME = {c.name: c for c in AIR}
#: Values most of which go together; the rest of the valid range is drawn from too.
NARROW = {
    "dry_bulb": (297.0, 312.0), "dew_point": (240.0, 296.0), "wet_bulb": (289.0, 297.0), "room": (285.0, 310.0),
    "box": (250.0, 284.0),
    "u_value": (0.1, 4.0), "film": (5.0, 20.0), "air_in": (280.0, 310.0), "air_out": (245.0, 279.0),
}
TEMPERATURES = st.floats(233.15, 333.15)
RATIOS = st.floats(0.01, 1.0)
PRESSURES = st.floats(60e3, 110e3)


def f(degrees: float) -> float:
    return to_si(degrees, "degF")


@pytest.mark.parametrize(("calculator", "name"), declared(AIR), ids=lambda x: getattr(x, "name", x))
@given(st.data())
def test_moves_as_declared(calculator: Calculator, name: str, data: st.DataObject) -> None:
    moves_as_declared(calculator, name, data, NARROW, {})


@pytest.mark.parametrize("calculator", AIR, ids=lambda c: c.name)
def test_example_source_and_defaults(calculator: Calculator) -> None:
    assert calculator.source
    assert calculator.example
    assert ask(calculator, calculator.example).figures
    taken = inspect.signature(calculator.function).parameters
    for a in calculator.arguments:
        assert isinstance(a, Argument)
        default = taken[a.name].default
        assert a.default == (None if default is inspect.Parameter.empty else default)
        assert a.default is None or a.valid[0] <= a.default <= a.valid[1]


@pytest.mark.parametrize("calculator", AIR, ids=lambda c: c.name)
@given(st.data())
def test_any_valid_values_give_numbers_or_a_clear_error(calculator: Calculator, data: st.DataObject) -> None:
    numbers_or_a_clear_error(calculator, data)


# -- humidity ------------------------------------------------------------------


def test_a_cook_line_and_a_cooler() -> None:
    assert dew_point(f(86.0), 0.45) == pytest.approx(f(62.2), abs=0.1)
    assert relative_humidity_from_wet_bulb(f(75.2), f(64.4)) == pytest.approx(0.56, abs=0.005)
    assert moist_air_density(f(70.0), 0.01) == pytest.approx(to_si(0.075, "lb_per_ft3"), rel=2e-3)
    # 5000 ft: a sixth less air in each cubic foot.
    assert dry_air_density(f(70.0), 0.5, 84_310.0) / dry_air_density(f(70.0), 0.5) == pytest.approx(0.832, abs=0.003)


def test_saturation_is_one_curve_through_the_triple_point() -> None:
    assert saturation(273.16 - 1e-9) == pytest.approx(saturation(273.16), rel=1e-7)
    assert water_vapor_pressure(273.16) == pytest.approx(611.657, rel=1e-5)


@given(TEMPERATURES, RATIOS)
def test_dew_point_and_back(t: float, ratio: float) -> None:
    dew = dew_point(t, ratio)
    assert dew <= t + 1e-9
    assert relative_humidity_from_dew_point(t, dew) == pytest.approx(ratio, rel=1e-8)


@given(TEMPERATURES, RATIOS, PRESSURES)
def test_wet_bulb_lies_between_dew_point_and_dry_bulb_and_leads_back(t: float, ratio: float, p: float) -> None:
    wet = wet_bulb(t, ratio, p)
    assert dew_point(t, ratio) - 1e-6 <= wet <= t + 1e-6
    assume(wet >= 273.15)
    assert relative_humidity_from_wet_bulb(t, wet, p) == pytest.approx(ratio, rel=1e-6, abs=1e-7)


@given(TEMPERATURES, RATIOS, PRESSURES, st.floats(0.1, 30.0))
def test_cooling_air_without_condensation_keeps_its_water(t: float, ratio: float, p: float, by: float) -> None:
    dew = dew_point(t, ratio)
    assume(t - by > max(dew, 233.15))
    colder = saturation(dew) / saturation(t - by)
    assert humidity_ratio(t - by, min(1.0, colder), p) == pytest.approx(humidity_ratio(t, ratio, p), rel=1e-6)
    assert moist_air_enthalpy(t - by, min(1.0, colder), p) < moist_air_enthalpy(t, ratio, p)


@given(TEMPERATURES, RATIOS, PRESSURES)
def test_density_of_moist_air_is_dry_air_and_its_water(t: float, ratio: float, p: float) -> None:
    with_water = dry_air_density(t, ratio, p) * (1.0 + humidity_ratio(t, ratio, p))
    assert moist_air_density(t, ratio, p) == pytest.approx(with_water, rel=1e-12)


def test_two_thermometers_may_cross_a_little() -> None:
    assert relative_humidity_from_dew_point(f(70.0), f(71.0)) == 1.0
    assert relative_humidity_from_wet_bulb(f(70.0), f(71.0)) == 1.0


@pytest.mark.parametrize(
    ("asked", "given_", "told"),
    [
        ("relative_humidity_from_dew_point", {"dry_bulb": "70 degF", "dew_point": "75 degF"}, "dew point 75 degF is a"),
        (WET, {"dry_bulb": "70 degF", "wet_bulb": "75 degF"}, "wet bulb 75 degF is above the dry bulb 70 degF"),
        (WET, {"dry_bulb": "110 degF", "wet_bulb": "40 degF"}, "shows a wet bulb as low as 40 degF"),
        (WET, {"dry_bulb": "30 degF", "wet_bulb": "28 degF"}, "32 degF to 140 degF"),
        ("dew_point", {"dry_bulb": "75 degF", "relative_humidity": "120 %"}, "1 % to 100 %"),
        ("dew_point", {"dry_bulb": "75 degF", "relative_humidity": "0 %"}, "1 % to 100 %"),
        ("dew_point", {"dry_bulb": "300 degF", "relative_humidity": "50 %"}, "-40 degF to 140 degF"),
        ("wet_bulb", {"dry_bulb": "75 degF", "relative_humidity": "50 %", "atmosphere": "20 psia"}, "'atmosphere'"),
        ("outside_surface_temperature", {
            "room": "75 degF", "box": "36 degF", "u_value": "1.4 Btu_per_h_ft2_degF", "film": "1.2 Btu_per_h_ft2_degF",
        }, "u_value 1.4 .* is not below the film coefficient 1.2"),
        ("sweating_humidity", {
            "room": "36 degF", "box": "75 degF", "u_value": "0.4 Btu_per_h_ft2_degF",
        }, "box 75 degF is warmer than the room"),
        ("airflow", {
            "capacity": "6000 Btu_per_h", "temperature_difference": "0 delta_degF", "entering": "36 degF",
        }, "0.9 delta_degF to 144 delta_degF"),
        ("coil_total_capacity", {
            "airflow": "600 cfm", "air_in": "28 degF", "humidity_in": "95 %", "air_out": "36 degF",
            "humidity_out": "85 %",
        }, "air_out 36 degF is not below air_in 28 degF"),
        ("coil_total_capacity", {
            "airflow": "600 cfm", "air_in": "75 degF", "humidity_in": "20 %", "air_out": "65 degF",
            "humidity_out": "90 %",
        }, "leaving air holds more water"),
        ("coil_sensible_capacity", {
            "airflow": "600 cfm", "air_in": "28 degF", "humidity_in": "95 %", "air_out": "36 degF",
        }, "air_out 36 degF is not below"),
    ],
)
def test_bad_input_names_itself_and_what_belongs_there(asked: str, given_: dict[str, str], told: str) -> None:
    with pytest.raises(InputError, match=told):
        ask(BY_NAME[asked], given_)


def test_plain_functions_refuse_impossible_air() -> None:
    with pytest.raises(InputError, match="relative humidity is 150 %"):
        humidity_ratio(297.0, 1.5)
    with pytest.raises(InputError, match="cannot hold vapor"):
        humidity_ratio(333.0, 1.0, 15e3)
    with pytest.raises(InputError, match="no saturation pressure"):
        water_vapor_pressure(100.0)


# -- sweat ---------------------------------------------------------------------


def test_a_glass_door_sweats_on_a_humid_day_only() -> None:
    door = (f(75.0), f(36.0), to_si(0.45, "Btu_per_h_ft2_degF"))
    assert outside_surface_temperature(*door) == pytest.approx(f(63.0), abs=0.1)
    assert sweating_surface(*door, 0.55).verdict == "dry"
    assert sweating_surface(*door, 0.70).verdict == "sweats"
    assert sweating_surface(f(40.0), f(-10.0), 3.0, 0.9).verdict == "frosts"


def test_a_verdict_near_the_dew_point_is_too_close_to_call() -> None:
    figures = ask(BY_NAME["sweating_surface"], {
        "room": "75 degF ± 1 delta_degF", "box": "36 degF ± 1 delta_degF", "u_value": "0.45 Btu_per_h_ft2_degF",
        "relative_humidity": "66 % ± 3 points",
    })
    assert {figures["verdict"].value, *figures["verdict"].others} == {"dry", "sweats"}


@given(st.floats(275.0, 320.0), st.floats(1.0, 60.0), st.floats(0.05, 5.0), st.floats(5.5, 40.0))
def test_sweating_begins_where_the_surface_has_the_dew_point(room: float, colder: float, u: float, film: float) -> None:
    box = room - colder
    assume(box >= 233.15)
    at = sweating_humidity(room, box, u, film)
    assume(at >= 0.01)
    assert isclose(sweat_margin(room, box, u, at, film), 0.0, abs_tol=1e-6)
    surface = outside_surface_temperature(room, box, u, film)
    assert isclose(surface_dew_point_margin(surface, room, at), 0.0, abs_tol=1e-6)


# -- airflow and coils ------------------------------------------------------------


@given(st.floats(10.0, 1e5), st.floats(1.0, 40.0), TEMPERATURES, RATIOS, PRESSURES)
def test_capacity_airflow_and_split_agree(watts: float, split: float, t: float, ratio: float, p: float) -> None:
    flow = airflow(watts, split, t, ratio, p)
    assert sensible_capacity(flow, split, t, ratio, p) == pytest.approx(watts, rel=1e-12)
    assert air_temperature_split(watts, flow, t, ratio, p) == pytest.approx(split, rel=1e-12)
    assert airflow(2.0 * watts, 2.0 * split, t, ratio, p) == pytest.approx(flow, rel=1e-12)


@given(st.floats(260.0, 320.0), RATIOS, st.floats(0.5, 20.0), RATIOS, st.floats(0.01, 50.0), PRESSURES)
def test_a_coil_adds_up(t: float, ratio: float, by: float, ratio_out: float, flow: float, p: float) -> None:
    try:
        coil = coil_capacity(flow, t, ratio, t - by, ratio_out, p)
    except InputError:
        assume(condition=False)
        raise
    state = (t, ratio, t - by, ratio_out, p)
    assert coil.total == pytest.approx(coil.sensible + coil.latent, rel=1e-12)
    assert coil.latent >= 0.0
    assert 0.0 < coil.sensible_heat_ratio <= 1.0
    assert coil_total_capacity(flow, *state) == coil.total
    assert coil_sensible_capacity(flow, t, ratio, t - by, p) == pytest.approx(coil.sensible, rel=1e-12)
    assert coil_sensible_heat_ratio(*state) == pytest.approx(coil.sensible_heat_ratio, rel=1e-12)
    assert coil_moisture_removed(flow, *state) == coil.water
    # What condenses gives up the heat of vaporizing, and 335 kJ/kg more where it freezes.
    assume(coil.water > 1e-9)
    assert 2.3e6 < coil.latent / coil.water < 2.9e6
    assert (coil.latent / coil.water > 2.7e6) == (t - by < 273.15)


def test_a_dry_coil_is_all_sensible_though_the_hygrometers_differ_a_little() -> None:
    coil = coil_capacity(0.3, f(36.0), 0.60, f(35.0), 0.63)
    assert (coil.water, coil.sensible_heat_ratio) == (0.0, 1.0)
