"""Charge balance, cylinders, receivers and pipes: what the trade expects, bad input, and properties."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from faultkit.calculators import Calculator
from faultkit.calculators.arguments import Rows
from faultkit.calculators.ask import ask
from faultkit.calculators.charge import CHARGE
from faultkit.calculators.charge.balance import charge_balance, charge_lost, hose_liquid, vapor_mass
from faultkit.calculators.charge.cylinder import (
    cylinder_fill,
    liquid_full_temperature,
    recovery_cylinder,
    recovery_cylinder_limit,
)
from faultkit.calculators.charge.lines import BORES, liquid_line_charge, tube_bore, tube_name, vapor_line_charge
from faultkit.calculators.charge.receiver import (
    condenser_flooded_share,
    pump_down,
    receiver_capacity,
    receiver_fill,
    winter_charge,
    winter_charge_check,
)
from faultkit.calculators.refrigerants import REFRIGERANT
from faultkit.problems import InputError
from faultkit.units import to_si
from tests.calculators.directions import declared, moves_as_declared

BY_NAME = {c.name: c for c in CHARGE}
COMMON = tuple(n for n in REFRIGERANT.choices if n != "R-744")
#: Values most of which go together; the rest of the valid range is drawn from too.
NARROW = {
    "pressure": (1e4, 4e5), "temperature": (260.0, 330.0), "later_temperature": (260.0, 330.0),
    "ambient": (230.0, 290.0), "condensing_temperature": (295.0, 325.0), "contents": (12.0, 18.0),
    "water_capacity": (15.0, 20.0), "gross_weight": (15.0, 40.0), "tare_weight": (5.0, 15.0),
    "volume": (1e-3, 0.1), "length": (1.0, 50.0), "days": (86400.0, 4e7), "charge": (0.1, 20.0),
}


def lb(pounds: float) -> float:
    return to_si(pounds, "lb")


def f(degrees: float) -> float:
    return to_si(degrees, "degF")


@st.composite
def additions(draw: st.DrawFn) -> Rows:
    steps = draw(st.lists(st.tuples(st.floats(1.0, 300.0), st.floats(0.0, 5.0)), min_size=1, max_size=6))
    at, rows = 0.0, []
    for days, kg in steps:
        at += days * 86_400.0
        rows.append((at, kg))
    return tuple(rows)


@pytest.mark.parametrize(("calculator", "argument"), declared(CHARGE), ids=lambda v: getattr(v, "name", v))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(data=st.data())
def test_every_declared_direction_holds(calculator: Calculator, argument: str, data: st.DataObject) -> None:
    moves_as_declared(calculator, argument, data, NARROW, {"additions": additions()})


@pytest.mark.parametrize("calculator", CHARGE, ids=lambda c: c.name)
def test_every_example_runs_and_names_its_source(calculator: Calculator) -> None:
    answer = ask(calculator, dict(calculator.example))
    assert answer.figures
    assert calculator.source
    assert ">>>" in (calculator.function.__doc__ or "")


def test_scale_accuracy_goes_through_the_balance() -> None:
    answer = ask(BY_NAME["charge_lost"], {"nameplate": "12 lb", "recovered": "7.5 lb ± 0.1 lb"})
    low, high = answer.figures[0].low, answer.figures[0].high
    assert (low, high) == pytest.approx((lb(4.4), lb(4.6)))


@pytest.mark.parametrize(
    ("recovered", "verdict"),
    [(7.5, "short of refrigerant"), (12.0, "as the nameplate says"), (11.4, "as the nameplate says"),
     (11.39, "short of refrigerant"), (14.0, "more than the nameplate")],
)
def test_balance_in_words(recovered: float, verdict: str) -> None:
    assert charge_balance(12.0, recovered, 0.0, 0.0, 0.05).verdict == verdict


def test_a_scale_that_cannot_tell_says_so() -> None:
    answer = ask(BY_NAME["charge_balance"], {"nameplate": "2 lb", "recovered": "1.87 lb ± 0.06 lb"})
    assert answer["verdict"].others == ("as the nameplate says",)


def test_refrigerant_added_since_then_was_lost_too() -> None:
    assert charge_lost(12.0, 9.0, 0.5, 4.0) == 6.5


@given(
    name=st.sampled_from(("R-134a", "R-22", "R-290", "R-404A")), v=st.floats(1e-3, 0.1), t=st.floats(270.0, 330.0),
    times=st.floats(1.1, 4.0),
)
@settings(max_examples=30, deadline=None)
def test_vapor_is_nearly_an_ideal_gas_at_low_pressure(name: str, v: float, t: float, times: float) -> None:
    one = vapor_mass(v, 5000.0, t, name)
    assert isclose(vapor_mass(v * times, 5000.0, t, name), one * times, rel_tol=1e-9)
    assert isclose(vapor_mass(v, 5000.0 * times, t, name), one * times, rel_tol=0.01)


def test_liquid_is_no_vapor() -> None:
    with pytest.raises(InputError, match="not all vapor"):
        vapor_mass(0.01, to_si(150.0, "psia"), f(60.0), "R-134a")


def test_a_hose_is_a_short_pipe() -> None:
    bore = tube_bore("3/8", "drawn")
    assert hose_liquid(bore, 10.0, f(80.0), "R-22") == liquid_line_charge("3/8", 10.0, f(80.0), "R-22", "drawn")


# -- recovery cylinders ---------------------------------------------------------


@pytest.mark.parametrize("name", COMMON)
def test_a_cylinder_filled_to_the_limit_is_not_liquid_full_in_a_hot_truck(name: str) -> None:
    limit = recovery_cylinder_limit(20.0, name, 0.8)
    assert cylinder_fill(limit, 20.0, f(131.0), name) < 1.0


@pytest.mark.parametrize("name", ["R-290", "R-600a"])
def test_light_refrigerants_get_less_than_the_old_rule(name: str) -> None:
    assert recovery_cylinder_limit(20.0, name, 0.8) < 0.5 * 20.0


def test_more_than_eighty_percent_is_refused() -> None:
    with pytest.raises(InputError, match=r"'fill' of 'recovery_cylinder_limit' is 90 %") as fault:
        ask(BY_NAME["recovery_cylinder_limit"], {"water_capacity": "50 lb", "refrigerant": "R-22", "fill": "90 %"})
    assert "10 % to 80 %" in str(fault.value)


def test_carbon_dioxide_has_no_place_in_a_common_cylinder() -> None:
    with pytest.raises(InputError, match="R-744 is no liquid at 131 degF"):
        recovery_cylinder_limit(20.0, "R-744", 0.8)


def test_a_scale_below_the_tare_is_refused() -> None:
    with pytest.raises(InputError, match=r"below the tare 26\.5 lb"):
        recovery_cylinder(lb(20.0), lb(26.5), lb(47.7), "R-22", f(70.0), 0.8)


@pytest.mark.parametrize(
    ("pounds", "at", "verdict"),
    [(30.0, 70.0, "room left"), (40.5, 70.0, "over the limit"),
     (42.5, 70.0, "over the limit, liquid-full at 131 degF"), (46.0, 110.0, "liquid-full now")],
)
def test_cylinder_in_words(pounds: float, at: float, verdict: str) -> None:
    found = recovery_cylinder(lb(pounds + 26.6), lb(26.6), lb(47.7), "R-404A", f(at), 0.8)
    assert found.verdict == verdict
    assert found.room == pytest.approx(found.limit - found.contents)


@given(name=st.sampled_from(COMMON), t=st.floats(260.0, 325.0))
def test_liquid_full_temperature_is_where_the_fill_is_one(name: str, t: float) -> None:
    whole = 20.0
    contents = whole / cylinder_fill(1.0, 1.0, t, name)  # a first guess, then the exact one
    for _ in range(60):
        contents /= cylinder_fill(contents, whole, t, name)
    assert liquid_full_temperature(contents, whole, name) == pytest.approx(t, abs=1e-3)


def test_an_empty_cylinder_is_never_liquid_full() -> None:
    with pytest.raises(InputError, match="not liquid-full between"):
        liquid_full_temperature(1.0, 20.0, "R-22")
    assert recovery_cylinder(6.0, 5.0, 20.0, "R-22", 294.0, 0.8).liquid_full_at is None


# -- receivers and winter --------------------------------------------------------


def test_pump_down_at_the_limit_fits() -> None:
    capacity = receiver_capacity(0.02, "R-22", 0.9, f(90.0))
    assert pump_down(capacity, 0.02, "R-22", 0.9, f(90.0)).verdict == "fits"
    assert pump_down(capacity * 1.001, 0.02, "R-22", 0.9, f(90.0)).verdict == "does not fit"


@given(name=st.sampled_from(COMMON), share=st.floats(0.0, 1.0), t=st.floats(260.0, 320.0))
def test_receiver_fill_gives_back_the_share(name: str, share: float, t: float) -> None:
    from faultkit.calculators.refrigerants import refrigerant

    fluid = refrigerant(name)
    contents = 0.03 * (share * fluid.liquid_density(t) + (1.0 - share) * fluid.vapor_density(t))
    assert receiver_fill(contents, 0.03, t, name) == pytest.approx(share, abs=1e-9)


def test_vapor_alone_shows_no_level() -> None:
    assert receiver_fill(0.001, 1.0, f(80.0), "R-22") == 0.0


def test_carbon_dioxide_has_no_liquid_at_ninety_degrees() -> None:
    with pytest.raises(InputError, match="R-744 at 90 degF"):
        receiver_capacity(0.02, "R-744", 0.9, f(90.0))


def test_warm_air_floods_nothing() -> None:
    assert condenser_flooded_share(f(90.0), f(75.0), 11.1, 1.0) == 0.0
    assert winter_charge(0.004, f(90.0), f(75.0), 11.1, "R-22", 1.0) == 0.0


def test_air_warmer_than_the_condenser_is_refused() -> None:
    with pytest.raises(InputError, match="condensing_temperature 80 degF is not above the air 95 degF"):
        condenser_flooded_share(f(80.0), f(95.0), 11.1, 1.0)


@pytest.mark.parametrize(
    ("summer", "verdict"), [(10.0, "fits"), (20.0, "too close to call"), (30.0, "does not fit")]
)
def test_winter_charge_in_words(summer: float, verdict: str) -> None:
    found = winter_charge_check(lb(summer), 0.0042475, f(90.0), f(0.0), 20.0 / 1.8, 0.014158, "R-404A", 1.0)
    assert found.verdict == verdict
    assert found.total == pytest.approx(lb(summer) + found.added)


# -- pipes -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "name"),
    [("1-1/8", "1 1/8"), ("1 1/8 in", "1 1/8"), ('3/8"', "3/8"), ("7/8 inch", "7/8"), ("5/8 OD", "5/8")],
)
def test_spellings_of_a_tube(text: str, name: str) -> None:
    assert tube_name(text) == name


@pytest.mark.parametrize("text", ["9/16", "0.5", "", "half"])
def test_unknown_tubes_are_refused(text: str) -> None:
    with pytest.raises(InputError, match="'tube' is"):
        tube_name(text)


def test_walls_are_thinner_than_the_tube() -> None:
    for name, bores in BORES.items():
        whole, _, part = name.rpartition(" ")
        top, bottom = (int(n) for n in part.split("/"))
        outside = int(whole or 0) + top / bottom
        assert all(0.0 < (outside - bore) / 2.0 < 0.14 for bore in bores)
        assert all((outside - bore) / 2.0 > 0.028 for bore in bores)


@given(name=st.sampled_from(("R-404A", "R-134a", "R-22", "R-290")), meters=st.floats(1.0, 100.0))
@settings(max_examples=20, deadline=None)
def test_a_pipe_twice_as_long_holds_twice_as_much(name: str, meters: float) -> None:
    one, two = (liquid_line_charge("1/2", n * meters, 300.0, name, "drawn") for n in (1, 2))
    assert two == pytest.approx(2.0 * one)
    assert vapor_line_charge("1/2", meters, 1e5, 300.0, name, "drawn") < 0.05 * one
