"""The command's output for programs."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from jsonschema import Draft202012Validator

from faultkit.cli import main
from faultkit.reading.resources import builtin_schemas
from tests.cases.conftest import BURNT, HEAD

Run = Callable[..., tuple[int, str, str]]

GOOD = BURNT + "{confirmed: [b.motor_failed]}\n"
BAD = BURNT.replace("burnt:", "bad:") + "{confirmed: [b.no_feed], open: [b.stopped]}\n"
KNOWN = BURNT.replace("burnt:", "known:") + "{open: [b.stopped]}\n    known_to_fail: a <reason> & more\n"
FIXED = BURNT.replace("burnt:", "fixed:") + "{confirmed: [b.stopped]}\n    known_to_fail: once\n"


@pytest.fixture
def run(folder: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """``faultkit test .`` on some cases: exit code, standard output and error."""

    def go(text: str, *options: str) -> tuple[int, str, str]:
        (folder / "box.cases.yaml").write_text(HEAD + text, encoding="utf-8")
        code = main(["test", *(options or ())] if "." in options else ["test", ".", *options])
        said = capsys.readouterr()
        return code, said.out, said.err

    return go


def test_exit_codes(run: Run) -> None:
    assert run(GOOD)[0] == 0
    assert run(GOOD + KNOWN)[0] == 0
    assert run(GOOD + BAD)[0] == 1
    assert run(GOOD + FIXED)[0] == 1
    code, out, err = run(GOOD.replace("b.motor_failed", "b.motor"))
    assert (code, out) == (2, "")
    assert "did you mean 'b.motor_failed'" in err
    assert run(GOOD, "-k", "nothing")[0] == 2


def test_no_cases_is_bad_input(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["test", str(tmp_path)]) == 2
    assert "no *.cases.yaml here" in capsys.readouterr().err


def test_text_names_only_what_needs_a_look(run: Run) -> None:
    code, out, _ = run(GOOD + BAD + KNOWN)
    assert code == 1
    assert "box.burnt" not in out
    assert out.index("FAILED  box.bad  (box.cases.yaml:14:3)") < out.index("known to fail  box.known")
    assert "3 cases: 1 passed, 1 failed, 1 known to fail; " in out
    assert "cases a second" in out


def test_a_part_of_the_name_chooses(run: Run) -> None:
    code, out, _ = run(GOOD + BAD, "-k", "box.bur")
    assert code == 0
    assert out.startswith("1 case: 1 passed")


def test_json_is_valid(run: Run) -> None:
    code, out, _ = run(GOOD + BAD + KNOWN + FIXED, "--format", "json")
    data = json.loads(out)
    schema = json.loads((builtin_schemas() / "test.v1.json").read_text())
    assert [e.message for e in Draft202012Validator(schema).iter_errors(data)] == []
    assert (code, data["passed"]) == (1, False)
    assert data["counts"] == {"passed": 1, "failed": 1, "known_to_fail": 1, "no_longer_fails": 1}
    assert [c["name"] for c in data["cases"]] == ["box.burnt", "box.bad", "box.known", "box.fixed"]
    [first, second] = data["cases"][1]["failures"]
    assert (first["key"], first["place"]) == ("confirmed", {"file": "box.cases.yaml", "line": 20, "column": 26})
    assert (second["key"], second["came"], second["decided_by"]) == ("open", "proved", "Box: Fan turns = no [turns]")
    [box] = [c for c in data["coverage"] if c["type"] == "box"]
    assert box["remedies"]["missed"] == ["mend_feed", "shut_door"]
    assert list(Draft202012Validator(schema).iter_errors({"schema": 1, "kind": "test"}))


def test_junit_counts_and_tells(run: Run) -> None:
    code, out, _ = run(GOOD + BAD + KNOWN + FIXED, "--format", "junit")
    assert code == 1
    root = ET.fromstring(out)  # noqa: S314 - our own text
    [suite] = root
    assert {k: suite.get(k) for k in ("name", "tests", "failures", "errors", "skipped")} == {
        "name": "box", "tests": "4", "failures": "2", "errors": "0", "skipped": "1",
    }
    by_name = {c.get("name"): c for c in suite}
    assert all(c.get("classname") == "box" and float(c.get("time", "")) >= 0 for c in suite)
    assert len(by_name["burnt"]) == 0
    [failure] = by_name["bad"]
    assert failure.tag == "failure"
    assert "confirmed: expected Box: No feed [b.no_feed] is proved, came proved absent" in failure.get("message", "")
    assert "at box.cases.yaml:20:26" in (failure.text or "")
    [skipped] = by_name["known"]
    assert (skipped.tag, skipped.get("message")) == ("skipped", "a <reason> & more")
    [fixed] = by_name["fixed"]
    assert fixed.get("type") == "no_longer_fails"


#: What junit-10.xsd of Jenkins' xUnit plugin requires and allows, as far as it is used here: element → attributes
#: (required, allowed) and children.
JUNIT = {
    "testsuites": (set(), {"name", "time", "tests", "failures", "errors"}, {"testsuite"}),
    "testsuite": (
        {"name", "tests", "failures", "errors"},
        {"name", "tests", "failures", "errors", "group", "time", "skipped", "timestamp", "hostname", "id", "package",
         "file", "log", "url"},
        {"testsuite", "properties", "testcase", "system-out", "system-err"},
    ),
    "testcase": ({"name"}, {"name", "time", "classname", "group"}, {"skipped", "error", "failure", "system-out"}),
    "failure": (set(), {"type", "message"}, set()),
    "skipped": (set(), {"type", "message"}, set()),
}  # fmt: skip


def test_junit_keeps_to_a_published_schema(run: Run, folder: Path) -> None:
    (folder / "coverage.yaml").write_text("schema: 1\ncoverage: all\nminimum:\n  box: {remedies: 99}\n")
    _, out, _ = run(GOOD + BAD + KNOWN + FIXED, "--format", "junit")
    seen = set()
    for element in ET.fromstring(out).iter():  # noqa: S314 - our own text
        needed, allowed, inside = JUNIT[element.tag]
        seen.add(element.tag)
        assert needed <= set(element.keys()) <= allowed
        assert {child.tag for child in element} <= inside
        if element.tag.startswith("testsuite"):
            assert re.fullmatch(r"(([0-9]{0,3},)*[0-9]{3}|[0-9]{0,3})*(\.[0-9]*)?", element.get("time", ""))
    assert seen == JUNIT.keys()


def test_a_number_of_processes(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(GOOD + BAD, "--jobs", "2")[0] == 1
    with pytest.raises(SystemExit) as caught:
        run(GOOD, "--jobs", "two")
    assert caught.value.code == 2
    assert "'two' is no number of processes" in capsys.readouterr().err


def test_annotations_stand_at_their_places(run: Run) -> None:
    text = BAD.replace("The fan stands", "100 % of the fan stands")
    code, out, _ = run(GOOD + text + KNOWN, "--format", "github")
    assert code == 1
    lines = out.splitlines()
    assert lines[0].startswith("::error file=box.cases.yaml,line=20,col=26,title=box.bad%3A confirmed::expected")
    assert "%0Acame        proved absent" in lines[0]
    assert lines[2].startswith("::notice file=box.cases.yaml,line=21,col=3,title=known to fail%3A box.known::a <")
    assert "\n" not in lines[0]
    assert lines[-1].startswith("3 cases: ")


def test_too_little_reached_fails(run: Run, folder: Path) -> None:
    floors = "schema: 1\ncoverage: all\nminimum:\n  box: {remedies: %s}\n"
    (folder / "coverage.yaml").write_text(floors % 33)
    assert run(GOOD)[0] == 0
    (folder / "coverage.yaml").write_text(floors % 34)
    code, out, _ = run(GOOD)
    assert code == 1
    assert "TOO LITTLE  33.3 % of the remedies of box reached by cases, 34 % wanted" in out
    assert "coverage.yaml:4:19" in out
    assert run(GOOD, "-k", "burnt")[0] == 0  # some of the cases cannot reach what all do
    code, out, _ = run(GOOD, "--format", "junit")
    assert code == 1
    assert '<testsuite name="coverage" tests="1" failures="1"' in out
    code, out, _ = run(GOOD, "--format", "github")
    assert "::error file=coverage.yaml,line=4,col=19,title=too little reached by cases::33.3 %25" in out
    (folder / "coverage.yaml").unlink()
    (folder / "low.yaml").write_text(floors % 99)
    assert run(GOOD, "--minimum", "low.yaml")[0] == 1


def test_coverage_lists_what_is_missed(run: Run) -> None:
    _, out, _ = run(GOOD, "--coverage")
    assert "50 % of 4" not in out.split("box")[0]
    assert "no case for remedies: mend_feed, shut_door" in out
    assert "  no case for events: warm, no_feed, door_open" in out
