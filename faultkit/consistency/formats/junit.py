"""JUnit XML, as CI servers read it: a test case for each finding and for each check that found nothing."""

from __future__ import annotations

from faultkit.consistency.finding import Finding, Severity
from faultkit.consistency.rules import BY_CODE, RULES
from faultkit.consistency.run import Report

__all__ = ["to_junit"]


def to_junit(report: Report) -> str:
    """The report as XML text. Notes are passed cases, what is meant is skipped with its reason."""
    from xml.etree import ElementTree as ET

    failing = [f for f in report.findings if f.severity is not Severity.NOTE]
    notes = [f for f in report.findings if f.severity is Severity.NOTE]
    quiet = [r for r in RULES if all(f.code != r.code for f in report.findings)]
    counts = {
        "tests": str(len(report.findings) + len(report.meant) + len(quiet)),
        "failures": str(len(failing)),
        "errors": "0",
        "skipped": str(len(report.meant)),
    }
    root = ET.Element("testsuites", name="faultkit check")
    suite = ET.SubElement(root, "testsuite", {"name": "faultkit check", **counts})
    for f in failing:
        case = ET.SubElement(suite, "testcase", _case(f))
        failure = ET.SubElement(case, "failure", type=f.severity.value, message=_clean(f.what))
        failure.text = _clean(f.render())
    for f, allowed in report.meant:
        case = ET.SubElement(suite, "testcase", _case(f))
        ET.SubElement(case, "skipped", message=_clean(f"meant: {allowed.reason}"))
    for f in notes:
        case = ET.SubElement(suite, "testcase", _case(f))
        ET.SubElement(case, "system-out").text = _clean(f.render())
    for rule in quiet:
        ET.SubElement(suite, "testcase", classname="faultkit", name=f"{rule.code} {rule.title}")
    ET.indent(root)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode") + "\n"


def _case(f: Finding) -> dict[str, str]:
    where = f" at {f.where}" if f.where else ""
    name = f"{f.code} {BY_CODE[f.code].title}: {f.name or f.equipment or 'catalogue'}{where}"
    return {"classname": _clean(f.where.file if f.where else "faultkit"), "name": _clean(name)}


def _clean(text: str) -> str:
    """Without characters that XML cannot hold."""
    return "".join(c if c in "\t\n\r" or " " <= c <= "\ud7ff" or "\ue000" <= c != "\ufffe" else "\ufffd" for c in text)
