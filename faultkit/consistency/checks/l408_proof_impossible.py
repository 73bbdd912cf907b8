"""L408: what is to prove a remedy cannot be read once its events are ended."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.standalone import local
from faultkit.consistency.subject import Subject
from faultkit.faulttree.bdd import FALSE

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        logic = view.logic
        for remedy in logic.alone.site.remedies.values():
            signs = [(logic.net.signs[s], band) for s, band in remedy.prove if s in logic.net.signs]
            read = logic.all(logic.allowed(s, s.bands.index(band)) for s, band in signs)
            ended = logic.all(logic.bdd.negate(logic.of(e)) for e in remedy.ends)
            if signs and logic.bdd.both(read, ended) == FALSE:
                shown = [(local(s.name), band) for s, band in signs]
                held = "the fault still there" if read != FALSE else "no state of the unit at all"
                yield RULE.found(
                    f"remedy '{local(remedy.name)}' can never be proved: {', '.join(f'{s} {b}' for s, b in shown)} "
                    f"means {held}",
                    "the bands that are read when the repair has worked",
                    remedy.remedy.where,
                    witness=shown,
                    equipment=view.kind.name,
                    name=local(remedy.name),
                )


RULE = Rule("L408", "proof-impossible", "A proof that can never be read", Severity.ERROR, _run)
