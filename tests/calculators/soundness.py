"""Whatever the declared ranges allow gives numbers, or an error that says what is wrong."""

from __future__ import annotations

from hypothesis import strategies as st

from faultkit.calculators import Argument, Calculator, Word
from faultkit.calculators.arguments import Value
from faultkit.problems import InputError, Problem

__all__ = ["numbers_or_a_clear_error"]


def numbers_or_a_clear_error(calculator: Calculator, data: st.DataObject) -> None:
    """Fails where values drawn from the declaration give no figure, or an error that is the formula's own."""
    values: dict[str, Value] = {}
    for a in calculator.arguments:
        if isinstance(a, Word):
            values[a.name] = data.draw(st.sampled_from(a.choices))
        elif isinstance(a, Argument):
            values[a.name] = (data.draw(st.floats(*a.valid), a.name),) * 2
    told: tuple[Problem, ...] = ()
    try:
        assert calculator.figures(values)
    except InputError as fault:
        told = fault.problems
    # What a formula raises of itself would be told as 'no value at'.
    assert all(p.expected and "no value at" not in p.what for p in told)
