"""Starts and running time read off a log of on and off."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from faultkit.calculators.controls.words import length_words, named, verdict
from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = ["CyclingLog", "Rows", "cycling_log", "run_fraction", "shortest_off", "shortest_run", "starts_per_hour"]

Rows = tuple[tuple[float, ...], ...]

_HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class _Span:
    """A time in one state; ``whole`` where its beginning and its end were both seen."""

    on: bool
    begin: float
    end: float
    whole: bool

    @property
    def length(self) -> float:
        return self.end - self.begin


@dataclass(frozen=True, slots=True)
class CyclingLog:
    """What a log of on and off tells; times in s, None where no such time was seen from beginning to end.

    ``starts_per_hour`` (Hz) from the first start to the last, None with fewer than two;
    ``run_fraction`` over the same whole cycles, over the whole log with fewer. The longest
    times count cut-off first and last ones too: they were at least that long.
    """

    starts: int
    whole_cycles: int
    starts_per_hour: float | None
    busiest_hour: int
    run_fraction: float
    shortest_run: float | None
    mean_run: float | None
    longest_run: float | None
    shortest_off: float | None
    mean_off: float | None
    longest_off: float | None
    verdict: str
    conflicts: tuple[str, ...]


def _spans(log: Rows) -> list[_Span]:
    """Times in one state, in order. A row holds from its time until the next; the last only ends the log."""
    if len(log) < 2:
        raise InputError(f"the log has {len(log)} row" + "s" * (len(log) != 1), "at least 2 rows of time and state")
    for number, (time, state) in enumerate(log, 1):
        if state not in {0.0, 1.0}:
            raise InputError(f"row {number} of the log has the state {state:g}", "1 for on, 0 for off")
        if number > 1 and time <= log[number - 2][0]:
            raise InputError(f"row {number} of the log is not later than the row before", "rows in order of time")
    changes = [log[0], *(b for a, b in pairwise(log) if b[1] != a[1])]
    # Only a change is the seen beginning of a state; a log that ends on one has seen that time whole.
    ends = [row[0] for row in changes[1:]] + [log[-1][0]]
    return [
        _Span(row[1] == 1.0, row[0], end, 0 < i < len(changes) - 1)
        for i, (row, end) in enumerate(zip(changes, ends, strict=True)) if end > row[0]
    ]


def _starts(log: Rows, spans: list[_Span]) -> list[float]:
    """Times at which it was seen to start; being on when the log begins is no start."""
    starts = [s.begin for s in spans[1:] if s.on]
    if log[-1][1] == 1.0 and log[-2][1] == 0.0:
        starts.append(log[-1][0])
    return starts


def _running(spans: list[_Span], begin: float, end: float) -> float:
    return sum(max(0.0, min(s.end, end) - max(s.begin, begin)) for s in spans if s.on)


def _share(log: Rows, spans: list[_Span], starts: list[float]) -> float:
    begin, end = (starts[0], starts[-1]) if len(starts) > 1 else (log[0][0], log[-1][0])
    return _running(spans, begin, end) / (end - begin)


def starts_per_hour(log: Rows) -> float:
    """Starts per hour read off a log of on and off (Hz).

    ``log`` has rows of (time in s, state 1 or 0), each holding until the next. Counted from
    the first start to the last, so that cut-off cycles at the ends do not bias it:
    InputError with fewer than two starts.

    >>> log = ((0.0, 0.0), (60.0, 1.0), (180.0, 0.0), (360.0, 1.0), (480.0, 0.0), (660.0, 1.0), (700.0, 1.0))
    >>> starts_per_hour(log) * 3600  # 2 min on, 3 min off
    12.0
    """
    starts = _starts(log, _spans(log))
    if len(starts) < 2:
        raise InputError(f"the log has {len(starts)} start" + "s" * (len(starts) != 1), "a log with at least 2 starts")
    return (len(starts) - 1) / (starts[-1] - starts[0])


def run_fraction(log: Rows) -> float:
    """Share of the time running, read off a log of on and off: a ratio.

    ``log`` as in ``starts_per_hour``. Over whole cycles, first start to last, where there
    are at least two starts; else over the whole log.

    >>> run_fraction(((0.0, 0.0), (60.0, 1.0), (180.0, 0.0), (360.0, 1.0), (400.0, 1.0)))
    0.4
    """
    spans = _spans(log)
    return _share(log, spans, _starts(log, spans))


def shortest_run(log: Rows) -> float:
    """Shortest run (s) seen from start to stop in a log of on and off. InputError where there is none.

    >>> shortest_run(((0.0, 1.0), (10.0, 0.0), (200.0, 1.0), (320.0, 0.0), (500.0, 1.0), (520.0, 1.0)))
    120.0
    """
    return _shortest(log, on=True)


def shortest_off(log: Rows) -> float:
    """Shortest rest (s) seen from stop to start in a log of on and off. InputError where there is none.

    >>> shortest_off(((0.0, 1.0), (10.0, 0.0), (200.0, 1.0), (320.0, 0.0), (420.0, 1.0), (520.0, 1.0)))
    100.0
    """
    return _shortest(log, on=False)


def _shortest(log: Rows, *, on: bool) -> float:
    lengths = [s.length for s in _spans(log) if s.whole and s.on is on]
    if not lengths:
        what = "run from start to stop" if on else "rest from stop to start"
        raise InputError(f"the log shows no {what}", "a log that goes on longer")
    return min(lengths)


def cycling_log(log: Rows, most_starts: float, least_run: float, least_off: float) -> CyclingLog:
    """Starts, running share, shortest and longest times of a log of on and off, and whether it short-cycles.

    ``log`` has rows of (time in s, state 1 or 0), each holding until the next; the last
    row only ends it. A state looked at only now and then hides what is shorter than the
    looks are apart. First and last times are cut off: they count for the running share
    and as longest, never as shortest or mean. Limits: ``most_starts`` (Hz),
    ``least_run``, ``least_off`` (s).

    >>> log = ((0.0, 0.0), (60.0, 1.0), (150.0, 0.0), (360.0, 1.0), (450.0, 0.0), (660.0, 1.0), (700.0, 1.0))
    >>> a = cycling_log(log, 10 / 3600, 120.0, 180.0)
    >>> a.starts_per_hour * 3600, a.shortest_run, a.verdict
    (12.0, 90.0, 'short cycling, too many starts; short cycling, runs too short')
    """
    spans = _spans(log)
    starts = _starts(log, spans)
    rate = (len(starts) - 1) / (starts[-1] - starts[0]) if len(starts) > 1 else None
    busiest = max((sum(0.0 <= t - s < _HOUR for t in starts) for s in starts), default=0)
    runs, offs = ([s.length for s in spans if s.whole and s.on is on] for on in (True, False))
    conflicts = named((
        _too_many(rate, busiest, most_starts),
        _too_short("runs", runs, least_run),
        _too_short("off times", offs, least_off),
    ))
    good = "no short cycling" if len(starts) > 1 else "too short a log to tell"
    return CyclingLog(
        len(starts), max(0, len(starts) - 1), rate, busiest, _share(log, spans, starts),
        min(runs, default=None), sum(runs) / len(runs) if runs else None, _longest(spans, on=True),
        min(offs, default=None), sum(offs) / len(offs) if offs else None, _longest(spans, on=False),
        verdict(conflicts, good), conflicts,
    )


def _longest(spans: list[_Span], *, on: bool) -> float | None:
    return max((s.length for s in spans if s.on is on), default=None)


def _too_many(rate: float | None, busiest: int, most: float) -> str:
    if (rate is None or rate <= most * (1.0 + 1e-9)) and busiest <= most * _HOUR + 1e-9:
        return ""
    told = f"{format_si(rate, 'per_h')}, " if rate is not None else ""
    return f"short cycling, too many starts: {told}{busiest} in the busiest hour; at most {format_si(most, 'per_h')}"


def _too_short(what: str, lengths: list[float], least: float) -> str:
    short = sum(length < least - 1e-9 for length in lengths)
    if not short:
        return ""
    return (
        f"short cycling, {what} too short: {short} of {len(lengths)}, shortest {length_words(min(lengths))}; "
        f"at least {length_words(least)}"
    )
