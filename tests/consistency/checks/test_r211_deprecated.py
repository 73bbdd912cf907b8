"""R211: a deprecated name in use, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("R211").bad()
    assert pointed(found) == "tube_out"
    assert found.cure == "'tube_dead'"
    assert "one name is enough" in found.what
    assert found.where is not None
    assert found.where.text.lstrip().startswith("dark")


def test_a_successor_that_does_not_exist(page: Page, tmp_path: Path) -> None:
    text = page("R211").good_texts[0].replace("use: tube_dead", "use: tube_ded")
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    (found,) = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "R211"]
    assert found.cure == "did you mean 'tube_dead'?"
    assert pointed(found) == "deprecated"


def test_good_example(page: Page) -> None:
    assert page("R211").good() == []
