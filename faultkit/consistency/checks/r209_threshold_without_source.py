"""R209: a threshold that names no source."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        for o in kind.observables().values():
            for cut in o.cuts:
                if cut.basis is None:
                    yield RULE.found(
                        f"the cut '{cut.text}' of '{o.name}' names no source",
                        "{at: <cut>, source: …}, or source: for the reading or the file "
                        "(common practice, where there is no other)",
                        cut.where,
                        equipment=kind.name,
                        name=o.name,
                    )


RULE = Rule("R209", "threshold-without-source", "A threshold without a source", Severity.WARNING, _run)
