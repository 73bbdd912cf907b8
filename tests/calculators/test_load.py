"""Doors, product, boxes, cooling: directions, examples, bad input, and what has to hold."""

from __future__ import annotations

import inspect

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from faultkit.calculators import Argument, Calculator, Log
from faultkit.calculators.ask import ask
from faultkit.calculators.load import LOAD
from faultkit.calculators.load.box import box_load, expected_run_fraction, needed_capacity, wall_gain
from faultkit.calculators.load.cooling import (
    pull_down_rate,
    pull_down_time,
    temperature_after,
    time_constant_of_two_readings,
    warm_up_time,
)
from faultkit.calculators.load.infiltration import door_infiltration, door_moisture, open_door_flow
from faultkit.calculators.load.product import chilling_heat, freezing_heat, product_heat, product_load
from faultkit.problems import InputError
from faultkit.units import to_si
from tests.calculators.directions import declared, moves_as_declared
from tests.calculators.soundness import numbers_or_a_clear_error

BY_NAME = {c.name: c for c in LOAD}
#: Values most of which go together; the rest of the valid range is drawn from too.
NARROW = {
    "warm_air": (294.0, 320.0), "cold_air": (240.0, 285.0), "entering": (290.0, 340.0), "final": (225.0, 265.0),
    "freezing_point": (266.0, 273.0), "passages": (0.0, 30.0), "time_each": (1.0, 30.0), "standing_open": (0.0, 600.0),
    "period": (3000.0, 1e5), "first": (320.0, 370.0), "second": (290.0, 315.0), "settles_at": (230.0, 285.0),
    "start": (320.0, 370.0), "set_point": (290.0, 315.0),
}
WARMING = {"start": (250.0, 270.0), "limit": (272.0, 285.0), "room": (288.0, 310.0)}


def f(degrees: float) -> float:
    return to_si(degrees, "degF")


@pytest.mark.parametrize(("calculator", "name"), declared(LOAD), ids=lambda x: getattr(x, "name", x))
@given(st.data())
def test_moves_as_declared(calculator: Calculator, name: str, data: st.DataObject) -> None:
    narrow = WARMING if calculator.name == "warm_up_time" else NARROW
    moves_as_declared(calculator, name, data, narrow, {})


@pytest.mark.parametrize("calculator", LOAD, ids=lambda c: c.name)
def test_example_source_and_defaults(calculator: Calculator) -> None:
    assert calculator.source
    assert calculator.example
    assert ask(calculator, calculator.example).figures
    taken = inspect.signature(calculator.function).parameters
    for a in calculator.arguments:
        if isinstance(a, Argument):
            default = taken[a.name].default
            assert a.default == (None if default is inspect.Parameter.empty else default)
            assert a.default is None or a.valid[0] <= a.default <= a.valid[1]


QUANTITIES = [c for c in LOAD if not any(isinstance(a, Log) for a in c.arguments)]


@pytest.mark.parametrize("calculator", QUANTITIES, ids=lambda c: c.name)
@given(st.data())
def test_any_valid_values_give_numbers_or_a_clear_error(calculator: Calculator, data: st.DataObject) -> None:
    numbers_or_a_clear_error(calculator, data)


# -- doors ---------------------------------------------------------------------

COOLER = (1.858, 2.033, f(80.0), 0.5, f(35.0), 0.9)
FREEZER = (1.858, 2.033, f(80.0), 0.5, f(0.0), 0.8)


def test_a_door_left_open() -> None:
    """A freezer's door lets in more than twice what a cooler's does; strips keep nine tenths of it out."""
    cooler = door_infiltration(*COOLER, open_time=1.0, flow_factor=1.0)
    freezer = door_infiltration(*FREEZER, open_time=1.0, flow_factor=1.0)
    assert cooler == pytest.approx(to_si(100_000.0, "Btu_per_h"), rel=0.02)
    assert freezer == pytest.approx(to_si(230_000.0, "Btu_per_h"), rel=0.02)
    assert door_infiltration(*FREEZER, 1.0, 1.0, 0.9) == pytest.approx(freezer / 10.0)
    assert door_moisture(*FREEZER, 1.0, 1.0) > door_moisture(*COOLER, 1.0, 1.0)


@given(st.floats(0.1, 10.0), st.floats(0.5, 4.0), st.floats(285.0, 315.0), st.floats(245.0, 280.0), st.floats(1.1, 5.0))
def test_a_door_scales(area: float, height: float, warm: float, cold: float, more: float) -> None:
    flow = open_door_flow(area, height, warm, 0.5, cold, 0.8)
    assert open_door_flow(area * more, height, warm, 0.5, cold, 0.8) == pytest.approx(flow * more, rel=1e-12)
    assert open_door_flow(area, height * more, warm, 0.5, cold, 0.8) == pytest.approx(flow * more**0.5, rel=1e-12)


# -- product ----------------------------------------------------------------------


def test_freezing_takes_most_of_the_heat() -> None:
    beef = (45.36, f(40.0), f(0.0), 0.75, f(31.0))
    assert product_heat(*beef) == pytest.approx(to_si(12_830.0, "Btu"), rel=0.01)
    assert product_load(*beef[:4], 86_400.0, beef[4]) == pytest.approx(product_heat(*beef) / 86_400.0)
    chilled = product_heat(45.36, f(40.0), f(34.0), 0.75, f(31.0))
    assert chilled == pytest.approx(chilling_heat(45.36, f(40.0), f(34.0), 3352.5), rel=1e-9)


