"""R205: a reading with rows that no check gives."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        given = {name.partition(" in ")[0] for name in view.measured}
        for reading in view.telling():
            for o in reading.observables:
                if not o.rows or o.name in view.obtainable:
                    continue
                missing = sorted(view.bases(reading.name) - given) if reading.calculation else [o.name]
                yield RULE.found(
                    f"'{o.name}' tells of events, but no check gives " + " and ".join(f"'{m}'" for m in missing),
                    "name it under gives of a check; next checks are chosen among those",
                    reading.where,
                    equipment=view.kind.name,
                    name=o.name,
                )


RULE = Rule("R205", "reading-without-check", "A reading that no check gives", Severity.WARNING, _run)
