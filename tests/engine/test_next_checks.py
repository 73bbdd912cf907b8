"""Outcomes, bits and minutes saved of next checks, recomputed from the worlds."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given

from faultkit.call import Call
from faultkit.circuit.compile import Limits
from faultkit.diagnosis.result import Diagnosis, NextCheck
from faultkit.network.site import Site
from tests.engine.reference import Reference
from tests.engine.strategies import Case, calls, examples
from tests.engine.test_brute_force import MOST_ROOTS, near

Drawn = tuple[Case, list[dict[str, Any]]]
SEARCH = 60.0  # minutes to find and end a cause that has no remedy, or to find one before it is repaired
SURE = 0.999


@dataclass(frozen=True)
class Job:
    """A repair: the worlds it is needed in, and its minutes with proof."""

    worlds: int
    minutes: float
    order: int


def jobs_of(site: Site, reference: Reference) -> list[Job]:
    """Faults that bear on what is abnormal (all where nothing is), grouped by their quickest remedy."""
    worlds = reference.worlds
    formulas = [reference.row_formula(s, j) for s, rows in reference.abnormal().items() for j in rows]
    bearing = set(worlds.faults)
    if formulas:
        bearing = set().union(*(worlds.stands_on(f) for f in formulas))
    groups: dict[str, list[str]] = {}
    for fault in worlds.faults:
        if fault in bearing:
            able = [(r.remedy.minutes, n) for n, r in site.remedies.items() if fault in r.ends]
            groups.setdefault(min(able)[1] if able else fault, []).append(fault)
    out: list[Job] = []
    for name, faults in groups.items():
        minutes = SEARCH
        if name in site.remedies:
            proofs = {s for s, _ in site.remedies[name].prove}
            minutes = site.remedies[name].remedy.minutes + sum(quickest(site, s) for s in proofs)
        needed = 0
        for f in faults:
            needed |= worlds.event(f)
        out.append(Job(needed, minutes, len(out)))
    return out


def quickest(site: Site, sign: str) -> float:
    return min((c.check.minutes for c in site.checks.values() if sign in c.gives), default=0.0)


def cost_to_go(jobs: list[Job], chances: list[float]) -> float:
    """By the docstring of the engine's own: sure repairs in any case, the rest by chance per minute."""
    assume(all(abs(q - SURE) > 1e-9 for q in chances))
    pairs = list(zip(chances, jobs, strict=True))
    total = sum(j.minutes for q, j in pairs if q >= SURE)
    doubtful = sorted(
        ((q, j) for q, j in pairs if 0.0 < q < SURE), key=lambda p: (-p[0] / max(p[1].minutes, 1.0), p[1].order)
    )
    for n, (q, job) in enumerate(doubtful):
        left = sum(q for q, _ in doubtful[n:])
        total += min(job.minutes * min(1.0, left), q * (SEARCH + job.minutes))
    return total


def entropy(q: float) -> float:
    return 0.0 if not 0.0 < q < 1.0 else -q * math.log2(q) - (1 - q) * math.log2(1 - q)


class Outlook:
    """The outcomes of one sign from the worlds."""

    def __init__(self, site: Site, reference: Reference, sign: str, *, soften: bool) -> None:
        self.reference = reference
        self.now = reference.weigh(soften=soften)
        self.jobs = jobs_of(site, reference)
        self.whole = sum(self.now)
        self.bands = {}
        for b, band in enumerate(site.signs[sign].bands):
            rows = [Fraction(c[b]) for c in reference.rows[sign]]
            lcm = math.lcm(*(r.denominator for r in rows))
            weights = reference.scaled(self.now, sign, rows)
            chance = Fraction(sum(weights), lcm * self.whole)
            if chance > 0:
                self.bands[band] = (chance, weights)

    def chances(self, weights: list[int]) -> list[float]:
        return [float(self.reference.posterior(weights, j.worlds)) for j in self.jobs]

    def saved(self, minutes: float) -> float:
        after = sum(float(p) * cost_to_go(self.jobs, self.chances(w)) for p, w in self.bands.values())
        return cost_to_go(self.jobs, self.chances(self.now)) - minutes - after

    def bits(self) -> float:
        told = 0.0
        for k, q in enumerate(self.chances(self.now)):
            told += entropy(q) - sum(float(p) * entropy(self.chances(w)[k]) for p, w in self.bands.values())
        own = -sum(float(p) * math.log2(p) for p, _ in self.bands.values())
        return max(0.0, min(told, own))


