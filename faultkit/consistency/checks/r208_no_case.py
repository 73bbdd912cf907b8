"""R208: a basic event that no case confirms. Runs where cases are known."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        # A type without any case is one complaint, not one for each event.
        covered = subject.covered.get(kind.name) if subject.covered is not None else None
        for event in kind.events.values() if covered else ():
            if event.prior is not None and covered is not None and event.name not in covered:
                yield RULE.found(
                    f"no case confirms '{event.name}' ({event.title})",
                    "a case that records what a technician would read and expects it confirmed or first suspect",
                    event.where,
                    equipment=kind.name,
                    name=event.name,
                )
        if subject.covered is not None and not covered:
            yield RULE.found(
                f"there is no case for '{kind.name}'",
                "a *.cases.yaml file beside the tree",
                kind.where,
                equipment=kind.name,
                name=kind.name,
            )


RULE = Rule("R208", "no-case", "An event without a case", Severity.NOTE, _run)
