"""L405: values that confirm and rule out, by the examples of its page."""

from __future__ import annotations

from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("L405").bad()
    assert pointed(found) == "rise"
    assert "'coil_dead' is both confirmed and ruled out" in found.what
    values = {name: float(text.removesuffix(" degF")) for name, text in found.witness}
    drop = values["air_in"] - values["air_out"]
    assert (drop < 4.0) == ("'drop' small" in found.what)
    assert (-drop < -4.0) == ("'rise' falls" in found.what)


def test_good_example(page: Page) -> None:
    assert page("L405").good() == []
