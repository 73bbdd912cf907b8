"""Choosing what to check next: minutes saved on the way to a proved repair."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from faultkit.diagnosis.belief import Belief
from faultkit.diagnosis.moves import Moves, Standing
from faultkit.diagnosis.repairs import RepairClass, cost_to_go
from faultkit.network.ir import Sign
from faultkit.network.site import SiteCheck

__all__ = ["Candidate", "Guess", "Outlook"]

#: Joint deciding rows and joint bands of one check that are worked out in full.
MOST_PATTERNS = 12
MOST_OUTCOMES = 27


#: P(pattern, e), and jointly with each class and with each fault.
Joint = tuple[float, list[float], list[float]]


@dataclass(frozen=True, slots=True)
class Job:
    """A check as a job with a place and set-ups."""

    check: SiteCheck
    place: str
    unit: str
    setups: tuple[str, ...]

    @classmethod
    def of(cls, check: SiteCheck) -> Job:
        return cls(check, check.place, check.unit, Moves.setups_of(check.check.setups, check.check.power))


@dataclass(frozen=True, slots=True)
class Pattern:
    """Deciding rows of a check's signs and the joint chances with the evidence (unnormalized)."""

    rows: tuple[int, ...]
    total: float
    classes: list[float]
    faults: list[float]


@dataclass(frozen=True, slots=True)
class Guess:
    """One outcome: a band (by position) for each sign, its chance, and the chance of each class given it.

    ``parts`` are the patterns it may come from, with their weights.
    """

    bands: tuple[int, ...]
    probability: float
    classes: tuple[float, ...]
    parts: tuple[tuple[float, Pattern], ...]

    @property
    def faults(self) -> list[float]:
        """Chance of each fault given the outcome; worked out when asked for."""
        mass = sum(w * p.total for w, p in self.parts)
        return [sum(column) / mass for column in zip(*([w * x for x in p.faults] for w, p in self.parts), strict=True)]


@dataclass(slots=True)
class Candidate:
    """A check under consideration. ``saved`` in minutes, ``bits`` about the repair classes."""

    job: Job
    signs: tuple[Sign, ...]
    guesses: tuple[Guess, ...]
    cost: float
    travel: float
    setting_up: float
    bits: float
    saved: float = 0.0

    @property
    def name(self) -> str:
        """Name of the check."""
        return self.job.check.name


