"""R207: a basic event that no remedy ends."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        ended = {ref.name for remedy in kind.remedies.values() for ref in remedy.ends if ref.join is None}
        ended |= subject.ended_elsewhere
        for event in kind.events.values():
            if event.prior is not None and event.name not in ended:
                yield RULE.found(
                    f"nothing ends '{event.name}' ({event.title}): a call that finds it cannot be closed",
                    "name it under ends of a remedy, be it the owner's decision",
                    event.where,
                    equipment=kind.name,
                    name=event.name,
                )


RULE = Rule("R207", "no-remedy", "An event without a remedy", Severity.WARNING, _run)
