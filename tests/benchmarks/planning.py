"""The advice against the best policy there is: ``python tests/benchmarks/planning.py [CALLS]``.

Minutes are expected ones, enumerated outcome by outcome. The best policy comes by dynamic programming over
beliefs; the engine's is its first advice, asked for again after each entry.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

if __name__ == "__main__":
    sys.path[0] = str(Path(__file__).parents[2])  # the repository instead of this folder

from faultkit.call import Call
from faultkit.diagnosis.result import Diagnosis
from tests.benchmarks.games import BANDS, Game, Job, Look, Mend, draw

__all__ = ["Spot", "best", "followed", "measured"]

OPENED = "2026-07-14T10:05"
#: A branch less likely than this is played on by the best policy: both sides of the ratio agree there.
RARE = 1e-5


@dataclass(frozen=True)
class Spot:
    """Where a call is: chances of the worlds as they are now, what is left to do, where the technician stands."""

    chances: tuple[tuple[int, float], ...]
    looks: frozenset[str]
    mends: frozenset[str]
    complaints: tuple[int, ...]
    place: str = "kitchen"
    made: frozenset[str] = frozenset()

    @classmethod
    def first(cls, game: Game) -> Spot:
        return cls(
            tuple(sorted(game.start().items())),
            frozenset(k.name for k in game.looks),
            frozenset(m.name for m in game.mends),
            tuple(range(len(game.complaints))),
        )

    def key(self) -> object:
        """Beliefs equal up to rounding are one; set-ups and places as they stand."""
        rounded = tuple((w, round(p, 10)) for w, p in self.chances)
        return rounded, self.looks, self.mends, self.complaints, self.place, self.made

    def jobs(self, game: Game) -> Iterator[Job]:
        yield from (m for m in game.mends if m.name in self.mends)
        yield from (k for k in game.looks if k.name in self.looks)

    def after(self, game: Game, job: Job) -> Iterator[tuple[float, tuple[int, ...], Spot]]:
        """What may come of a job: chance, the band seen or the complaints left, and the spot then."""
        moved = replace(self, place=job.place, made=self.made | set(job.setups))
        split: dict[tuple[int, ...], dict[int, float]] = {}
        if isinstance(job, Look):
            for world, p in self.chances:
                for band in range(job.bands):
                    q = p * job.chance(world, band)
                    if q:
                        split.setdefault((band,), {})[world] = q
            moved = replace(moved, looks=self.looks - {job.name})
        elif isinstance(job, Mend):
            for world, p in self.chances:
                now = world & ~job.ends
                left = tuple(n for n in self.complaints if n not in job.proves or game.complaints[n] & now)
                part = split.setdefault(left, {})
                part[now] = part.get(now, 0.0) + p
            moved = replace(moved, mends=self.mends - {job.name})
        for seen, part in split.items():
            mass = sum(part.values())
            spot = replace(moved, chances=tuple(sorted((w, p / mass) for w, p in part.items())))
            yield mass, seen, replace(spot, complaints=seen) if isinstance(job, Mend) else spot


def best(game: Game, spot: Spot, known: dict[object, float]) -> float:
    """Least expected minutes until no complaint is left."""
    if not spot.complaints:
        return 0.0
    key = spot.key()
    if key not in known:
        least = math.inf
        for job in sorted(spot.jobs(game), key=lambda j: (isinstance(j, Look), j.minutes)):
            if _tells(spot, job):
                least = min(least, _valued(game, spot, job, known, least))
        known[key] = least
    return known[key]


def _floor(game: Game, spot: Spot) -> float:
    """Minutes that no policy goes below: every fault of a world must be mended on the spot and proved."""
    return sum(p * sum(m.minutes + m.proof for m in game.mends if m.ends & w) for w, p in spot.chances)


def _tells(spot: Spot, job: Job) -> bool:
    """Whether a job can change anything: a mend of what may be there, a look whose bands depend on the world."""
    if isinstance(job, Mend):
        return any(w & job.ends for w, _ in spot.chances)
    assert isinstance(job, Look)
    return len({tuple(job.chance(w, b) for b in range(job.bands)) for w, _ in spot.chances}) > 1


def _valued(game: Game, spot: Spot, job: Job, known: dict[object, float], least: float) -> float:
    """Expected minutes when a job is done first; worked out no further than it takes to be no less than ``least``."""
    parts = [(mass, then, _floor(game, then) if then.complaints else 0.0) for mass, _, then in spot.after(game, job)]
    total = game.cost(spot.place, spot.made, job) + sum(mass * floor for mass, _, floor in parts)
    for mass, then, floor in parts:
        if total >= least:
            break
        total += mass * (best(game, then, known) - floor)
    return total


def advised(found: Diagnosis, spot: Spot) -> str:
    """The first thing advised that the game still allows: the check that saves most, else the best repair."""
    for check in found.next_checks:
        name = check.check.removeprefix("u.")
        if name in spot.looks and check.saved > 0.0:
            return name
    for repair in found.next_repairs:
        name = repair.remedy.removeprefix("u.")
        if name in spot.mends:
            return name
    raise AssertionError(f"nothing that can be done is advised: {found.next_checks} {found.next_repairs}")


def followed(game: Game, known: dict[object, float]) -> float:
    """Expected minutes of the engine's first advice, asked for again after each entry."""
    call = Call(game.site(), OPENED)
    for n in range(len(game.complaints)):
        call = call.record(f"u.warm{n}", "yes")
    jobs: dict[str, Job] = {j.name: j for j in (*game.looks, *game.mends)}

    def play(call: Call, spot: Spot, chance: float) -> float:
        if not spot.complaints:
            return 0.0
        if chance < RARE:
            return best(game, spot, known)
        job = jobs[advised(call.diagnose(), spot)]
        total = game.cost(spot.place, spot.made, job)
        for mass, seen, then in spot.after(game, job):
            total += mass * play(_told(call, job, seen), then, chance * mass)
        return total

    return play(call, Spot.first(game), 1.0)


