"""A second, slower pace in a log: product that follows the air, frost that builds up.

A straight fall is added to the exponential. If the log asks for one, a single exponential is the wrong curve; if it
only leaves room for one, nobody may say that the temperature stays where the exponential settles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from faultkit.calculators.load.fit import SLOWEST, best_rate, rates_within, stretched

__all__ = ["Drifting", "drift_squares", "lowest_with_drift"]


@dataclass(frozen=True, slots=True)
class Drifting:
    """Least squares of y = constant + fall p(s) + drift s for one rate.

    ``fall`` is that without drift; with drift d it is ``fall - d share``. ``room`` is the inverse of the curvature of
    the sum of squares over the drift, whose least, ``squares``, is at ``drift``.
    """

    rate: float
    mean: float
    centre: float
    middle: float
    fall: float
    share: float
    drift: float
    room: float
    squares: float

    def at(self, s: float, drift: float) -> float:
        """Value at ``s`` lengths of the log with that drift."""
        fall = self.fall - drift * self.share
        return self.mean + fall * (stretched(self.rate, s) - self.centre) + drift * (s - self.middle)

    def steepest(self, limit: float) -> float | None:
        """The steepest downward drift (below zero) within ``limit`` whose exponential falls too; None for none."""
        left = limit - self.squares
        if left < 0.0:
            return None
        reach = sqrt(left * self.room)
        # Steeper than this and the exponential would have to rise.
        drift = max(self.drift - reach, self.fall / self.share)
        return drift if drift <= min(0.0, self.drift + reach) else None


def _drifting(rate: float, s: Sequence[float], y: Sequence[float]) -> Drifting:
    n = len(s)
    p = [stretched(rate, x) for x in s]
    centre, middle, mean = sum(p) / n, sum(s) / n, sum(y) / n
    p, x, v = [a - centre for a in p], [a - middle for a in s], [a - mean for a in y]
    spread = sum(a * a for a in p)
    fall = sum(a * b for a, b in zip(p, v, strict=True)) / spread
    share = sum(a * b for a, b in zip(p, x, strict=True)) / spread
    rest = [b - share * a for a, b in zip(p, x, strict=True)]
    curvature = sum(a * a for a in rest)
    drift = sum(a * b for a, b in zip(rest, v, strict=True)) / curvature
    squares = sum((c - fall * a - drift * b) ** 2 for a, b, c in zip(p, rest, v, strict=True))
    return Drifting(rate, mean, centre, middle, fall, share, drift, 1.0 / curvature, squares)


def drift_squares(s: Sequence[float], y: Sequence[float]) -> tuple[float, float]:
    """The least sum of squares with a drift, and the rate it is at."""
    rate = max(SLOWEST, best_rate(lambda r: _drifting(r, s, y).squares, s))
    return _drifting(rate, s, y).squares, rate


def lowest_with_drift(
    s: Sequence[float], y: Sequence[float], rate: float, limit: float, ahead: float
) -> float | None:
    """Lowest value at ``ahead`` lengths of the log of any falling curve with a downward drift within ``limit``."""
    found = []
    for r in rates_within(lambda r: _drifting(r, s, y).squares, s, rate, limit):
        curve = _drifting(r, s, y)
        drift = curve.steepest(limit)
        if drift is not None:
            found.append(curve.at(ahead, drift))
    return min(found, default=None)
