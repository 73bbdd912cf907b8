"""T503: a check that adds nothing, by the examples of its page."""

from __future__ import annotations

from faultkit.consistency import Severity
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    found = page("T503").bad()
    assert {pointed(f) for f in found} == {"look", "take_out"}  # either one alone would do
    assert {f.severity for f in found} == {Severity.NOTE}


def test_good_example(page: Page) -> None:
    assert page("T503").good() == []
