"""SARIF 2.1.0 (OASIS), for code scanning."""

from __future__ import annotations

import json
from pathlib import PurePath, PurePosixPath
from typing import Any
from urllib.parse import quote

from faultkit.consistency.exceptions import Allowance
from faultkit.consistency.finding import Finding
from faultkit.consistency.pages import explain
from faultkit.consistency.rules import RULES
from faultkit.consistency.run import Report

__all__ = ["to_sarif"]

_INDEX = {r.code: i for i, r in enumerate(RULES)}


def to_sarif(report: Report) -> str:
    """The report as one run; what is meant comes as suppressed results with the reason."""
    results = [_result(f) for f in report.findings] + [_result(f, a) for f, a in report.meant]
    log = {
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [
            {
                "tool": {"driver": {"name": "faultkit", "version": _version(), "rules": [_rule(r) for r in RULES]}},
                "columnKind": "unicodeCodePoints",
                "results": results,
            }
        ],
    }
    return json.dumps(log, indent=2, ensure_ascii=False) + "\n"


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("faultkit")
    except PackageNotFoundError:
        return "0"


def _rule(rule: Any) -> dict[str, Any]:
    page = explain(rule.code)
    return {
        "id": rule.code,
        "name": "".join(word.title() for word in rule.name.split("-")),
        "shortDescription": {"text": rule.title},
        "help": {"text": page, "markdown": page},
        "defaultConfiguration": {"level": rule.severity.value},
    }


def _result(f: Finding, allowed: Allowance | None = None) -> dict[str, Any]:
    said = f.what
    if f.witness:
        said += ". Shown by: " + ", ".join(f"{k} = {v}" for k, v in f.witness)
    if f.cure:
        said += f". Instead: {f.cure}"
    result: dict[str, Any] = {
        "ruleId": f.code,
        "ruleIndex": _INDEX[f.code],
        "level": f.severity.value,
        "message": {"text": said},
        "properties": {"equipment": f.equipment, "name": f.name, "witness": dict(f.witness)},
    }
    if f.where is not None:
        region = {"startLine": f.where.line, "startColumn": f.where.column}
        place = {"artifactLocation": {"uri": _uri(f.where.file)}, "region": region}
        result["locations"] = [{"physicalLocation": place}]
    if allowed is not None:
        kind = "inSource" if allowed.line else "external"
        result["suppressions"] = [{"kind": kind, "justification": allowed.reason}]
    return result


def _uri(file: str) -> str:
    path = PurePath(file)
    return path.as_uri() if path.is_absolute() else quote(PurePosixPath(*path.parts).as_posix())
