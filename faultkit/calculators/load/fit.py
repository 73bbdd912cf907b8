"""Least squares of an exponential to a log, and what the log leaves open.

The curve is T(t) = T_inf + (T_0 - T_inf) exp(-t / tau). For a given rate 1/tau it is a straight line in the other
two constants, so the sum of squares is a function of the rate alone (variable projection). Every curve whose sum of
squares is not too large is *allowed*; a bound on where it settles, or on when it passes a temperature, is the extreme
over the allowed curves (profile likelihood). For a given rate those extremes have a closed form.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import asinh, exp, expm1, inf, sinh, sqrt

__all__ = [
    "SLOWEST", "Allowed", "Line", "allowed", "best_line", "best_rate", "leverages", "rates_within", "residuals",
    "stretched",
]

#: Rates are per length of the log. A curve slower than this cannot be told from a straight line.
SLOWEST = 1e-3
# The rate at which a curve bent the wrong way is as good as a corner at the last reading.
_BENT = -12.0
_COARSE, _FINE, _HALVINGS, _GOLDEN_STEPS = 80, 48, 26, 40
_GOLDEN = (sqrt(5.0) - 1.0) / 2.0


@dataclass(frozen=True, slots=True)
class Line:
    """The best curve of one rate: y = mean + slope (p - centre), with p(s) = (1 - exp(-rate s)) / rate.

    ``spread`` is the sum of squares of p about its centre, ``squares`` of what the curve leaves.
    """

    rate: float
    mean: float
    slope: float
    centre: float
    spread: float
    squares: float
    count: int

    def at(self, s: float) -> float:
        """Value at ``s`` lengths of the log from its start; ``inf``: where it settles."""
        return self.mean + self.slope * (stretched(self.rate, s) - self.centre)

    def reach(self, s: float, limit: float) -> float:
        """How far that value may be moved while the sum of squares stays within ``limit``."""
        left = max(0.0, limit - self.squares)
        return sqrt(left * (1.0 / self.count + (stretched(self.rate, s) - self.centre) ** 2 / self.spread))

    def may_rise(self, limit: float) -> bool:
        """Whether a curve of this rate that does not fall is within ``limit`` too."""
        return self.slope + sqrt(max(0.0, limit - self.squares) / self.spread) >= 0.0


@dataclass(frozen=True, slots=True)
class Allowed:
    """The falling-rate curves with a sum of squares within ``limit``, sampled by rate.

    ``straight``: a straight line is among them, so that the slowest has no rate at all.
    """

    lines: tuple[Line, ...]
    limit: float
    straight: bool

    def span(self, s: float) -> tuple[float, float]:
        """Lowest and highest value of any of them at ``s`` lengths of the log."""
        low, high = inf, -inf
        for line in self.lines:
            middle, reach = line.at(s), line.reach(s, self.limit)
            low, high = min(low, middle - reach), max(high, middle + reach)
        return low, high

    def settles(self) -> tuple[float, float]:
        """Lowest and highest value any of them settles at, infinite where the log does not tell."""
        low, high = self.span(inf)
        if not self.straight:
            return low, high
        return -inf, inf if self.lines[0].may_rise(self.limit) else high


def stretched(rate: float, s: float) -> float:
    """p(s): 0 at the start, there of slope one, ``1 / rate`` at the end of time."""
    if s == inf:
        return 1.0 / rate
    return -expm1(-rate * s) / rate if abs(rate) > 1e-9 else s


def _line(rate: float, s: Sequence[float], y: Sequence[float]) -> Line:
    n = len(s)
    p = [stretched(rate, x) for x in s]
    centre, mean = sum(p) / n, sum(y) / n
    p = [x - centre for x in p]
    spread = sum(x * x for x in p)
    slope = sum(x * (v - mean) for x, v in zip(p, y, strict=True)) / spread
    squares = sum((v - mean - slope * x) ** 2 for x, v in zip(p, y, strict=True))
    return Line(rate, mean, slope, centre, spread, squares, n)


def _ladder(s: Sequence[float]) -> list[float]:
    """Rates to look at, as their asinh: straight in the middle, logarithmic outside."""
    low, high = asinh(_BENT), asinh(10.0 / min(b - a for a, b in pairwise(s)))
    return [low + (high - low) * i / _COARSE for i in range(_COARSE + 1)]


def best_line(s: Sequence[float], y: Sequence[float]) -> Line:
    """The least squares of all rates, also of those that bend the wrong way (rate below zero)."""
    return _line(best_rate(lambda rate: _line(rate, s, y).squares, s), s, y)


def best_rate(squares: Callable[[float], float], s: Sequence[float]) -> float:
    """The rate with the least sum of squares."""
    ladder = _ladder(s)
    sums = [squares(sinh(u)) for u in ladder]
    best = min(range(len(ladder)), key=sums.__getitem__)
    low, high = ladder[max(0, best - 1)], ladder[min(len(ladder) - 1, best + 1)]
    return sinh(_least(lambda u: squares(sinh(u)), low, high))


def _least(f: Callable[[float], float], low: float, high: float) -> float:
    """Golden section."""
    a, b = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    fa, fb = f(a), f(b)
    for _ in range(_GOLDEN_STEPS):
        if fa < fb:
            high, b, fb = b, a, fa
            a = high - _GOLDEN * (high - low)
            fa = f(a)
        else:
            low, a, fa = a, b, fb
            b = low + _GOLDEN * (high - low)
            fb = f(b)
    return (low + high) / 2.0


def allowed(s: Sequence[float], y: Sequence[float], best: Line, limit: float) -> Allowed:
    """All curves with a rate above zero and a sum of squares within ``limit``; none when all of them bend wrong."""
    rates = rates_within(lambda rate: _line(rate, s, y).squares, s, best.rate, limit)
    return Allowed(tuple(_line(rate, s, y) for rate in rates), limit, SLOWEST in rates)


def rates_within(squares: Callable[[float], float], s: Sequence[float], best: float, limit: float) -> list[float]:
    """Rates from ``SLOWEST`` up whose sum of squares is within ``limit``, close together around the best; rising."""
    def within(u: float) -> bool:
        return squares(sinh(u)) <= limit

    def edge(inside: float, outside: float) -> float:
        for _ in range(_HALVINGS):
            middle = (inside + outside) / 2.0
            inside, outside = (middle, outside) if within(middle) else (inside, middle)
        return inside

    floor, middle = asinh(SLOWEST), asinh(best)
    ladder = [u for u in _ladder(s) if u > floor]
    near = {u: within(u) for u in ladder}
    found = {sinh(u) for u in ladder if near[u]}
    if straight := squares(SLOWEST) <= limit:
        found.add(SLOWEST)
    if middle > floor:
        fast = next((u for u in ladder if u > middle and not near[u]), None)
        slow = next((u for u in reversed(ladder) if u < middle and not near[u]), None if straight else floor)
        high = ladder[-1] if fast is None else edge(middle, fast)
        low = floor if slow is None else edge(middle, slow)
        found |= {sinh(low) * (sinh(high) / sinh(low)) ** (i / _FINE) for i in range(_FINE + 1)}
    return sorted(found)


def residuals(line: Line, s: Sequence[float], y: Sequence[float]) -> list[float]:
    """Reading minus curve."""
    return [v - line.at(x) for x, v in zip(s, y, strict=True)]


def leverages(line: Line, s: Sequence[float]) -> list[float]:
    """How much each reading pulls the curve to itself, 0 to 1, the rate counted as a constant to fit."""
    # Columns of the linearised fit, made orthogonal one after the other.
    columns = [[1.0] * len(s), [stretched(line.rate, x) for x in s], [x * exp(-line.rate * x) for x in s]]
    pulls = [0.0] * len(s)
    done: list[list[float]] = []
    for raw in columns:
        column = raw
        for q in done:
            share = sum(a * b for a, b in zip(q, column, strict=True))
            column = [c - share * a for a, c in zip(q, column, strict=True)]
        size = sqrt(sum(c * c for c in column))
        if size > 1e-9 * sqrt(sum(c * c for c in raw)):
            done.append([c / size for c in column])
            pulls = [h + a * a for h, a in zip(pulls, done[-1], strict=True)]
    return pulls
