"""Small calls as a game whose best play can be worked out: drawn sites, and what each move costs.

Shares nothing with the engine but the types of a site. Worlds are integers with one bit a basic event.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from faultkit.model.site import SitePlan, Travel, Unit
from faultkit.model.types import (
    Check,
    Common,
    EquipmentType,
    Event,
    Gate,
    Join,
    Link,
    Observable,
    Prior,
    Reading,
    ReadingKind,
    Ref,
    Remedy,
    Row,
    Setup,
)
from faultkit.network.join import join_site
from faultkit.network.site import Site

__all__ = ["Game", "Job", "Look", "draw"]

SETUPS = {"gauges_on": 6.0, "panel_open": 3.0}
BANDS = ("low", "middle", "high")
#: Small, so that no part put in new is bad itself: the game has no such thing. Only their proportions matter.
PRIORS = (5e-7, 1e-6, 2e-6, 4e-6, 8e-6, 1.5e-5)
#: Least share of a world; one with a fault more than the complaints need has less by the priors.
FAULT_TOO_MANY = 1e-4


@dataclass(frozen=True)
class Job:
    """Anything done: minutes on the spot, its place and set-ups."""

    name: str
    minutes: float
    place: str
    setups: tuple[str, ...]


@dataclass(frozen=True)
class Look(Job):
    """A check: the first row whose events meet the world decides the chances of its bands; the last meets any."""

    rows: tuple[tuple[int, tuple[float, ...]], ...]

    def chance(self, world: int, band: int) -> float:
        for mask, chances in self.rows[:-1]:
            if mask & world:
                return chances[band]
        return self.rows[-1][1][band]

    @property
    def bands(self) -> int:
        return len(self.rows[0][1])


@dataclass(frozen=True)
class Mend(Job):
    """A remedy: the events it ends, and the complaints looked at again to prove it."""

    ends: int
    proves: tuple[int, ...]
    proof: float


@dataclass(frozen=True)
class Game:
    """A call: priors, complaints (each a mask of its causes, all seen at the start), looks, mends.

    Each look and each mend is made once at most. The call ends when no complaint is left.
    """

    priors: tuple[float, ...]
    complaints: tuple[int, ...]
    proofs: tuple[float, ...]
    looks: tuple[Look, ...]
    mends: tuple[Mend, ...]
    travel: float

    def start(self) -> dict[int, float]:
        """The worlds in which every complaint holds, as chances; those with a fault more than needed are left out."""
        out = {}
        for world in range(1 << len(self.priors)):
            if all(world & c for c in self.complaints):
                p = 1.0
                for n, q in enumerate(self.priors):
                    p *= q if world >> n & 1 else 1.0 - q
                out[world] = p
        least = FAULT_TOO_MANY * sum(out.values())
        out = {w: p for w, p in out.items() if p > least}
        whole = sum(out.values())
        return {w: p / whole for w, p in out.items()}

    def cost(self, at: str, made: frozenset[str], job: Job) -> float:
        """Minutes of a job from a place with some set-ups made; the proof of a mend included."""
        total = job.minutes + (self.travel if job.place != at else 0.0)
        total += sum(SETUPS[s] for s in job.setups if s not in made)
        return total + (job.proof if isinstance(job, Mend) else 0.0)

    def site(self) -> Site:
        """The same as a site for the engine."""
        events = {f"b{n}": Event(f"b{n}", Gate.BASIC, f"b{n}", f"b{n}", prior=Prior(p))
                  for n, p in enumerate(self.priors)}
        readings: dict[str, Reading] = {}
        checks: dict[str, Check] = {}
        for n, mask in enumerate(self.complaints):
            rows: tuple[Row, ...] = (Row(_node(events, mask), (1.0, 0.0)), Row(None, (0.0, 1.0)))
            readings[f"warm{n}"] = _reading(f"warm{n}", ("yes", "no"), rows)
            checks[f"feel{n}"] = Check(f"feel{n}", (Ref(f"warm{n}"),), self.proofs[n])
        for k in self.looks:
            rows = (*(Row(_node(events, m), c) for m, c in k.rows[:-1]), Row(None, k.rows[-1][1]))
            readings[f"see_{k.name}"] = _reading(f"see_{k.name}", BANDS[: k.bands], rows)
            checks[k.name] = Check(k.name, (Ref(f"see_{k.name}"),), k.minutes, place=_join(k), setups=k.setups)
        remedies = {
            m.name: Remedy(
                m.name, tuple(Ref(f"b{n}") for n in range(len(self.priors)) if m.ends >> n & 1), m.minutes,
                place=_join(m), setups=m.setups, fails=0.0, prove=tuple((Ref(f"warm{n}"), "no") for n in m.proves),
            )
            for m in self.mends
        }
        box = EquipmentType(
            "box", events=events, readings=readings, checks=checks, remedies=remedies, joins={"up": Join("up")}
        )
        plan = SitePlan(
            "place",
            travel=(Travel(("kitchen", "roof"), self.travel),),
            units={"u": Unit("u", "box", "u", "kitchen", joins={"up": "r"}), "r": Unit("r", "stand", "r", "roof")},
        )
        common = Common(setups={s: Setup(s, m) for s, m in SETUPS.items()})
        return join_site(plan, {"box": box, "stand": EquipmentType("stand")}, common)


def _join(job: Job) -> str:
    return "up" if job.place == "roof" else ""


def _node(events: dict[str, Event], mask: int) -> Ref:
    """The event that holds where any of some basic events does; a gate is made for several."""
    inputs = [n for n in range(mask.bit_length()) if mask >> n & 1]
    if len(inputs) == 1:
        return Ref(f"b{inputs[0]}")
    name = "any" + "".join(map(str, inputs))
    links = tuple(Link(Ref(f"b{n}")) for n in inputs)
    events[name] = Event(name, Gate.ANY_OF, name, name, inputs=links, complete="tests")
    return Ref(name)


def _reading(name: str, bands: tuple[str, ...], rows: tuple[Row, ...]) -> Reading:
    kind = ReadingKind.YES_NO if bands == ("yes", "no") else ReadingKind.ONE_OF
    return Reading(name, kind, observables=(Observable(name, name, None, bands, (), rows),))


def draw(seed: int, *, double: bool) -> Game:
    """A call with 4 to 7 basic events and 3 to 6 checks; with ``double`` two complaints of no common cause."""
    rng = random.Random(seed)  # noqa: S311
    size = rng.randint(4, 7)
    everything = (1 << size) - 1
    complaints: tuple[int, ...] = (everything,)
    if double:
        order = rng.sample(range(size), size)
        half = rng.randint(2, size - 2)
        complaints = (sum(1 << n for n in order[:half]), sum(1 << n for n in order[half:]))
    proofs = tuple(float(rng.randint(1, 6)) for _ in complaints)
    looks = tuple(_look(rng, n, size) for n in range(rng.randint(3, 6 if size < 5 or (not double and size < 6) else 4)))
    return Game(
        tuple(rng.choice(PRIORS) for _ in range(size)), complaints, proofs, looks,
        tuple(_mends(rng, size, complaints, proofs)), float(rng.randint(3, 10)),
    )


def _where(rng: random.Random) -> tuple[str, tuple[str, ...]]:
    setups = (rng.choice(tuple(SETUPS)),) if rng.random() < 0.35 else ()
    return ("roof" if rng.random() < 0.4 else "kitchen"), setups


def _look(rng: random.Random, n: int, size: int) -> Look:
    place, setups = _where(rng)
    width = rng.choice((2, 2, 3))
    rows = []
    for r in range(width):
        good = rng.choice((1.0, 0.97, 0.97, 0.85))
        chances = tuple(good if b == r else (1.0 - good) / (width - 1) for b in range(width))
        rows.append((sum(1 << e for e in rng.sample(range(size), rng.randint(1, 3))), chances))
    return Look(f"look{n}", float(rng.randint(1, 15)), place, setups, tuple(rows))


def _mends(rng: random.Random, size: int, complaints: tuple[int, ...], proofs: tuple[float, ...]) -> list[Mend]:
    left = list(range(size))
    out = []
    while left:
        ends, left = (left[:2], left[2:]) if rng.random() < 0.2 else (left[:1], left[1:])
        mask = sum(1 << e for e in ends)
        proves = tuple(n for n, c in enumerate(complaints) if c & mask)
        place, setups = _where(rng)
        out.append(Mend(
            f"mend{ends[0]}", float(rng.choice((5, 10, 20, 30, 45, 60, 90))), place, setups,
            mask, proves, sum(proofs[n] for n in proves),
        ))
    return out
