"""X903: a type too large to decide, by the examples of its page."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest

from faultkit.consistency import check_catalogue
from faultkit.faulttree.bdd import Bdd
from tests.consistency.pages import Page


def test_a_type_too_large_is_said_and_not_passed_over(
    page: Page, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("faultkit.consistency.logic.Bdd", partial(Bdd, node_limit=3))
    (tmp_path / "shelf.yaml").write_text(page("T502").bad_texts[0], encoding="utf-8")
    report = check_catalogue([tmp_path], alone=True)
    found = [f for f in report.findings if f.code == "X903"]
    assert any("L404" in f.what for f in found)
    assert not report.clean
