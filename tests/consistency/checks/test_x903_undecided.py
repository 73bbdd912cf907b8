"""X903: a type too large to decide, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.consistency import check_catalogue
from tests.consistency.pages import Page, pointed


def test_a_type_too_large_is_said_and_not_passed_over(
    page: Page, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("faultkit.consistency.logic._LIMITS", (6, 7))
    (tmp_path / "shelf.yaml").write_text(page("T502").bad_texts[0], encoding="utf-8")
    (tmp_path / "other.yaml").write_text(page("E604").bad_texts[0].replace("lit_shelf", "other"), encoding="utf-8")
    report = check_catalogue([tmp_path], alone=True)
    (found,) = [f for f in report.findings if f.code == "X903"]
    assert pointed(found) == "equipment"
    assert "'lit_shelf'" in found.what
    assert not report.clean
    assert "E604" in {f.code for f in report.findings}  # the smaller type is still looked at
