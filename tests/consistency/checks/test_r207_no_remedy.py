"""R207: an event without a remedy, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("R207").bad()
    assert pointed(found) == "tube_dead"


def test_good_example(page: Page) -> None:
    assert page("R207").good() == []
