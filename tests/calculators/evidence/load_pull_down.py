"""The fit of a pull-down against a library, and its bounds against simulated logs of known truth."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from math import exp, log, sqrt
from random import Random
from typing import Any

from faultkit.calculators.arguments import Rows
from faultkit.calculators.load import pulldown
from faultkit.calculators.load.student import student_quantile
from tests.calculators.evidence_check import Check, Evidence

LIBRARY, DERIVATION = Evidence.REFERENCE_LIBRARY, Evidence.DERIVATION
SCIPY = "scipy.optimize.curve_fit"
SIMULATED = "logs simulated from the truth, seeded"
HOUR = 3600.0


def simulated(seed: int, count: int, hours: float, scatter: float, *, bias: float = 0.0, step: float = 0.0) -> Rows:
    """Readings from 24 °C toward 2 °C with a time constant of one hour."""
    random = Random(seed)  # noqa: S311 - a simulation
    off = random.uniform(-bias, bias)
    rows = []
    for i in range(count):
        t = hours * HOUR * i / (count - 1)
        value = 275.15 + 22.0 * exp(-t / HOUR) + random.gauss(0.0, scatter) + off
        rows.append((t, round((value - 273.15) / step) * step + 273.15 if step else value))
    return tuple(rows)


LOGS = tuple(
    simulated(seed, count, hours, scatter)
    for seed, (count, hours, scatter) in enumerate(((9, 2.0, 0.1), (20, 1.5, 0.2), (40, 3.0, 0.3), (120, 4.0, 0.5)))
)


@cache
def curve_fit(readings: Rows) -> tuple[float, float, float, Any]:
    """K it settles at, K at the start, s, and their covariance."""
    import numpy as np
    from scipy.optimize import curve_fit as fit

    def curve(t: Any, settles: float, start: float, tau: float) -> Any:
        return settles + (start - settles) * np.exp(-t / tau)

    times, values = (np.array(column) for column in zip(*readings, strict=True))
    found, covariance = fit(curve, times, values, p0=(values[-1], values[0], times[-1] / 2), xtol=1e-12, ftol=1e-12)
    return float(found[0]), float(found[1]), float(found[2]), covariance


def over_logs(error: Callable[[Rows], float]) -> Callable[[], Iterator[float]]:
    return lambda: (error(readings) for readings in LOGS)


def crossing(readings: Rows, goal: float) -> float:
    """s from the last reading until scipy's curve passes, by bisection."""
    settles, start, tau, _ = curve_fit(readings)
    low, high = readings[-1][0], readings[-1][0] + 50 * tau
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if settles + (start - settles) * exp(-middle / tau) > goal else (low, middle)
    return low - readings[-1][0]


def told(readings: Rows) -> pulldown.PullDown:
    return pulldown.pull_down(readings, 270.0, accuracy=0.0)


def number(value: float | None) -> float:
    assert value is not None
    return value


def asymptotic() -> Iterator[float]:
    """Percent off the width that scipy's covariance gives, for a log that leaves little open."""
    readings = simulated(11, 60, 4.0, 0.05)
    found = told(readings)
    width = 2.0 * student_quantile(0.975, 57) * sqrt(curve_fit(readings)[3][0, 0])
    yield 100.0 * ((number(found.settle_high) - number(found.settle_low)) / width - 1.0)


def quantiles() -> Iterator[float]:
    from scipy.stats import t

    for p in (0.75, 0.95, 0.975, 0.995, 0.9995):
        for freedom in (1, 2, 3, 5, 8, 30, 150, 400):
            yield 100.0 * (student_quantile(p, freedom) / float(t.ppf(p, freedom)) - 1.0)


RUNS = 400


