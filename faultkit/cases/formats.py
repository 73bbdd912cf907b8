"""Results of cases for programs: JSON, JUnit XML, and the annotations of a hosted CI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from faultkit.cases.coverage import PARTS, Coverage, Shortfall
from faultkit.cases.model import Failure, Outcome, Result
from faultkit.cases.words import failure_lines, result_lines, shortfall_words
from faultkit.problems import Where

__all__ = ["as_annotations", "as_json", "as_junit"]


def as_json(
    results: Sequence[Result], covered: Mapping[str, Coverage], short: Sequence[Shortfall]
) -> dict[str, Any]:
    """JSON-ready data, valid against ``schemas/test.v1.json``."""
    return {
        "schema": 1,
        "kind": "test",
        "passed": all(r.good for r in results) and not short,
        "counts": {o.value: sum(r.outcome is o for r in results) for o in Outcome},
        "cases": [_case(r) for r in results],
        "coverage": [
            {"type": name, **{p: {"percent": c.percent(p), "missed": list(c.missed(p))} for p in PARTS}}
            for name, c in covered.items()
        ],
        "shortfalls": [
            {"type": s.type, "part": s.part, "reached": s.reached, "least": s.least, "place": _place(s.where)}
            for s in short
        ],
    }


def _case(result: Result) -> dict[str, Any]:
    case = result.case
    return {
        "name": case.full_name,
        "story": case.story,
        "outcome": result.outcome.value,
        "known_to_fail": case.known_to_fail,
        "seconds": round(result.seconds, 6),
        "place": _place(case.where),
        "failures": [
            {
                "key": f.key, "expected": f.expected, "came": f.came, "decided_by": f.decided_by,
                "why": list(f.why), "place": _place(f.where),
            }
            for f in result.failures
        ],
    }


def _place(where: Where | None) -> dict[str, Any] | None:
    return {"file": where.file, "line": where.line, "column": where.column} if where else None


def as_junit(results: Sequence[Result], short: Sequence[Shortfall]) -> str:
    """JUnit XML: a suite for each set of cases, one more for coverage where it falls short."""
    from xml.etree import ElementTree as ET

    root = ET.Element("testsuites")
    suites: dict[str, list[Result]] = {}
    for r in results:
        suites.setdefault(r.case.file, []).append(r)
    for name, members in suites.items():
        bad = sum(not r.good for r in members)
        known = sum(r.outcome is Outcome.KNOWN for r in members)
        suite = ET.SubElement(root, "testsuite", _counts(name, len(members), bad, known))
        suite.set("time", f"{sum(r.seconds for r in members):.3f}")
        for r in members:
            case = ET.SubElement(suite, "testcase", {"name": r.case.name, "classname": name})
            case.set("time", f"{r.seconds:.3f}")
            if r.outcome is Outcome.KNOWN:
                ET.SubElement(case, "skipped", {"message": r.case.known_to_fail})
            elif not r.good:
                text = ET.SubElement(case, "failure", {"message": _headline(r), "type": r.outcome.value})
                text.text = _xml("\n".join(result_lines(r)))
    if short:
        suite = ET.SubElement(root, "testsuite", _counts("coverage", len(short), len(short), 0))
        for s in short:
            case = ET.SubElement(suite, "testcase", {"name": f"{s.type}: {s.part}", "classname": "coverage"})
            ET.SubElement(case, "failure", {"message": shortfall_words(s), "type": "coverage"}).text = str(s.where)
    ET.indent(root)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode") + "\n"


def _counts(name: str, tests: int, failures: int, skipped: int) -> dict[str, str]:
    return {
        "name": name, "tests": str(tests), "failures": str(failures), "errors": "0", "skipped": str(skipped)
    }


def _xml(text: str) -> str:
    return "".join(c for c in text if c in "\n\t" or ord(c) >= 32)


def _headline(result: Result) -> str:
    if not result.failures:
        return "it passes now: take 'known_to_fail' out"
    return "; ".join(f"{f.key}: expected {f.expected}, came {f.came}" for f in result.failures)


def as_annotations(results: Sequence[Result], short: Sequence[Shortfall]) -> list[str]:
    """One line for each unmet expectation, at its place in the file (workflow commands of a hosted CI)."""
    out = []
    for r in results:
        if r.outcome is Outcome.KNOWN:
            out.append(_line("notice", r.case.where, f"known to fail: {r.case.full_name}", r.case.known_to_fail))
        elif r.outcome is Outcome.FIXED:
            out.append(_line("error", r.case.where, r.case.full_name, _headline(r)))
        else:
            out += [_line("error", f.where, f"{r.case.full_name}: {f.key}", _text(f)) for f in r.failures]
    return out + [_line("error", s.where, "too little reached by cases", shortfall_words(s)) for s in short]


def _text(failure: Failure) -> str:
    return "\n".join(line.removeprefix("    ") for line in failure_lines(failure) if line)


def _line(level: str, where: Where | None, title: str, message: str) -> str:
    place = f"file={_value(where.file)},line={where.line},col={where.column}," if where else ""
    return f"::{level} {place}title={_value(title)}::{_data(message)}"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _value(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
