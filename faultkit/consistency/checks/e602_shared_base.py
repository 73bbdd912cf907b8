"""E602: calculated readings that share a measured one, so that one bad measurement speaks twice."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject, TypeView
from faultkit.model.types import Reading

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        for a, b in combinations(view.telling(), 2):
            if a.calculation is None and b.calculation is None:
                continue
            if a.states and b.states and not set(a.states) & set(b.states):
                continue
            shared = view.bases(a.name) & view.bases(b.name)
            if shared:
                yield _finding(view, a, b, sorted(shared))


def _finding(view: TypeView, a: Reading, b: Reading, shared: list[str]) -> Finding:
    both = [_events(a), _events(b)]
    common = [e for e in both[0] if e in both[1]]
    about = (
        "both tell of " + ", ".join(common)
        if common
        else f"one tells of {', '.join(both[0])}, the other of {', '.join(both[1])}"
    )
    names = " and ".join(f"'{s}'" for s in shared)
    return RULE.found(
        f"'{a.name}' and '{b.name}' both rest on {names}: an error there counts twice ({about})",
        "a measurement of its own for one of them; or say why the shared error is small against the bands",
        b.where,
        witness=[(s, "measured once") for s in shared],
        equipment=view.kind.name,
        name=b.name,
    )


def _events(reading: Reading) -> list[str]:
    return list(dict.fromkeys(str(r.event) for o in reading.observables for r in o.rows if r.event))


RULE = Rule("E602", "shared-base", "Findings that share a measurement", Severity.WARNING, _run)
