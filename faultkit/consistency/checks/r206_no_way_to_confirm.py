"""R206: a basic event that no check of the catalogue can show."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.sight import roots_seen_elsewhere, roots_shown
from faultkit.consistency.standalone import local
from faultkit.consistency.subject import Subject

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        logic = view.logic
        by_check = roots_shown(view, view.obtainable) | roots_seen_elsewhere(subject, view)
        by_any = roots_shown(view)
        for name, (_, root) in logic.basics.items():
            if root in by_check or root not in by_any:  # nothing at all shows it: E604 says so
                continue
            signs = [s.name for s in logic.signs() if root in logic.depends_on(s)]
            event = view.kind.events[local(name)]
            yield RULE.found(
                f"no check gives a reading that shows '{local(name)}'; it is told of only by "
                + ", ".join(f"'{local(s)}'" for s in signs),
                "a check that gives one of these readings",
                event.where,
                witness=[(local(signs[0]), "given by no check")],
                equipment=view.kind.name,
                name=local(name),
            )


RULE = Rule("R206", "no-way-to-confirm", "An event that no check can show", Severity.WARNING, _run)
