"""T502: a fault that two others look like, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("T502").bad()
    assert pointed(found) == "no_power"
    assert "'tube_dead' and 'fan_dead'" in found.what
    assert found.witness == (("tube_lights", "no"), ("fan_turns", "no"))


def test_good_example(page: Page) -> None:
    assert page("T502").good() == []
