"""L407: a top event that no single fault causes, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("L407").bad()
    assert pointed(found) == "dark"
    assert len(found.witness) == 2
    assert ("no_power", "true") in found.witness


def test_good_example(page: Page) -> None:
    assert page("L407").good() == []
