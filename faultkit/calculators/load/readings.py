"""A log of temperatures as numbers to fit, and what in it is no pull-down."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import inf, isfinite, sqrt

from faultkit.calculators.arguments import Rows
from faultkit.calculators.load.fit import Line, residuals
from faultkit.calculators.load.scatter import FINEST, Scatter
from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = ["FASTER", "Readings", "no_curve", "read"]

#: Said of a log whose curve bends the wrong way.
FASTER = "it falls faster and faster, which no pull-down does for long: log on"

# Readings that go together so much that fewer than these tell something are no scatter about a curve ...
_FEWEST_ALONE = 8.0
# ... where that is no accident: one plain log in a hundred.
_TOGETHER = 2.33
_SCALES = ((5.0 / 9.0, 459.67 * 5.0 / 9.0), (1.0, 273.15))
_STEPS = (1.0, 0.5, 0.2, 0.1)
_EQUAL = 1e-5
_LONG_S = 36_000.0


@dataclass(frozen=True, slots=True)
class Readings:
    """A log: s and K as they are, and ``s`` in lengths of the log from its start."""

    times: tuple[float, ...]
    values: tuple[float, ...]
    s: tuple[float, ...]
    length: float

    @property
    def step(self) -> float:
        """The coarsest step of a display, °F or °C, that every reading is a multiple of, in K; 0 for none."""
        for scale, zero in _SCALES:
            shown = [(v - zero) / scale for v in self.values]
            for step in _STEPS:
                if all(abs(v / step - round(v / step)) < _EQUAL for v in shown):
                    return step * scale
        return 0.0

    def clock(self, number: int) -> str:
        """Time of a reading from the first."""
        return format_si(self.times[number] - self.times[0], "min" if self.length < _LONG_S else "h")

    def rise(self) -> tuple[float, int]:
        """The largest rise above a reading before (K), and the number of the reading it ends at."""
        lowest, largest, at = inf, 0.0, 0
        for i, value in enumerate(self.values):
            lowest = min(lowest, value)
            if value - lowest > largest:
                largest, at = value - lowest, i
        return largest, at


def read(log: Rows) -> Readings:
    """Rows of s and K as readings; InputError for fewer than two, and for rows out of order."""
    if len(log) < 2:
        raise InputError(
            f"log has {len(log)} row{'s' if len(log) != 1 else ''}", "at least 2 rows of time and temperature"
        )
    times, values = tuple(float(r[0]) for r in log), tuple(float(r[1]) for r in log)
    if not all(isfinite(x) for x in (*times, *values)) or any(b <= a for a, b in pairwise(times)):
        raise InputError("log has rows out of order of time, or without a number", "rows in order of time, each once")
    length = times[-1] - times[0]
    return Readings(times, values, tuple((x - times[0]) / length for x in times), length)


def no_curve(readings: Readings, best: Line, left: Scatter, accuracy: float) -> str:
    """Why these readings are no pull-down; empty when they may be one."""
    n = len(readings.s)
    if max(readings.values) - min(readings.values) <= 0.0:
        return "the log is flat: it does not fall at all"
    if best.slope >= 0.0:
        return "it is not falling"
    if left.apart is None and not _swerves(n, left, readings.step):
        return ""
    rise, at = readings.rise()
    if rise > max(2.0 * readings.step, accuracy, left.size):
        return (
            f"it rises by {format_si(rise, 'delta_degF')} to the reading at {readings.clock(at)}: "
            "a defrost, an open door, warm product? Take the log from after it"
        )
    if best.rate < 0.0:
        return FASTER
    if left.apart is not None:
        return f"the reading at {readings.clock(left.apart)} stands apart from the others: leave it out, or log on"
    off = residuals(best, readings.s, readings.values)
    worst = max(range(n), key=lambda i: abs(off[i]))
    return (
        f"the readings leave the curve in a body, most at {readings.clock(worst)}: air and product at two paces, or "
        "something changed. Take the log from later on"
    )


def _swerves(n: int, left: Scatter, step: float) -> bool:
    """Whether neighbours go together more than chance and the rounding of the display make them."""
    chance = _TOGETHER / sqrt(n)
    together = chance < 1.0 and n / left.alone > (1.0 + chance) / (1.0 - chance)
    return together and left.alone < _FEWEST_ALONE and left.size > max(step, FINEST)