@cache
def coverage(
    count: int, hours: float, scatter: float, bias: float = 0.0, step: float = 0.0
) -> tuple[float, float, float]:
    """Percent of logs whose bounds hold where it settles, hold the time left, and whose verdict is wrong."""
    truth, goal = 275.15, 275.75
    arrival = HOUR * log(22.0 / (goal - truth)) - hours * HOUR
    said = settled = timed = wrong = 0
    for seed in range(RUNS):
        readings = simulated(RUNS * count + seed, count, hours, scatter, bias=bias, step=step)
        found = pulldown.pull_down(readings, goal, within=24 * HOUR, accuracy=bias)
        wrong += found.verdict == pulldown.WILL_NOT
        if found.settle_low is None and found.settle_high is None:
            continue  # it says that it does not know
        said += 1
        settled += (found.settle_low or 0.0) <= truth and (found.settle_high or 1e9) >= truth
        timed += (found.time_left_low or 0.0) <= arrival + 1e-6 and (found.time_left_high or 1e9) >= arrival - 1e-6
    return 100.0 * settled / said, 100.0 * timed / said, 100.0 * wrong / RUNS


#: readings, hours, K of scatter.
PLAIN = ((8, 1.5, 0.2), (12, 2.0, 0.2), (30, 1.0, 0.2))
#: The same with K that the probe is off by at most, or with the step of its display.
ROUGH = ((12, 2.0, 0.2, 0.5), (20, 3.0, 0.1, 0.0, 1.0))
#: Three standard errors of a share of 95 % among that many logs, in points.
CHANCE = 3.0 * 100.0 * sqrt(0.95 * 0.05 / RUNS)


def short(share: float) -> float:
    """Points by which a share is below 95 %."""
    return max(0.0, 95.0 - share)


CHECKS = (
    Check(
        "pull_down", "where 4 logs settle", SCIPY, LIBRARY, "K", 1e-5,
        over_logs(lambda rows: number(told(rows).settles_at) - curve_fit(rows)[0]),
    ),
    Check(
        "pull_down", "width of the bounds of a log that leaves little open", SCIPY + ", its covariance", LIBRARY, "%",
        3.0, asymptotic,
    ),
    Check("pull_down", "Student's t behind the bounds, 40 values", "scipy.stats.t", LIBRARY, "%", 0.01, quantiles),
    Check(
        "pull_down", f"95 % bounds on where it settles hold in 95 % of {RUNS} logs, 3 kinds (three standard errors)",
        SIMULATED, DERIVATION, "points", CHANCE, lambda: (coverage(*kind)[0] - 95.0 for kind in PLAIN),
    ),
    Check(
        "pull_down", f"95 % bounds on the time left hold in 95 % of {RUNS} logs, 3 kinds (three standard errors)",
        SIMULATED, DERIVATION, "points", CHANCE, lambda: (coverage(*kind)[1] - 95.0 for kind in PLAIN),
    ),
    Check(
        "pull_down", f"with a probe off by up to 0.5 K, or read in whole °C, no fewer than 95 % of {RUNS} logs (three "
        "standard errors)", SIMULATED, DERIVATION, "points below", CHANCE,
        lambda: (
            short(share) for kind in ROUGH for share in coverage(*kind)[:2]
        ),
    ),
    Check(
        "pull_down", f"told that it will not, where it would, 5 kinds of {RUNS} logs", SIMULATED, DERIVATION,
        "% of logs", 2.5,
        lambda: (coverage(*kind)[2] for kind in (*PLAIN, *ROUGH)),
    ),
    Check(
        "pull_down_settles_at", "4 logs", SCIPY, LIBRARY, "K", 1e-5,
        over_logs(lambda rows: pulldown.pull_down_settles_at(rows) - curve_fit(rows)[0]),
    ),
    Check(
        "pull_down_time_constant", "4 logs", SCIPY, LIBRARY, "%", 1e-3,
        over_logs(lambda rows: 100.0 * (pulldown.pull_down_time_constant(rows) / curve_fit(rows)[2] - 1.0)),
    ),
    Check(
        "pull_down_time_left", "4 logs, to a set point 0.2 K above where they settle", SCIPY, LIBRARY, "s", 0.1,
        over_logs(
            lambda rows: pulldown.pull_down_time_left(rows, curve_fit(rows)[0] + 0.2)
            - crossing(rows, curve_fit(rows)[0] + 0.2)
        ),
    ),
)
