"""Weights of evidence, surprise, and how far the order of suspects rests on frequencies."""

from __future__ import annotations

import math

from faultkit.diagnosis.belief import Belief
from faultkit.diagnosis.result import Weight
from faultkit.network.ir import NodeKind

__all__ = ["order_rests_on", "surprise", "weights_of_evidence"]

#: Weights below this many decibans are not listed.
LEAST = 0.5


def weights_of_evidence(belief: Belief) -> dict[int, tuple[Weight, ...]]:
    """For every node the weight of each fact, given all the others (leave-one-out), largest first.

    W = 10 log10 of the ratio of the node's odds with and without the fact.
    Such weights do not add up where facts hang together. (I. J. Good, 1950.)
    """
    facts = belief.evidence.facts
    total, true, false = belief.joint(belief.weights())
    found: dict[int, list[Weight]] = {}
    if total <= 0.0:
        return {}
    every = frozenset(facts)
    for f in facts:
        _, t, n = belief.joint(belief.weights(every - {f}))
        for i in range(len(true)):
            if true[i] > 0.0 and false[i] > 0.0 and t[i] > 0.0 and n[i] > 0.0:
                w = 10.0 * math.log10(true[i] / false[i] * (n[i] / t[i]))
                if abs(w) >= LEAST:
                    found.setdefault(i, []).append(Weight(f, w))
    return {i: tuple(sorted(ws, key=lambda w: (-abs(w.decibans), w.fact))) for i, ws in found.items()}


def surprise(belief: Belief) -> float:
    """Bans by which the findings together are less probable than were they independent.

    log10 of the product of P(finding) over P(all findings): above zero they pull apart
    (the conflict measure of Jensen, Chamberlain, Nordahl and Jensen, 1990).
    """
    together = belief.compiled.value(belief.weights())
    if together <= 0.0:
        return math.inf
    bans = -math.log10(together)
    for name in belief.inside:
        bans += math.log10(belief.compiled.value(belief.weights_of(name)))
    return bans


def order_rests_on(belief: Belief, open_faults: list[int]) -> tuple[int, ...]:
    """Basic events whose frequency, tripled, puts another fault first among those open."""
    if len(open_faults) < 2:
        return ()
    weights = belief.weights()
    _, true, _ = belief.joint(list(weights))
    ranked = sorted(open_faults, key=lambda i: (-true[i], i))
    leader, runner = ranked[0], ranked[1]
    out: list[int] = []
    for i, node in enumerate(belief.network.nodes):
        if node.kind is not NodeKind.BASIC or true[runner] + 2.0 * true[i] < true[leader]:
            continue
        w = list(weights)
        prior = min(3.0 * node.prior, 0.9)
        w[2 * i], w[2 * i + 1] = 1.0 - prior, prior
        _, changed, _ = belief.joint(w)
        if max(open_faults, key=lambda v: (changed[v], -v)) != leader:
            out.append(i)
    return tuple(out)
