"""Declarations of the controls: names, sources, cautions, examples, directions, doctests."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
from dataclasses import fields, is_dataclass
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from faultkit.calculators import Argument, Calculator, CalculatorRegistry, Direction, Word, controls
from faultkit.calculators.ask import ask
from faultkit.calculators.controls import CONTROLS
from faultkit.calculators.refrigerants import refrigerant
from faultkit.problems import InputError
from faultkit.units import Kind

EACH = pytest.mark.parametrize("calculator", CONTROLS, ids=lambda c: c.name)
MODULES = [importlib.import_module(f"{controls.__name__}.{m.name}") for m in pkgutil.iter_modules(controls.__path__)]
DIRECTED = [
    (c, a) for c in CONTROLS if not isinstance(c.result, tuple)
    for a in c.arguments if isinstance(a, Argument) and a.direction is not None
]


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.__name__.rpartition(".")[2])
def test_examples_in_docstrings_hold(module: Any) -> None:
    assert doctest.testmod(module).failed == 0


def test_names_are_unique() -> None:
    assert len(CalculatorRegistry(CONTROLS)) == len(CONTROLS)


@EACH
def test_each_has_a_source_a_worked_example_titles_and_an_example(calculator: Calculator) -> None:
    assert calculator.source
    assert calculator.subject == "controls"
    assert ">>> " in (calculator.function.__doc__ or "")
    assert all(a.title for a in calculator.arguments)
    assert calculator.title.endswith(".") or ":" in calculator.title
    needed = [a.name for a in calculator.arguments if a.needed]
    assert set(needed) <= set(calculator.example)


@EACH
def test_each_example_is_answered_with_every_result(calculator: Calculator) -> None:
    answer = ask(calculator, calculator.example)
    assert all(f.value is not None or f.result.name == "box_at_cut_out" for f in answer.figures)
    if isinstance(calculator.result, tuple):
        value = calculator.function(**calculator._middle(answer.values))
        assert is_dataclass(value)
        assert [f.name for f in fields(value) if f.name in {r.name for r in calculator.result}] == [
            r.name for r in calculator.result
        ]


@pytest.mark.parametrize("calculator", [c for c in CONTROLS if "check" in c.name or "settings" in c.name],
                         ids=lambda c: c.name)
def test_what_is_set_on_a_live_unit_is_told_with_a_caution(calculator: Calculator) -> None:
    if calculator.name in {"off_cycle_defrost_check", "run_hours_check", "set_point_settings"}:
        return  # no screw is turned for these
    assert "power on" in calculator.caution
    if any(isinstance(a, Word) and a.name == "refrigerant" for a in calculator.arguments):
        assert "Never raise, wedge or jumper a high-pressure or relief safety" in calculator.caution


@EACH
def test_a_value_outside_its_range_is_named_with_the_range(calculator: Calculator) -> None:
    for a in calculator.arguments:
        if not isinstance(a, Argument):
            continue
        low, high = a.valid
        for wrong in (low - 1e-3 * max(abs(low), 1.0), high + 1e-3 * max(abs(high), 1.0)):
            problems = a.problems(calculator.name, (wrong, wrong))
            assert len(problems) == 1
            assert f"'{a.name}' of '{calculator.name}'" in problems[0].what
            assert a.shown(low) in problems[0].expected


@EACH
def test_a_word_that_is_none_is_named(calculator: Calculator) -> None:
    given = dict(calculator.example)
    for a in calculator.arguments:
        if isinstance(a, Word):
            with pytest.raises(InputError, match="nonsense"):
                ask(calculator, {**given, a.name: "nonsense"})


def drawn(calculator: Calculator, data: st.DataObject) -> dict[str, Any]:
    """Values within every argument's range; saturation within the fits of the refrigerant drawn."""
    values: dict[str, Any] = {}
    for a in calculator.arguments:
        if isinstance(a, Word):
            values[a.name] = data.draw(st.sampled_from(a.choices))
    fluid = refrigerant(values["refrigerant"]) if "refrigerant" in values else None
    for a in calculator.arguments:
        if isinstance(a, Argument):
            values[a.name] = data.draw(value(a, fluid), label=a.name)
    return {a.name: values[a.name] for a in calculator.arguments}


# Where most of the declared range has no meaning together.
RANGES = {"meter_first": (0.0, 1e5), "meter_last": (1e5, 2e5), "elapsed": (3e5, 4e5)}


def value(a: Argument, fluid: Any) -> st.SearchStrategy[float]:
    low, high = RANGES.get(a.name, a.valid)
    if a.name == "units":
        return st.integers(1, 50).map(float)
    if fluid is not None and a.name != "atmosphere":
        span = {Kind.TEMPERATURE: fluid.temperatures, Kind.ABSOLUTE_PRESSURE: fluid.pressures}.get(a.kinds[0])
        low, high = (max(low, span[0]), min(high, span[1])) if span else (low, high)
        assume(low < high)
    return st.floats(low, high)


@pytest.mark.parametrize(("calculator", "argument"), DIRECTED, ids=lambda x: x.name)
@settings(max_examples=60, deadline=None)
@given(st.data())
def test_each_declared_direction_holds(calculator: Calculator, argument: Argument, data: st.DataObject) -> None:
    values = drawn(calculator, data)
    fluid = refrigerant(values["refrigerant"]) if "refrigerant" in values else None
    other = data.draw(value(argument, fluid), label="other")
    try:
        one, two = (calculator.function(**{**values, argument.name: v}) for v in sorted([values[argument.name], other]))
    except InputError:
        assume(condition=False)
    slack = 1e-9 * max(1.0, abs(one), abs(two))
    if argument.direction is Direction.RISING:
        assert two >= one - slack
    else:
        assert argument.direction is Direction.FALLING
        assert two <= one + slack
