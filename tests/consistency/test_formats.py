"""What each format holds."""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from jsonschema import Draft202012Validator

from faultkit.consistency import RULES, Report, check_catalogue
from faultkit.consistency.formats import FORMATS
from faultkit.reading.resources import data_folder
from tests.consistency.pages import Page


@pytest.fixture
def report(page: Page, tmp_path: Path) -> Report:
    """Errors, warnings, notes, and one exception with a reason."""
    tree = page("L404").bad_texts[0].replace(
        "  no_power: {how", "  # faultkit: allow E604 because 100 % meant\n  no_power: {how"
    )
    folder = tmp_path / "a: b, c%"
    folder.mkdir()
    (folder / "shelf.yaml").write_text(tree, encoding="utf-8")
    (folder / "other.yaml").write_text(page("E602").good_texts[0], encoding="utf-8")
    found = check_catalogue([folder], alone=True, testability=True)
    assert found.meant
    assert {f.code for f in found.findings} >= {"L404", "X902"}
    return found


def test_json_is_valid_against_its_schema(report: Report) -> None:
    schema = json.loads((data_folder("schemas") / "check.v1.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    data = json.loads(FORMATS["json"](report))
    validator = Draft202012Validator(schema)
    assert [e.message for e in validator.iter_errors(data)] == []
    assert data["summary"]["errors"] == sum(f["severity"] == "error" for f in data["findings"]) > 0
    assert [m["because"] for m in data["meant"]] == ["a degree of error is small against the span of both"]
    assert {t["equipment"] for t in data["testability"]} == set(report.types)
    data["findings"][0]["code"] = "nonsense"
    assert list(validator.iter_errors(data))


def test_text_shows_place_line_witness_and_cure(report: Report) -> None:
    text = FORMATS["text"](report)
    errors, rest = text.split("WARNINGS")
    assert errors.startswith("ERRORS")
    row = "    - tube_dead: {yes: usually}"
    assert f"    {row}\n{' ' * 4}{' ' * row.index('tube_dead')}^" in errors
    assert "shown by: tube_dead = true, row that decides = tube_out" in errors
    assert "instead: the narrower event above the wider one, or no such row" in errors
    assert "TESTABILITY of lit_shelf" in rest
    assert re.search(r"2 files, 2 equipment types: 1 error, \d+ warnings?.*; 1 meant as they are", text)


def test_github_escapes_what_the_runner_would_take_apart(report: Report) -> None:
    lines = FORMATS["github"](report).splitlines()
    assert len(lines) == len(report.findings)
    first = re.fullmatch(r"::error file=(\S+ b%2C c%25/shelf\.yaml),line=(\d+),col=7,title=L404 [\w ]+::(.+)", lines[0])
    assert first is not None
    assert "%3A" in first[1]
    assert "%0Ainstead%3A" not in first[3]
    assert "%0Ainstead: the narrower" in first[3]
    assert {line.split(" ")[0] for line in lines} <= {"::error", "::warning", "::notice"}


def test_sarif_has_every_rule_and_suppresses_what_is_meant(report: Report) -> None:
    run = json.loads(FORMATS["sarif"](report))["runs"][0]
    rules = run["tool"]["driver"]["rules"]
    assert [r["id"] for r in rules] == [r.code for r in RULES]
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
    meant = [r for r in run["results"] if "suppressions" in r]
    assert [r["ruleId"] for r in meant] == ["E602"]
    assert meant[0]["suppressions"][0]["kind"] == "inSource"
    uri = run["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
    assert uri.startswith("file:///")
    assert uri.endswith("a%3A%20b%2C%20c%25/shelf.yaml")


def test_junit_counts_add_up(report: Report) -> None:
    suite = ET.fromstring(FORMATS["junit"](report)).find("testsuite")  # noqa: S314 - our own text
    assert suite is not None
    cases = suite.findall("testcase")
    assert int(suite.attrib["tests"]) == len(cases)
    assert int(suite.attrib["failures"]) == len(suite.findall("testcase/failure"))
    assert int(suite.attrib["skipped"]) == len(suite.findall("testcase/skipped")) == 1
    quiet = {c.attrib["name"][:4] for c in cases if len(c) == 0}
    assert quiet == {r.code for r in RULES} - {f.code for f in report.findings}


@pytest.mark.parametrize("name", FORMATS)
def test_a_clean_report_in_every_format(page: Page, tmp_path: Path, name: str) -> None:
    (tmp_path / "shelf.yaml").write_text(page("F101").good_texts[0], encoding="utf-8")
    found = check_catalogue([tmp_path], alone=True)
    assert found.clean
    text = FORMATS[name](found)
    assert "L404" not in text or name in {"sarif", "junit"}
