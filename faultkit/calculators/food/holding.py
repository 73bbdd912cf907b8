"""Cold holding from a log: how long above the limit, how warm, and what the model code says of that time."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Direction, Result, Rows, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.food.profile import excess, longest, refuse_odd, stretches, total, unknown_time
from faultkit.calculators.food.terms import (
    ACCURACY,
    CEILING_K,
    FROM_HOT_K,
    GAP,
    HOUR,
    HYGIENE,
    LOCAL,
    READINGS,
    food_temperature,
    limit,
)
from faultkit.units import Kind

__all__ = [
    "HOLDING", "ColdHolding", "TimeControl", "cold_holding", "highest_product_temperature", "longest_time_above",
    "time_above", "time_control", "unknown_log_time",
]

_HELD = "3-501.16(A)(2): 41 degF or below; " + LOCAL
_TIMED = "3-501.19: time as a public health control; " + LOCAL
_TEXT = "FDA Food Code {} (seen in the texts of states that adopt it)"
_FOUR, _SIX = 4.0 * HOUR, 6.0 * HOUR


@dataclass(frozen=True, slots=True)
class ColdHolding:
    """s, s, s, s, s, K, s, words, words."""

    above: float
    surely_above: float
    possibly_above: float
    longest: float
    longest_possible: float
    highest: float
    unknown: float
    verdict: str
    section: str


@dataclass(frozen=True, slots=True)
class TimeControl:
    """s, K, K, s, words, words, words, words."""

    elapsed: float
    start: float
    highest: float
    unknown: float
    four_hours: str
    six_hours: str
    verdict: str
    section: str


def time_above(readings: Rows, limit: float, longest_gap: float) -> float:
    """Time that a product was above the cold-holding limit, from a log as read.

    Rows of s and K, straight lines between them; K of the limit, which is not above itself; rows
    farther apart than ``longest_gap`` (s) count as unknown, not as above. Gives s.

    >>> log = ((0.0, 277.0), (3600.0, 279.3), (7200.0, 277.0))  # 38.9, 43.1, 38.9 degF, a row an hour
    >>> time_above(log, 278.15, 3600.0)
    3600.0
    """
    refuse_odd(readings)
    return total(stretches(readings, limit, 0.0, longest_gap, unknown=False))


def longest_time_above(readings: Rows, limit: float, longest_gap: float) -> float:
    """Longest single stretch that a product was above the cold-holding limit, from a log as read.

    Takes and gives what ``time_above`` does.

    >>> longest_time_above(((0.0, 280.0), (600.0, 278.0), (1200.0, 280.0)), 278.15, 1800.0)
    555.0
    """
    refuse_odd(readings)
    return longest(stretches(readings, limit, 0.0, longest_gap, unknown=False))


def highest_product_temperature(readings: Rows) -> float:
    """Highest temperature in a product's log: rows of s and K, gives K.

    >>> highest_product_temperature(((0.0, 277.0), (600.0, 279.0)))
    279.0
    """
    refuse_odd(readings)
    return max(t for _, t in readings)


def unknown_log_time(readings: Rows, longest_gap: float) -> float:
    """Time of a log that is unknown: between rows farther apart than the longest gap taken as known.

    Rows of s and K, the gap in s, gives s.

    >>> unknown_log_time(((0.0, 277.0), (600.0, 277.0), (7800.0, 277.0)), 1800.0)
    7200.0
    """
    return unknown_time(readings, longest_gap)


def cold_holding(readings: Rows, limit: float, accuracy: float, longest_gap: float) -> ColdHolding:
    """Was food held cold: time above the limit, surely and possibly, longest stretch, and what the model code says.

    Rows of s and K inside the product; K of the limit; accuracy of the probe (K); longest gap (s). Surely
    above: reading less accuracy above the limit. Possibly above: reading plus accuracy, and all unknown
    time. The code gives food above the limit no allowance after a breakdown: hours count only under
    written procedures with time marks, see ``time_control``.

    >>> cold_holding(((0.0, 276.0), (1800.0, 278.15)), 278.15, 0.0, 1800.0).verdict  # up to 41 degF
    'held'
    """
    refuse_odd(readings)
    read, sure, possible = (
        stretches(readings, limit, offset, longest_gap, unknown=gaps)
        for offset, gaps in ((0.0, False), (-accuracy, False), (accuracy, True))
    )
    unknown = unknown_time(readings, longest_gap)
    if any(excess(t - accuracy, limit) > 0.0 for _, t in readings):
        verdict = "above the limit"
        section = "not held as " + _HELD + "; no time is allowed without written procedures and time marks, 3-501.19"
    elif unknown or any(excess(t + accuracy, limit) > 0.0 for _, t in readings):
        verdict, section = "cannot say", "gaps or the probe's accuracy leave it open; " + _HELD
    else:
        verdict, section = "held", _HELD
    return ColdHolding(
        total(read), total(sure), total(possible), longest(read), longest(possible), max(t for _, t in readings),
        unknown, verdict, section,
    )


def time_control(
    readings: Rows, procedures: str, limit: float, ceiling: float, accuracy: float, longest_gap: float
) -> TimeControl:
    """Time as a public health control: 4 hours, or 6 hours below 70 °F, from a log that begins when food is taken out.

    Rows of s and K, the first when the food left temperature control; whether there are written procedures
    and time marks; K of the cold limit and the ceiling, probe accuracy (K), longest gap (s). Four hours ask for
    a start at the cold limit or below (or 135 °F or above); six for a start at the cold limit or below and never above
    the ceiling. Four and six hours count themselves. After them food is to be discarded by the code.

    >>> log = ((0.0, 278.15), (7200.0, 285.0), (14400.0, 290.0))  # 41 degF at the start, 4:00 h
    >>> time_control(log, "written", 278.15, 294.261111111, 0.0, 7200.0).verdict
    'within the 4 hours'
    """
    refuse_odd(readings)
    elapsed, start = round(readings[-1][0] - readings[0][0], 3), readings[0][1]
    highest, unknown = max(t for _, t in readings), unknown_time(readings, longest_gap)
    cold = _sure(start, limit, accuracy)
    four = _both(cold if cold == "met" else _hot(start, accuracy, cold), elapsed <= _FOUR)
    under = _sure(highest, ceiling, accuracy)
    if unknown and under == "met":
        under = "cannot say"
    six = _both(_worse(cold, under), elapsed <= _SIX)
    if procedures != "written":
        verdict = "no time allowed"
    elif "met" in (four, six):
        verdict = "within the 4 hours" if four == "met" else "within the 6 hours"
    else:
        verdict = "cannot say" if "cannot say" in (four, six) else "to be discarded by the code"
    why = "" if procedures == "written" else "no written procedures and time marks, (A) and (B); "
    return TimeControl(elapsed, start, highest, unknown, four, six, verdict, why + _TIMED)


def _sure(reading: float, limit: float, accuracy: float) -> str:
    """Whether a reading is at the limit or below: met, not met, cannot say."""
    if excess(reading + accuracy, limit) <= 0.0:
        return "met"
    return "not met" if excess(reading - accuracy, limit) > 0.0 else "cannot say"


def _hot(reading: float, accuracy: float, cold: str) -> str:
    if excess(reading - accuracy, FROM_HOT_K) >= 0.0:
        return "met"
    return "cannot say" if excess(reading + accuracy, FROM_HOT_K) >= 0.0 else cold


def _both(state: str, in_time: bool) -> str:
    return state if in_time else "not met"


def _worse(a: str, b: str) -> str:
    return next(word for word in ("not met", "cannot say", "met") if word in (a, b))


_PROCEDURES = Word(
    "procedures", ("none", "written"), "written procedures and time marks, made beforehand", default="none"
)
_WRITTEN = "time (h), temperature (degF)\n0, 38\n0.5, 40\n1, 42.5\n1.5, 44\n2, 43\n2.5, 40\n3, 38"
_OUT = "time (h), temperature (degF)\n0, 40\n0.5, 44\n1, 48\n1.5, 52\n2, 55\n2.5, 57\n3, 59\n3.5, 60"
_HOLD = _TEXT.format("3-501.16(A)(2)")

#: The calculators of this file.
HOLDING: tuple[Calculator, ...] = (
    Calculator(
        "time_above", time_above, (READINGS, limit(Direction.FALLING), GAP), result=Kind.TIME, unit="h", source=_HOLD,
        caution=HYGIENE, example={"readings": _WRITTEN},
    ),
    Calculator(
        "longest_time_above", longest_time_above, (READINGS, limit(Direction.FALLING), GAP), result=Kind.TIME,
        unit="h", source=_HOLD, caution=HYGIENE, example={"readings": _WRITTEN},
    ),
    Calculator(
        "highest_product_temperature", highest_product_temperature, (READINGS,), result=Kind.TEMPERATURE, unit="degF",
        source="follows from the definition", caution=HYGIENE, example={"readings": _WRITTEN},
    ),
    Calculator(
        "unknown_log_time", unknown_log_time, (READINGS, GAP), result=Kind.TIME, unit="h",
        source="follows from the definition; 30 min common practice, no source", example={"readings": _WRITTEN},
    ),
    Calculator(
        "cold_holding", cold_holding, (READINGS, limit(), ACCURACY, GAP),
        result=(
            Result("above", Kind.TIME, "above the limit, as read", "h"),
            Result("surely_above", Kind.TIME, "surely above", "h"),
            Result("possibly_above", Kind.TIME, "possibly above, unknown time included", "h"),
            Result("longest", Kind.TIME, "longest stretch above, as read", "h"),
            Result("longest_possible", Kind.TIME, "longest stretch possibly above", "h"),
            Result("highest", Kind.TEMPERATURE, "highest reading", "degF"),
            Result("unknown", Kind.TIME, "unknown, gaps in the log", "h"), Result("verdict", None, "verdict"),
            Result("section", None, "section"),
        ),
        source=_HOLD, caution=HYGIENE, example={"readings": _WRITTEN, "accuracy": "1 delta_degF"},
    ),
    Calculator(
        "time_control", time_control,
        (READINGS, _PROCEDURES, limit(), food_temperature("ceiling", "never above, for 6 hours", None, CEILING_K),
         ACCURACY, GAP),
        result=(
            Result("elapsed", Kind.TIME, "since the first row", "h"),
            Result("start", Kind.TEMPERATURE, "at the start", "degF"),
            Result("highest", Kind.TEMPERATURE, "highest reading", "degF"),
            Result("unknown", Kind.TIME, "unknown, gaps in the log", "h"),
            Result("four_hours", None, "conditions of 4 hours, 3-501.19(B)"),
            Result("six_hours", None, "conditions of 6 hours, 3-501.19(C)"), Result("verdict", None, "verdict"),
            Result("section", None, "section"),
        ),
        source=_TEXT.format("3-501.19"), caution=HYGIENE,
        example={"readings": _OUT, "procedures": "written", "accuracy": "1 delta_degF"},
    ),
)
