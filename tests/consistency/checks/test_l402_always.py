"""L402: what is always the same, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("L402").bad()
    assert pointed(found) == "tube_black"
    assert found.witness == (("tube_black", "no"),)


def test_good_example(page: Page) -> None:
    assert page("L402").good() == []
