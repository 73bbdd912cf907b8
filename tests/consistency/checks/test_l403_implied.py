"""L403: what another already implies, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_bad_example(page: Page) -> None:
    (found,) = page("L403").bad()
    assert pointed(found) == "tube_dead, no_power"
    assert found.witness == (("tube_dead", "true"), ("tube_out", "true with it"))


def test_two_gates_with_one_meaning(page: Page, tmp_path: Path) -> None:
    text = page("L403").good_texts[0].replace(
        "  tube_dead: {how_common: common}\n",
        "  unlit: {complete: as above, any_of: [no_power, tube_out]}\n  tube_dead: {how_common: common}\n",
    )
    text = text.replace("    - dark: {no: always}\n", "    - dark: {no: always}\n    - unlit: {no: always}\n")
    (tmp_path / "shelf.yaml").write_text(text, encoding="utf-8")
    found = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "L403"]
    assert [pointed(f) for f in found] == ["unlit"]
    assert "'dark' and 'unlit'" in found[0].what


def test_good_example(page: Page) -> None:
    assert page("L403").good() == []
