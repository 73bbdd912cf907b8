"""Findings in order, the same complaint at the same place once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from faultkit.consistency.exceptions import Allowance
from faultkit.consistency.finding import Finding, Severity

__all__ = ["once", "tidy"]

_ORDER = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}


def tidy(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """In order of weight and place; the same complaint at the same place (copies, including types) once."""
    first: dict[object, Finding] = {}
    for finding in findings:
        old = first.get(_key(finding))
        first[_key(finding)] = finding if old is None else replace(old, more=old.more + 1)

    def order(f: Finding) -> tuple[int, str, int, int, str]:
        w = f.where
        return (_ORDER[f.severity], w.file if w else "", w.line if w else 0, w.column if w else 0, f.code)

    return tuple(sorted(first.values(), key=order))


def _key(finding: Finding) -> object:
    """What makes two findings one complaint. Mistakes of loading are told apart by their words."""
    where = finding.where
    if where is None or finding.code == "F101":
        return finding.code, str(where), finding.what
    # A band, row or input is the same in every copy; names are not.
    part = tuple(v for v in finding.data.values() if isinstance(v, str | int))
    return finding.code, where.file, where.line, where.column, part


def once(meant: Iterable[tuple[Finding, Allowance]]) -> tuple[tuple[Finding, Allowance], ...]:
    """The same for what is meant; the order stays."""
    first: dict[object, tuple[Finding, Allowance]] = {}
    for finding, allowance in meant:
        old = first.get(_key(finding))
        first[_key(finding)] = (finding if old is None else replace(old[0], more=old[0].more + 1), allowance)
    return tuple(first.values())
