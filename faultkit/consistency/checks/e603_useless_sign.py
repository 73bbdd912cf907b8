"""E603: a row whose chances say nothing: as good as those that would count without it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.logic import Logic
from faultkit.consistency.standalone import MAIN
from faultkit.consistency.subject import Subject, TypeView
from faultkit.faulttree.bdd import FALSE
from faultkit.model.types import Observable

__all__ = ["RULE", "greatest_ratio"]

#: A likelihood ratio within 1 to this says next to nothing: under one deciban (Good's unit of evidence).
_LITTLE = 10.0**0.1


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        for reading in view.telling():
            for o in reading.observables:
                yield from _observable(view, o)


def greatest_ratio(a: Sequence[float], b: Sequence[float]) -> float:
    """The greatest likelihood ratio, either way, that any band gives between two rows."""
    worst = 1.0
    for p, q in zip(a, b, strict=True):
        if p == q:
            continue
        if not (p and q):
            return float("inf")
        worst = max(worst, p / q, q / p)
    return worst


def _observable(view: TypeView, o: Observable) -> Iterator[Finding]:
    for n, row in enumerate(o.rows[:-1]):
        # What would count in its place: any lower row that can be true with it, and otherwise.
        rivals = [r for k, r in enumerate(o.rows) if k > n and (r.event is None or _together(view.logic, o, n, k))]
        ratio = max(greatest_ratio(row.chances, r.chances) for r in rivals)
        if ratio < _LITTLE:
            shown = [(b, f"{p:.3g} against {q:.3g}") for b, p, q in zip(o.bands, row.chances, rivals[-1].chances,
                                                                          strict=True)]
            yield RULE.found(
                f"the row '{row.event}' of '{o.name}' says nothing: "
                + ("every band is" if ratio == 1.0 else f"no band is more than {ratio:.3g} times")
                + " as likely with it as without",
                "the chances that the event really makes, or no such row",
                row.where,
                witness=shown,
                equipment=view.kind.name,
                name=o.name,
            )


def _together(logic: Logic, o: Observable, n: int, k: int) -> bool:
    sign = logic.alone.site.signs.get(f"{MAIN}.{o.name}")
    if sign is None:
        return False
    a, b = sign.rows[n], sign.rows[k]
    return a is not None and b is not None and logic.bdd.both(logic.of(a), logic.of(b)) != FALSE


RULE = Rule("E603", "useless-sign", "A sign that says nothing", Severity.WARNING, _run)
