"""Time delays: against short cycling, and one unit after the other."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.controls.words import length_words, named, verdict
from faultkit.problems import InputError

__all__ = [
    "DelayRelay", "anti_short_cycle_time", "delay_relay_check", "last_restart_time", "next_restart_delay",
    "starts_limit_by_delay",
]


@dataclass(frozen=True, slots=True)
class DelayRelay:
    """What a delay relay really does: shortest and longest delay (s)."""

    shortest: float
    longest: float
    verdict: str
    conflicts: tuple[str, ...]


def anti_short_cycle_time(equalizing_time: float, most_starts: float, least_run: float) -> float:
    """Least off time a compressor needs (s).

    The longer of ``equalizing_time`` (s: pressures level, a capillary tube takes
    longest) and what keeps it within ``most_starts`` (Hz) however short its runs:
    the least cycle less ``least_run`` (s).

    >>> anti_short_cycle_time(180.0, 12 / 3600, 120.0)  # 12 starts an hour, 2 min runs
    180.0
    """
    return max(equalizing_time, 1.0 / most_starts - least_run)


def starts_limit_by_delay(delay: float, least_run: float) -> float:
    """Most starts per hour that an off delay lets through (Hz).

    One cycle takes at least the ``delay`` and the shortest run the fault allows
    (``least_run``), both s.

    >>> round(starts_limit_by_delay(180.0, 120.0) * 3600, 6)
    12.0
    """
    return 1.0 / (delay + least_run)


def delay_relay_check(set_delay: float, tolerance: float, least: float, most: float) -> DelayRelay:
    """Shortest and longest delay of a time-delay relay, and whether they fit.

    ``set_delay`` (s) is off by ``tolerance`` (ratio) either way; it must lie between ``least`` and ``most`` (s).

    >>> delay_relay_check(180.0, 0.2, 180.0, 600.0).verdict
    'delay may be too short'
    """
    if least > most:
        raise InputError(
            f"'least' is {length_words(least)}, 'most' {length_words(most)}", "a least at or below the most"
        )
    shortest, longest = set_delay * (1.0 - tolerance), set_delay * (1.0 + tolerance)
    may = {True: "is", False: "may be"}
    conflicts = named((
        f"delay {may[longest < least]} too short: from {length_words(shortest)}, at least {length_words(least)} wanted"
        if shortest < least else "",
        f"delay {may[shortest > most]} too long: up to {length_words(longest)}, at most {length_words(most)} wanted"
        if longest > most else "",
    ))
    return DelayRelay(shortest, longest, verdict(conflicts), conflicts)


def next_restart_delay(delay: float, tolerance: float, start_time: float) -> float:
    """Shortest delay (s) for the next unit so that two never start together after a power failure.

    The unit before is set to ``delay`` (s) and draws starting current for ``start_time`` (s);
    both relays are off by ``tolerance`` (ratio) either way.

    >>> round(next_restart_delay(60.0, 0.1, 2.0), 1)
    75.6
    """
    return (delay * (1.0 + tolerance) + start_time) / (1.0 - tolerance)


def last_restart_time(units: float, first_delay: float, tolerance: float, start_time: float) -> float:
    """When the last of several units may start after a power failure (s).

    ``units`` (a whole number) set one after the other as close as ``next_restart_delay``
    allows, the first at ``first_delay`` (s); counted with the last relay at its longest.

    >>> round(last_restart_time(3.0, 60.0, 0.1, 2.0), 1)
    104.0
    """
    if units != int(units):
        raise InputError(f"'units' is {units:g}", "a whole number")
    delay = first_delay
    for _ in range(int(units) - 1):
        delay = next_restart_delay(delay, tolerance, start_time)
    return delay * (1.0 + tolerance)
