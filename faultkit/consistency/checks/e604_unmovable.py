"""E604: an event whose probability no observation can move."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.sight import roots_seen_elsewhere, roots_shown
from faultkit.consistency.standalone import local
from faultkit.consistency.subject import Subject

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        shown = roots_shown(view) | roots_seen_elsewhere(subject, view)
        for name, (_, root) in view.logic.basics.items():
            if root not in shown:
                event = view.kind.events[local(name)]
                assert event.prior is not None
                yield RULE.found(
                    f"no reading moves the probability of '{local(name)}': it stays at what is assumed, "
                    f"{event.prior.otherwise:g}",
                    "a row for it, or for an event above it, in a reading it changes",
                    event.where,
                    witness=[(local(name), f"{event.prior.otherwise:g} whatever is read")],
                    equipment=view.kind.name,
                    name=local(name),
                )


RULE = Rule("E604", "unmovable", "A probability that nothing moves", Severity.ERROR, _run)
