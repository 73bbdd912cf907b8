"""F101: a file that cannot be used, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    found = page("F101").bad()
    assert [pointed(f) for f in found] == ["38 psig", "tube_ded"]
    assert "gauge pressure" in found[0].what
    assert found[1].cure == "did you mean 'tube_dead'?"


def test_good_example(page: Page) -> None:
    assert page("F101").good() == []
