"""L401: what can never be, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("L401").bad()
    assert pointed(found) == "tube_lights"
    assert "'dim'" in found.what
    assert found.witness == (("tube_dead", "never"), ("otherwise", "never"))


def test_two_bands_of_one_reading_are_two_findings(page: Page, tmp_path: Path) -> None:
    text = page("L401").bad_texts[0].replace("[bright, dim, dark]", "[bright, dim, dull, dark]")
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    found = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "L401"]
    assert ["'dim'" in f.what or "'dull'" in f.what for f in found] == [True, True]


def test_good_example(page: Page) -> None:
    assert page("L401").good() == []
