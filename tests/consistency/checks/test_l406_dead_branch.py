"""L406: a branch that a house event makes dead, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("L406").bad()
    assert pointed(found) == "dimmed"
    assert found.witness == (("dimmer", "off"),)
    assert found.cure == "only_with: [dimmer] for 'dimmed'"


def test_a_house_event_that_makes_a_gate_true(page: Page, tmp_path: Path) -> None:
    text = page("L406").good_texts[0].replace(
        "any_of: [dimmer_low, dimmer_dirty], only_with: dimmer", "any_of: [dimmer, tube_dead]"
    )
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    (found,) = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "L406"]
    assert found.witness == (("dimmer", "on"),)
    assert "tube_dead" in found.what


def test_good_example(page: Page) -> None:
    assert page("L406").good() == []
