"""R208: an event without a case, by the examples of its page."""

from __future__ import annotations

from faultkit.consistency import Severity
from tests.consistency.pages import Page, pointed


def test_events_without_a_case(page: Page) -> None:
    (found,) = page("R208").bad(covered={"lit_shelf": frozenset({"other"})})
    assert pointed(found) == "tube_dead"
    assert found.severity is Severity.NOTE


def test_a_type_without_any_case_is_one_complaint(page: Page) -> None:
    (found,) = page("R208").bad(covered={})
    assert pointed(found) == "equipment"


def test_cases_that_cover_all_or_are_not_known(page: Page) -> None:
    assert page("R208").bad(covered={"lit_shelf": frozenset({"tube_dead"})}) == []
    assert page("R208").bad() == []
