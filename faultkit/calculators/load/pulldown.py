"""Pull-down: from a log of temperatures to where it settles, when it arrives, and whether it will."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import inf, isfinite, log1p

from faultkit.calculators.arguments import Rows
from faultkit.calculators.load.drift import drift_squares, lowest_with_drift
from faultkit.calculators.load.fit import SLOWEST, Allowed, Line, allowed, best_line
from faultkit.calculators.load.readings import FASTER, Readings, no_curve, read
from faultkit.calculators.load.scatter import FINEST, Scatter, scatter
from faultkit.calculators.load.student import student_quantile
from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = [
    "ACCURACY", "CANNOT_SAY", "CONFIDENCE", "FEWEST", "WILL_MAKE_IT", "WILL_NOT", "WITHIN", "PullDown", "pull_down",
    "pull_down_settles_at", "pull_down_time_constant", "pull_down_time_left",
]

WILL_MAKE_IT, WILL_NOT, CANNOT_SAY = "will make it", "will not make it", "cannot say yet"

#: s it may take; K the probe may be off, 1 °F; how sure the bounds are to be.
WITHIN, ACCURACY, CONFIDENCE = 86_400.0, 5.0 / 9.0, 0.95
#: Three constants, and at least two readings to judge them by.
FEWEST = 5
_TWO_PACES = (
    "the fall has two paces, as of product that follows the air: take the log from later on, in the product"
)
# One plain log in a hundred is refused for a second pace.
_SECOND_PACE = 0.995
_NEVER_K = 150.0  # colder than any box: no bound
_FURTHEST = 1e3  # lengths of the log looked ahead


@dataclass(frozen=True, slots=True)
class PullDown:
    """K and s; None where there is no such value or the log leaves a bound open."""

    verdict: str
    because: str
    settles_at: float | None = None
    settle_low: float | None = None
    settle_high: float | None = None
    time_left: float | None = None
    time_left_low: float | None = None
    time_left_high: float | None = None
    time_constant: float | None = None
    time_constant_low: float | None = None
    time_constant_high: float | None = None
    coldest: float | None = None
    scatter: float | None = None


def pull_down(
    log: Rows, set_point: float, within: float = WITHIN, accuracy: float = ACCURACY, confidence: float = CONFIDENCE
) -> PullDown:
    """Will a box reach its set point in time: where the temperature settles, the time left, how sure that is.

    Takes rows of s and K, oldest first, K for the set point, s for the time it may take, K for how far the
    probe may be off, and the confidence (50 % and up). Fits T = settles + (start - settles) exp(-t / time constant)
    by least squares. The bounds hold with that confidence for readings that scatter about such a curve, and
    are widened by the probe's accuracy on both sides; a bound the log does not give is left out. It ``will not
    make it`` only where the ``coldest`` it can be when the time is over is above the set point, a slower fall
    hidden in the scatter counted, as of product behind the air. Nothing may change on the way: door shut, no
    defrost, compressor and fans running through. Swings that last several readings of a short log pass for
    its curve.

    >>> fall = [(600.0 * i, 275.0 + 18.0 * 0.8**i) for i in range(9)]  # every 10 min from 68 degF
    >>> found = pull_down(tuple(fall), set_point=276.0, within=86400.0, accuracy=0.3, confidence=0.95)
    >>> found.verdict, round(found.settles_at, 2), round(found.time_left / 60)
    ('will make it', 275.0, 50)
    """
    readings = read(log)
    if not (accuracy >= 0.0 and within >= 0.0 and 0.5 <= confidence < 1.0):
        raise InputError(
            f"accuracy {accuracy:g} K, within {within:g} s, confidence {confidence:g}",
            "0 K or more, 0 s or more, 0.5 to below 1",
        )
    found = _judged(readings, set_point, within, accuracy, confidence)
    clear = accuracy + 2.0 * (found.scatter or 0.0)
    if found.verdict == CANNOT_SAY and readings.values[-1] + clear <= set_point:
        return PullDown(
            WILL_MAKE_IT, "the last reading is below the set point", scatter=found.scatter,
            time_left=0.0, time_left_low=0.0, time_left_high=0.0,
        )
    return found


def _judged(
    readings: Readings, set_point: float, within: float, accuracy: float, confidence: float
) -> PullDown:
    """The verdict by the curve."""
    if len(readings.s) < FEWEST:
        return PullDown(CANNOT_SAY, f"{len(readings.s)} readings show no curve: take at least {FEWEST}")
    best = best_line(readings.s, readings.values)
    left = scatter(best, readings.s, readings.values, readings.step)
    fault = no_curve(readings, best, left, accuracy)
    if fault:
        return PullDown(CANNOT_SAY, fault, scatter=left.size)
    freedom = max(1.0, left.freedom)
    curves = allowed(readings.s, readings.values, best, _limit(best.squares, freedom, confidence, readings.step))
    if not curves.lines:
        return PullDown(CANNOT_SAY, FASTER, scatter=left.size)
    squares, rate = drift_squares(readings.s, readings.values)
    freedom = max(1.0, left.freedom - 1.0)
    if best.squares > _limit(squares, freedom, 2.0 * _SECOND_PACE - 1.0, readings.step):
        return PullDown(CANNOT_SAY, _TWO_PACES, scatter=left.size)
    found = _found(readings, best, curves, left, set_point, accuracy)
    ahead = 1.0 + within / readings.length
    limit = _limit(squares, freedom, confidence, readings.step)
    hidden = lowest_with_drift(readings.s, readings.values, rate, limit, ahead)
    lowest = min(curves.span(ahead)[0], inf if hidden is None else hidden) - accuracy
    return _verdict(found, lowest, set_point, within)


def _limit(squares: float, freedom: float, confidence: float, step: float) -> float:
    """The sum of squares up to which a curve is allowed."""
    t = student_quantile((1.0 + confidence) / 2.0, int(freedom))
    # Rounding alone scatters by a twelfth of the display's step, squared, also where luck hides it.
    return squares + t * t * max(squares / freedom, step * step / 12.0, FINEST * FINEST)


def pull_down_settles_at(log: Rows) -> float:
    """Temperature at which a pull-down will settle if nothing changes, the best estimate.

    Takes rows of s and K, oldest first; gives K. Raises InputError where the log does not tell; how sure it
    is, ``pull_down`` says.

    >>> fall = tuple((600.0 * i, 275.0 + 18.0 * 0.8**i) for i in range(9))
    >>> round(pull_down_settles_at(fall), 2)
    275.0
    """
    return _told(log, "where it settles").at(inf)


def pull_down_time_constant(log: Rows) -> float:
    """Time constant of a pull-down: in each of them the temperature comes 63 % nearer to where it settles.

    Takes rows of s and K, oldest first; gives s. Raises InputError where the log does not tell.

    >>> fall = tuple((600.0 * i, 275.0 + 18.0 * 0.8**i) for i in range(9))
    >>> round(pull_down_time_constant(fall) / 60)  # minutes
    45
    """
    return read(log).length / _told(log, "the time constant").rate


def pull_down_time_left(log: Rows, set_point: float) -> float:
    """Time from the last reading until a pull-down reaches the set point, the best estimate.

    Takes rows of s and K, oldest first, and K; gives s, 0 where the last reading is there already. Raises InputError
    where the log does not tell, and where it settles above the set point.

    >>> fall = tuple((600.0 * i, 275.0 + 18.0 * 0.8**i) for i in range(9))
    >>> round(pull_down_time_left(fall, set_point=276.0) / 60)  # minutes
    50
    """
    readings = read(log)
    if readings.values[-1] <= set_point:
        return 0.0
    left = _arrives(_told(log, "the time left"), set_point)
    if left is None:
        raise InputError(
            f"by this log it does not come down to {format_si(set_point, 'degF')}", "a set point it reaches"
        )
    return left * readings.length


def _told(log: Rows, what: str) -> Line:
    """The best curve of a log that shows a pull-down; InputError saying why it shows none."""
    readings = read(log)
    if len(log) < FEWEST:
        raise InputError(f"{len(log)} readings do not tell {what}", f"at least {FEWEST}")
    best = best_line(readings.s, readings.values)
    left = scatter(best, readings.s, readings.values, readings.step)
    fault = no_curve(readings, best, left, 0.0)
    if not fault and (best.rate < SLOWEST or best.slope >= 0.0):
        fault = "the fall does not slow down: log on"
    if fault:
        raise InputError(f"the log does not tell {what}: {fault}", "a log of one undisturbed pull-down")
    return best


def _found(
    readings: Readings, best: Line, curves: Allowed, left: Scatter, set_point: float, accuracy: float
) -> PullDown:
    """All numbers, the verdict still open."""
    low, high = curves.settles()
    rates = [line.rate for line in curves.lines]
    known = best.rate > SLOWEST
    arrives = _arrives(best, set_point) if known else None
    first = _first(lambda s: curves.span(s)[0] <= set_point + accuracy)
    last = _first(lambda s: curves.span(s)[1] <= set_point - accuracy)
    length = readings.length

    def time(s: float | None) -> float | None:
        return None if s is None else s * length

    return PullDown(
        CANNOT_SAY, "",
        best.at(inf) if known else None,
        low - accuracy if low - accuracy > _NEVER_K else None, high + accuracy if isfinite(high) else None,
        time(arrives), time(first), time(last),
        length / best.rate if known else None,
        length / max(rates), None if curves.straight else length / min(rates),
        scatter=left.size,
    )


def _arrives(line: Line, set_point: float) -> float | None:
    """Lengths of the log from its end until this curve passes the set point; None when it does not."""
    end, settles = line.at(1.0), line.at(inf)
    if end <= set_point:
        return 0.0
    if settles >= set_point:
        return None
    return log1p((end - set_point) / (set_point - settles)) / line.rate


def _first(there: Callable[[float], bool]) -> float | None:
    """Lengths of the log from its end until ``there`` holds (and goes on holding); None when that is far off."""
    if there(1.0):
        return 0.0
    high = 2.0
    while not there(high):
        high *= 2.0
        if high > _FURTHEST:
            return None
    low = high / 2.0
    for _ in range(26):
        middle = (low + high) / 2.0
        low, high = (low, middle) if there(middle) else (middle, high)
    return high - 1.0


def _verdict(found: PullDown, lowest: float, set_point: float, within: float) -> PullDown:
    """``lowest``: the coldest it can be (K) when the time it may take is over."""
    goal, hours = format_si(set_point, "degF"), format_si(within, "h")
    latest, low, high = found.time_left_high, found.settle_low, found.settle_high
    if latest is not None and latest <= within:
        because = f"it is there in {format_si(latest, 'h' if latest >= 3600.0 else 'min')} at the latest"
        return replace(found, verdict=WILL_MAKE_IT, because=because)
    if lowest > set_point:
        because = f"in {hours} it is at {format_si(lowest, 'degF')} or warmer"
        return replace(
            found, verdict=WILL_NOT, because=because, coldest=lowest,
            time_left=None, time_left_low=None, time_left_high=None,
        )
    if high is None:
        why = "the log is too short or too flat: readings that scatter like these need not fall at all"
    elif low is None:
        why = f"the fall does not slow down enough to show where it ends, above or below {goal}"
    elif low > set_point:
        why = f"the curve settles above {goal}, but a slower fall hidden in the scatter may get there in {hours}"
    elif latest is not None:
        why = f"it gets there, perhaps later than in {hours}"
    else:
        why = f"it settles between {format_si(low, 'degF')} and {format_si(high, 'degF')}, around {goal}"
    return replace(found, because=f"{why}; log on")
