"""R204: a check whose readings nothing uses."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.checks.r203_unused_reading import unused_readings
from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        unused = unused_readings(subject, kind)
        for check in kind.checks.values():
            own = [ref.name.partition(" in ")[0] for ref in check.gives if ref.join is None]
            if len(own) == len(check.gives) and unused.issuperset(own):
                yield RULE.found(
                    f"check '{check.name}' takes {check.minutes:g} minutes and gives only what nothing uses: "
                    + ", ".join(own),
                    "let its readings tell of an event, or take the check away",
                    check.where,
                    equipment=kind.name,
                    name=check.name,
                )


RULE = Rule("R204", "check-gives-nothing", "A check that gives nothing used", Severity.WARNING, _run)
