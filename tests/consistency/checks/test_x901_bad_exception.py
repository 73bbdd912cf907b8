"""X901: an exception that cannot count, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page


def test_bad_example(page: Page) -> None:
    (found,) = page("X901").bad()
    assert found.where is not None
    assert "no reason" in found.what
    assert found.where.text[found.where.column - 1 :].lstrip().startswith("# faultkit")


@pytest.mark.parametrize(("code", "said"), [("E640", "E604"), ("F101", "mended"), ("X902", "mended")])
def test_codes_that_cannot_be_allowed(page: Page, tmp_path: Path, code: str, said: str) -> None:
    text = page("X901").good_texts[0].replace("allow E604", f"allow {code}")
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    (found,) = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "X901"]
    assert said in found.cure


def test_good_example(page: Page) -> None:
    assert page("X901").good() == []
