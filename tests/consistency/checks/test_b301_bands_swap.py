"""B301: cuts that meet or change places, by the examples of its page."""

from __future__ import annotations

import random

import pytest

from faultkit.consistency.checks.b301_bands_swap import meeting_point
from faultkit.consistency.rulers import Line
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("B301").bad()
    assert pointed(found) == "90 % of supply"
    assert found.witness == (("supply", "11.1 V"),)  # 10 V / 0.9


@pytest.mark.parametrize("seed", range(200))
def test_against_a_scan_of_the_settings(seed: int) -> None:
    """Brute force: the meeting point is one, and where there is none no setting of a fine grid makes the cuts meet."""
    rng = random.Random(seed)  # noqa: S311
    low = rng.choice((0.0, 1.0, 5.0))
    high = rng.choice((10.0, 50.0))
    a, b = (
        Line(rng.choice((0.0, 0.5, 1.0, 1.5)), rng.choice((-4.0, 0.0, 2.0, 7.0)), "") for _ in range(2)
    )
    a, b = (Line(x.slope, x.base, "s" if x.slope else "") for x in (a, b))
    met = meeting_point(a, b, lambda _: (low, high))
    values = [low + (high - low) * k / 4000 for k in range(4001)]
    touching = [v for v in values if (v > 0.0 or low > 0.0) and not a.at(v) < b.at(v)]
    if met is None:
        assert not touching
    else:
        value = met.get("s", low)
        assert low <= value <= high
        assert a.at(value) >= b.at(value) - 1e-9


def test_good_example(page: Page) -> None:
    assert page("B301").good() == []
