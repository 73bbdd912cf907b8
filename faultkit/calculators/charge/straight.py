"""Does a straight line, or a rise that levels off, fit through readings known within bounds."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, log

__all__ = ["levels_off_fits", "line_slopes"]

Band = tuple[float, float, float]  # time, lowest and highest value


def line_slopes(bands: Sequence[Band]) -> tuple[float, float] | None:
    """Least and greatest slope of a straight line through all bands; None where none goes through.

    A line a + b·t meets every band exactly when b (t_j - t_i) <= high_j - low_i for every pair, which
    bounds b from both sides.
    """
    least, greatest = -inf, inf
    for n, (t, low, high) in enumerate(bands):
        for later, its_low, its_high in bands[n + 1:]:
            step = later - t
            greatest = min(greatest, (its_high - low) / step)
            least = max(least, (its_low - high) / step)
        if least > greatest:
            return None
    return least, greatest


def levels_off_fits(bands: Sequence[Band], level: float) -> bool:
    """Whether a rise that levels off at ``level`` goes through all bands: level - c·exp(-k·t), k above zero.

    Its logarithm of the distance to the level is a straight line.
    """
    if max(low for _, low, _ in bands) >= level:
        return False
    slopes = line_slopes([
        (t, -log(level - low), -log(level - high) if high < level else inf) for t, low, high in bands
    ])
    return slopes is not None and slopes[1] > 0.0
