"""The clock of a defrost timer: how wrong it is, why, and which defrosts that moves into service hours."""

from __future__ import annotations

import re
from dataclasses import dataclass

from faultkit.calculators.controls.words import length_words, named
from faultkit.problems import InputError

__all__ = [
    "DAY_S", "DIALS", "ClockDrift", "ClockError", "DefrostTimes", "clock_drift", "clock_error", "clock_error_size",
    "clock_text", "defrost_times", "defrosts_in_service", "longest_time_between_defrosts", "parse_clock",
    "parse_starts", "starts_text", "synchronous_clock_rate",
]

DAY_S = 86_400.0
#: How far the dial goes round.
DIALS = ("24_hour", "12_hour")

_HOUR = 3600.0
_TIME = re.compile(r"(\d{1,2})(?::(\d{2}))?(?::(\d{2}))?\s*([AaPp])?\.?[Mm]?\.?")
_STARTS = re.compile(r"\d{1,2}:\d{2}(?::\d{2})?(?:\s*[AaPp]\.?[Mm]\.?)?|\d{1,2}\s*[AaPp]\.?[Mm]\.?")
_EXAMPLE = "a time of day, as 14:05 or 2:05 PM"


@dataclass(frozen=True, slots=True)
class ClockError:
    """``error`` (s, 0 or more) of a clock, ``direction`` fast, slow or right, and what is ``likely`` behind it."""

    error: float
    direction: str
    likely: str


@dataclass(frozen=True, slots=True)
class ClockDrift:
    """``change`` of a clock's error between two looks and ``per_day`` (both s, 0 or more), and what fits it."""

    change: float
    per_day: float
    direction: str
    fits: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class DefrostTimes:
    """When defrosts really start: ``rows`` of (on the dial, truly, in service 1 or 0), ``in_service`` how many."""

    rows: tuple[tuple[float, ...], ...]
    in_service: int
    told: tuple[str, ...]


def parse_clock(text: str) -> float:
    """Seconds after midnight of a time of day: ``14:05``, ``2:05 PM``, ``2 pm``. InputError for anything else."""
    found = _TIME.fullmatch(text.strip())
    if found is None or (found[2] is None and found[4] is None):
        raise InputError(f"'{text}' is no time of day", _EXAMPLE)
    hour, minute, second = int(found[1]), int(found[2] or 0), int(found[3] or 0)
    half = (found[4] or "").lower()
    if half and not 1 <= hour <= 12:
        raise InputError(f"'{text}' is no time of day", "1 to 12 before AM or PM")
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23 or minute > 59 or second > 59:
        raise InputError(f"'{text}' is no time of day", "hours to 23, minutes and seconds to 59")
    return hour * _HOUR + minute * 60.0 + second


def clock_text(text: str) -> str:
    """A time of day as it is shown here: ``14:05``."""
    return _shown(parse_clock(text))


def parse_starts(text: str) -> tuple[float, ...]:
    """Times of day in a row, apart by spaces or commas, in order of the day (s). InputError for a bad one, or twice."""
    parts = _STARTS.findall(text)
    left = _STARTS.sub("", text).strip(" ,;\t\n")
    if not parts or left:
        raise InputError(f"'{text}' is no row of times of day", "times as in '02:00 08:00 14:00 20:00'")
    times = sorted(parse_clock(p) for p in parts)
    if len(set(times)) < len(times):
        raise InputError(f"'{text}' has a time twice", "each start once")
    return tuple(times)


def starts_text(text: str) -> str:
    """Times of day as they are shown here: ``02:00 08:00``."""
    return " ".join(_shown(t) for t in parse_starts(text))


def _shown(seconds: float) -> str:
    minutes, rest = divmod(round(seconds) % round(DAY_S), 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}" + (f":{rest:02d}" if rest else "")


def _round_dial(seconds: float, dial: str) -> float:
    """The same hand position within half a turn either way."""
    turn = DAY_S if dial == DIALS[0] else DAY_S / 2.0
    left = seconds % turn
    return left - turn if left > turn / 2.0 else left


def clock_error_size(shown: str, true: str, dial: str) -> float:
    """How far a clock is off, fast or slow (s, at most half a turn of the dial).

    >>> clock_error_size("13:30", "16:00", "24_hour") / 3600
    2.5
    """
    return abs(_round_dial(parse_clock(shown) - parse_clock(true), dial))


def clock_error(shown: str, true: str, dial: str, tolerance: float) -> ClockError:
    """How far a clock is off, which way, and what that looks like.

    ``shown`` on the clock when it is ``true`` (times of day); within ``tolerance`` (s) it is
    right. Twelve hours on a 24-hour dial: AM and PM swapped; one hour: daylight saving;
    slow otherwise: the length of a power failure, or drift (``clock_drift`` tells).

    >>> clock_error("04:00", "16:05", "24_hour", 600.0).likely
    'AM and PM swapped when it was set'
    """
    moved = _round_dial(parse_clock(shown) - parse_clock(true), dial)
    size = abs(moved)
    if size <= tolerance:
        return ClockError(size, "right", "")
    direction = "fast" if moved > 0.0 else "slow"
    if dial == DIALS[0] and abs(size - DAY_S / 2.0) <= tolerance:
        return ClockError(size, direction, "AM and PM swapped when it was set")
    if abs(size - _HOUR) <= tolerance:
        return ClockError(size, direction, "daylight saving time not followed")
    if direction == "slow":
        return ClockError(size, direction, f"power off for {length_words(size)} since it was set, or drift")
    return ClockError(size, direction, "set wrong, or drift")


