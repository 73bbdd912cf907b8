"""R202: a calculation that cannot be done, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    found = page("R202").bad()
    assert {pointed(f) for f in found} == {"{use"}
    assert any("minuend" in f.what for f in found)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("use: difference", "use: diference", "did you mean 'difference'?"),
        ("unit: delta_degF", "unit: psi", "a unit of temperature difference"),
        ("b: air_out", "b: 3 psig", ""),
    ],
)
def test_other_mistakes(page: Page, tmp_path: Path, old: str, new: str, said: str) -> None:
    text = page("R202").good_texts[0].replace(old, new)
    if new == "unit: psi":
        text = text.replace("4 delta_degF", "4 psi")
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    found = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "R202"]
    assert found
    assert not said or said in [f.cure for f in found]


def test_good_example(page: Page) -> None:
    assert page("R202").good() == []
