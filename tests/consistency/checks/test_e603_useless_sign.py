"""E603: a sign that says nothing, by the examples of its page."""

from __future__ import annotations

import pytest

from faultkit.consistency.checks.e603_useless_sign import greatest_ratio
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("E603").bad()
    assert pointed(found) == "tube_dead"
    assert "1.25 times" in found.what  # 5 % against 4 %


def test_ratio_by_hand() -> None:
    assert greatest_ratio((0.5, 0.5), (0.5, 0.5)) == 1.0
    assert greatest_ratio((0.9, 0.1), (0.6, 0.4)) == pytest.approx(4.0)
    assert greatest_ratio((1.0, 0.0), (0.9, 0.1)) == float("inf")


def test_good_example(page: Page) -> None:
    assert page("E603").good() == []
