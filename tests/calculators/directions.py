"""Whether a calculator goes the way it declares: drawn values, one argument moved, the others held."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from faultkit.calculators import Argument, Calculator, Direction, Log, Word
from faultkit.calculators.arguments import Rows
from faultkit.problems import InputError

__all__ = ["declared", "moves_as_declared"]

Narrow = Mapping[str, tuple[float, float]]
_SLACK = 1e-9


def declared(calculators: tuple[Calculator, ...]) -> list[tuple[Calculator, str]]:
    """Every calculator that gives one number, with each argument that has a direction."""
    return [
        (c, a.name) for c in calculators if not isinstance(c.result, tuple)
        for a in c.arguments if isinstance(a, Argument) and a.direction is not None
    ]


def moves_as_declared(
    calculator: Calculator, name: str, data: st.DataObject, narrow: Narrow, logs: Mapping[str, st.SearchStrategy[Rows]]
) -> None:
    """Fails where moving ``name`` through three values moves the result against its direction.

    Values are drawn from the whole valid range and from ``narrow``, where most of them mean something.
    """
    argument = calculator.argument(name)
    assert isinstance(argument, Argument)
    held = {a.name: _drawn(a, data, narrow, logs) for a in calculator.arguments if a.name != name}
    values = sorted(_number(argument, data, narrow) for _ in range(3))
    try:
        results = [float(calculator.function(**{**held, name: v})) for v in values]
    except InputError:
        assume(condition=False)
        raise
    slack = _SLACK * max(abs(r) for r in results)
    steps = [b - a for a, b in pairwise(results)]
    rises, falls = all(s >= -slack for s in steps), all(s <= slack for s in steps)
    wanted = {Direction.RISING: rises, Direction.FALLING: falls, Direction.EITHER: rises or falls}
    assert argument.direction is not None
    assert wanted[argument.direction], f"{name} through {values} gives {results} with {held}"


def _drawn(
    parameter: Any, data: st.DataObject, narrow: Narrow, logs: Mapping[str, st.SearchStrategy[Rows]]
) -> Any:
    if isinstance(parameter, Word):
        return data.draw(st.sampled_from(parameter.choices))
    if isinstance(parameter, Log):
        return data.draw(logs[parameter.name])
    return _number(parameter, data, narrow)


def _number(argument: Argument, data: st.DataObject, narrow: Narrow) -> float:
    low, high = argument.valid
    ranges = [st.floats(low, high)]
    if argument.name in narrow:
        near = (max(low, narrow[argument.name][0]), min(high, narrow[argument.name][1]))
        ranges = [st.floats(*near), st.floats(*near), st.floats(*near), *ranges]
    return data.draw(st.one_of(ranges))
