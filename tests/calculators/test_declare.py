"""Declaring a calculator and carrying bounds through it."""

from __future__ import annotations

from typing import Any

import pytest

from faultkit.calculators import Argument, Calculator, DifferenceOf, Direction
from faultkit.problems import InputError
from faultkit.units import Kind


def heat(current: float, resistance: float) -> float:
    """Heat of a wire: I² R."""
    return current * current * resistance


CURRENT = Argument("current", (Kind.CURRENT,), Direction.RISING, valid=(0.0, 100.0))
RESISTANCE = Argument("resistance", (Kind.RESISTANCE,), Direction.RISING)


def declared(**changes: object) -> Calculator:
    parts: dict[str, Any] = {
        "name": "heat", "function": heat, "arguments": (CURRENT, RESISTANCE), "result": Kind.POWER,
        "source": "Joule's law",
    }
    return Calculator(**parts | changes)


def test_title_is_the_docstrings_first_line() -> None:
    assert declared().title == "Heat of a wire: I² R."


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"arguments": (RESISTANCE, CURRENT)}, r"declares the arguments \(resistance, current\)"),
        ({"arguments": (CURRENT,)}, r"its function takes \(current, resistance\)"),
        ({"arguments": (), "function": lambda: 1.0}, r"declares the arguments \(\)"),
        ({"arguments": (CURRENT, Argument("resistance", (), Direction.RISING))}, "takes no kind"),
        ({"result": DifferenceOf("curent")}, "follows 'curent', which is no argument"),
    ],
)
def test_a_declaration_that_does_not_fit_is_refused(changes: dict[str, Any], told: str) -> None:
    with pytest.raises(InputError, match=told) as caught:
        declared(**changes)
    assert all("'heat'" in p.what and p.expected for p in caught.value.problems)


def test_all_faults_of_a_declaration_are_told_at_once() -> None:
    with pytest.raises(InputError) as caught:
        declared(arguments=(Argument("current", (), None),), result=DifferenceOf("x"))
    assert len(caught.value.problems) == 3


def test_result_kind_tells_wrong_missing_and_unknown_arguments_together() -> None:
    with pytest.raises(InputError) as caught:
        declared().result_kind({"current": Kind.VOLTAGE, "resistence": Kind.RESISTANCE})
    told = {p.what: p.expected for p in caught.value.problems}
    assert told == {
        "'resistence' is no argument of 'heat'": "did you mean 'resistance'?",
        "'heat' has no value for resistance": "all of current, resistance",
        "argument 'current' of 'heat' is a voltage": "one of current",
    }


def test_rising_and_falling_ends_are_paired() -> None:
    def rest(whole: float, part: float) -> float:
        return whole - part

    calculator = Calculator(
        "rest", rest,
        (
            Argument("whole", (Kind.MASS,), Direction.RISING),
            Argument("part", (Kind.MASS,), Direction.FALLING),
        ),
        result=Kind.MASS, source="arithmetic",
    )
    assert calculator.evaluate({"whole": (10.0, 12.0), "part": (1.0, 3.0)}) == (7.0, 11.0)


def test_either_way_tries_both_ends() -> None:
    def product(x: float, y: float) -> float:
        return x * y

    both = tuple(Argument(n, (Kind.RATIO,), Direction.EITHER) for n in "xy")
    calculator = Calculator("product", product, both, result=Kind.RATIO, source="arithmetic")
    assert calculator.evaluate({"x": (-2.0, 3.0), "y": (-5.0, 4.0)}) == (-15.0, 12.0)


@pytest.mark.parametrize(
    ("intervals", "told"),
    [
        ({"current": (-1.0, 1.0), "resistance": (1.0, 1.0)}, "'current' of 'heat' is -1 A to 1 A"),
        ({"current": (99.0, 101.0), "resistance": (1.0, 1.0)}, "0 A to 100 A"),
        ({"current": (2.0, 1.0), "resistance": (1.0, 1.0)}, "a finite low value, then a high one"),
        ({"current": (1.0, 1.0), "resistance": (1.0, float("inf"))}, "a finite low value"),
        ({"current": (1.0, 1.0), "resistance": (float("nan"), 1.0)}, "a finite low value"),
        ({"current": (1.0, 1.0)}, "has no value for resistance"),
        ({"current": (1.0, 1.0), "resistance": (1.0, 1.0), "volts": (1.0, 1.0)}, "'volts' is no argument"),
        ({"current": (99.0, 99.0), "resistance": (1e308, 1e308)}, "has no value at current = 99"),
    ],
)
def test_intervals_that_cannot_be_used(intervals: dict[str, tuple[float, float]], told: str) -> None:
    with pytest.raises(InputError, match=told):
        declared().evaluate(intervals)


@pytest.mark.parametrize("error", [ZeroDivisionError(), ValueError("out of the fit"), OverflowError()])
def test_a_function_without_a_value_there_is_an_input_error(error: Exception) -> None:
    def broken(current: float) -> float:  # noqa: ARG001
        raise error

    calculator = declared(function=broken, arguments=(CURRENT,))
    with pytest.raises(InputError, match=f"'heat' has no value at current = 1 .*{type(error).__name__}"):
        calculator.evaluate({"current": (1.0, 1.0)})


def test_a_bug_in_a_function_is_not_hidden() -> None:
    def broken(current: float) -> float:  # noqa: ARG001
        raise TypeError("bug")

    with pytest.raises(TypeError, match="bug"):
        declared(function=broken, arguments=(CURRENT,)).evaluate({"current": (1.0, 1.0)})
