"""Verdicts and posteriors against listing every world in exact fractions."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import assume, given

from faultkit.diagnosis.result import Diagnosis, Probability
from tests.engine.reference import Reference
from tests.engine.strategies import Case, calls, examples

Drawn = tuple[Case, list[dict[str, Any]]]
#: Posteriors agree to this relative error, however small they are.
EXACT = 1e-10
MOST_ROOTS = 11


def near(found: float, wanted: Fraction, error: float = EXACT) -> bool:
    return abs(Fraction(found) - wanted) <= Fraction(error) * abs(wanted)


def prepared(drawn: Drawn) -> tuple[Reference, Diagnosis]:
    case, entries = drawn
    call = case.call(entries)
    reference = Reference(case, call.entries)
    assume(len(reference.worlds.roots) <= MOST_ROOTS)
    return reference, call.diagnose(advice=False)


def exactly(p: Probability) -> float:
    assert p.low == p.high
    return p.low


@examples(200)
@given(calls())
def test_verdicts_and_posteriors_are_those_of_the_worlds(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    assert set(found.events) == set(reference.worlds.named)
    assert found.consistent == (not reference.conflicts) == (sum(reference.weigh()) > 0)
    verdicts = reference.verdicts()
    weights = reference.weigh(soften=not found.consistent)
    for name, event in found.events.items():
        wanted = reference.posterior(weights, reference.worlds.event(name))
        assert event.verdict.value == verdicts[name], name
        if found.consistent:
            assert event.verdict.value == ("confirmed" if wanted == 1 else "ruled_out" if wanted == 0 else "open")
        if verdicts[name] == "open":
            assert near(exactly(event.probability), wanted), (name, event.probability, float(wanted))
            assert near(1.0 - event.probability.low, 1 - wanted, 1e-9) or wanted > 0.999
        else:
            assert exactly(event.probability) == float(verdicts[name] == "confirmed")


@examples(100)
@given(calls(0))
def test_priors_are_those_of_the_worlds(drawn: Drawn) -> None:
    reference, found = prepared(drawn)
    for name, event in found.events.items():
        wanted = Fraction(
            reference.sum(reference.worlds.weights, reference.worlds.event(name)), reference.worlds.scale
        )
        assert near(event.prior, wanted), name
        assert event.basic == (name in reference.worlds.faults)
