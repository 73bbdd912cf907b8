"""T503: a check without which everything is still told apart."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.consistency.testability.report import testability_of

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        report = testability_of(subject, view.kind.name)
        known = subject.baselines.get(view.kind.name, {}).get("redundant_checks", ())
        for name in report.redundant:
            if name not in known:
                check = view.kind.checks[name]
                yield RULE.found(
                    f"check '{name}' ({check.minutes:g} minutes) tells apart nothing that the others do not",
                    "nothing, where it is quicker or safer than the others; else take it away",
                    check.where,
                    equipment=view.kind.name,
                    name=name,
                )


RULE = Rule("T503", "redundant-check", "A check that adds nothing", Severity.NOTE, _run)