def clock_drift(
    shown_first: str, true_first: str, shown_last: str, true_last: str, days: float, dial: str, tolerance: float
) -> ClockDrift:
    """How much a clock gains or loses a day between two looks at it, and what fits that.

    ``days`` is how many dates lie between the looks (0: the same date). Tried: keeps
    time, stopped, a 60 Hz clock on 50 Hz (loses a sixth: 4 h a day), a 50 Hz clock on 60 Hz
    (gains a fifth: 4.8 h a day), a lump lost while the power was off; each within
    ``tolerance`` (s). A dial does not show whole turns: look again within two days.

    >>> d = clock_drift("08:00", "08:00", "04:00", "08:00", 1.0, "24_hour", 300.0)
    >>> d.per_day / 3600, d.direction, d.fits[0]
    (4.0, 'loses', 'a 60 Hz clock on 50 Hz')
    """
    if days != int(days):
        raise InputError(f"'days' is {days:g}", "a whole number of dates between the looks")
    first, last = parse_clock(true_first), parse_clock(true_last)
    elapsed = days * DAY_S + last - first
    if elapsed <= 0.0:
        raise InputError(
            f"the last look, {_shown(last)}, is not after the first, {_shown(first)}", "a later time, or 1 day or more"
        )
    ran = parse_clock(shown_last) - parse_clock(shown_first)
    change = _round_dial(ran - elapsed, dial)
    direction = "keeps time" if abs(change) <= tolerance else "gains" if change > 0.0 else "loses"
    turn = DAY_S if dial == DIALS[0] else DAY_S / 2.0
    seen = 0.2 * elapsed <= turn / 2.0
    note = "" if seen else "so long between the looks that the dial may have gained or lost a whole turn"
    return ClockDrift(
        abs(change), abs(change) / elapsed * DAY_S, direction, _fits(ran, elapsed, change, dial, tolerance), note
    )


def _fits(ran: float, elapsed: float, change: float, dial: str, tolerance: float) -> tuple[str, ...]:
    def near(expected: float) -> bool:
        return abs(_round_dial(ran - expected, dial)) <= tolerance

    found = named((
        "keeps time" if near(elapsed) else "",
        "stopped: no power to the clock motor, or the motor dead" if near(0.0) else "",
        "a 60 Hz clock on 50 Hz" if near(elapsed * 5.0 / 6.0) else "",
        "a 50 Hz clock on 60 Hz" if near(elapsed * 6.0 / 5.0) else "",
        f"power off for {length_words(-change)} between the looks" if tolerance < -change <= elapsed else "",
    ))
    return found or ("set by hand between the looks, or a worn or slipping drive",)


def synchronous_clock_rate(clock_frequency: float, supply_frequency: float) -> float:
    """How fast a synchronous clock runs on another frequency than its own, a ratio: 0 is right, -1 stopped.

    Supply over clock frequency, less one: its motor turns with the supply (both Hz).

    >>> round(synchronous_clock_rate(60.0, 50.0) * 24, 2)  # hours a day
    -4.0
    """
    return supply_frequency / clock_frequency - 1.0


def defrost_times(
    starts: str, shown: str, true: str, length: float, service_start: str, service_end: str
) -> DefrostTimes:
    """When the defrosts of a wrong clock really start, and which fall into service hours.

    ``starts`` as set on a 24-hour dial; ``shown`` on the dial when it is ``true``. A defrost
    of ``length`` (s) counts when any of it lies between ``service_start`` and ``service_end``
    (may go past midnight).

    >>> t = defrost_times("02:00 08:00 14:00 20:00", "08:00", "11:00", 2400.0, "11:00", "14:00")
    >>> t.in_service, t.told[1]
    (1, '08:00 on the dial is 11:00, in service')
    """
    moved = parse_clock(true) - parse_clock(shown)
    opens, closes = parse_clock(service_start), parse_clock(service_end)
    if opens == closes:
        raise InputError(f"service begins and ends at {_shown(opens)}", "two different times")
    rows, told = [], []
    for start in parse_starts(starts):
        really = (start + moved) % DAY_S
        inside = _overlap(really, length, opens, (closes - opens) % DAY_S)
        rows.append((start, really, float(inside)))
        told.append(f"{_shown(start)} on the dial is {_shown(really)}" + (", in service" if inside else ""))
    return DefrostTimes(tuple(rows), sum(int(r[2]) for r in rows), tuple(told))


def _overlap(start: float, length: float, opens: float, open_for: float) -> bool:
    """Whether two spans of the day share any time."""
    return (start - opens) % DAY_S < open_for or (opens - start) % DAY_S < length


def defrosts_in_service(
    starts: str, shown: str, true: str, length: float, service_start: str, service_end: str
) -> float:
    """How many defrosts of a wrong clock fall into service hours; as ``defrost_times``.

    >>> defrosts_in_service("06:00 18:00", "06:00", "18:00", 1800.0, "11:00", "22:00")  # AM and PM swapped
    1.0
    """
    return float(defrost_times(starts, shown, true, length, service_start, service_end).in_service)


def longest_time_between_defrosts(starts: str, length: float) -> float:
    """Longest time a coil gathers frost: from the end of a defrost to the start of the next (s).

    ``starts`` as set, ``length`` (s) of each.

    >>> longest_time_between_defrosts("02:00 08:00 14:00", 1800.0) / 3600
    11.5
    """
    times = parse_starts(starts)
    gaps = [b - a for a, b in zip(times, (*times[1:], times[0] + DAY_S), strict=True)]
    if length >= min(gaps):
        raise InputError(
            f"'length' is {length_words(length)}, the starts stand as close as {length_words(min(gaps))}",
            "defrosts that end before the next begins",
        )
    return max(gaps) - length