def one_check(case: Case) -> Case:
    """The case with one check in all."""
    types, free = {}, True
    for name, kind in case.types.items():
        alone = sum(u.equipment == name for u in case.plan.units.values()) == 1
        types[name] = replace(kind, checks=dict(list(kind.checks.items())[:1]) if free and alone else {})
        free = free and not types[name].checks
    return Case(case.plan, types, case.common, case.month)


def looked_at(case: Case, call: Call, found: Diagnosis, check: NextCheck) -> Outlook:
    assume(len(check.signs) == 1)
    reference = Reference(case, call.entries, check.signs)
    assume(len(reference.worlds.roots) <= MOST_ROOTS)
    return Outlook(call.site, reference, check.signs[0], soften=not found.consistent)


@examples(150)
@given(calls(3))
def test_minutes_saved_and_bits_of_the_only_check(drawn: Drawn) -> None:
    case, entries = one_check(drawn[0]), drawn[1]
    call = case.call(entries)
    found = call.diagnose()
    assume(found.next_checks)
    (check,) = found.next_checks
    outlook = looked_at(case, call, found, check)
    minutes = call.site.checks[check.check].check.minutes
    assert (check.minutes, check.travel, check.setting_up) == (minutes, 0.0, 0.0)
    assert math.isclose(found.expected_minutes, cost_to_go(outlook.jobs, outlook.chances(outlook.now)), rel_tol=1e-9)
    assert math.isclose(check.saved, outlook.saved(minutes), rel_tol=1e-9, abs_tol=1e-6)
    assert math.isclose(check.bits, outlook.bits(), rel_tol=1e-9, abs_tol=1e-7)
    assert check.bits_per_minute == check.bits / max(minutes, 1.0)


@examples(120)
@given(calls(4))
def test_outcomes_have_the_chances_and_the_leaders_of_the_worlds(drawn: Drawn) -> None:
    case, entries = drawn
    call = case.call(entries)
    found = call.diagnose()
    assert [c.saved for c in found.next_checks] == sorted((c.saved for c in found.next_checks), reverse=True)
    for check in found.next_checks[:3]:
        outlook = looked_at(case, call, found, check)
        compare(found, check, outlook)
        minutes = call.site.checks[check.check].check.minutes
        assert check.saved >= outlook.saved(minutes) - 1e-6


def compare(found: Diagnosis, check: NextCheck, outlook: Outlook) -> None:
    assert sum(p for p, _ in outlook.bands.values()) == pytest.approx(1.0, rel=1e-12)
    worlds = outlook.reference.worlds
    shown = {o.bands[0][1]: o for o in check.outcomes}
    worth = {b for b, (p, _) in outlook.bands.items() if p >= Fraction(0.005)}
    assert {b for b in worth if abs(outlook.bands[b][0] - Fraction(0.005)) > 1e-9} <= set(shown)
    for band, outcome in shown.items():
        chance, weights = outlook.bands[band]
        assert near(outcome.probability, chance), (check.check, band)
        open_faults = [n for n in worlds.faults if found.events[n].verdict.value == "open"]
        after = {n: outlook.reference.posterior(weights, worlds.event(n)) for n in open_faults}
        assert all(near(q, after[n]) for n, q in outcome.leaders)
        best = sorted(after.values(), reverse=True)[:3]
        assert [q for _, q in outcome.leaders] == pytest.approx([float(q) for q in best], rel=1e-10)


@examples(120)
@given(calls(3))
def test_outcomes_are_right_or_left_out_in_a_circuit_too_small_for_everything(drawn: Drawn) -> None:
    case, entries = drawn
    call = case.call(entries)
    try:
        found = call.diagnose(limits=Limits(70.0, 1))
    except ValueError:
        return
    for check in found.next_checks:
        if not found.left_out and found.consistent:
            outlook = looked_at(case, call, found, check)
            for outcome in check.outcomes:
                assert near(outcome.probability, outlook.bands[outcome.bands[0][1]][0]), check.check
