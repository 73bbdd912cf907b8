"""T504: testability worse than the committed baseline."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.consistency.testability.baseline import worse
from faultkit.consistency.testability.report import testability_of

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        before = subject.baselines.get(view.kind.name)
        if before is None:
            continue
        report = testability_of(subject, view.kind.name)
        lost = [(name.replace("_", " "), a, b) for name, a, b in worse(report, before)]
        if lost:
            shown = ", ".join(f"{name} was {a:.4g} and is {b:.4g}" for name, a, b in lost)
            yield RULE.found(
                f"testability of '{view.kind.name}' got worse: {shown}",
                "what was told apart before; or, where it is meant, a new baseline (--update-baseline) with the reason",
                view.kind.where,
                witness=[(name, f"{b:.4g}") for name, _, b in lost],
                equipment=view.kind.name,
                name=view.kind.name,
            )


RULE = Rule("T504", "worse", "Testability worse than before", Severity.ERROR, _run)
