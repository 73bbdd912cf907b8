"""F101: what the files themselves are refused for: syntax, names, references, units, kinds."""

from __future__ import annotations

from collections.abc import Iterable

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.problems import Problem

__all__ = ["RULE", "from_problems"]

RULE = Rule("F101", "loading", "A file that cannot be used", Severity.ERROR)


def from_problems(problems: Iterable[Problem]) -> list[Finding]:
    """Problems of loading as findings."""
    return [RULE.found(p.what, p.expected, p.where) for p in problems]
