"""B303: a band narrower than the accuracy, by the examples of its page."""

from __future__ import annotations

import random

import pytest

from faultkit.consistency.checks.b303_band_too_narrow import never_certain
from faultkit.units import Accuracy
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("B303").bad()
    assert pointed(found) == "28 psig"
    assert found.witness == (("suction", "24 psig"),)


@pytest.mark.parametrize("seed", range(100))
def test_against_a_scan_of_the_values(seed: int) -> None:
    """Brute force over a grid of values, away from the edge of decision."""
    rng = random.Random(seed)  # noqa: S311
    low = rng.uniform(-20.0, 20.0)
    high = low + rng.uniform(0.5, 10.0)
    accuracy = Accuracy(rng.choice((0.0, 5.0, 30.0)), rng.uniform(0.0, 6.0), "")
    values = [low + (high - low) * k / 2000 for k in range(2001)]
    certain = max(min(v - accuracy.bound(v) - low, high - v - accuracy.bound(v)) for v in values)
    if abs(certain) > 1e-6:
        assert never_certain(low, high, accuracy) == (certain < 0.0)


def test_good_example(page: Page) -> None:
    assert page("B303").good() == []
