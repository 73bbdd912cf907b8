"""One result of a calculator, and the bounds that the accuracy of its inputs leaves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from faultkit.calculators.arguments import Interval, Result, Value
from faultkit.units import Kind

__all__ = ["Figure", "bounds_of", "figure_of", "spread"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One result: ``value`` at the middle of the inputs, and for a number the bounds that their accuracy leaves.

    For words, ``others`` are the words that the inputs' accuracy also allows: too close to call.
    ``kind`` is None for words.
    """

    result: Result
    value: Any
    kind: Kind | None = None
    low: float | None = None
    high: float | None = None
    others: tuple[Any, ...] = ()


def bounds_of(value: Value) -> Interval:
    """The bounds given for a quantity."""
    assert isinstance(value, tuple)
    low, high = value
    assert not isinstance(low, tuple)
    assert not isinstance(high, tuple)
    return low, high


def spread(centre: float, moved: list[float]) -> float:
    """Sum over the arguments of the larger of the two changes (``moved``: low end, high end, argument by argument)."""
    pairs = zip(moved[::2], moved[1::2], strict=True)
    return sum(max(abs(low - centre), abs(high - centre)) for low, high in pairs)


def figure_of(result: Result, centre: Any, moved: list[Any], together: list[Any]) -> Figure:
    """The figure of one field: its value at the middle, as each argument alone goes to its ends, and several together.

    A number's bounds are first order, each argument alone; words count wherever they come up.
    """
    if _is_number(centre) and result.kind is not None:
        if not all(map(_is_number, moved)):
            return Figure(result, centre, result.kind)  # at some end there is no such number
        half = spread(centre, moved)
        return Figure(result, centre, result.kind, centre - half, centre + half)
    others = () if result.columns else tuple(dict.fromkeys(v for v in [*moved, *together] if v != centre))
    return Figure(result, centre, result.kind, others=others)


def _is_number(value: object) -> bool:
    return isinstance(value, float | int) and not isinstance(value, bool)
