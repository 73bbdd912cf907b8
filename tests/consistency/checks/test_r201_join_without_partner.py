"""R201: a join that no type can fill, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("R201").bad()
    assert pointed(found) == "fed_by"
    assert found.witness == (("nearest type", "wall_outlet"),)
    assert "no_power" in found.what


def test_good_example(page: Page) -> None:
    assert page("R201").good() == []
