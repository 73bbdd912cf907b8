"""Conflicts, proofs and what would settle an event, against listing every world."""

from __future__ import annotations

import itertools

from hypothesis import given

from faultkit.diagnosis.result import Diagnosis, Verdict
from faultkit.network.site import Site
from tests.engine.reference import Reference
from tests.engine.strategies import calls, examples
from tests.engine.test_brute_force import MOST_ROOTS, Drawn, prepared


@examples(200)
@given(calls(6))
def test_conflicts_are_all_minimal_sets_of_facts_that_cannot_hold_together(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    assert {frozenset(c.facts) for c in found.conflicts} == reference.conflicts
    assert len(found.conflicts) == len(reference.conflicts)
    assert found.consistent == (not reference.conflicts)
    sizes = [len(c.facts) for c in found.conflicts]
    assert sizes == sorted(sizes)


@examples(150)
@given(calls(6))
def test_a_conflict_names_rows_that_its_facts_exclude(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    for conflict in found.conflicts:
        assert conflict.rows
        for sign, event in conflict.rows:
            rows = reference.rows_of(sign, conflict.facts)
            names = [f.name if f is not None and f.op == "ref" else "" for f, _ in reference.worlds.rows[sign]]
            at = len(rows) - 1 if event == "otherwise" else names.index(event) if event in names else None
            assert at is None or rows[at] == 0


@examples(200)
@given(calls(6))
def test_proofs_suffice_and_no_fact_can_be_left_out(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    for name, result in found.events.items():
        event = reference.worlds.event(name)
        if result.verdict is Verdict.OPEN:
            assert result.proof is None
            continue
        assert result.proof is not None, name
        facts = result.proof.facts
        assert set(facts) <= reference.free
        assert reference.verdict(reference.possible(facts), event) == result.verdict.value
        for left_out in facts:
            fewer = [f for f in facts if f != left_out]
            assert reference.verdict(reference.possible(fewer), event) == "open"
        for smaller in itertools.combinations(sorted(reference.free), len(facts) - 1):
            assert reference.verdict(reference.possible(smaller), event) == "open", (name, facts, smaller)


@examples(150)
@given(calls(6))
def test_the_steps_of_a_proof_hold_and_end_at_the_event(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    for name, result in found.events.items():
        if result.proof is None:
            continue
        steps = result.proof.steps
        assert (steps[-1].event, steps[-1].value) == (name, result.verdict is Verdict.CONFIRMED)
        left = reference.possible(result.proof.facts)
        known: dict[str, bool] = {}
        for step in steps:
            assert reference.verdict(left, reference.worlds.event(step.event)) == (
                "confirmed" if step.value else "ruled_out"
            )
            assert set(step.facts) <= set(result.proof.facts)
            if step.rule != "cases":
                assert all(known.get(n) is v for n, v in step.needs), step
            known[step.event] = step.value
        if not any(s.rule == "cases" for s in steps):
            assert {f for s in steps for f in s.facts} == set(result.proof.facts)


def offered(site: Site, found: Diagnosis) -> list[str]:
    """Signs that a check gives and nobody has measured yet, calculated ones left out."""
    measured = {k.sign for k in found.looks if not k.told}
    given = dict.fromkeys(g for c in site.checks.values() for g in c.gives if g in site.signs)
    return [s for s in given if s not in measured]


@examples(120)
@given(calls(4))
def test_what_would_confirm_or_rule_out_is_what_a_certain_finding_entails(drawn: Drawn) -> None:
    case, entries = drawn
    call = case.call(entries)
    found = call.diagnose(advice=False)
    if not found.consistent:
        assert all(not e.would_confirm and not e.would_rule_out for e in found.events.values())
        return
    signs = [s for s in offered(call.site, found) if call.site.signs[s].rows]
    reference = Reference(case, call.entries, signs)
    if len(reference.worlds.roots) > MOST_ROOTS:
        return
    left = reference.possible()
    for name, result in found.events.items():
        if result.verdict is not Verdict.OPEN:
            assert not result.would_confirm
            assert not result.would_rule_out
            continue
        wanted: dict[str, set[tuple[str, str]]] = {"confirmed": set(), "ruled_out": set(), "open": set()}
        for sign in signs:
            for b, band in enumerate(call.site.signs[sign].bands):
                here = 0
                for chances, where in zip(reference.rows[sign], reference.deciding[sign], strict=True):
                    if chances[b] > 0.0:
                        here |= left & where
                if here:
                    wanted[reference.verdict(here, reference.worlds.event(name))].add((sign, band))
        for shown, verdict in ((result.would_confirm, "confirmed"), (result.would_rule_out, "ruled_out")):
            asked = {(s.sign, b) for s in shown for b in s.bands if s.sign in signs}
            assert asked == wanted[verdict], (name, verdict)
