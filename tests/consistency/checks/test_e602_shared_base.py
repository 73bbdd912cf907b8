"""E602: findings that share a measurement, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("E602").bad()
    assert pointed(found) == "excess"
    assert found.witness == (("air_out", "measured once"),)
    assert "both tell of coil_dead" in found.what


def test_good_example(page: Page) -> None:
    assert page("E602").good() == []
