"""The built-in arithmetic: values, kinds, bounds."""

from __future__ import annotations

import doctest
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators import BASIC, Argument, Calculator, CalculatorRegistry, basic, declare
from faultkit.problems import InputError
from faultkit.units import Kind, parse_quantity, to_si

REGISTRY = CalculatorRegistry(BASIC)
BY_NAME = pytest.mark.parametrize("calculator", BASIC, ids=lambda c: c.name)


@pytest.mark.parametrize("module", [basic, declare])
def test_examples_in_docstrings_hold(module: object) -> None:
    outcome = doctest.testmod(module)  # type: ignore[arg-type]
    assert outcome.attempted > 0
    assert outcome.failed == 0


@BY_NAME
def test_each_calculator_has_a_source_a_worked_example_and_titles(calculator: Calculator) -> None:
    assert calculator.source
    assert ">>> " in (calculator.function.__doc__ or "")
    assert all(a.title for a in calculator.arguments)
    assert calculator.title == (calculator.function.__doc__ or "").splitlines()[0]


def test_difference_of_two_temperatures_is_a_temperature_difference() -> None:
    kind = REGISTRY["difference"].result_kind({"a": Kind.TEMPERATURE, "b": Kind.TEMPERATURE})
    assert kind is Kind.TEMPERATURE_DIFFERENCE
    warm, cold = parse_quantity("110 degF"), parse_quantity("95 degF")
    low, high = REGISTRY["difference"].evaluate({"a": (warm.value,) * 2, "b": (cold.value,) * 2})
    assert low == high
    # Temperatures are kept to the nanokelvin.
    assert low == pytest.approx(parse_quantity("15 delta_degF").value, abs=1.01e-9)


@pytest.mark.parametrize("kind", [Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE, Kind.PRESSURE_DIFFERENCE])
def test_difference_of_two_pressures_is_a_pressure_difference(kind: Kind) -> None:
    assert REGISTRY["difference"].result_kind({"a": kind, "b": kind}) is Kind.PRESSURE_DIFFERENCE


def test_difference_of_two_currents_is_a_current() -> None:
    assert REGISTRY["difference"].result_kind({"a": Kind.CURRENT, "b": Kind.CURRENT}) is Kind.CURRENT


@BY_NAME
def test_kinds_do_not_mix(calculator: Calculator) -> None:
    first, second = (a.name for a in calculator.arguments)
    with pytest.raises(InputError, match="differ in kind"):
        calculator.result_kind({first: Kind.VOLTAGE, second: Kind.CURRENT})


@pytest.mark.parametrize("name", ["sum", "percent_of", "percent_deviation"])
@pytest.mark.parametrize("kind", [Kind.TEMPERATURE, Kind.GAUGE_PRESSURE])
def test_no_sum_or_percentage_of_what_has_no_true_zero(name: str, kind: Kind) -> None:
    with pytest.raises(InputError, match=f"is a {kind.words}") as caught:
        REGISTRY[name].result_kind({a.name: kind for a in REGISTRY[name].arguments})
    assert len(caught.value.problems) == 2


def test_sum_keeps_the_kind_and_refuses_absolute_pressures() -> None:
    assert REGISTRY["sum"].result_kind({"a": Kind.POWER, "b": Kind.POWER}) is Kind.POWER
    with pytest.raises(InputError, match="absolute pressure"):
        REGISTRY["sum"].result_kind({"a": Kind.ABSOLUTE_PRESSURE, "b": Kind.ABSOLUTE_PRESSURE})


def test_percentages_are_ratios_in_the_units_own_measure() -> None:
    assert REGISTRY["percent_of"].result_kind({"part": Kind.CURRENT, "whole": Kind.CURRENT}) is Kind.RATIO
    low, high = REGISTRY["percent_of"].evaluate({"part": (187.2, 187.2), "whole": (208.0, 208.0)})
    assert low == high == pytest.approx(to_si(90.0, "%"), rel=1e-15)
    low, _ = REGISTRY["percent_deviation"].evaluate({"value": (187.2, 187.2), "reference": (208.0, 208.0)})
    assert low == pytest.approx(to_si(-10.0, "%"), rel=1e-12)


@pytest.mark.parametrize(("name", "divisor"), [("percent_of", "whole"), ("percent_deviation", "reference")])
@pytest.mark.parametrize("interval", [(0.0, 0.0), (-1.0, 1.0), (0.0, 2.0), (-2.0, 0.0)])
def test_a_divisor_that_may_be_zero_is_named(name: str, divisor: str, interval: tuple[float, float]) -> None:
    other = next(a.name for a in REGISTRY[name].arguments if a.name != divisor)
    with pytest.raises(InputError, match=f"'{divisor}' of '{name}'.*may be zero"):
        REGISTRY[name].evaluate({other: (1.0, 1.0), divisor: interval})


NUMBERS = st.integers(-10_000, 10_000).map(lambda n: n / 8)


@BY_NAME
@given(st.data())
def test_bounds_hold_every_value_between_and_are_reached(calculator: Calculator, data: st.DataObject) -> None:
    intervals, inside = {}, {}
    for argument in calculator.arguments:
        ends = st.tuples(NUMBERS, NUMBERS).map(sorted).map(tuple)
        assert isinstance(argument, Argument)
        if argument.not_zero:
            ends = ends.filter(lambda e: not e[0] <= 0.0 <= e[1])
        low, high = data.draw(ends)
        intervals[argument.name] = (low, high)
        share = data.draw(st.fractions(0, 1))
        inside[argument.name] = (1 - share) * Fraction(low) + share * Fraction(high)
    low, high = calculator.evaluate(intervals)
    value = calculator.function(**inside)
    slack = 1e-12 * max(1.0, abs(low), abs(high))
    assert low - slack <= value <= high + slack
    corners = [
        calculator.function(**dict(zip(intervals, (x, y), strict=True)))
        for x in next(iter(intervals.values())) for y in list(intervals.values())[1]
    ]
    assert (low, high) == (min(corners), max(corners))