class Outlook:
    """The facts of the moment, looked at forward.

    ``nodes`` holds for each repair class the node whose chance is its own.
    """

    def __init__(
        self,
        belief: Belief,
        classes: Sequence[RepairClass],
        nodes: Sequence[int],
        moves: Moves,
        standing: Standing,
    ) -> None:
        self.belief = belief
        self.classes = tuple(classes)
        self.nodes = tuple(nodes)
        self.moves = moves
        self.standing = standing
        self.faults = belief.network.faults
        self.weights = belief.weights()
        self.within = frozenset(belief.compiled.nodes)
        self.wanted = tuple(2 * n + 1 for n in (*self.faults, *self.nodes))
        self.place = {f: n for n, f in enumerate(self.faults)}
        self.passes: dict[frozenset[tuple[int | str, int]], Joint] = {}
        #: Signs inside the circuit that nobody looked at: what they show hangs together with looks in other stages.
        self.again = frozenset(belief.compiled.sign_slots).difference(belief.findings)
        self.nothing: Joint = (0.0, [0.0] * len(self.classes), [0.0] * len(self.faults))

    # -- passes ---------------------------------------------------------------

    def asked(self, signs: Sequence[Sign]) -> tuple[Sign, ...]:
        """Signs to work out: by their deciding rows, those looked at in another stage by their bands."""
        return tuple(
            replace(s, chances=tuple(tuple(float(a == b) for b in range(len(s.bands))) for a in range(len(s.bands))))
            if s.name in self.again
            else s
            for s in signs
        )

    def run(self, clamps: Sequence[tuple[Sign, int]]) -> Joint:
        """P(pattern, e), and jointly with each class and each fault. Signs that share rows share passes."""
        known: dict[int, int] = {}
        shown: list[tuple[str, int]] = []
        for sign, j in clamps:
            if sign.name in self.again:
                shown.append((sign.name, j))
                continue
            for i, row in enumerate(sign.rows[: j + 1]):
                if known.setdefault(row, int(i == j)) != int(i == j):
                    return self.nothing
        key: frozenset[tuple[int | str, int]] = frozenset((*known.items(), *shown))
        if key not in self.passes:
            self.passes[key] = self._pass(known, shown)
        return self.passes[key]

    def _pass(self, known: dict[int, int], shown: Sequence[tuple[str, int]]) -> Joint:
        w = list(self.weights)
        for name, band in shown:
            self.belief.show(w, name, band)
        for row, value in known.items():
            w[2 * row + 1 - value] = 0.0
        total, d = self.belief.compiled.derivatives_of(w, self.wanted)
        if total <= 0.0:
            return self.nothing
        found = [w[n] * x for n, x in zip(self.wanted, d, strict=True)]
        faults = found[: len(self.faults)]
        classes = found[len(self.faults) :]
        for k, node in enumerate(self.nodes):
            if node not in self.within:
                classes[k] = min(total, sum(faults[self.place[f]] for f in self.classes[k].faults))
        return total, classes, faults

    @cached_property
    def base(self) -> Joint:
        """The evidence as it is."""
        return self.run([])

    @cached_property
    def chances(self) -> list[float]:
        """Posterior of each class."""
        total, classes, _ = self.base
        return [c / total for c in classes]

    @cached_property
    def now(self) -> float:
        """Expected minutes to a proved repair without another check."""
        return cost_to_go(self.classes, self.chances, self.moves, self.standing)

    def patterns(self, signs: Sequence[Sign], given: Sequence[tuple[Sign, int]] = ()) -> list[Pattern]:
        """Joint chances of every combination of deciding rows that can occur."""
        out = []
        for rows in itertools.product(*(range(len(s.chances)) for s in signs)):
            total, classes, faults = self.run([*given, *zip(signs, rows, strict=True)])
            if total > 0.0:
                out.append(Pattern(rows, total, classes, faults))
        return out

    def guesses(self, signs: Sequence[Sign], patterns: Sequence[Pattern]) -> tuple[Guess, ...]:
        """Every outcome with a chance worth naming."""
        whole = sum(p.total for p in patterns)
        out = []
        for bands in itertools.product(*(range(len(s.bands)) for s in signs)):
            mass = 0.0
            classes = [0.0] * len(self.classes)
            parts = []
            for p in patterns:
                w = 1.0
                for sign, row, band in zip(signs, p.rows, bands, strict=True):
                    w *= sign.chances[row][band]
                if w:
                    mass += w * p.total
                    classes = [a + w * b for a, b in zip(classes, p.classes, strict=True)]
                    parts.append((w, p))
            if mass > 1e-9 * whole:
                out.append(Guess(bands, mass / whole, tuple([c / mass for c in classes]), tuple(parts)))
        return tuple(out)

    # -- candidates -----------------------------------------------------------

    def screened(
        self, checks: Sequence[tuple[SiteCheck, tuple[Sign, ...]]], most: int
    ) -> list[tuple[SiteCheck, tuple[Sign, ...]]]:
        """The checks that promise most bits a minute, for a full look.

        The promise is what a sign tells of its own deciding row, the rows' events taken as
        independent: one pass for all of them, and seldom less than what it tells of the repairs.
        """
        total, d = self.belief.compiled.derivatives(list(self.weights))
        ranked = []
        for check, signs in checks:
            promise = sum(self._promise(s, total, d) for s in signs)
            job = Job.of(check)
            minutes = check.check.minutes + self.moves.reach(self.standing, job)
            ranked.append((-promise / max(minutes, 1.0), check.name, check, signs))
        ranked.sort(key=lambda r: r[:2])
        return [(check, signs) for score, _, check, signs in ranked[:most] if score < -1e-9]

    def _promise(self, sign: Sign, total: float, d: Sequence[float]) -> float:
        """Mutual information of a sign's bands with its deciding row, from marginals alone."""
        left, rows = 1.0, []
        for r in sign.rows:
            p = self.weights[2 * r + 1] * d[2 * r + 1] / total if r in self.within else 0.5
            rows.append(left * p)
            left *= 1.0 - p
        rows.append(left)
        told = 0.0
        for b in range(len(sign.bands)):
            mean = sum(p * c[b] for p, c in zip(rows, sign.chances, strict=True))
            told -= _plogp(mean) - sum(p * _plogp(c[b]) for p, c in zip(rows, sign.chances, strict=True))
        return max(0.0, told)

    def candidate(self, check: SiteCheck, signs: Sequence[Sign]) -> Candidate:
        """A check with its outcomes, its cost from here and what it is expected to save."""
        chosen = self._within_bounds(signs)
        guesses = self.guesses(chosen, self.patterns(chosen))
        job = Job.of(check)
        travel = self.moves.travel(self.standing, job)
        setting_up = self.moves.setting_up(self.standing, job)
        cost = check.check.minutes + travel + setting_up
        c = Candidate(job, tuple(chosen), guesses, cost, travel, setting_up, self._bits(guesses))
        c.saved = self.now - cost - self.hereafter(c, self.standing)
        return c

    def _within_bounds(self, signs: Sequence[Sign]) -> list[Sign]:
        """The first signs of a check whose joint rows and bands can be worked out in full."""
        chosen: list[Sign] = []
        patterns = outcomes = 1
        for s in signs:
            patterns *= len(s.chances)
            outcomes *= len(s.bands)
            if chosen and (patterns > MOST_PATTERNS or outcomes > MOST_OUTCOMES):
                break
            chosen.append(s)
        return chosen

    def hereafter(self, c: Candidate, start: Standing) -> float:
        """Expected minutes of repair once the check has been made."""
        after = self.moves.after(start, c.job)
        return sum(
            g.probability * cost_to_go(self.classes, g.classes, self.moves, after) for g in c.guesses
        )

    def _bits(self, guesses: Sequence[Guess]) -> float:
        """Mutual information with the repair classes: the sum over classes, at most the outcome's own entropy."""
        total = 0.0
        for k, q in enumerate(self.chances):
            if 0.0 < q < 1.0:
                total += _entropy(q) - sum(g.probability * _entropy(g.classes[k]) for g in guesses)
        own = -sum(g.probability * math.log2(g.probability) for g in guesses if g.probability > 0.0)
        return max(0.0, min(total, own))

    # -- one step further -----------------------------------------------------

    def further(self, c: Candidate, others: Sequence[Candidate]) -> float:
        """Minutes saved by ``c`` when each of its outcomes may be followed by one of ``others``."""
        after = self.moves.after(self.standing, c.job)
        costs = [cost_to_go(self.classes, g.classes, self.moves, after) for g in c.guesses]
        best = list(costs)
        mine = {p.rows: p for p in self.patterns(c.signs)}
        whole = sum(p.total for p in mine.values())
        for other in others:
            if other.name == c.name:
                continue
            then = self.moves.after(after, other.job)
            price = other.job.check.check.minutes + self.moves.reach(after, other.job)
            sub = {
                rows: self.patterns(other.signs, list(zip(c.signs, rows, strict=True))) for rows in mine
            }
            for n, g in enumerate(c.guesses):
                value = self._second(c, g, sub, other, then) / (whole * g.probability)
                best[n] = min(best[n], price + value)
        return self.now - c.cost - sum(g.probability * b for g, b in zip(c.guesses, best, strict=True))

    def _second(
        self,
        c: Candidate,
        g: Guess,
        sub: dict[tuple[int, ...], list[Pattern]],
        other: Candidate,
        then: Standing,
    ) -> float:
        """Expected repair minutes after outcome ``g`` and then ``other``, times P(g, e)."""
        merged: dict[tuple[int, ...], tuple[float, list[float]]] = {}
        for rows, patterns in sub.items():
            w = 1.0
            for sign, row, band in zip(c.signs, rows, g.bands, strict=True):
                w *= sign.chances[row][band]
            if not w:
                continue
            for p in patterns:
                mass, classes = merged.get(p.rows, (0.0, [0.0] * len(self.classes)))
                merged[p.rows] = (
                    mass + w * p.total, [a + w * b for a, b in zip(classes, p.classes, strict=True)]
                )
        total = 0.0
        flat = [Pattern(rows, mass, classes, []) for rows, (mass, classes) in merged.items()]
        for bands in itertools.product(*(range(len(s.bands)) for s in other.signs)):
            mass, classes = 0.0, [0.0] * len(self.classes)
            for p in flat:
                w = 1.0
                for sign, row, band in zip(other.signs, p.rows, bands, strict=True):
                    w *= sign.chances[row][band]
                if w:
                    mass += w * p.total
                    classes = [a + w * b for a, b in zip(classes, p.classes, strict=True)]
            if mass > 0.0:
                total += mass * cost_to_go(self.classes, [x / mass for x in classes], self.moves, then)
        return total

    def repair_first(self, k: int) -> float:
        """Expected minutes to the end when class ``k`` is repaired and proved first."""
        c = self.classes[k]
        cost = c.total + self.moves.reach(self.standing, c)
        after = self.moves.after(self.standing, c)
        total, classes, _ = self.base
        node = self.nodes[k]
        if node not in self.within:
            rest = [0.0 if n == k else q for n, q in enumerate(self.chances)]
            return cost + cost_to_go(self.classes, rest, self.moves, after)
        w = list(self.weights)
        w[2 * node] = 0.0
        held, d = self.belief.compiled.derivatives(w)
        joint = [
            w[2 * n + 1] * d[2 * n + 1] if n in self.within else q * held
            for n, q in zip(self.nodes, self.chances, strict=True)
        ]
        expected = cost
        for mass, part in (
            (held, joint),
            (total - held, [a - b for a, b in zip(classes, joint, strict=True)]),
        ):
            if mass > 1e-12 * total:
                q = [0.0 if n == k else min(1.0, max(0.0, x / mass)) for n, x in enumerate(part)]
                expected += mass / total * cost_to_go(self.classes, q, self.moves, after)
        return expected


def _plogp(p: float) -> float:
    return p * math.log2(p) if p > 0.0 else 0.0


def _entropy(q: float) -> float:
    if q <= 0.0 or q >= 1.0:
        return 0.0
    return -q * math.log2(q) - (1.0 - q) * math.log2(1.0 - q)