@given(st.floats(275.0, 330.0), st.floats(240.0, 266.0), st.floats(0.0, 1.0), st.floats(267.0, 273.0))
def test_water_content_gives_the_three_values_that_freezing_takes(
    entering: float, final: float, water: float, freezes: float
) -> None:
    named = freezing_heat(
        1.0, entering, final, freezes, 4190.0 * water + 840.0 * (1.0 - water), 2100.0 * water + 840.0 * (1.0 - water),
        335_000.0 * water,
    )
    assert product_heat(1.0, entering, final, water, freezes) == pytest.approx(named, rel=1e-12)


@given(st.floats(250.0, 330.0), st.floats(0.1, 40.0), st.floats(0.1, 40.0), st.floats(0.0, 1.0))
def test_two_steps_take_as_much_as_one(entering: float, by: float, more: float, water: float) -> None:
    middle, final = entering - by, entering - by - more
    whole = product_heat(1.0, entering, final, water)
    assert product_heat(1.0, entering, middle, water) + product_heat(1.0, middle, final, water) == pytest.approx(
        whole, rel=1e-9, abs=1e-6
    )


# -- box -----------------------------------------------------------------------------


@given(st.lists(st.floats(0.0, 1e5), min_size=7, max_size=7), st.floats(3600.0, 86_400.0), st.floats(0.0, 0.5))
def test_a_box_adds_up(parts: list[float], run: float, safety: float) -> None:
    assume(sum(parts) > 1.0)
    names = ("walls", "infiltration", "product", "lights", "motors", "people", "other")
    found = box_load(**dict(zip(names, parts, strict=True)), run_time=run, safety=safety)
    assert found.load == pytest.approx(sum(parts))
    assert found.needed_capacity == pytest.approx(needed_capacity(found.load, run, safety))
    assert 1.0 / 7.0 - 1e-9 <= found.share <= 1.0
    # With that capacity and no safety it runs just the hours it may.
    exact = needed_capacity(found.load, run, 0.0)
    assert expected_run_fraction(found.load, exact) == pytest.approx(run / 86_400.0)


def test_wall_gain_turns_with_the_temperatures() -> None:
    assert wall_gain(10.0, 0.3, 300.0, 275.0) == -wall_gain(10.0, 0.3, 275.0, 300.0) == pytest.approx(75.0)


# -- cooling ---------------------------------------------------------------------------


@given(st.floats(280.0, 330.0), st.floats(240.0, 270.0), st.floats(0.05, 0.95), st.floats(60.0, 1e6))
def test_time_and_temperature_lead_back(start: float, settles: float, share: float, tau: float) -> None:
    goal = settles + share * (start - settles)
    t = pull_down_time(start, goal, settles, tau)
    assert temperature_after(start, settles, tau, t) == pytest.approx(goal, abs=1e-6)
    assert time_constant_of_two_readings(start, goal, settles, t) == pytest.approx(tau, rel=1e-6)
    assert pull_down_rate(start, goal, t) > 0.0


@given(st.floats(250.0, 280.0), st.floats(0.5, 10.0), st.floats(0.5, 30.0), st.floats(60.0, 1e6))
def test_warm_up_leads_back(start: float, rise: float, beyond: float, tau: float) -> None:
    limit, room = start + rise, start + rise + beyond
    assert temperature_after(start, room, tau, warm_up_time(start, limit, room, tau)) == pytest.approx(limit, abs=1e-6)


def test_warm_product_has_no_time_left() -> None:
    assert warm_up_time(f(45.0), f(41.0), f(75.0), 36_000.0) == 0.0
    assert warm_up_time(f(45.0), f(41.0), f(38.0), 36_000.0) == 0.0


@pytest.mark.parametrize(
    ("asked", "changed", "told"),
    [
        ("open_door_flow", {"warm_air": "35 degF", "cold_air": "80 degF"}, "warm_air 35 degF is no lighter"),
        ("door_infiltration", {"open_time": "120 %"}, "'open_time' of 'door_infiltration' is 120 %"),
        ("door_infiltration", {
            "warm_air": "60 degF", "warm_humidity": "10 %", "cold_air": "55 degF", "cold_humidity": "100 %",
        }, "brings no heat into 55 degF"),
        ("door_open_time_factor", {"passages": "3000 count"}, "are longer than 8 h"),
        ("chilling_heat", {"final": "75 degF"}, "final 75 degF is not below entering 70 degF"),
        ("freezing_heat", {"entering": "20 degF"}, "freezing_point 28.9 degF is not between 0 degF and 20 degF"),
        ("product_heat", {"water_content": "130 %"}, "0 % to 100 %"),
        ("product_heat", {"final": "50 degF"}, "final 50 degF is not below entering"),
        ("needed_capacity", {"run_time": "30 h"}, "1 h to 24 h"),
        ("evaporator_capacity_at_td", {"td": "0 delta_degF"}, "'td'"),
        ("pull_down_time", {"set_point": "35 degF", "settles_at": "36 degF"}, "set_point 35 degF is not between"),
        ("pull_down_time", {"set_point": "75 degF"}, "set_point 75 degF is not between"),
        ("time_constant_of_two_readings", {"second": "72 degF"}, "do not come nearer to 35 degF"),
        ("time_constant_of_two_readings", {"second": "30 degF"}, "do not come nearer to 35 degF"),
        ("warm_up_time", {"room": "40 degF"}, "limit 41 degF is not below the room 40 degF"),
        ("pull_down_rate", {"elapsed": "0 min"}, "'elapsed'"),
    ],
)
def test_bad_input_names_itself_and_what_belongs_there(asked: str, changed: dict[str, str], told: str) -> None:
    calculator = BY_NAME[asked]
    with pytest.raises(InputError, match=told):
        ask(calculator, {**calculator.example, **changed})


def test_an_empty_box_is_no_load() -> None:
    with pytest.raises(InputError, match="all parts of the load are zero"):
        box_load()
