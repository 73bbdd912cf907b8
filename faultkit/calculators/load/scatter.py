"""Whether what a curve leaves of a log is scatter: readings that stand apart, readings that leave in a body."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from faultkit.calculators.load.fit import Line, leverages, residuals
from faultkit.calculators.load.student import student_quantile

__all__ = ["FINEST", "Scatter", "scatter"]

#: K. What is smaller no thermometer on the job tells from nothing.
FINEST = 0.005

# One log in a thousand of plain scatter is refused for a reading that stands apart.
_APART = 0.001
# A memory smaller than this many standard errors is chance.
_SURE = 1.28
_MOST = 0.99
_CONSTANTS = 3
_LONG = 20


@dataclass(frozen=True, slots=True)
class Scatter:
    """``size``: root mean square (K). ``alone``: how many readings would tell as much if neighbours were not alike.

    ``freedom``: of those, what is left after the three constants of the curve. ``apart``: the number of the reading
    that no scatter like the others' explains, None for none.
    """

    size: float
    alone: float
    freedom: float
    apart: int | None


def scatter(line: Line, s: Sequence[float], y: Sequence[float], step: float) -> Scatter:
    """What the curve leaves; ``step`` is the display's smallest, which no reading can be nearer than."""
    left = residuals(line, s, y)
    n = len(left)
    squares = sum(e * e for e in left)
    alone = n / _repetition(left, squares)
    freedom = alone - 3.0
    size = sqrt(squares / freedom * alone / n) if freedom > 0.0 else sqrt(squares / n)
    return Scatter(size, alone, freedom, _apart(left, leverages(line, s), squares, step))


def _repetition(left: Sequence[float], squares: float) -> float:
    """How many neighbouring readings tell as much as one, from the correlation of neighbours (of first order).

    A fit of three constants makes neighbours look less alike than they are; the correction for that is
    that of Marriott and Pope (1954), carried over to three constants.
    """
    n = len(left)
    if squares <= 0.0:
        return 1.0
    seen = sum(a * b for a, b in pairwise(left)) / squares + _CONSTANTS / n
    if seen <= _SURE / sqrt(n):
        return 1.0
    # In a short log the correction's second half is all noise.
    memory = min(_MOST, seen / (1.0 - (_CONSTANTS + 2) / n) if n >= _LONG else seen)
    return (1.0 + memory) / (1.0 - memory)


def _apart(left: Sequence[float], pulls: Sequence[float], squares: float, step: float) -> int | None:
    """The reading furthest off, judged by the others (Student's t of the deleted residual, for the worst of n)."""
    n = len(left)
    freedom = n - 4
    if freedom < 2:
        return None
    rated = [(abs(e) / sqrt(max(1e-12, 1.0 - h)), i) for i, (e, h) in enumerate(zip(left, pulls, strict=True))]
    size, worst = max(rated)
    others = squares - size * size
    bound = student_quantile(1.0 - _APART / (2 * n), freedom) * sqrt(max(0.0, others) / freedom)
    return worst if size > bound and abs(left[worst]) > max(step, FINEST) else None
