"""Differences, sums and percentages: arithmetic that holds for every kind of quantity."""

from __future__ import annotations

from faultkit.calculators.arguments import Argument, DifferenceOf, Direction
from faultkit.calculators.declare import Calculator
from faultkit.units import Kind

__all__ = ["BASIC", "difference", "percent_deviation", "percent_of", "total"]

_ANY = tuple(Kind)
# Zero of these is a convention (or the weather), so their sums and percentages mean nothing.
_FROM_TRUE_ZERO = tuple(k for k in Kind if k not in {Kind.TEMPERATURE, Kind.GAUGE_PRESSURE})
# A sum of absolute pressures is one only for partial pressures; it gets no calculator here.
_SUMMED = tuple(k for k in _FROM_TRUE_ZERO if k is not Kind.ABSOLUTE_PRESSURE)
_SOURCE = "arithmetic; no source needed"


def difference(a: float, b: float) -> float:
    """How far ``a`` lies above ``b``: a - b.

    Both of one kind, any SI value. Two temperatures (K) give a temperature
    difference (K), two gauge pressures (Pa) a pressure difference (Pa).

    >>> difference(a=310.0, b=298.0)  # air of 36.85 degC leaving a coil, 24.85 degC entering
    12.0
    """
    return a - b


def total(a: float, b: float) -> float:
    """``a`` and ``b`` together: a + b.

    Both of one kind, any SI value; not temperatures and not pressures measured
    from a zero, whose sum depends on where the scale begins.

    >>> total(a=1.5, b=0.75)  # amps of two fans on one wire
    2.25
    """
    return a + b


def percent_of(part: float, whole: float) -> float:
    """What share ``part`` is of ``whole``, a ratio: 1 is 100 %.

    Both of one kind, in SI; ``whole`` is not zero.

    >>> percent_of(part=156.0, whole=208.0)  # measured and nameplate volts: 75 %
    0.75
    """
    return part / whole


def percent_deviation(value: float, reference: float) -> float:
    """How far ``value`` lies above ``reference`` as a share of it, a ratio: 1 is 100 %, below is negative.

    Both of one kind, in SI; ``reference`` is not zero.

    >>> percent_deviation(value=3.0, reference=4.0)  # amps against rated amps: -25 %
    -0.25
    """
    return (value - reference) / reference


#: The calculators of this file.
BASIC: tuple[Calculator, ...] = (
    Calculator(
        "difference", difference,
        (
            Argument("a", _ANY, Direction.RISING, "value to subtract from"),
            Argument("b", _ANY, Direction.FALLING, "value subtracted"),
        ),
        result=DifferenceOf("a"), source=_SOURCE, same_kind=True,
    ),
    Calculator(
        "sum", total,
        (
            Argument("a", _SUMMED, Direction.RISING, "first value"),
            Argument("b", _SUMMED, Direction.RISING, "second value"),
        ),
        result=DifferenceOf("a"), source=_SOURCE, same_kind=True,
    ),
    Calculator(
        "percent_of", percent_of,
        (
            Argument("part", _FROM_TRUE_ZERO, Direction.EITHER, "measured part"),
            Argument("whole", _FROM_TRUE_ZERO, Direction.EITHER, "the whole, 100 %", not_zero=True),
        ),
        result=Kind.RATIO, source=_SOURCE, same_kind=True,
    ),
    Calculator(
        "percent_deviation", percent_deviation,
        (
            Argument("value", _FROM_TRUE_ZERO, Direction.EITHER, "measured value"),
            Argument("reference", _FROM_TRUE_ZERO, Direction.EITHER, "its right value, 100 %", not_zero=True),
        ),
        result=Kind.RATIO, source=_SOURCE, same_kind=True,
    ),
)
