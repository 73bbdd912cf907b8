"""Random trees against listing every state, in exact fractions; and against a second diagram library."""

from __future__ import annotations

import math
import random
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultkit.faulttree import (
    FaultTree,
    Gate,
    importances,
    minimal_cut_sets,
    minimal_hitting_sets,
    top_probability,
)
from faultkit.faulttree.compiled import compile_cut_sets
from faultkit.faulttree.cutsets import CutSets

COHERENT = ("any_of", "all_of", "at_least")


@st.composite
def trees(draw: st.DrawFn, ops: tuple[str, ...] = COHERENT, events: int = 10) -> FaultTree:
    names = [f"e{i}" for i in range(draw(st.integers(1, events)))]
    chances = {n: draw(st.integers(1, 99)) / 100 for n in names}
    house = {f"h{i}": draw(st.booleans()) for i in range(draw(st.integers(0, 2)))}
    pool, gates = [*names, *house], {}
    for i in range(draw(st.integers(1, 7))):
        op = draw(st.sampled_from(ops))
        size = 1 if op == "not" else draw(st.integers(1, min(5, len(pool))))
        inputs = draw(st.permutations(pool))[:size]
        gates[f"g{i}"] = Gate(op, tuple(inputs), draw(st.integers(1, size)) if op == "at_least" else 0)
        pool.append(f"g{i}")
    return FaultTree.build(f"g{len(gates) - 1}", gates, chances, house)


class Listed:
    """Every quantity of a tree by listing all states of its events, in fractions."""

    def __init__(self, tree: FaultTree) -> None:
        self.tree = tree
        self.p = {e: Fraction(tree.probabilities[e]) for e in tree.events}
        states = [
            dict(zip(tree.events, s, strict=True)) for s in product((False, True), repeat=len(tree.events))
        ]
        self.true = [frozenset(e for e, on in s.items() if on) for s in states]
        self.true = [s for s in self.true if tree.holds(s)]
        self.minimal = {s for s in self.true if not any(o < s for o in self.true)}

    def top(self, **fixed: int) -> Fraction:
        p = self.p | {e: Fraction(v) for e, v in fixed.items()}
        return sum(
            (math.prod((p[e] if e in s else 1 - p[e] for e in p), start=Fraction(1)) for s in self.true),
            Fraction(0),
        )

    def chance(self, cut: frozenset[str]) -> Fraction:
        return math.prod((self.p[e] for e in cut), start=Fraction(1))


def close(value: float, exact: Fraction) -> bool:
    return value == pytest.approx(float(exact), rel=1e-9, abs=1e-14)


def compare(tree: FaultTree) -> None:
    listed = Listed(tree)
    sets = minimal_cut_sets(tree)
    assert {frozenset(s) for s in sets} == listed.minimal
    assert sets.count == len(listed.minimal)
    sizes = [len(s) for s in sets]
    assert sizes == sorted(sizes)
    assert sets.count_by_order() == {n: sizes.count(n) for n in sorted(set(sizes))}
    total = sum(map(listed.chance, listed.minimal), Fraction(0))
    assert close(sets.rare_event_sum(), total)
    assert close(
        sets.upper_bound(), 1 - math.prod((1 - listed.chance(c) for c in listed.minimal), start=Fraction(1))
    )
    ranked = sets.most_probable(5)
    best = sorted(map(listed.chance, listed.minimal), reverse=True)[:5]
    assert len(ranked) == len(best)
    assert all(
        close(p, q) and close(p, listed.chance(frozenset(c))) for (p, c), q in zip(ranked, best, strict=True)
    )
    p = listed.top()
    assert close(top_probability(tree), p)
    compare_importances(tree, listed, total, p)


def compare_importances(tree: FaultTree, listed: Listed, total: Fraction, p: Fraction) -> None:
    for event, row in importances(tree).items():
        through = [c for c in listed.minimal if event in c]
        assert row.occurrence == len(through)
        p1, p0 = listed.top(**{event: 1}), listed.top(**{event: 0})
        assert close(row.birnbaum, p1 - p0)
        if p == 0:
            assert math.isnan(row.diagnostic)
            continue
        assert close(row.criticality, listed.p[event] * (p1 - p0) / p)
        assert close(row.diagnostic, listed.p[event] * p1 / p)
        assert close(row.risk_achievement, p1 / p)
        assert row.risk_reduction == math.inf if p0 == 0 else close(row.risk_reduction, p / p0)
        assert close(row.fussell_vesely, sum(map(listed.chance, through), Fraction(0)) / total)


