"""Published numbers that the engine must reproduce; the source stands beside each."""

from __future__ import annotations

import math

import pytest

from faultkit.call import Call
from faultkit.model.types import Event, Gate
from tests.engine.small import basic, call_of, gate, one_unit, words

YES_NO = ("yes", "no")


def certain(event: str) -> tuple[tuple[str | None, tuple[float, ...]], ...]:
    return ((event, (1.0, 0.0)), (None, (0.0, 1.0)))


def test_noisy_or_with_positive_and_negative_findings() -> None:
    """The model of QMR (Shwe and others 1991; Heckerman's Quickscore, 1989).

    The example is our own; its values come from two independent programs (theory notes, 1.8).
    """
    diseases = (basic("d1", 0.1), basic("d2", 0.2), basic("d3", 0.05))
    leaks = (basic("l1", 0.01), basic("l2", 0.02), basic("l3", 0.05))
    findings = (
        gate("f1", Gate.ANY_OF, "l1", ("d1", 0.8), ("d2", 0.3)),
        gate("f2", Gate.ANY_OF, "l2", ("d2", 0.6), ("d3", 0.9)),
        gate("f3", Gate.ANY_OF, "l3", ("d1", 0.5), ("d3", 0.4)),
    )
    seen = tuple(words(f"r{f.name}", YES_NO, *certain(f.name)) for f in findings)
    call = call_of(one_unit((*diseases, *leaks, *findings), seen))
    found = call.record("u.rf1", "yes").record("u.rf2", "yes").record("u.rf3", "no").diagnose()
    posteriors = [found.events[f"u.d{n}"].probability.low for n in (1, 2, 3)]
    assert posteriors == pytest.approx([0.165285793, 0.955375927, 0.071626470], abs=5e-10)


def test_weights_of_evidence_in_decibans() -> None:
    """I. J. Good, Probability and the Weighing of Evidence (1950): 10 log10 of the likelihood ratio.

    Prior .01 and two independent findings of ratio 9 give odds 81/99, that is .45.
    """
    tells = (("h", (0.9, 0.1)), (None, (0.1, 0.9)))
    call = call_of(one_unit((basic("h", 0.01),), (words("r", YES_NO, *tells), words("s", YES_NO, *tells))))
    event = call.record("u.r", "yes", id="a").record("u.s", "yes", id="b").diagnose().events["u.h"]
    assert event.probability.low == pytest.approx(0.45, rel=1e-12)
    assert {w.fact: w.decibans for w in event.weights} == pytest.approx(
        dict.fromkeys("ab", 10 * math.log10(9)), rel=1e-12
    )


def asia() -> Call:
    """Lauritzen and Spiegelhalter 1988; numbers as on the OpenBUGS page of the example.

    Two-valued tables become noisy-or: 1 - (1 - leak)(1 - link) is the larger entry.
    """
    events: tuple[Event, ...] = (
        basic("asia", 0.01),
        basic("smoking", 0.5),
        basic("t0", 0.01),
        basic("l0", 0.01),
        basic("b0", 0.3),
        gate("t", Gate.ANY_OF, "t0", ("asia", 1 - 0.95 / 0.99)),
        gate("l", Gate.ANY_OF, "l0", ("smoking", 1 - 0.9 / 0.99)),
        gate("b", Gate.ANY_OF, "b0", ("smoking", 1 - 0.4 / 0.7)),
        gate("e", Gate.ANY_OF, "t", "l"),
        gate("e_and_b", Gate.ALL_OF, "e", "b"),
    )
    readings = (
        words("visited", YES_NO, *certain("asia")),
        words("smokes", YES_NO, *certain("smoking")),
        words("x", YES_NO, ("e", (0.98, 0.02)), (None, (0.05, 0.95))),
        words("d", YES_NO, ("e_and_b", (0.9, 0.1)), ("e", (0.7, 0.3)), ("b", (0.8, 0.2)), (None, (0.1, 0.9))),
    )
    return call_of(one_unit(events, readings))


@pytest.mark.parametrize(
    ("facts", "posteriors"),
    [
        ({}, {"t": 0.0104, "l": 0.055, "b": 0.45, "e": 0.064828}),
        ({"d": "yes"}, {"t": 0.018845, "l": 0.102759, "b": 0.833967, "e": 0.120536, "smoking": 0.633997}),
        (
            {"visited": "yes", "d": "yes"},
            {"t": 0.087751, "l": 0.099525, "b": 0.811402, "e": 0.182300, "smoking": 0.625920},
        ),
        (
            {"visited": "yes", "d": "yes", "x": "yes"},
            {"t": 0.391712, "l": 0.444271, "b": 0.628822, "e": 0.813769, "smoking": 0.702025},
        ),
        (
            {"visited": "yes", "d": "yes", "x": "no"},
            {"t": 0.002249, "l": 0.002550, "b": 0.862761, "e": 0.004672, "smoking": 0.604512},
        ),
        (
            {"smokes": "no", "x": "yes", "d": "no"},
            {"t": 0.063414, "l": 0.060975, "b": 0.091665, "e": 0.123754},
        ),
    ],
)
def test_the_asia_network(facts: dict[str, str], posteriors: dict[str, float]) -> None:
    call = asia()
    for reading, value in facts.items():
        call = call.record(f"u.{reading}", value)
    found = call.diagnose(advice=False)
    for event, wanted in posteriors.items():
        # The table gives six digits.
        assert found.events[f"u.{event}"].probability.low == pytest.approx(wanted, abs=6e-7), event


def explained(conflicts: list[str]) -> set[frozenset[str]]:
    """Minimal explanations where each conflict set is a gate seen to be true."""
    names = sorted(set("".join(conflicts)))
    events = [basic(f"c{n}", 0.01) for n in names]
    gates = [gate(f"g{i}", Gate.ANY_OF, *(f"c{n}" for n in c)) for i, c in enumerate(conflicts)]
    seen = tuple(words(f"r{i}", YES_NO, *certain(g.name)) for i, g in enumerate(gates))
    call = call_of(one_unit((*events, *gates), seen))
    for i in range(len(gates)):
        call = call.record(f"u.r{i}", "yes")
    return {frozenset(n.removeprefix("u.c") for n in e.events) for e in call.diagnose(advice=False).explanations}


def test_minimal_hitting_sets_of_reiter() -> None:
    """R. Reiter, A Theory of Diagnosis from First Principles (1987), the example of the hitting-set tree."""
    wanted = {"12", "134", "145", "236", "256", "346"}
    assert explained(["245", "123", "135", "246", "24", "235", "16"]) == {frozenset(w) for w in wanted}


def test_minimal_diagnoses_of_the_polybox() -> None:
    """De Kleer and Williams, Diagnosing Multiple Faults (1987). Multipliers 1 2 3, adders a b.

    The format knows no arithmetic: the two conflicts stand for F = 10 and G = 12.
    """
    assert explained(["a12", "ab13"]) == {frozenset(w) for w in ("a", "1", "b2", "23")}
