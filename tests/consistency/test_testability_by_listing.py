"""Dependency matrix, groups, masks, redundant checks and smallest set against listing everything."""

from __future__ import annotations

import random
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultkit.consistency.rules import BY_CODE
from faultkit.consistency.subject import Subject, TypeView
from faultkit.consistency.testability.report import testability as report_on
from faultkit.model.catalogue import Catalogue
from faultkit.model.types import EquipmentType, Gate
from tests.consistency.listing import Listing
from tests.engine.maker import Maker


def draw(seed: int) -> EquipmentType:
    return Maker(random.Random(seed), "thing", 5).build(3, 4)  # noqa: S311


def names_found(kind: EquipmentType, code: str) -> set[str]:
    run = BY_CODE[code].run
    assert run is not None
    return {f.name for f in run(Subject(Catalogue({kind.name: kind})))}


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_what_each_fault_shows(seed: int) -> None:
    kind = draw(seed)
    matrix = report_on(TypeView(kind)).matrix
    listing = Listing(kind)
    assert set(matrix.signs) == listing.obtainable(kind.checks)
    assert list(matrix.faults) == [e for e in kind.events if e in listing.faults]
    for f, row in zip(matrix.faults, matrix.chances, strict=True):
        for s, chances in zip(matrix.signs, row, strict=True):
            assert chances == pytest.approx(listing.chances(s, [f]), abs=1e-12)


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_groups_and_what_is_not_detected(seed: int) -> None:
    kind = draw(seed)
    report = report_on(TypeView(kind))
    listing = Listing(kind)
    groups = listing.groups()
    assert {frozenset(g) for g in report.groups} == groups
    assert set(report.undetected) == set(listing.faults) - frozenset().union(*groups)
    assert report.metrics.groups == len(groups)
    assert report.metrics.detected == sum(len(g) for g in groups)


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_smallest_set_and_redundant_checks(seed: int) -> None:
    kind = draw(seed)
    report = report_on(TypeView(kind))
    listing = Listing(kind)
    small = report.smallest
    assert small.exact
    assert listing.separates(small.checks) == listing.separates(kind.checks)
    assert (len(small.checks), small.minutes) == listing.smallest()
    redundant = {
        c for c in kind.checks if listing.separates(x for x in kind.checks if x != c) == listing.separates(kind.checks)
    }
    assert set(report.redundant) == redundant


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_masks(seed: int) -> None:
    """The report looks among pairs of which neither alone shows all that the third does."""
    kind = draw(seed)
    report = report_on(TypeView(kind))
    listing = Listing(kind)
    signs = sorted(listing.obtainable(kind.checks))
    table = listing.table(signs)

    def shown(f: str) -> set[tuple[int, int]]:
        return {(n, b) for n, (b, u) in enumerate(zip(table[f], table[""], strict=True)) if b != u}

    expected = set()
    for f in listing.faults:
        parts = [g for g in listing.faults if shown(g) and shown(g) < shown(f)]
        for g, h in combinations(parts, 2):
            both = tuple(listing.likeliest(s, [g, h]) for s in signs)
            if shown(g) | shown(h) == shown(f) and both == table[f]:
                expected.add((f, frozenset((g, h))))
    assert {(m.fault, frozenset(m.pair)) for m in report.masks} == expected


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_probabilities_that_nothing_moves(seed: int) -> None:
    """A root matters if in some state of all roots turning it over changes how some reading comes."""
    kind = draw(seed)
    listing = Listing(kind)
    roots = listing.worlds.roots
    if len(roots) > 11:
        return
    moved = set()
    for state in range(1 << len(roots)):
        on = frozenset(i for i in range(len(roots)) if state >> i & 1)
        for i in range(len(roots)):
            if i not in on and roots[i].name not in moved:
                for rows in listing.worlds.rows.values():
                    before, after = (
                        next(c for f, c in rows if f is None or listing.value(f, x)) for x in (on, on | {i})
                    )
                    if before != after:
                        moved.add(roots[i].name)
    still = {f for f in listing.faults if f"u.{f}" not in moved}
    assert names_found(kind, "E604") == still


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_tops_that_no_single_fault_causes(seed: int) -> None:
    kind = draw(seed)
    listing = Listing(kind)
    below = {x.ref.name for e in kind.events.values() for x in (*e.inputs, *e.broken_by)}
    weak = {i for i, r in enumerate(listing.worlds.roots) if r.kind == "inhibitor"}
    strong = [i for i in range(len(listing.worlds.roots)) if i not in weak]
    expected = set()
    for e in kind.events.values():
        formula = listing.worlds.formulas[f"u.{e.name}"]
        if e.gate is Gate.BASIC or e.name in below or listing.worlds.constant(formula) is not None:
            continue
        if not any(listing.value(formula, frozenset(weak | {i})) for i in strong):
            expected.add(e.name)
    assert names_found(kind, "L407") == expected