@settings(max_examples=150, deadline=None)
@given(trees())
def test_coherent_tree(tree: FaultTree) -> None:
    compare(tree)
    zbdd, root, events = compile_cut_sets(tree, diagram_limit=2)
    other = CutSets(events, tree.probabilities, None, zbdd, root)
    assert {frozenset(s) for s in other} == {frozenset(s) for s in minimal_cut_sets(tree)}


@settings(max_examples=100, deadline=None)
@given(trees((*COHERENT, "not", "xor"), events=8))
def test_tree_with_not_and_xor(tree: FaultTree) -> None:
    compare(tree)


@settings(max_examples=60, deadline=None)
@given(trees(), st.integers(0, 5))
def test_order_limit(tree: FaultTree, order: int) -> None:
    want = {s for s in Listed(tree).minimal if len(s) <= order}
    assert {frozenset(s) for s in minimal_cut_sets(tree, order)} == want
    zbdd, root, events = compile_cut_sets(tree, order, diagram_limit=2)
    assert {frozenset(s) for s in CutSets(events, {}, order, zbdd, root)} == want


@settings(max_examples=100, deadline=None)
@given(st.lists(st.sets(st.sampled_from("abcdefgh"), min_size=1), max_size=8))
def test_hitting_sets(collection: list[set[str]]) -> None:
    members = sorted({m for s in collection for m in s})
    subsets = [
        frozenset(m for m, on in zip(members, bits, strict=True) if on)
        for bits in product((0, 1), repeat=len(members))
    ]
    hitting = [s for s in subsets if all(s & c for c in collection)]
    want = {s for s in hitting if not any(o < s for o in hitting)}
    assert {frozenset(s) for s in minimal_hitting_sets(map(sorted, collection))} == want


def generated(seed: int, events: int, gates: int) -> FaultTree:
    """A coherent tree with shared events, each gate used at least once."""
    rng = random.Random(seed)  # noqa: S311 - trees, not secrets
    names = [f"e{i}" for i in range(events)]
    made: dict[str, Gate] = {}
    loose = names.copy()
    rng.shuffle(loose)
    for i in range(gates):
        last = i == gates - 1
        take = len(loose) if last else min(len(loose) - 1, rng.randint(2, 3))
        inputs = {loose.pop(0) for _ in range(take)}
        if not last and rng.random() < 0.35:
            inputs.add(rng.choice(names))
        ordered = tuple(sorted(inputs))
        op = rng.choice(COHERENT) if len(ordered) > 2 and not last else rng.choice(COHERENT[:2])
        made[f"g{i}"] = Gate(op, ordered, 2 if op == "at_least" else 0)
        loose.append(f"g{i}")
        if len(loose) == 1:
            break
    top = list(made)[-1]
    return FaultTree.build(top, made, {n: rng.uniform(0.001, 0.2) for n in names})


@pytest.mark.parametrize("seed", range(12))
def test_against_a_second_diagram_library(seed: int) -> None:
    """dd (pure Python): same function from the cut sets as from the gates, same number of true states."""
    autoref = pytest.importorskip("dd.autoref")
    tree = generated(seed, 40 + seed, 30)
    manager = autoref.BDD()
    manager.declare(*tree.events)
    functions = {e: manager.var(e) for e in tree.events}
    for name, gate in tree.gates.items():
        need = {"any_of": 1, "all_of": len(gate.inputs)}.get(gate.op, gate.k)
        row = [manager.true] + [manager.false] * need
        for one in gate.inputs:
            for j in range(need, 0, -1):
                row[j] = row[j] | (row[j - 1] & functions[one])
        functions[name] = row[need]
    whole = functions[tree.top]
    sets = minimal_cut_sets(tree)
    assert sets.count > 1
    halves = tree.with_probabilities(dict.fromkeys(tree.events, 0.5))
    assert top_probability(halves) == pytest.approx(
        whole.count(len(tree.events)) / 2 ** len(tree.events), rel=1e-12
    )
    if sets.count > 4000:
        return
    union = manager.false
    for cut in sets:
        union |= manager.cube(dict.fromkeys(cut, True))
        for event in cut:  # without any of its events a cut set is none
            rest = {e: e in cut and e != event for e in tree.events}
            assert manager.let(rest, whole) == manager.false
    assert union == whole
