"""A job done by several programs, timed round by round in turn."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from time import perf_counter

__all__ = ["Contest", "Later", "close", "repeats_of", "table", "warm"]

#: Contender names: ours first.
OURS = "faultkit"


class Later:
    """A run that is prepared when it is first called."""

    def __init__(self, prepare: Callable[[], Callable[[], object]]) -> None:
        self.prepare = prepare
        self.run: Callable[[], object] | None = None

    def __call__(self) -> object:
        if self.run is None:
            self.run = self.prepare()
        return self.run()


@dataclass(frozen=True)
class Contest:
    """``contenders`` do the same job and must return what ``same`` accepts; ``notes`` say how each does it."""

    name: str
    contenders: Mapping[str, Callable[[], object]]
    same: Callable[[object, object], bool]
    notes: Mapping[str, str]
    slow: bool = False  # seconds, not milliseconds: few rounds

    def check(self) -> None:
        """All contenders get the same result."""
        results = {name: run() for name, run in self.contenders.items()}
        expected = next(iter(results.values()))
        for name, found in results.items():
            if not self.same(expected, found):
                raise AssertionError(f"{self.name}: {name} gets another result")

    def medians(self, rounds: int) -> dict[str, float]:
        """Seconds of one run, rounds interleaved so that a busy machine hits all alike."""
        for run in self.contenders.values():
            warm(run)
        times: dict[str, list[float]] = {name: [] for name in self.contenders}
        repeats = {name: repeats_of(run) for name, run in self.contenders.items()}
        for _ in range(3 if self.slow else rounds):
            for name, run in self.contenders.items():
                start = perf_counter()
                for _ in range(repeats[name]):
                    run()
                times[name].append((perf_counter() - start) / repeats[name])
        return {name: median(t) for name, t in times.items()}


def warm(run: Callable[[], object]) -> None:
    """Up to 130 runs or a quarter of a second: our circuits turn into generated code after 120 passes."""
    start = perf_counter()
    for _ in range(130):
        run()
        if perf_counter() - start > 0.25:
            return


def repeats_of(run: Callable[[], object]) -> int:
    """Runs that take about 15 ms together."""
    start = perf_counter()
    run()
    return max(1, math.ceil(0.015 / (perf_counter() - start)))


def close(expected: object, found: object) -> bool:
    """Equal numbers, nested in lists, up to rounding."""
    if isinstance(expected, (int, float)) and isinstance(found, (int, float)):
        return math.isclose(expected, found, rel_tol=1e-8, abs_tol=1e-12)
    if not isinstance(expected, Sequence) or not isinstance(found, Sequence) or len(expected) != len(found):
        return False
    return all(close(a, b) for a, b in zip(expected, found, strict=True))


def table(contest: Contest, rounds: int) -> str:
    """Times, and how many of ours each takes."""
    times = contest.medians(rounds)
    ours = times[OURS]
    lines = [contest.name]
    for name, t in times.items():
        lines.append(f"  {name:<34} {1e3 * t:>10.3f} ms {t / ours:>9.2f} x  {contest.notes.get(name, '')}".rstrip())
    return "\n".join(lines)
