"""Student's t for whole degrees of freedom: how far off a value with few readings behind it may be."""

from __future__ import annotations

from functools import cache
from math import cos, pi, sin, sqrt
from statistics import NormalDist

__all__ = ["student_quantile"]

_MANY = 200


@cache
def student_quantile(probability: float, freedom: int) -> float:
    """Value of t that is not exceeded with ``probability`` (0.5 to 1) at ``freedom`` degrees of freedom (1 and up).

    By bisection of the finite sum for the distribution, Abramowitz and Stegun 26.7.3 and 26.7.4;
    from 200 degrees on the normal quantile with its first two corrections.
    """
    if freedom >= _MANY:
        z = NormalDist().inv_cdf(probability)
        return z + (z**3 + z) / (4.0 * freedom) + (5.0 * z**5 + 16.0 * z**3 + 3.0 * z) / (96.0 * freedom**2)
    wanted = 2.0 * probability - 1.0
    # t runs to infinity, its angle to a right angle.
    low, high = 0.0, pi / 2.0
    for _ in range(60):
        middle = (low + high) / 2.0
        if _within(middle, freedom) < wanted:
            low = middle
        else:
            high = middle
    return sqrt(freedom) * sin(low) / cos(low) if low < pi / 2.0 else float("inf")


def _within(angle: float, freedom: int) -> float:
    """Chance that |t| is below the square root of freedom times the tangent of ``angle``."""
    s, c = sin(angle), cos(angle)
    odd = freedom % 2
    term = total = c if odd else 1.0
    for j in range(2 + odd, freedom - 1, 2):
        term *= c * c * (j - 1) / j
        total += term
    if not odd:
        return s * total
    return 2.0 / pi * (angle + (s * total if freedom > 1 else 0.0))


