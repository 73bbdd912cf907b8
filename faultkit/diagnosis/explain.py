"""What is explained, what is not, and which causes would explain it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from faultkit.circuit.compile import Limits, compile_network
from faultkit.diagnosis.abnormal import standing_rows
from faultkit.diagnosis.belief import Belief, compile_within
from faultkit.diagnosis.result import Explained, Explanation, Probability
from faultkit.network.ir import Node, NodeKind, Sign, plain

__all__ = ["explained_by", "minimal_explanations", "most_probable_world"]

class _Copy:
    """The network with only the confirmed faults on: gates copied, inhibitors shared."""

    def __init__(self, belief: Belief, confirmed: Iterable[int]) -> None:
        self.belief = belief
        self.nodes = belief.network.nodes
        self.confirmed = frozenset(confirmed)
        self.made: list[Node] = []
        self.seen: dict[int, int | bool] = {}

    def of(self, i: int) -> int | bool:
        """Index of the copy of a node, or a constant."""
        if i not in self.seen:
            self.seen[i] = self._make(i)
        return self.seen[i]

    def _make(self, i: int) -> int | bool:
        node = self.nodes[i]
        if i in self.confirmed:
            return True
        if node.kind is NodeKind.INHIBITOR:
            return i
        if node.is_root or i in self.belief.network.fault_set:
            return False
        inputs = [self.of(j) for j in node.inputs]
        return self.gate(node.kind, inputs, node.k, f"alone:{node.name}")

    def gate(self, kind: NodeKind, inputs: Sequence[int | bool], k: int, name: str) -> int | bool:
        """A gate with constants folded."""
        n = len(inputs)
        need = 1 if kind is NodeKind.ANY_OF else n if kind is NodeKind.ALL_OF else k
        need -= sum(x is True for x in inputs)
        rest = tuple(x for x in inputs if not isinstance(x, bool))
        if need <= 0:
            return True
        if need > len(rest):
            return False
        kind = NodeKind.ANY_OF if need == 1 else NodeKind.ALL_OF if need == len(rest) else NodeKind.AT_LEAST
        self.made.append(Node(name, kind, rest, k=need))
        return len(self.nodes) + len(self.made) - 1


def explained_by(
    belief: Belief, confirmed: Iterable[int], limits: Limits, fixed: Mapping[int, bool]
) -> tuple[tuple[Explained, ...], Probability]:
    """For each abnormal finding whether the confirmed faults explain it; the chance of a further fault.

    A finding's event is the disjunction of the rows that make it likelier than
    ``otherwise``. The confirmed faults explain it where it is true with all other
    faults off; a further fault is at work where it holds in the world and not then.
    ``fixed`` holds what logic decided (nothing where the facts conflict).
    """
    abnormal = standing_rows(belief)
    if not abnormal:
        return (), Probability(0.0, 0.0)
    copy = _Copy(belief, confirmed)
    actual: dict[str, int | bool] = {}
    alone: dict[str, int | bool] = {}
    for name, rows in abnormal.items():
        at = [belief.signs[name].rows[j] for j in rows]
        actual[name] = copy.gate(NodeKind.ANY_OF, at, 0, f"seen:{name}")
        alone[name] = copy.gate(NodeKind.ANY_OF, [copy.of(i) for i in at], 0, f"seen alone:{name}")
    tests = {name: _test(name, actual[name], alone[name]) for name in abnormal}
    twin = _Twin(belief, copy.made, tests, [i for i in alone.values() if not isinstance(i, bool)], limits, fixed)
    out = tuple(
        Explained(name, twin.status(alone[name]), twin.chance([test] if test else []))
        for name, test in tests.items()
    )
    return out, twin.chance([t for t in tests.values() if t is not None])


class _Twin:
    """The world and, beside it, what the confirmed faults alone would do, in one circuit."""

    def __init__(
        self,
        belief: Belief,
        made: Sequence[Node],
        tests: Mapping[str, Sign | None],
        asked: Sequence[int],
        limits: Limits,
        fixed: Mapping[int, bool],
    ) -> None:
        network = belief.network.with_gates(made)
        signs = [*(belief.signs[n] for n in belief.inside), *(t for t in tests.values() if t is not None)]
        keep = network.ancestors([*asked, *(r for sign in signs for r in sign.rows)])
        # Used for a handful of passes only: a quick order will do.
        compiled = compile_network(network, signs, keep=keep, fixed=fixed, limits=replace(limits, tries=1))
        self.left: tuple[str, ...] = ()
        if compiled is None:
            compiled, self.left = compile_within(network, signs, limits, fixed)
        self.wide = Belief(network, belief.evidence, belief.signs, compiled, soften=belief.soften)
        self.weights = self.wide.weights()
        self.before = compiled.value(list(self.weights))

    def chance(self, tests: Sequence[Sign]) -> Probability:
        """P(at least one test fails | evidence)."""
        if not tests or self.before <= 0.0:
            return Probability(0.0, 0.0)
        if any(t.name in self.left for t in tests) or self.wide.outside:
            return Probability(0.0, 1.0)
        w = list(self.weights)
        failed = 0.0
        for t in tests:
            # The tests before this one pass and it fails: a sum without a difference, exact for rare faults.
            slots = self.wide.compiled.sign_slots[t.name]
            for slot, (x,) in zip(slots, t.chances, strict=True):
                w[slot] = 1.0 - x
            failed += self.wide.compiled.value(list(w))
            for slot, (x,) in zip(slots, t.chances, strict=True):
                w[slot] = x
        chance = min(1.0, failed / self.before)
        return Probability(chance, chance)

    def status(self, alone: int | bool) -> str:
        """Whether the confirmed faults alone bring a finding's event about: surely, surely not, or perhaps."""
        if isinstance(alone, bool):
            return "explained" if alone else "unexplained"
        value, true, false = self.possible
        if value and not true[alone] & 1:
            return "unexplained"
        return "explained" if value and not false[alone] & 1 else "open"

    @cached_property
    def possible(self) -> tuple[int, list[int], list[int]]:
        """What logic leaves possible with all facts."""
        return self.wide.possible(self.wide.masks(dict.fromkeys(self.wide.evidence.facts, 1), 1))


