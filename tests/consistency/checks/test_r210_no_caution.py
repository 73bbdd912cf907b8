"""R210: a hazard without a caution, by the examples of its page."""

from __future__ import annotations

from faultkit.consistency import Severity
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    found = page("R210").bad()
    assert {pointed(f) for f in found} == {"measure", "live_voltage"}
    live = next(f for f in found if f.name == "measure")
    assert live.witness == (("power", "live"), ("hazards", "none"))
    assert live.severity is Severity.ERROR


def test_good_example(page: Page) -> None:
    assert page("R210").good() == []
