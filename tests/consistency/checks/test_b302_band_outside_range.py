"""B302: a band outside the reading's range, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("B302").bad()
    assert pointed(found) == "1000 V"
    assert found.witness == (("lowest", "0 V"), ("highest", "300 V"))


def test_a_calculated_reading(page: Page, tmp_path: Path) -> None:
    text = page("R202").good_texts[0].replace("4 delta_degF", "120 delta_degF")
    text = text.replace("accuracy: 1 delta_degF}", "accuracy: 1 delta_degF, range: [0 degF, 100 degF]}")
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    (found,) = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "B302"]
    assert found.witness == (("lowest", "-100 delta_degF"), ("highest", "100 delta_degF"))


def test_good_example(page: Page) -> None:
    assert page("B302").good() == []