def _test(name: str, actual: int | bool, alone: int | bool) -> Sign | None:
    """A sign with weight zero exactly where the event holds and the confirmed faults do not cause it."""
    if alone is True or isinstance(actual, bool):
        return None
    rows = (actual,) if alone is False else (alone, actual)
    weights = (0.0, 1.0) if alone is False else (1.0, 0.0, 1.0)
    return Sign(f"further:{name}", ("none",), rows, tuple((w,) for w in weights))


def most_probable_world(belief: Belief) -> tuple[tuple[str, ...], Probability]:
    """Faults of the most probable world, and its chance given the facts."""
    weights = belief.weights()
    nodes = belief.network.nodes
    looked = {row for name in belief.inside for row in belief.signs[name].rows}
    for i, node in enumerate(nodes):
        if i not in looked and node.name.startswith("acting:") and "@" in node.name:
            # Whether an event would show in a sign nobody looked at is no part of a world.
            idle = node.inputs[1]
            weights[2 * idle], weights[2 * idle + 1] = 1.0, 0.0
    total = belief.compiled.value(list(weights))
    best, chosen = belief.compiled.best(list(weights))
    names = tuple(
        plain(nodes[i].name) for i in belief.network.faults if 2 * i + 1 in chosen
    )
    chance = best / total if total > 0.0 else 0.0
    return names, Probability(chance, chance) if not belief.outside else Probability(0.0, 1.0)


def minimal_explanations(belief: Belief, most: int = 12) -> tuple[Explanation, ...]:
    """Minimal sets of basic events that explain every abnormal finding, likeliest by prior first.

    Each abnormal finding must come from a row that makes it likelier; other
    findings must only be possible. Found by excluding, in turn, each member of
    each set found (Reiter's tree); the cheapest set under exclusions only is always minimal.
    """
    compiled, network = belief.compiled, belief.network
    costs = [0.0] * compiled.circuit.inputs
    owner: dict[int, str] = {}
    for i, node in enumerate(network.nodes):
        if node.is_root and node.kind is not NodeKind.INHIBITOR:
            costs[2 * i + 1] = max(1e-3, math.log((1.0 - node.prior) / node.prior))
            owner[2 * i + 1] = node.name.removeprefix("come:").removesuffix(".by_itself")
    abnormal = standing_rows(belief)
    for name in belief.inside:
        rows = belief.rows(name)
        must = abnormal.get(name, ())
        for j, slot in enumerate(compiled.sign_slots[name]):
            allowed = rows[j] > 0.0 and (not must or j in must)
            costs[slot] = 0.0 if allowed else math.inf
    found: dict[frozenset[int], float] = {}
    queue: list[frozenset[int]] = [frozenset()]
    seen = set(queue)
    while queue and len(found) < most and len(seen) < 40 * most:
        without = queue.pop(0)
        blocked = list(costs)
        for slot in without:
            blocked[slot] = math.inf
        cost, chosen = compiled.cheapest(blocked)
        if math.isinf(cost):
            continue
        causes = frozenset(s for s in chosen if s in owner)
        found[causes] = cost
        for slot in sorted(causes):
            more = without | {slot}
            if more not in seen:
                seen.add(more)
                queue.append(more)
    ranked = sorted(found.items(), key=lambda pair: (pair[1], sorted(pair[0])))
    return tuple(
        Explanation(tuple(sorted(owner[s] for s in causes)), -10.0 / math.log(10.0) * cost)
        for causes, cost in ranked
        if causes
    )
