"""Workflow commands that a hosted CI shows beside the changed lines."""

from __future__ import annotations

from faultkit.consistency.finding import Finding, Severity
from faultkit.consistency.rules import BY_CODE
from faultkit.consistency.run import Report

__all__ = ["to_github"]

_LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}


def to_github(report: Report) -> str:
    """A line for each finding."""
    return "".join(_line(f) + "\n" for f in report.findings)


def _line(f: Finding) -> str:
    place = f"file={_value(f.where.file)},line={f.where.line},col={f.where.column}," if f.where else ""
    said = [f.what]
    if f.witness:
        said.append("shown by: " + ", ".join(f"{k} = {v}" for k, v in f.witness))
    if f.cure:
        said.append(f"instead: {f.cure}")
    title = _value(f"{f.code} {BY_CODE[f.code].title}")
    return f"::{_LEVELS[f.severity]} {place}title={title}::{_text(chr(10).join(said))}"


def _text(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _value(text: str) -> str:
    return _text(text).replace(":", "%3A").replace(",", "%2C")
