"""X902: an exception that excepts nothing, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page


def test_bad_example(page: Page) -> None:
    (found,) = page("X902").bad()
    assert found.where is not None
    assert "E604" in found.what
    assert "allow E604" in found.where.text


def test_good_example(page: Page) -> None:
    assert page("X902").good() == []