def _told(call: Call, job: Job, seen: tuple[int, ...]) -> Call:
    """The call with a job done and what came of it."""
    if isinstance(job, Mend):
        call = call.add({"kind": "remedy", "unit": "u", "remedy": job.name})
        for n in job.proves:
            call = call.record(f"u.warm{n}", "yes" if n in seen else "no")
    else:
        call = call.record(f"u.see_{job.name}", BANDS[seen[0]])
    if job.setups:
        call = call.add({"kind": "setup", "unit": "u", "on": list(job.setups)})
    return call.add({"kind": "location", "place": job.place})


def measured(seed: int) -> tuple[int, float, float]:
    """Seed, best minutes and the engine's. Odd seeds have two complaints at once."""
    game = draw(seed, double=bool(seed % 2))
    known: dict[object, float] = {}
    least = best(game, Spot.first(game), known)
    return seed, least, followed(game, known)


def main(calls: int) -> None:
    with ProcessPoolExecutor(2) as pool:
        rows = []
        for seed, least, engine in pool.map(measured, range(calls)):
            rows.append((seed, least, engine))
            print(f"call {seed}: best {least:.1f} min, advice {engine:.1f} min", flush=True)  # noqa: T201 - to read
    for name, chosen in (("single", 0), ("double", 1)):
        ratios = sorted((f / b, s) for s, b, f in rows if s % 2 == chosen)
        mean = sum(r for r, _ in ratios) / len(ratios)
        worst = ", ".join(f"{r:.4f} (call {s})" for r, s in ratios[-1:-6:-1])
        print(f"{name}: {len(ratios)} calls, mean ratio {mean:.5f}, worst {worst}")  # noqa: T201 - to read
    mean = sum(f / b for _, b, f in rows) / len(rows)
    print(f"all: {len(rows)} calls, mean ratio {mean:.5f}, worst {max(f / b for _, b, f in rows):.4f}")  # noqa: T201


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
