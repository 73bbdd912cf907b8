"""A smallest set of checks against python-sat: a hitting set for single checks, MaxSAT for several together."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultkit.consistency.testability.cover import smallest_set

pytest.importorskip("pysat")

from pysat.examples.hitman import Hitman
from pysat.examples.rc2 import RC2
from pysat.formula import WCNF

NAMES = tuple("abcdefghijkl")
SINGLE = st.lists(st.frozensets(st.sampled_from(NAMES), min_size=1, max_size=5), min_size=1, max_size=25)
WAYS = st.lists(
    st.lists(st.frozensets(st.sampled_from(NAMES), min_size=1, max_size=3), min_size=1, max_size=4),
    min_size=1, max_size=15,
)


@settings(max_examples=100)
@given(SINGLE)
def test_single_checks_are_a_minimal_hitting_set(sets: list[frozenset[str]]) -> None:
    with Hitman(bootstrap_with=[sorted(s) for s in sets], htype="sorted") as hitman:
        best = hitman.get()
    found = smallest_set([[frozenset({c}) for c in s] for s in sets], dict.fromkeys(NAMES, 1.0))
    assert best is not None
    assert found.exact
    assert len(found.checks) == found.at_least == len(best)
    assert all(s & set(found.checks) for s in sets)


@settings(max_examples=100)
@given(WAYS)
def test_ways_of_several_checks(pairs: list[list[frozenset[str]]]) -> None:
    formula = WCNF()
    number = {n: i + 1 for i, n in enumerate(NAMES)}
    top = len(NAMES)
    for ways in pairs:
        heads = []
        for way in ways:
            top += 1
            heads.append(top)
            for c in way:
                formula.append([-top, number[c]])
        formula.append(heads)
    for n in number.values():
        formula.append([-n], weight=1)
    with RC2(formula) as solver:
        assert solver.compute() is not None
        best = solver.cost
    found = smallest_set(pairs, dict.fromkeys(NAMES, 1.0))
    assert found.exact
    assert len(found.checks) == best
    assert all(any(way <= set(found.checks) for way in ways) for ways in pairs)


@settings(max_examples=60)
@given(WAYS, st.lists(st.integers(1, 9), min_size=12, max_size=12))
def test_among_the_fewest_the_quickest(pairs: list[list[frozenset[str]]], minutes: list[int]) -> None:
    cost = {n: float(m) for n, m in zip(NAMES, minutes, strict=True)}
    found = smallest_set(pairs, cost)
    size = len(found.checks)
    good = [c for c in combinations(NAMES, size) if all(any(w <= set(c) for w in ways) for ways in pairs)]
    assert found.minutes == min(sum(cost[x] for x in c) for c in good)


def test_a_search_cut_short_says_so_and_gives_a_bound() -> None:
    pairs = [[frozenset({a}), frozenset({b})] for a, b in combinations(NAMES, 2)]
    found = smallest_set(pairs, dict.fromkeys(NAMES, 1.0), nodes=1)
    assert not found.exact
    # All pairs of twelve: eleven are needed, and the search that was cut short still holds a solution.
    assert found.at_least <= 11 <= len(found.checks)
    assert smallest_set(pairs, dict.fromkeys(NAMES, 1.0)).at_least == 11


def test_pairs_that_nothing_tells_apart_are_left_out() -> None:
    found = smallest_set([[], [frozenset({"b"})]], {"a": 1.0, "b": 2.0})
    assert found.checks == ("b",)
