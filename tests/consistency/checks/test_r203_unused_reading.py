"""R203: a reading that nothing uses, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("R203").bad()
    assert pointed(found) == "shelf_dusty"
    assert found.name == "shelf_dusty"


def test_good_example(page: Page) -> None:
    assert page("R203").good() == []
