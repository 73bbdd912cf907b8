"""T502: two faults that together look like a third, so that the third is repaired and both stay."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.consistency.testability.report import testability_of

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        report = testability_of(subject, view.kind.name)
        masked = subject.baselines.get(view.kind.name, {}).get("masked", ())
        known = {(m["fault"], frozenset(m["by"])) for m in masked}
        for mask in report.masks:
            if (mask.fault, frozenset(mask.pair)) in known:
                continue
            matrix = report.matrix
            shown = sorted(matrix.shown(matrix.index[mask.fault]))
            yield RULE.found(
                f"'{mask.pair[0]}' and '{mask.pair[1]}' together look like '{mask.fault}' alone",
                "a reading that comes otherwise when both are there",
                view.kind.events[mask.fault].where,
                witness=[(matrix.signs[s], matrix.band_names[s][b]) for s, b in shown[:4]],
                equipment=view.kind.name,
                name=mask.fault,
                data={"by": list(mask.pair)},
            )


RULE = Rule("T502", "masked", "A fault that two others look like", Severity.WARNING, _run)
