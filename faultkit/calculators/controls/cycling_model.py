"""The model of a unit that cycles on a differential, and running time a day."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.controls import cycling
from faultkit.calculators.controls.words import length_words
from faultkit.problems import InputError

__all__ = [
    "CyclingComparison", "RunHours", "cycling_comparison", "cycling_rate", "most_cycling_rate",
    "run_fraction_by_meter", "run_hours_check", "run_hours_per_day",
]

_DAY = 86_400.0


@dataclass(frozen=True, slots=True)
class CyclingComparison:
    """Measured starts against the cycling model, both Hz; ``ratio`` measured over modelled."""

    measured: float
    modelled: float
    run_fraction: float
    ratio: float
    verdict: str


@dataclass(frozen=True, slots=True)
class RunHours:
    """Running time a day (s) against design."""

    run_time: float
    verdict: str


def cycling_rate(run_fraction: float, most_starts: float) -> float:
    """Starts per hour of a unit that cycles on a fixed differential (Hz).

    N = 4 Nmax X (1 - X): most often, ``most_starts`` (Hz), when it runs half the time;
    ``run_fraction`` X from 0 to 1. A small differential makes Nmax large.

    >>> round(cycling_rate(0.25, 6 / 3600) * 3600, 2)  # Nmax 6 an hour
    4.5
    """
    return 4.0 * most_starts * run_fraction * (1.0 - run_fraction)


def most_cycling_rate(starts: float, run_fraction: float) -> float:
    """Starts per hour that a unit would make running half the time (Hz).

    The cycling model turned round: N / (4 X (1 - X)) from its ``starts`` (Hz) at
    ``run_fraction`` X. What its differential allows, whatever the load of the day.

    >>> round(most_cycling_rate(4.5 / 3600, 0.75) * 3600, 2)
    6.0
    """
    return starts / (4.0 * run_fraction * (1.0 - run_fraction))


def cycling_comparison(log: cycling.Rows, most_starts: float, most_ratio: float) -> CyclingComparison:
    """Starts of a log against the cycling model at the same running share.

    ``most_starts`` (Hz) is what the unit makes running half the time when it is right;
    more than ``most_ratio`` times the model: the differential is smaller than it should be, or
    something else stops it (safety, probe in the cold air stream, leaking check or solenoid valve).

    >>> log = ((0.0, 0.0), (60.0, 1.0), (180.0, 0.0), (360.0, 1.0), (480.0, 0.0), (660.0, 1.0), (700.0, 1.0))
    >>> cycling_comparison(log, 6 / 3600, 1.5).verdict
    'cycles more often than its differential explains'
    """
    # With two starts it has both run and rested, so the share is neither 0 nor 1.
    measured, share = cycling.starts_per_hour(log), cycling.run_fraction(log)
    modelled = cycling_rate(share, most_starts)
    ratio = measured / modelled
    if ratio > most_ratio:
        told = "cycles more often than its differential explains"
    elif ratio < 1.0 / most_ratio:
        told = "cycles less often than its differential explains"
    else:
        told = "as the model"
    return CyclingComparison(measured, modelled, share, ratio, told)


def run_hours_per_day(run_fraction: float) -> float:
    """Running time a day (s) of a unit that runs a share of the time.

    >>> run_hours_per_day(2 / 3) / 3600
    16.0
    """
    return run_fraction * _DAY


def run_fraction_by_meter(meter_first: float, meter_last: float, elapsed: float) -> float:
    """Share of the time running, by an hour meter read twice: a ratio.

    Readings and the ``elapsed`` time between them in s.

    >>> run_fraction_by_meter(3600 * 1000.0, 3600 * 1112.0, 7 * 86400.0)  # 112 h in a week
    0.6666666666666666
    """
    ran = meter_last - meter_first
    if not 0.0 <= ran <= elapsed * (1.0 + 1e-9):
        raise InputError(
            f"the meter counted {length_words(ran)} in {length_words(elapsed)}", "between nothing and the time elapsed"
        )
    return ran / elapsed


def run_hours_check(run_fraction: float, least_design: float, most_design: float, endless: float) -> RunHours:
    """Running time a day against what the unit was sized for.

    ``least_design``, ``most_design`` (s a day): 16 to 18 h for a cooler, 18 to 20 h for a
    freezer are usual. From a share of ``endless`` on it never stops. Weather matters: on a mild day it should run less.

    >>> run_hours_check(0.92, 57600.0, 64800.0, 0.98).verdict
    'runs 22.1 h a day, sized for 16 h to 18 h: too little capacity or too much load'
    """
    if least_design > most_design:
        raise InputError("'least_design' lies above 'most_design'", "16 h and 18 h, say")
    ran = run_hours_per_day(run_fraction)
    sized = f"sized for {length_words(least_design)} to {length_words(most_design)}"
    if run_fraction >= endless:
        return RunHours(ran, f"runs without a stop, {sized}: too little capacity, too much load, or a stuck control")
    if ran > most_design:
        return RunHours(ran, f"runs {length_words(ran)} a day, {sized}: too little capacity or too much load")
    if ran < least_design:
        return RunHours(ran, f"runs {length_words(ran)} a day, {sized}: mild weather, light load, or capacity to spare")
    return RunHours(ran, f"runs {length_words(ran)} a day, as {sized}")
