"""Tidy drawings: nothing overlaps, parents stand over their children, equal subtrees look equal, both copies agree."""

from __future__ import annotations

import itertools
import json
import shutil
import subprocess
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import faultkit.reports.tree
from faultkit.reports.tree.tidy import tidy

GAP = 10.0
SCRIPT = Path(faultkit.reports.tree.__file__).parent / "templates" / "page.js"

Tree = tuple[list[int], list[float]]


@st.composite
def trees(draw: st.DrawFn) -> Tree:
    n = draw(st.integers(1, 60))
    parents = [-1, *(draw(st.integers(max(0, i - 6), i - 1)) for i in range(1, n))]
    return parents, draw(st.lists(st.sampled_from([20.0, 54.0, 112.0, 128.0]), min_size=n, max_size=n))


def levels(parents: list[int]) -> list[list[int]]:
    """Nodes of each level from left to right."""
    children: dict[int, list[int]] = {}
    for v in range(1, len(parents)):
        children.setdefault(parents[v], []).append(v)
    out, row = [], [0]
    while row:
        out.append(row)
        row = [c for v in row for c in children.get(v, [])]
    return out


@given(trees())
@settings(max_examples=300)
def test_nothing_overlaps_and_the_order_is_kept(tree: Tree) -> None:
    parents, widths = tree
    x = tidy(parents, widths, GAP)
    for row in levels(parents):
        for a, b in itertools.pairwise(row):
            assert x[b] - x[a] >= (widths[a] + widths[b]) / 2 + GAP - 1e-6
    assert min(c - w / 2 for c, w in zip(x, widths, strict=True)) == pytest.approx(0)


@given(trees())
@settings(max_examples=200)
def test_parents_stand_in_the_middle_over_their_children(tree: Tree) -> None:
    parents, widths = tree
    x = tidy(parents, widths, GAP)
    for p in set(parents[1:]):
        below = [c for v, c in enumerate(x) if parents[v] == p]
        assert x[p] == pytest.approx((below[0] + below[-1]) / 2)


@given(trees(), st.integers(1, 4))
@settings(max_examples=150)
def test_equal_subtrees_are_drawn_equal(tree: Tree, copies: int) -> None:
    """Walker's third rule: a subtree looks the same wherever it hangs."""
    parents, widths = tree
    n = len(parents)
    many, wide = [-1], [20.0]
    for k in range(copies):
        many += [0 if p < 0 else p + 1 + k * n for p in parents]
        wide += widths
    x = tidy(many, wide, GAP)
    shapes = [[c - x[1 + k * n] for c in x[1 + k * n : 1 + (k + 1) * n]] for k in range(copies)]
    for shape in shapes[1:]:
        assert shape == pytest.approx(shapes[0])


def test_small_subtrees_between_large_ones_are_spread_evenly() -> None:
    """What Walker's algorithm has over gluing to the left, drawn by hand: root, fan of 5, leaf, leaf, fan of 5."""
    parents = [-1, 0, 0, 0, 0, *[1] * 5, *[4] * 5]
    x = tidy(parents, [10.0] * len(parents), 0.0)
    gaps = [b - a for a, b in itertools.pairwise(x[1:5])]
    assert gaps == pytest.approx([50 / 3] * 3)  # the fans touch: 50 from middle to middle, in three equal steps


def test_a_chain_of_ten_thousand() -> None:
    n = 10_000
    assert tidy([-1, *range(n - 1)], [10.0] * n) == [5.0] * n


@pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
def test_the_copy_in_the_page_places_alike(tmp_path: Path) -> None:
    import random

    rng = random.Random(7)  # noqa: S311 - trees, no secrets
    cases = []
    for _ in range(300):
        n = rng.randint(1, 80)
        parents = [-1, *(rng.randint(max(0, i - 7), i - 1) for i in range(1, n))]
        cases.append((parents, [rng.choice([20.0, 54.0, 112.0, 128.0]) for _ in range(n)]))
    (tmp_path / "cases.json").write_text(json.dumps(cases), encoding="utf-8")
    (tmp_path / "page.cjs").write_text(SCRIPT.read_text(encoding="utf-8"), encoding="utf-8")
    load = "const {tidy} = require('./page.cjs'); const c = JSON.parse(require('fs').readFileSync('cases.json'));"
    code = f"{load} console.log(JSON.stringify(c.map(([p, w]) => tidy(p, w, {GAP}))))"
    done = subprocess.run(["node", "-e", code], cwd=tmp_path, capture_output=True, text=True, check=True)  # noqa: S607
    for (parents, widths), theirs in zip(cases, json.loads(done.stdout), strict=True):
        assert theirs == pytest.approx(tidy(parents, widths, GAP))
