"""Cooling food: 135 to 70 °F in two hours, to 41 °F in six."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from faultkit.calculators.arguments import Result, Rows, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.food.profile import Stretch, crossing, excess, refuse_odd
from faultkit.calculators.food.terms import (
    ACCURACY,
    CEILING_K,
    COLD_K,
    FROM_HOT_K,
    GAP,
    HOUR,
    HYGIENE,
    LOCAL,
    READINGS,
    food_temperature,
)
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = ["COOLING", "CoolingCheck", "cooling_check", "cooling_time"]

_COOKED, _MADE, _RECEIVED = "cooked", "made at room temperature", "received warmer by law"
_SECTIONS = {_COOKED: "3-501.14(A)", _MADE: "3-501.14(B)", _RECEIVED: "3-501.14(C)"}
_ROUND = 1e-6


@dataclass(frozen=True, slots=True)
class CoolingCheck:
    """s and s as read, None where the log does not show them; ``met``, ``not met``, ``cannot say``; words."""

    to_70: float | None
    to_41: float | None
    verdict: str
    section: str


def cooling_time(readings: Rows, start: float, end: float, longest_gap: float) -> float:
    """Time a product took to cool from one temperature to another, from a log as read.

    Rows of s and K, K and K, longest gap (s); gives s. InputError where the log does not show both, or
    one of them only within a gap.

    >>> cooling_time(((0.0, 340.0), (3600.0, 300.0), (7200.0, 280.0)), 330.0, 290.0, 3600.0) / 3600.0
    1.25
    """
    refuse_odd(readings)
    if not end < start:
        raise InputError(
            f"the end {format_si(end, 'degF')} is not below the start {format_si(start, 'degF')}",
            "an end below the start",
        )
    moments = []
    for name, level in (("start", start), ("end", end)):
        found = crossing(readings, level, 0.0, longest_gap)
        if found is None or found[0] != found[1] or (name == "start" and excess(readings[0][1], start) < 0.0):
            raise InputError(
                f"the log does not show when the product passed its {name}, {format_si(level, 'degF')}",
                "a log that begins above it and ends below it without a gap there",
            )
        moments.append(found[0])
    return moments[1] - moments[0]


def cooling_check(readings: Rows, food: str, accuracy: float, longest_gap: float) -> CoolingCheck:
    """Was food cooled in time: 135 to 70 °F in 2 hours and to 41 °F in 6 in all, or to 41 °F in 4.

    Rows of s and K inside the product, the thickest place; which food; probe accuracy (K); longest gap (s). Cooked
    food: the clock runs from 135 °F, so the log must begin there or warmer. Food made of
    ingredients at room temperature, or received warmer as a law allows: 4 hours from the first row. The hours count
    themselves. Times are as read; the verdict minds accuracy and gaps.

    >>> log = ((0.0, 335.0), (3600.0, 305.0), (7200.0, 293.0), (18000.0, 278.0))  # 143 degF down
    >>> cooling_check(log, "cooked", 0.0, 10800.0).verdict
    'met'
    """
    refuse_odd(readings)
    if food == _COOKED:
        began = excess(readings[0][1], FROM_HOT_K) >= 0.0
        start = crossing(readings, FROM_HOT_K, 0.0, longest_gap)
        stages = [(CEILING_K, 2.0 * HOUR), (COLD_K, 6.0 * HOUR)]
    else:
        began, start = True, (readings[0][0], readings[0][0])
        stages = [(COLD_K, 4.0 * HOUR)]
    states = [_stage(readings, food, level, hours, accuracy, longest_gap) for level, hours in stages]
    verdict = next(word for word in ("not met", "cannot say", "met") if word in states)
    as_read = [_between(start, crossing(readings, level, 0.0, longest_gap)) if began else None for level, _ in stages]
    to_70 = as_read[0] if food == _COOKED else None
    return CoolingCheck(to_70, as_read[-1], verdict, f"{_SECTIONS[food]}; {LOCAL}")


def _stage(readings: Rows, food: str, level: float, hours: float, accuracy: float, longest_gap: float) -> str:
    """Whether the level was reached within the hours, by the shortest and the longest time that the log allows."""
    first, last = readings[0][0], readings[-1][0]
    earliest = latest = first
    if food == _COOKED:
        cold, hot = (crossing(readings, FROM_HOT_K, offset, longest_gap) for offset in (-accuracy, accuracy))
        earliest, latest = cold[0] if cold else last, hot[1] if hot else last
        if excess(readings[0][1] - accuracy, FROM_HOT_K) < 0.0:
            earliest = -inf  # perhaps below 135 °F at the first row: the clock may have begun before the log
    soonest, slowest = (crossing(readings, level, offset, longest_gap) for offset in (-accuracy, accuracy))
    shortest = (soonest[0] if soonest else last) - latest
    longest = (slowest[1] if slowest else inf) - earliest
    if shortest > hours + _ROUND:
        return "not met"
    return "met" if longest <= hours + _ROUND else "cannot say"


def _between(start: Stretch | None, end: Stretch | None) -> float | None:
    """Time from one moment to another, s; None where one of them is not known."""
    if start is None or end is None or start[0] != start[1] or end[0] != end[1]:
        return None
    return end[0] - start[0]


_FOOD = Word("food", (_COOKED, _MADE, _RECEIVED), "which food", default=_COOKED)
_WRITTEN = (
    "time (h), temperature (degF)\n0, 150\n0.5, 120\n1, 96\n1.5, 80\n2, 69\n2.5, 62\n3, 56\n3.5, 50\n4, 46\n"
    "4.5, 43\n5, 40"
)
_SOURCE = "FDA Food Code 3-501.14 (seen in the texts of states that adopt it)"

#: The calculators of this file.
COOLING: tuple[Calculator, ...] = (
    Calculator(
        "cooling_time", cooling_time,
        (
            READINGS, food_temperature("start", "from", None, FROM_HOT_K), food_temperature("end", "to", None, COLD_K),
            GAP,
        ),
        result=Kind.TIME, unit="h", source=_SOURCE, caution=HYGIENE, example={"readings": _WRITTEN},
    ),
    Calculator(
        "cooling_check", cooling_check, (READINGS, _FOOD, ACCURACY, GAP),
        result=(
            Result("to_70", Kind.TIME, "135 to 70 °F", "h"), Result("to_41", Kind.TIME, "to 41 °F", "h"),
            Result("verdict", None, "verdict"), Result("section", None, "section"),
        ),
        source=_SOURCE, caution=HYGIENE, example={"readings": _WRITTEN, "accuracy": "1 delta_degF"},
    ),
)
