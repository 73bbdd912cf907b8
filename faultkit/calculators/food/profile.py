"""A log of temperatures as a curve: straight between rows, unknown across a long gap."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from faultkit.calculators.arguments import Rows
from faultkit.problems import InputError, Problem
from faultkit.units import format_si

__all__ = ["Stretch", "crossing", "excess", "longest", "refuse_odd", "stretches", "total", "unknown_time"]

Stretch = tuple[float, float]
_HOTTEST_K, _COLDEST_K = 480.0, 200.0
#: A gap of just the length allowed is one whatever the clock began at.
_ROUNDING_S = 1e-6


def refuse_odd(readings: Rows) -> None:
    """InputError for temperatures that no food has: a probe pulled out, open or in the wrong unit."""
    problems = [
        Problem(f"row {n} of 'readings' is {format_si(t, 'degF')}", "a food temperature, -100 degF to 400 degF")
        for n, (_, t) in enumerate(readings, 1) if not _COLDEST_K <= t <= _HOTTEST_K
    ]
    if problems:
        raise InputError(problems)


def excess(temperature: float, limit: float) -> float:
    """K above the limit; a hair's breadth, left over from units and accuracy, is none."""
    return round(temperature - limit, 6)


def stretches(readings: Rows, limit: float, offset: float, longest_gap: float, *, unknown: bool) -> list[Stretch]:
    """The times (start, end) in s for which reading + offset lies above the limit, in order, touching ones joined.

    A gap longer than ``longest_gap`` counts as above where ``unknown``, else not.
    """
    joined: list[Stretch] = []
    for start, end in _pieces(readings, limit, offset, longest_gap, unknown=unknown):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], end)
        else:
            joined.append((start, end))
    return joined


def total(found: list[Stretch]) -> float:
    """Their whole time, s."""
    return sum(end - start for start, end in found)


def longest(found: list[Stretch]) -> float:
    """The longest of them, s; 0 for none."""
    return max((end - start for start, end in found), default=0.0)


def unknown_time(readings: Rows, longest_gap: float) -> float:
    """Time in s between rows farther apart than ``longest_gap``."""
    steps = (b[0] - a[0] for a, b in pairwise(readings))
    return sum(step for step in steps if step > longest_gap + _ROUNDING_S)


def crossing(readings: Rows, level: float, offset: float, longest_gap: float) -> Stretch | None:
    """Earliest and latest time (s) at which reading + offset first comes down to the level; None where it never does.

    The two differ only where that happens within a gap.
    """
    before: tuple[float, float] | None = None
    for at, temperature in readings:
        over = excess(temperature + offset, level)
        if over <= 0.0:
            if before is None:
                return at, at
            start, was = before
            if at - start > longest_gap + _ROUNDING_S:
                return start, at
            exact = start + (at - start) * was / (was - over)
            return exact, exact
        before = (at, over)
    return None


def _pieces(
    readings: Rows, limit: float, offset: float, longest_gap: float, *, unknown: bool
) -> Iterator[Stretch]:
    for (start, first), (end, second) in pairwise(readings):
        a, b = excess(first + offset, limit), excess(second + offset, limit)
        if end - start > longest_gap + _ROUNDING_S:
            if unknown:
                yield start, end
        elif a > 0.0 and b > 0.0:
            yield start, end
        elif a > 0.0:
            yield start, start + (end - start) * a / (a - b)
        elif b > 0.0:
            yield end - (end - start) * b / (b - a), end
