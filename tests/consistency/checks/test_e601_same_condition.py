"""E601: one condition counted as two signs, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("E601").bad()
    assert pointed(found) == "ends_dark"
    assert "'tube_black'" in found.what


def test_the_same_calculation_twice(page: Page, tmp_path: Path) -> None:
    text = page("R202").good_texts[0]
    block = text[text.index("  drop:\n    unit") : text.index("events:\n")]
    text = text.replace("events:\n", block.replace("drop:", "fall:") + "events:\n")
    rows = text[text.index("  drop:\n    - ") : text.index("checks:\n")]
    text = text.replace("checks:\n", rows.replace("drop:", "fall:") + "checks:\n")
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    (found,) = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "E601"]
    assert "the same calculation" in found.what


def test_good_example(page: Page) -> None:
    assert page("E601").good() == []
