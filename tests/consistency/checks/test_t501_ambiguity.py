"""T501: faults that no checks tell apart, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("T501").bad()
    assert pointed(found) == "tube_dead"
    assert "'tube_dead' from 'ballast_dead'" in found.what
    assert found.witness == (("tube_lights", "no"),)
    assert "'hums' is" in found.cure


def test_an_accepted_group_is_not_reported(page: Page, tmp_path: Path) -> None:
    (tmp_path / "shelf.yaml").write_text(page("T501").bad_texts[0], encoding="utf-8")
    assert check_catalogue([tmp_path], alone=True, update_baseline=True).clean
    assert check_catalogue([tmp_path], alone=True).clean


def test_good_example(page: Page) -> None:
    assert page("T501").good() == []
