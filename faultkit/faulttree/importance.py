"""Exact top probability and importance of every basic event.

P is the probability of the top event, P1 and P0 the same with the event known to
be true and known to be false, p the event's own probability.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from faultkit.faulttree.compiled import Compiled, compile_bdd
from faultkit.faulttree.cutsets import CutSets, minimal_cut_sets
from faultkit.faulttree.tree import FaultTree

__all__ = ["Importance", "importances", "top_probability"]

#: Below this share of P a difference of probabilities is worked out again from scratch.
_CANCELLED = 1e-6


@dataclass(frozen=True, slots=True)
class Importance:
    """Importance of one basic event. Formulas from memory of the sources named.

    ``occurrence``: number of minimal cut sets the event stands in.
    ``birnbaum`` (MIF): P1 - P0, the change of P by the event (Birnbaum 1969).
    ``criticality`` (CIF): p · MIF / P; for a coherent tree 1 - P0 / P, the share of
    P that needs the event (IEC 61025).
    ``diagnostic`` (DIF): p · P1 / P, the probability of the event given the top event.
    ``fussell_vesely`` (FV): sum of P(set) over the minimal cut sets through the event,
    divided by the sum over all (Fussell 1975; NUREG-0492, rare-event form).
    ``risk_achievement`` (RAW): P1 / P. ``risk_reduction`` (RRW): P / P0, infinite
    when the top event cannot happen without the event.
    With P = 0 the shares and ratios are not defined: nan.
    """

    event: str
    probability: float
    occurrence: int
    birnbaum: float
    criticality: float
    diagnostic: float
    fussell_vesely: float
    risk_achievement: float
    risk_reduction: float


def top_probability(tree: FaultTree) -> float:
    """P(top event), exact for independent basic events (diagram algorithm: Rauzy 1993).

    Raises InputError when the tree is too large for its diagram.
    """
    return _Probabilities.of(compile_bdd(tree), tree.probabilities).top


def importances(tree: FaultTree, cut_sets: CutSets | None = None) -> dict[str, Importance]:
    """Importance of every basic event under the top event, by name, left-most first.

    One pass up and one down the diagram serve all events. ``cut_sets`` are the
    tree's own when they are already at hand; with an order limit in them,
    occurrence and Fussell-Vesely are those of the sets kept. Raises InputError
    when the tree is too large.
    """
    sets = minimal_cut_sets(tree) if cut_sets is None else cut_sets
    through, total, counts = sets.sums_through(), sets.rare_event_sum(), sets.occurrences()
    compiled = compile_bdd(tree)
    known = _Probabilities.of(compiled, tree.probabilities)
    slopes = _slopes(compiled, known)
    result = {}
    for event in tree.events:
        p = tree.probabilities[event]
        slope = slopes.get(event, 0.0)
        with_event, without = _conditioned(compiled, tree, event, known.top, slope)
        share = _divide(through.get(event, 0.0), total)
        result[event] = Importance(
            event=event,
            probability=p,
            occurrence=counts.get(event, 0),
            birnbaum=slope,
            criticality=_divide(p * slope, known.top),
            diagnostic=_divide(p * with_event, known.top),
            fussell_vesely=share,
            risk_achievement=_divide(with_event, known.top),
            risk_reduction=math.inf if without == 0.0 < known.top else _divide(known.top, without),
        )
    return result


def _divide(a: float, b: float) -> float:
    return a / b if b else math.nan


def _conditioned(
    compiled: Compiled, tree: FaultTree, event: str, top: float, slope: float
) -> tuple[float, float]:
    """P1 and P0. A difference that lost its digits is worked out by a pass of its own."""
    p = tree.probabilities[event]
    pair = [top + (1.0 - p) * slope, top - p * slope]
    for i, state in enumerate((1.0, 0.0)):
        if pair[i] <= _CANCELLED * top:
            pair[i] = _Probabilities.of(compiled, {**tree.probabilities, event: state}).top
    return pair[0], pair[1]


@dataclass(frozen=True, slots=True)
class _Probabilities:
    """``chances`` of the diagram's variables, ``nodes`` P(node) in each module's diagram."""

    chances: tuple[float, ...]
    nodes: tuple[Mapping[int, float], ...]
    top: float

    @classmethod
    def of(cls, compiled: Compiled, events: Mapping[str, float]) -> _Probabilities:
        chances = [events.get(name, 0.0) for name in compiled.variables]
        place = {name: i for i, name in enumerate(compiled.variables)}
        nodes = []
        top = 0.0
        for name, root in compiled.roots:
            value = compiled.bdd.values(root, chances)
            nodes.append(value)
            top = value[root]
            if name:
                chances[place[name]] = top
        return cls(tuple(chances), tuple(nodes), top)


def _slopes(compiled: Compiled, known: _Probabilities) -> dict[str, float]:
    """dP/dp of every variable: down from the top, a module handing its slope to its own diagram."""
    bdd = compiled.bdd
    slopes = dict.fromkeys(compiled.variables, 0.0) | {"": 1.0}
    for (name, root), value in zip(reversed(compiled.roots), reversed(known.nodes), strict=True):
        nodes = bdd.reachable(root)
        weight = dict.fromkeys(value, 0.0)
        weight[root] = slopes[name]
        for f in reversed(nodes):
            var, high, low = bdd.parts(f)
            p = known.chances[var]
            slopes[compiled.variables[var]] += weight[f] * (value[high] - value[low])
            weight[high] += weight[f] * p
            weight[low] += weight[f] * (1.0 - p)
    return slopes
