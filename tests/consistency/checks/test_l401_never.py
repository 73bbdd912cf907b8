"""L401: what can never be, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("L401").bad()
    assert pointed(found) == "tube_lights"
    assert "'dim'" in found.what
    assert found.witness == (("tube_dead", "never"), ("otherwise", "never"))


def test_good_example(page: Page) -> None:
    assert page("L401").good() == []
