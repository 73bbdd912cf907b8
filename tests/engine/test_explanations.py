"""Explained or not, further faults, most probable worlds, minimal explanations, weights of evidence."""

from __future__ import annotations

import math
from fractions import Fraction

from hypothesis import assume, given

from faultkit.diagnosis.result import Verdict
from tests.engine.reference import Reference, minimal_sets
from tests.engine.strategies import calls, examples
from tests.engine.test_brute_force import Drawn, exactly, near, prepared
from tests.engine.worlds import Formula


@examples(150)
@given(calls())
def test_what_is_explained_and_the_chance_of_a_further_fault(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    soften = not found.consistent
    abnormal = reference.abnormal()
    assert {e.sign for e in found.explained} == set(abnormal)
    confirmed = [n for n in reference.worlds.faults if reference.verdicts()[n] == "confirmed"]
    weights = reference.weigh(soften=soften)
    left = reference.possible(soften=soften)
    further = 0
    for result in found.explained:
        rows = abnormal[result.sign]
        alone = reference.seen(result.sign, rows, confirmed)
        unexplained = reference.seen(result.sign, rows) & ~alone
        further |= unexplained
        status = {"confirmed": "explained", "ruled_out": "unexplained", "open": "open"}
        assert result.status == status[reference.verdict(left, alone)], result
        assert near(exactly(result.further), reference.posterior(weights, unexplained)), result
    assert near(exactly(found.further_fault), reference.posterior(weights, further))


@examples(150)
@given(calls())
def test_the_most_probable_world(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    weights = reference.weigh(soften=not found.consistent)
    best = max(weights)
    assert near(exactly(found.most_probable_chance), Fraction(best, sum(weights)))
    held = [
        {f for f in reference.worlds.faults if reference.worlds.event(f) >> w & 1}
        for w, weight in enumerate(weights)
        # Worlds whose weights differ by rounding alone are equally good answers.
        if weight >= best * (1 - Fraction(1, 10**12))
    ]
    assert set(found.most_probable) in held


def causes(reference: Reference, *, soften: bool) -> set[frozenset[str]]:
    """Sets of basic events and leaks that, all others off, can bring about what is seen."""
    left = reference.worlds.everywhere
    abnormal = reference.abnormal()
    for sign in reference.looks:
        rows = reference.rows_of(sign, soften=soften)
        allowed = 0
        for j, where in enumerate(reference.deciding[sign]):
            if rows[j] > 0 and (not abnormal.get(sign) or j in abnormal[sign]):
                allowed |= where
        left &= allowed
    roots = reference.worlds.roots
    faults = [(i, r.name) for i, r in enumerate(roots) if r.kind != "inhibitor"]
    worlds = [w for w, b in enumerate(reference.bits(left)) if b]
    return {frozenset(name for i, name in faults if w >> i & 1) for w in worlds}


@examples(150)
@given(calls())
def test_minimal_explanations_are_exactly_the_minimal_sets(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    wanted = {s for s in minimal_sets(causes(reference, soften=not found.consistent)) if s}
    given_sets = [frozenset(e.events) for e in found.explanations]
    assert len(set(given_sets)) == len(given_sets)
    if len(wanted) <= 12:
        assert set(given_sets) == wanted
    else:
        assert len(given_sets) == 12
        assert set(given_sets) <= wanted
    chance = {r.name: r.chance for r in reference.worlds.roots}
    assert [e.weight for e in found.explanations] == sorted((e.weight for e in found.explanations), reverse=True)
    for e in found.explanations:
        odds = math.prod(chance[n] / (1 - chance[n]) for n in e.events)
        if all(chance[n] < Fraction(49, 100) for n in e.events):
            assert math.isclose(e.weight, 10 * math.log10(odds), rel_tol=1e-9, abs_tol=1e-9)


@examples(120)
@given(calls())
def test_weights_of_evidence_are_differences_of_log_odds(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    soften = not found.consistent
    everything = reference.weigh(soften=soften)
    without = {
        f: reference.weigh([x for x in reference.facts if x != f], soften=soften) for f in reference.facts
    }
    for name, result in found.events.items():
        if result.verdict is not Verdict.OPEN:
            assert not result.weights
            continue
        shown = {w.fact: w.decibans for w in result.weights}
        event = reference.worlds.event(name)
        for fact, less in without.items():
            after, before = reference.posterior(everything, event), reference.posterior(less, event)
            if not 0 < after < 1 or not 0 < before < 1:
                continue
            bans = 10 * (log10(after / (1 - after)) - log10(before / (1 - before)))
            if abs(bans) >= 0.5 + 1e-9:
                assert math.isclose(shown.pop(fact), bans, rel_tol=1e-9, abs_tol=1e-9), (name, fact)
            elif abs(bans) > 0.5 - 1e-9:
                shown.pop(fact, None)
        assert not shown, name


def log10(x: Fraction) -> float:
    return math.log10(x.numerator) - math.log10(x.denominator)


@examples(100)
@given(calls())
def test_surprise_is_the_product_of_the_findings_over_all_of_them(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    assume(found.consistent and reference.looks)
    scale = reference.worlds.scale

    def chance(signs: list[str]) -> Fraction:
        rows = {s: reference.rows_of(s) for s in signs}
        likelihood = {s: [max(r)] for s, r in rows.items()}
        weights = [Fraction(w, scale) for w in reference.worlds.weights]
        for s in signs:
            per_row = [reference.bits(d) for d in reference.deciding[s]]
            top = likelihood[s][0]
            weights = [
                w * sum((r / top for r, b in zip(rows[s], per_row, strict=True) if b[n]), Fraction(0)) if w else w
                for n, w in enumerate(weights)
            ]
        return sum(weights, Fraction(0))

    apart = sum(log10(chance([s])) for s in reference.looks)
    together = log10(chance(list(reference.looks)))
    assert math.isclose(found.surprise, apart - together, rel_tol=1e-9, abs_tol=1e-9)


@examples(100)
@given(calls())
def test_the_only_listed_cause_left_is_named_with_the_chance_of_another(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    verdicts = reference.verdicts()
    weights = reference.weigh(soften=not found.consistent)
    for name, result in found.events.items():
        gate = result.only_listed_cause_of
        if not gate:
            assert result.other is None
            continue
        assert result.verdict is Verdict.OPEN
        assert verdicts[gate] == "confirmed"
        assert result.other is not None
        assert near(exactly(result.other), reference.posterior(weights, reference.worlds.event(f"{gate}.other")))
        parts = [p for p in reference.worlds.formulas[gate].of if not _is(p, f"{gate}.other")]
        left = reference.possible(reference.free)
        alive = [p for p in parts if reference.verdict(left, reference.worlds.where(p)) != "ruled_out"]
        assert len(alive) == 1, name
        assert _is(alive[0], name) or any(_is(p, name) for p in behind(alive[0]))


def behind(f: Formula) -> list[Formula]:
    """Parts of a link: its cause and its inhibitors."""
    return [x for p in f.of for x in (p, *behind(p))]


def _is(f: Formula, name: str) -> bool:
    return f.op == "ref" and f.name == name
