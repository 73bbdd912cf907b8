"""Declaring a calculator and carrying bounds through it."""

from __future__ import annotations

import pickle
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators import (
    Argument,
    Calculator,
    CalculatorRegistry,
    Column,
    DifferenceOf,
    Direction,
    Log,
    Result,
    Word,
)
from faultkit.calculators.builtin import SUBJECTS
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


# -- words, logs, several results, first order -------------------------------------------


@dataclass(frozen=True)
class Sag:
    volts: float
    verdict: str
    amps: float | None


def sag(volts: float, amps: float, wire: str) -> Sag:
    """Voltage left behind a wire, and what to think of it."""
    left = volts - amps * {"thin": 2.0, "thick": 0.5}[wire]
    return Sag(left, "low" if left < 90.0 else "good", None if left < 0.0 else amps)


SAG = Calculator(
    "sag", sag,
    (
        Argument("volts", (Kind.VOLTAGE,), Direction.RISING),
        Argument("amps", (Kind.CURRENT,), Direction.FALLING, default=10.0, unit="A"),
        Word("wire", ("thin", "thick"), default="thick"),
    ),
    result=(Result("volts", Kind.VOLTAGE), Result("verdict", None), Result("amps", Kind.CURRENT)),
    source="Ohm's law", example={"volts": "100 V"},
)


def test_several_results_each_have_their_bounds() -> None:
    """First order by hand: 1 V of the supply and 0.5 ohm times 2 A of the current."""
    volts, verdict, amps = SAG.figures({"volts": (99.0, 101.0), "amps": (8.0, 12.0), "wire": "thick"})
    assert (volts.value, volts.low, volts.high) == (95.0, 93.0, 97.0)
    assert (verdict.value, verdict.others) == ("good", ())
    assert (amps.low, amps.high) == (8.0, 12.0)
    assert SAG.method == "first order"


def test_a_word_that_the_accuracy_leaves_open_is_too_close_to_call() -> None:
    _, verdict, _ = SAG.figures({"volts": (93.0, 97.0), "amps": (10.0, 10.0)})
    assert (verdict.value, verdict.others) == ("good", ("low",))


def test_a_word_that_only_two_inputs_together_change_is_found() -> None:
    """95 V at the middle; 2.5 V alone leaves 92.5 V, 6 A alone 92 V, both 89.5 V: low is below 90 V."""
    _, verdict, _ = SAG.figures({"volts": (97.5, 102.5), "amps": (4.0, 16.0)})
    assert (verdict.value, verdict.others) == ("good", ("low",))
    assert SAG.figures({"volts": (97.5, 102.5)})[1].others == ()
    assert SAG.figures({"volts": (100.0, 100.0), "amps": (4.0, 16.0)})[1].others == ()


def test_a_number_that_does_not_exist_everywhere_has_no_bounds() -> None:
    _, _, amps = SAG.figures({"volts": (-1.0, 13.0), "amps": (10.0, 10.0)})
    assert (amps.value, amps.low, amps.high) == (10.0, None, None)


def test_defaults_and_spellings_of_words() -> None:
    assert SAG.figures({"volts": (100.0, 100.0)})[0].value == 95.0
    assert SAG.figures({"volts": (100.0, 100.0), "wire": "Thin"})[0].value == 80.0


def test_a_tree_takes_one_number_only() -> None:
    with pytest.raises(InputError, match="'sag' gives several results: volts, verdict, amps"):
        SAG.result_kind({"volts": Kind.VOLTAGE})
    with pytest.raises(InputError, match="several results"):
        SAG.evaluate({"volts": (1.0, 1.0)})


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"volts": (1.0, 1.0), "wire": "tick"}, "'wire' is 'tick'"),
        ({"volts": (1.0, 1.0), "wire": (1.0, 1.0)}, "'wire' of 'sag' is a quantity"),
        ({"volts": "thick"}, "'volts' of 'sag' is 'thick'"),
        ({"wire": "thin"}, "'sag' has no value for volts"),
    ],
)
def test_values_of_the_wrong_sort(values: dict[str, Any], told: str) -> None:
    with pytest.raises(InputError, match=told):
        SAG.figures(values)


def test_a_function_that_turns_around_goes_by_first_order() -> None:
    """A parabola at its top: the middle is 0, each end one below; corners would have missed the top."""
    def below(x: float) -> float:
        return -x * x

    calculator = Calculator(
        "below", below, (Argument("x", (Kind.RATIO,), None),), result=Kind.RATIO, source="arithmetic"
    )
    assert calculator.method == "first order"
    assert calculator.evaluate({"x": (-1.0, 1.0)}) == (-1.0, 1.0)


@given(
    st.floats(-10, 10), st.floats(0, 3), st.floats(-10, 10), st.floats(0, 3), st.floats(0.0, 1.0), st.floats(0.0, 1.0)
)
def test_first_order_is_exact_where_the_function_is_linear(
    x: float, dx: float, y: float, dy: float, a: float, b: float
) -> None:
    def linear(x: float, y: float) -> float:
        return 2.0 * x - 3.0 * y

    calculator = Calculator(
        "linear", linear, tuple(Argument(n, (Kind.RATIO,), None) for n in "xy"), result=Kind.RATIO, source="arithmetic"
    )
    low, high = calculator.evaluate({"x": (x - dx, x + dx), "y": (y - dy, y + dy)})
    inside = linear(x - dx + 2 * a * dx, y - dy + 2 * b * dy)
    assert low - 1e-9 <= inside <= high + 1e-9
    assert high - low == pytest.approx(4 * dx + 6 * dy, abs=1e-9)


def test_a_log_is_checked_row_by_row() -> None:
    def rise(log: tuple[tuple[float, ...], ...]) -> float:
        return log[-1][1] - log[0][1]

    rows = Log("log", (Column("time", Kind.TIME, rising=True), Column("temperature", Kind.TEMPERATURE)))
    calculator = Calculator("rise", rise, (rows,), result=Kind.TEMPERATURE_DIFFERENCE, source="arithmetic")
    assert calculator.evaluate({"log": ((0.0, 280.0), (60.0, 281.5))}) == (1.5, 1.5)
    with pytest.raises(InputError, match="time does not rise"):
        calculator.evaluate({"log": ((0.0, 280.0), (0.0, 281.5))})


def test_a_calculator_can_be_pickled() -> None:
    for calculator in CalculatorRegistry(SUBJECTS).values():
        assert pickle.loads(pickle.dumps(calculator)) == calculator  # noqa: S301 - our own
