"""R206: an event that no check can show, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("R206").bad()
    assert pointed(found) == "ballast_loose"
    assert found.witness == (("hums", "given by no check"),)


def test_good_example(page: Page) -> None:
    assert page("R206").good() == []
