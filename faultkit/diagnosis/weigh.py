"""Weights of evidence, surprise, and how far the order of suspects rests on frequencies."""

from __future__ import annotations

import math

from faultkit.diagnosis.belief import Belief
from faultkit.diagnosis.result import Weight
from faultkit.network.ir import NodeKind

__all__ = ["order_rests_on", "surprise", "weights_of_evidence"]

#: Weights below this many decibans are not listed.
LEAST = 0.5

#: Bans reported where the facts together are less probable than a double can hold.
MOST_BANS = 300.0


def weights_of_evidence(belief: Belief, whole: Belief | None) -> dict[int, tuple[Weight, ...]]:
    """For every node the weight of each fact, given all the others (leave-one-out), largest first.

    W = 10 log10 of the ratio of the node's odds with and without the fact.
    Such weights do not add up where facts hang together. (I. J. Good, 1950.)
    ``whole`` is the same belief with nothing fixed, for facts that logic rests on; without it these are left out.
    """
    every = frozenset(belief.evidence.facts)
    hard = (whole or belief).hard_facts
    asked = [(belief, every.difference(hard))]
    if whole is not None:
        asked.append((whole, every.intersection(hard)))
    found: dict[int, list[Weight]] = {}
    for b, facts in asked:
        odds = _log_odds(b, every) if facts else {}
        for f in sorted(facts):
            without = _log_odds(b, every - {f})
            for i, now in odds.items():
                w = 10.0 * (now - without[i]) if i in without else 0.0
                if abs(w) >= LEAST:
                    found.setdefault(i, []).append(Weight(f, w))
    return {i: tuple(sorted(ws, key=lambda w: (-abs(w.decibans), w.fact))) for i, ws in found.items()}


def _log_odds(belief: Belief, facts: frozenset[str]) -> dict[int, float]:
    """log10 of the odds of every node that is open."""
    _, true, false = belief.joint(belief.weights(facts))
    return {
        i: math.log10(t / f) for i, (t, f) in enumerate(zip(true, false, strict=True)) if t > 0.0 and f > 0.0
    }


def surprise(belief: Belief) -> float:
    """Bans by which the findings together are less probable than were they independent.

    log10 of the product of P(finding) over P(all findings): above zero they pull apart
    (the conflict measure of Jensen, Chamberlain, Nordahl and Jensen, 1990).
    """
    together = belief.compiled.value(belief.weights())
    if together <= 0.0:
        return MOST_BANS
    bans = -math.log10(together)
    for name in belief.inside:
        bans += math.log10(belief.compiled.value(belief.weights_of(name)))
    return bans


def order_rests_on(belief: Belief, open_faults: list[int]) -> tuple[int, ...]:
    """Basic events whose frequency, tripled, puts another fault first among those open.

    P(fault) under the new frequency follows from P(fault and event) and P(fault
    without event) under the old one. A tripled frequency raises nothing by more than
    three, so only faults within that of the leader can overtake it.
    """
    if len(open_faults) < 2:
        return ()
    weights = belief.weights()
    _, true, _ = belief.joint(list(weights))
    leader = max(open_faults, key=lambda v: (true[v], -v))
    rivals = [v for v in open_faults if v == leader or 3.0 * true[v] >= true[leader]]
    both: dict[int, list[float]] = {}
    for v in rivals:
        w = list(weights)
        w[2 * v] = 0.0
        _, both[v], _ = belief.joint(w)
    out: list[int] = []
    for i, node in enumerate(belief.network.nodes):
        if node.kind is not NodeKind.BASIC:
            continue
        new = min(3.0 * node.prior, 0.9)
        up, down = new / node.prior, (1.0 - new) / (1.0 - node.prior)
        changed = {v: up * both[v][i] + down * (true[v] - both[v][i]) for v in rivals}
        if max(rivals, key=lambda v: (changed[v], -v)) != leader:
            out.append(i)
    return tuple(out)
