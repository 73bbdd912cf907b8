"""JSON of faultkit's own: schemas/check.v1.json."""

from __future__ import annotations

import json
from typing import Any

from faultkit.consistency.finding import Severity
from faultkit.consistency.run import Report

__all__ = ["to_data", "to_json"]


def to_data(report: Report) -> dict[str, Any]:
    """The report as plain data."""
    return {
        "schema": 1,
        "kind": "check",
        "clean": report.clean,
        "summary": {
            "errors": report.count(Severity.ERROR),
            "warnings": report.count(Severity.WARNING),
            "notes": report.count(Severity.NOTE),
            "meant": len(report.meant),
        },
        "types": list(report.types),
        "thresholds": {"all": report.thresholds[0], "own_source": report.thresholds[1]},
        "findings": [f.to_dict() for f in report.findings],
        "meant": [{**f.to_dict(), "because": a.reason, "allowed_at": str(a.where)} for f, a in report.meant],
        "testability": [t.to_dict() for t in report.testability],
    }


def to_json(report: Report) -> str:
    """The report as JSON text."""
    return json.dumps(to_data(report), indent=2, ensure_ascii=False) + "\n"
