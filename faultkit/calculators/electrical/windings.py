"""Windings by ohmmeter: do three readings add up, which terminal is which, are three phases alike."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import FALLING, LOCKED_OUT, RISING, resistance, share
from faultkit.calculators.electrical.unbalance import farthest, largest_deviation
from faultkit.units import Kind

__all__ = [
    "WINDINGS", "SinglePhaseWindings", "Terminals", "ThreePhaseWindings", "single_phase_winding_check",
    "three_phase_winding_check", "winding_sum_error", "winding_terminals", "winding_unbalance",
]

_PAIRS = ("T1-T2", "T2-T3", "T3-T1")


@dataclass(frozen=True, slots=True)
class SinglePhaseWindings:
    """``sum_error`` and ``start_to_run`` are ratios."""

    verdict: str
    sum_error: float
    start_to_run: float


@dataclass(frozen=True, slots=True)
class Terminals:
    """Which pin is which, None where the readings do not tell; ``sum_error`` a ratio."""

    verdict: str
    common: str | None
    run: str | None
    start: str | None
    sum_error: float


@dataclass(frozen=True, slots=True)
class ThreePhaseWindings:
    """``average`` in ohms of what is not open, ``unbalance`` a ratio; None where a reading is open."""

    verdict: str
    average: float | None
    unbalance: float | None
    farthest: tuple[str, ...]


def winding_sum_error(common_run: float, common_start: float, run_start: float) -> float:
    """How far the reading run to start is off the sum of the other two, a ratio: 1 is 100 %.

    Ohms between the pins of a single-phase motor: common to run, common to start, run to start. The
    windings are in series between run and start, so the sum holds in any sound motor; more than
    some 5 % off: a bad reading, a bad pin, or the wrong pins.

    >>> round(winding_sum_error(1.5, 4.5, 6.3), 4)
    0.05
    """
    return run_start / (common_run + common_start) - 1.0


def single_phase_winding_check(
    common_run: float, common_start: float, run_start: float, tolerance: float = 0.05, accuracy: float = 0.1
) -> SinglePhaseWindings:
    """Whether the three readings of a single-phase motor make sense together.

    Ohms as for winding_sum_error, leads off. Within ``tolerance`` of the sum, or within ``accuracy``
    (ohm, of the meter with its leads) of it, they add up; the start winding must have more ohms
    than the run winding. Shorted turns keep the sum: compare with the maker's ohms.

    >>> single_phase_winding_check(1.5, 4.5, 6.0).verdict
    'good'
    """
    total = common_run + common_start
    error = winding_sum_error(common_run, common_start, run_start)
    if abs(run_start - total) > max(tolerance * total, accuracy):
        verdict = "do not add up: read again, then pins or winding"
    elif common_start <= common_run:
        verdict = "start not above run: pins exchanged, or a winding shorted"
    else:
        verdict = "good"
    return SinglePhaseWindings(verdict, error, common_start / common_run)


def winding_terminals(
    ohms_1_2: float, ohms_1_3: float, ohms_2_3: float, tolerance: float = 0.10, accuracy: float = 0.1
) -> Terminals:
    """Which pin of a single-phase compressor is common, run and start.

    Ohms between pins 1, 2 and 3. The largest reading is run to start, so the pin left out is common;
    from there the larger reading goes to start. Not told where two readings are within ``accuracy``
    (ohm) of each other where it matters, or where the largest is not the sum of the others within ``tolerance``.

    >>> found = winding_terminals(6.0, 4.5, 1.5)
    >>> found.common, found.start, found.run
    ('3', '1', '2')
    """
    readings = {frozenset("12"): ohms_1_2, frozenset("13"): ohms_1_3, frozenset("23"): ohms_2_3}
    order = sorted(readings, key=lambda pair: readings[pair])
    run_winding, start_winding, both = order
    total = readings[run_winding] + readings[start_winding]
    error = readings[both] / total - 1.0
    if abs(readings[both] - total) > max(tolerance * total, accuracy):
        return Terminals("the largest is not the sum: read again, then look for a fault", None, None, None, error)
    common = "".join(frozenset("123") - both)
    if readings[both] - readings[start_winding] <= accuracy:
        return Terminals("too close to call", None, None, None, error)
    if readings[start_winding] - readings[run_winding] <= accuracy:
        return Terminals("common told, run and start too close to call", common, None, None, error)
    return Terminals(
        "told", common, "".join(run_winding - {common}), "".join(start_winding - {common}), error,
    )


def winding_unbalance(ohms_t1_t2: float, ohms_t2_t3: float, ohms_t3_t1: float) -> float:
    """How unlike the three windings of a three-phase motor are, a ratio: 1 is 100 %.

    The largest deviation from the average by the average, of the ohms between the three leads, off
    the line. Within 5 % with a shop meter, 2 % with a low-resistance ohmmeter, is alike.

    >>> round(winding_unbalance(1.02, 1.00, 1.01), 4)
    0.0099
    """
    return largest_deviation((ohms_t1_t2, ohms_t2_t3, ohms_t3_t1), "resistances")


def three_phase_winding_check(
    ohms_t1_t2: float, ohms_t2_t3: float, ohms_t3_t1: float, tolerance: float = 0.05, accuracy: float = 0.1,
    open_above: float = 1e4,
) -> ThreePhaseWindings:
    """What the three readings of a three-phase motor say.

    Ohms between the leads, off the line; a reading of no continuity is given as one above
    ``open_above`` (ohm). Two open: the lead they share, or its phase in a wye. Two alike and the third
    their sum: one phase of a delta open. Else alike, within ``tolerance`` or ``accuracy`` (ohm, the
    meter's), or unlike: shorted turns, a bad joint, or a motor not at one temperature.

    >>> three_phase_winding_check(1.5, 1.5, 3.0).verdict
    'one phase of a delta open'
    """
    readings = (ohms_t1_t2, ohms_t2_t3, ohms_t3_t1)
    opened = tuple(p for p, r in zip(_PAIRS, readings, strict=True) if r > open_above)
    if opened:
        return ThreePhaseWindings(_open_words(opened), None, None, opened)
    average = sum(readings) / 3.0
    unbalance = winding_unbalance(*readings)
    low, middle, high = sorted(readings)
    if unbalance * average <= max(tolerance * average, accuracy):
        verdict = "alike"
    elif _close(high, low + middle, tolerance, accuracy) and _close(low, middle, tolerance, accuracy):
        verdict = "one phase of a delta open"
    else:
        verdict = "unlike: shorted turns or a bad joint"
    return ThreePhaseWindings(verdict, average, unbalance, farthest(readings, _PAIRS))


def _close(a: float, b: float, tolerance: float, accuracy: float) -> bool:
    return abs(a - b) <= max(tolerance * b, accuracy)


def _open_words(opened: tuple[str, ...]) -> str:
    if len(opened) == 3:
        return "open: two leads or more, or a protector in the star point"
    if len(opened) == 1:
        return "contradictory: read again"
    shared = set(opened[0].split("-")) & set(opened[1].split("-"))
    return f"open at {shared.pop()}: its lead, or its phase in a wye"


_SERIES = "follows from the windings in series; makers' manuals and a trade textbook (seen)"
_METER = "common practice, no source"


def _ohms(name: str, title: str, direction: Direction | None = None, most: float = 1e5) -> Argument:
    return resistance(name, title, direction, (0.01, most))


_SINGLE = {"common_run": "1.5 ohm ± 0.1 ohm", "common_start": "4.5 ohm ± 0.1 ohm", "run_start": "6.0 ohm ± 0.1 ohm"}
_THREE = {"ohms_t1_t2": "1.02 ohm ± 0.01 ohm", "ohms_t2_t3": "1 ohm ± 0.01 ohm", "ohms_t3_t1": "1.01 ohm ± 0.01 ohm"}
_TOLERANCE = share("tolerance", "allowed off", None, (0.0, 0.3), 0.05)
_ACCURACY = resistance("accuracy", "what the meter and its leads may be off", None, (0.0, 2.0), 0.1)
_SUM = Result("sum_error", Kind.RATIO, "largest reading off the sum", "%")

#: The calculators of this file.
WINDINGS: tuple[Calculator, ...] = (
    Calculator(
        "winding_sum_error", winding_sum_error,
        (
            _ohms("common_run", "common to run", FALLING), _ohms("common_start", "common to start", FALLING),
            _ohms("run_start", "run to start", RISING),
        ),
        result=Kind.RATIO, unit="%", source=_SERIES, caution=LOCKED_OUT, example=_SINGLE,
    ),
    Calculator(
        "single_phase_winding_check", single_phase_winding_check,
        (
            _ohms("common_run", "common to run"), _ohms("common_start", "common to start"),
            _ohms("run_start", "run to start"), _TOLERANCE, _ACCURACY,
        ),
        result=(
            Result("verdict", None, "the readings"), _SUM,
            Result("start_to_run", Kind.RATIO, "start winding by run winding", "%"),
        ),
        source=f"{_SERIES}; 5 %: {_METER}", caution=LOCKED_OUT, example=_SINGLE,
    ),
    Calculator(
        "winding_terminals", winding_terminals,
        (
            _ohms("ohms_1_2", "pin 1 to pin 2"), _ohms("ohms_1_3", "pin 1 to pin 3"),
            _ohms("ohms_2_3", "pin 2 to pin 3"),
            share("tolerance", "allowed off", None, (0.0, 0.3), 0.10), _ACCURACY,
        ),
        result=(
            Result("verdict", None, "the pins are"), Result("common", None, "common"), Result("run", None, "run"),
            Result("start", None, "start"), _SUM,
        ),
        source=f"{_SERIES}; 10 %: {_METER}", caution=LOCKED_OUT,
        example={"ohms_1_2": "6.0 ohm ± 0.1 ohm", "ohms_1_3": "4.5 ohm ± 0.1 ohm", "ohms_2_3": "1.5 ohm ± 0.1 ohm"},
    ),
    Calculator(
        "winding_unbalance", winding_unbalance,
        (_ohms("ohms_t1_t2", "T1 to T2"), _ohms("ohms_t2_t3", "T2 to T3"), _ohms("ohms_t3_t1", "T3 to T1")),
        result=Kind.RATIO, unit="%", source="follows from the definition", caution=LOCKED_OUT, example=_THREE,
    ),
    Calculator(
        "three_phase_winding_check", three_phase_winding_check,
        (
            _ohms("ohms_t1_t2", "T1 to T2", most=1e9), _ohms("ohms_t2_t3", "T2 to T3", most=1e9),
            _ohms("ohms_t3_t1", "T3 to T1", most=1e9), _TOLERANCE, _ACCURACY,
            resistance("open_above", "no continuity above", None, (100.0, 1e8), 1e4),
        ),
        result=(
            Result("verdict", None, "the windings are"), Result("average", Kind.RESISTANCE, "average", "ohm"),
            Result("unbalance", Kind.RATIO, "unlike by", "%"), Result("farthest", None, "farthest from the average"),
        ),
        source="follows from wye and delta; 2 %: an electrical magazine (seen); 5 %: common practice, no source",
        caution=LOCKED_OUT, example=_THREE,
    ),
)
