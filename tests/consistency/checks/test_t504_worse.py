"""T504: testability worse than before, by the examples of its page."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.consistency import Severity, check_catalogue
from faultkit.problems import InputError
from tests.consistency.pages import Page, pointed


def test_worse_than_the_baseline(page: Page, tmp_path: Path) -> None:
    tree = tmp_path / "shelf.yaml"
    tree.write_text(page("T504").good_texts[0], encoding="utf-8")
    assert check_catalogue([tmp_path], alone=True, update_baseline=True).clean
    tree.write_text(page("T504").bad_texts[0], encoding="utf-8")
    (found,) = [f for f in check_catalogue([tmp_path], alone=True).findings if f.code == "T504"]
    assert pointed(found) == "equipment"
    assert found.severity is Severity.ERROR
    # Two faults, both detected: one group of two instead of two of one.
    assert ("fraction isolated to 1", "0") in found.witness
    assert ("mean group size", "2") in found.witness


def test_better_than_the_baseline(page: Page, tmp_path: Path) -> None:
    tree = tmp_path / "shelf.yaml"
    tree.write_text(page("T504").bad_texts[0], encoding="utf-8")
    check_catalogue([tmp_path], alone=True, update_baseline=True)
    tree.write_text(page("T504").good_texts[0], encoding="utf-8")
    assert check_catalogue([tmp_path], alone=True).clean


def test_a_baseline_that_is_none(page: Page, tmp_path: Path) -> None:
    (tmp_path / "shelf.yaml").write_text(page("T504").good_texts[0], encoding="utf-8")
    entry = '"metrics": {}, "masked": [], "redundant_checks": []'
    odd = f'{{"schema": 1, "types": {{"lit_shelf": {{{entry}, "ambiguity_groups": [1]}}}}}}'
    for text in ("[]", "{", '{"schema": 1, "types": {"lit_shelf": {}}}', odd):
        (tmp_path / "testability.baseline.json").write_text(text, encoding="utf-8")
        with pytest.raises(InputError, match="baseline"):
            check_catalogue([tmp_path], alone=True)


def test_good_example(page: Page) -> None:
    assert page("T504").good() == []
