"""E604: a probability that nothing moves, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("E604").bad()
    assert pointed(found) == "socket_worn"
    assert found.witness == (("socket_worn", "0.001 whatever is read"),)


def test_good_example(page: Page) -> None:
    assert page("E604").good() == []
