"""R209: a threshold without a source, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("R209").bad()
    assert pointed(found) == "10 V"


def test_good_example(page: Page) -> None:
    assert page("R209").good() == []
