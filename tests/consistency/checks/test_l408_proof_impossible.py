"""L408: a proof that can never be read, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("L408").bad()
    assert pointed(found) == "replace_tube"
    assert found.witness == (("tube_lights", "no"),)


def test_good_example(page: Page) -> None:
    assert page("L408").good() == []
