"""Small limits: exact through clamping, or bounds that hold; logic stays sound."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from faultkit.circuit.compile import Limits
from faultkit.diagnosis.result import Verdict
from tests.engine.reference import Reference
from tests.engine.strategies import Case, calls, examples
from tests.engine.test_brute_force import EXACT, MOST_ROOTS, near

TABLES = st.sampled_from((60.0, 90.0, 120.0, 200.0))


@examples(200)
@given(calls(), TABLES, st.integers(0, 3))
def test_bounds_hold_and_logic_stays_sound(
    drawn: tuple[Case, list[dict[str, Any]]], table: float, clamps: int
) -> None:
    case, entries = drawn
    call = case.call(entries)
    reference = Reference(case, call.entries)
    assume(len(reference.worlds.roots) <= MOST_ROOTS)
    try:
        found = call.diagnose(limits=Limits(table, clamps))
    except ValueError as fault:
        assert "does not even hold the basic events" in str(fault)  # noqa: PT017
        return
    if reference.conflicts:
        assert not found.consistent or found.left_out
        return
    assert found.consistent
    weights = reference.weigh()
    error = Fraction(EXACT)
    for name, event in found.events.items():
        wanted = reference.posterior(weights, reference.worlds.event(name))
        if event.verdict is Verdict.CONFIRMED:
            assert wanted == 1
        elif event.verdict is Verdict.RULED_OUT:
            assert wanted == 0
        low, high = event.probability.low, event.probability.high
        assert Fraction(low) <= wanted * (1 + error), name
        assert Fraction(high) >= wanted * (1 - error), name
        assert event.verdict is not Verdict.UNKNOWN or high - low > 0.5
    check_the_rest(reference, found, weights)


def check_the_rest(reference: Reference, found: Any, weights: list[int]) -> None:
    confirmed = [n for n, e in found.events.items() if e.basic and e.verdict is Verdict.CONFIRMED]
    further = 0
    for sign, rows in reference.abnormal().items():
        further |= reference.seen(sign, rows) & ~reference.seen(sign, rows, confirmed)
    wanted = reference.posterior(weights, further)
    assert Fraction(found.further_fault.low) <= wanted * (1 + Fraction(EXACT))
    assert Fraction(found.further_fault.high) >= wanted * (1 - Fraction(EXACT))
    if not found.left_out:
        for check in found.next_checks:
            total = sum(o.probability for o in check.outcomes)
            assert total <= 1 + 1e-9


@examples(150)
@given(calls(), st.sampled_from((90.0, 120.0, 200.0)))
def test_clamping_alone_stays_exact(drawn: tuple[Case, list[dict[str, Any]]], table: float) -> None:
    case, entries = drawn
    call = case.call(entries)
    reference = Reference(case, call.entries)
    assume(len(reference.worlds.roots) <= MOST_ROOTS)
    try:
        found = call.diagnose(limits=Limits(table, 8), advice=False)
    except ValueError:
        return
    verdicts = reference.verdicts()
    weights = reference.weigh(soften=not found.consistent)
    if found.left_out:
        return
    for name, event in found.events.items():
        if event.probability.low == event.probability.high:
            assert event.verdict.value == verdicts[name]
            if event.verdict is Verdict.OPEN:
                assert near(event.probability.low, reference.posterior(weights, reference.worlds.event(name)))


def test_a_limit_that_holds_nothing_is_refused(wide: Case) -> None:
    with pytest.raises(ValueError, match="does not even hold the basic events"):
        wide.call().diagnose(limits=Limits(1.0, 0))
