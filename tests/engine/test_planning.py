"""The advice against the best policy on a few small calls; ``tests/benchmarks/planning.py`` plays more."""

from __future__ import annotations

import itertools

import pytest

from tests.benchmarks.games import Game, Mend
from tests.benchmarks.planning import Spot, best, measured

#: As measured on these calls, rounded up in the fifth place.
MEAN, WORST = 1.00492, 1.01984


@pytest.mark.slow
def test_the_advice_takes_hardly_longer_than_the_best_policy() -> None:
    rows = [measured(seed) for seed in range(8)]
    ratios = [engine / least for _, least, engine in rows]
    assert min(ratios) > 1.0 - 1e-9  # nothing is better than the best
    assert max(ratios) <= WORST
    assert sum(ratios) / len(ratios) <= MEAN


def test_without_looks_the_best_policy_is_the_best_order_of_repairs() -> None:
    chances, minutes = (0.45, 0.25, 0.20, 0.10), (60.0, 15.0, 40.0, 5.0)
    mends = tuple(Mend(f"m{n}", m, "kitchen", (), 1 << n, (0,), 0.0) for n, m in enumerate(minutes))
    game = Game(tuple(1e-6 * p for p in chances), (0b1111,), (0.0,), (), mends, 5.0)
    orders = itertools.permutations(range(4))
    by_hand = min(sum(minutes[i] * sum(chances[j] for j in o[n:]) for n, i in enumerate(o)) for o in orders)
    assert best(game, Spot.first(game), {}) == pytest.approx(by_hand, rel=1e-5)
    assert by_hand == pytest.approx(65.5)
