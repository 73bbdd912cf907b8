"""Measured values that put readings into bands at once, against a search by hand."""

from __future__ import annotations

import itertools
import random
from math import inf

import pytest

from faultkit.consistency.values import Bound, solve_differences

NAMES = ("x", "y", "z")
GRID = [n / 2.0 for n in range(-8, 9)]


@pytest.mark.parametrize("seed", range(150))
def test_bounds_on_differences(seed: int) -> None:
    """Where none is found a grid of half steps holds none either; what is found keeps every bound."""
    rng = random.Random(seed)  # noqa: S311
    bounds: list[Bound] = [(n, "", -4.0, 4.0) for n in NAMES]
    for _ in range(rng.randint(1, 4)):
        a, b = rng.sample(NAMES, 2)
        low = float(rng.randint(-5, 4))
        bounds.append((a, b, low, rng.choice((inf, low + rng.randint(1, 3)))))
    found = solve_differences(bounds)

    def fits(values: dict[str, float]) -> bool:
        return all(low < values[a] - values.get(b, 0.0) < high for a, b, low, high in bounds)

    listed = any(fits(dict(zip(NAMES, p, strict=True))) for p in itertools.product(GRID, repeat=3))
    if found is None:
        assert not listed
    else:
        assert all(low <= found[a] - found.get(b, 0.0) <= high for a, b, low, high in bounds)


def test_what_holds_at_one_point_only_is_no_solution() -> None:
    assert solve_differences([("x", "y", 4.0, inf), ("x", "y", -inf, 4.0)]) is None
    assert solve_differences([("x", "y", 4.0, inf), ("y", "x", -4.0, inf)]) is None
    assert solve_differences([("x", "y", 3.9, inf), ("y", "x", -4.0, inf)]) is not None
