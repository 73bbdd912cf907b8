"""L405: the same measured values both confirm an event and rule it out."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.logic import Logic
from faultkit.consistency.standalone import MAIN, local
from faultkit.consistency.subject import Subject, TypeView
from faultkit.consistency.values import values_in
from faultkit.faulttree.bdd import FALSE
from faultkit.model.types import Observable, Reading

__all__ = ["RULE"]

_Seen = tuple[Reading, Observable]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        seen = [(r, o) for r in view.telling() for o in r.observables if o.rows and o.cuts]
        for a, b in combinations(seen, 2):
            if a[1].state is not None and b[1].state is not None and a[1].state != b[1].state:
                continue  # taken at different moments
            if a[0] is not b[0] and view.bases(a[0].name) & view.bases(b[0].name):
                yield from _pair(subject, view, a, b)


def _pair(subject: Subject, view: TypeView, a: _Seen, b: _Seen) -> Iterator[Finding]:
    logic = view.logic
    signs = [logic.net.signs.get(f"{MAIN}.{o.name}") for _, o in (a, b)]
    if signs[0] is None or signs[1] is None:
        return
    for i, left in enumerate(a[1].bands):
        for j, right in enumerate(b[1].bands):
            f, g = logic.allowed(signs[0], i), logic.allowed(signs[1], j)
            if FALSE in (f, g) or logic.bdd.both(f, g) != FALSE:
                continue
            values = values_in(subject, view.kind, ((*a, i), (*b, j)))
            if values is None:
                continue
            event = _torn(logic, f, g) or _torn(logic, g, f)
            about = f"event '{event}' is both confirmed and ruled out" if event else "nothing can be true"
            yield RULE.found(
                f"{about} by the same values: they make '{a[1].name}' {left} and '{b[1].name}' {right}",
                "chances in one of the two that allow what the other proves: usually, not always",
                b[0].where,
                witness=values,
                equipment=view.kind.name,
                name=b[1].name,
            )
            return  # one witness for a pair is enough


def _torn(logic: Logic, f: int, g: int) -> str:
    """An event that ``f`` proves and ``g`` rules out."""
    for name, e in logic.alone.site.events.items():
        h = logic.of(name)
        if e.unit == MAIN and name in logic.net.index and logic.implies(f, h) and logic.bdd.both(g, h) == FALSE:
            return local(name)
    return ""


RULE = Rule("L405", "confirms-and-rules-out", "Values that confirm and rule out", Severity.ERROR, _run)
