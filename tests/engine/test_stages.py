"""Calls with remedies against listing every world of every stage in exact fractions."""

from __future__ import annotations

from hypothesis import assume, given

from faultkit.diagnosis.result import Diagnosis
from tests.engine.staged_cases import Staged, staged_calls
from tests.engine.staged_reference import StagedReference
from tests.engine.strategies import examples
from tests.engine.test_brute_force import exactly, near

MOST_ROOTS = 12


def prepared(drawn: Staged) -> tuple[StagedReference, Diagnosis]:
    case, entries = drawn
    call = case.call(entries)
    reference = StagedReference(case, call.entries)
    assume(len(reference.worlds.roots) <= MOST_ROOTS)
    return reference, call.diagnose(advice=False)


@examples(400)
@given(staged_calls())
def test_verdicts_and_posteriors_of_now(drawn: Staged) -> None:
    reference, found = prepared(drawn)
    assert set(found.events) == set(reference.worlds.first)
    assert {frozenset(c.facts) for c in found.conflicts} == reference.conflicts
    weights = reference.weigh(soften=not found.consistent)
    for name, event in found.events.items():
        holds = reference.worlds.event_in(name, reference.last)
        wanted = reference.posterior(weights, holds)
        verdict = reference.verdict_in(name, reference.last)
        assert event.verdict.value == verdict, name
        if found.consistent:
            assert verdict == ("confirmed" if wanted == 1 else "ruled_out" if wanted == 0 else "open")
        if verdict == "open":
            assert near(exactly(event.probability), wanted), (name, event.probability, float(wanted))
        else:
            assert exactly(event.probability) == float(verdict == "confirmed")
