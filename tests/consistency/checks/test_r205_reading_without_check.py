"""R205: a reading that no check gives, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("R205").bad()
    assert pointed(found) == "tube_black"


def test_a_calculated_reading_without_its_inputs(page: Page, tmp_path: Path) -> None:
    text = page("R202").good_texts[0].replace("gives: [air_in, air_out]", "gives: [air_in]")
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    (found,) = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "R205"]
    assert "'air_out'" in found.what
    assert "'air_in'" not in found.what


def test_good_example(page: Page) -> None:
    assert page("R205").good() == []
