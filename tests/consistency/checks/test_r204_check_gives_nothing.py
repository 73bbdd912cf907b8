"""R204: a check that gives nothing used, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("R204").bad()
    assert pointed(found) == "wipe"
    assert "7 minutes" in found.what


def test_good_example(page: Page) -> None:
    assert page("R204").good() == []
