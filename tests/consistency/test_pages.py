"""Every check has a module, a page with the same headings, and a test file of its name."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from faultkit.cli import main
from faultkit.consistency import BY_CODE, RULES, Rule, explain
from faultkit.consistency.pages import HEADINGS, page_file
from tests.consistency.pages import sections

CHECKS = Path(explain.__code__.co_filename).parent / "checks"
TESTS = Path(__file__).parent / "checks"


def test_codes_are_stable_unique_and_sorted_by_area() -> None:
    codes = [r.code for r in RULES]
    assert len(set(codes)) == len(codes) == len(BY_CODE)
    assert all(re.fullmatch(r"[FRBLTEX]\d{3}", c) for c in codes)
    # A code once given is never given away: whoever removes a check leaves its code here.
    assert set(codes) == {
        "F101", "F102", "R201", "R202", "R203", "R204", "R205", "R206", "R207", "R208", "R209", "R210", "R211",
        "B301", "B302", "B303", "L401", "L402", "L403", "L404", "L405", "L406", "L407", "L408",
        "T501", "T502", "T503", "T504", "E601", "E602", "E603", "E604", "X901", "X902", "X903",
    }


@pytest.mark.parametrize("rule", RULES, ids=lambda r: r.code)
def test_module_page_and_test(rule: Rule) -> None:
    page = page_file(rule.code)
    module = page.with_suffix(".py")
    assert module.is_file()
    assert module.read_text(encoding="utf-8").startswith(f'"""{rule.code}: ')
    assert (TESTS / f"test_{page.stem}.py").is_file()
    text = page.read_text(encoding="utf-8")
    assert text.startswith(f"# {rule.code} {rule.title}\n")
    found = sections(text)
    assert tuple(found) == HEADINGS
    assert all(body.strip() for body in found.values())


def test_nothing_lies_there_that_belongs_to_no_check() -> None:
    stems = {page_file(r.code).stem for r in RULES}
    assert {p.stem for p in CHECKS.iterdir() if p.suffix in {".py", ".md"}} == stems | {"__init__"}
    assert {p.stem for p in TESTS.glob("*.py")} == {f"test_{s}" for s in stems}


def test_explain_prints_the_page(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "l404"]) == 0
    assert capsys.readouterr().out == explain("L404")
    assert main(["explain"]) == 0
    listed = capsys.readouterr().out
    assert all(r.code in listed and r.title in listed for r in RULES)
    assert main(["explain", "L44"]) == 2
    assert "did you mean 'L404'" in capsys.readouterr().err
