"""F102: a file without its schema line, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page


def test_bad_example(page: Page) -> None:
    (found,) = page("F102").bad()
    assert found.where is not None
    assert (found.where.line, found.where.column) == (1, 1)
    assert "equipment.v1.json" in found.cure


def test_the_schema_of_another_kind(page: Page, tmp_path: Path) -> None:
    text = page("F102").good_texts[0].replace("equipment.v1", "section.v1")
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    (found,) = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "F102"]
    assert "section.v1.json" in found.what


def test_good_example(page: Page) -> None:
    assert page("F102").good() == []
