"""L404: a row that never decides, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("L404").bad()
    assert pointed(found) == "tube_dead"
    assert found.witness == (("tube_dead", "true"), ("row that decides", "tube_out"))


def test_good_example(page: Page) -> None:
    assert page("L404").good() == []
