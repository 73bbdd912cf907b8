"""What keeps a call open, from the verdicts of all worlds."""

from __future__ import annotations

from collections.abc import Iterable

from faultkit.model.entries import Complaint, Decision
from tests.engine.staged_reference import StagedReference

__all__ = ["missing"]


def missing(reference: StagedReference, unexplained: Iterable[str]) -> set[tuple[str, str, frozenset[str]]]:
    """What keeps the call open; ``unexplained`` findings are checked elsewhere."""
    out = {("conflict", "", c) for c in reference.conflicts}
    for name in unexplained:
        sign, _, dates = name.partition("#")
        stages = [t for t in reference.found[sign] if reference.dates_of(sign, t) == int(dates or 0)]
        facts = frozenset(f for t in stages for k in reference.found[sign][t] for f in k.facts)
        out.add(("unexplained", name, facts))
    for stage, (unit, remedy) in enumerate(reference.plan.done, start=1):
        signs = [
            (n, band) for r, band in remedy.prove for n in reference.blank.joined(unit, r) if n in reference.blank.signs
        ]
        left = frozenset(s for s, band in signs if not _shown(reference, s, band, stage))
        if left:
            out.add(("unproved_repair", f"{unit.name}.{remedy.name}", left))
    said = {e.event for e, _ in reference.entries if isinstance(e, Complaint)} & set(reference.plan.first)
    out |= {("complaint", e, frozenset()) for e in said if not _gone(reference, e)}
    return out | _damage(reference)


def _gone(reference: StagedReference, name: str) -> bool:
    """Ruled out in a stage that a fact speaks of, once no remedy changes anything beneath it any more."""
    stages = {reference.plan.dates(name, t) for t in range(reference.plan.remedied(name), reference.last + 1)}
    spoken = (d for d in stages if d == 0 or f"{name}|{d}" in reference.spoken)
    return any(reference.verdict_in(name, d) == "ruled_out" for d in spoken)


def _shown(reference: StagedReference, sign: str, band: str, stage: int) -> bool:
    """Whether the last measured look from a stage on leaves that band alone possible."""
    by = reference.found.get(sign, {})
    hard = {t: [k for k in by[t] if not k.told] for t in by if t >= stage}
    last = max((t for t, looks in hard.items() if looks), default=None)
    if last is None:
        return False
    bands = reference.blank.signs[sign].bands
    touched = {b for n, b in enumerate(bands) if all(k.shares[n] for k in hard[last])}
    return touched == {band}


def _damage(reference: StagedReference) -> set[tuple[str, str, frozenset[str]]]:
    declined: dict[str, bool] = {}
    for e, _ in reference.entries:
        if isinstance(e, Decision):
            declined[f"{e.unit}.{e.remedy}"] = e.answer in {"declined", "deferred"}
    off = set()
    for u in reference.case.plan.units.values():
        for r in reference.case.types[u.equipment].remedies.values():
            if declined.get(f"{u.name}.{r.name}"):
                off |= {n for ref in r.ends for n in reference.blank.joined(u, ref)}
    out = set()
    for name in reference.plan.first:
        event = reference.plan.event_of(name)
        if event is None or not event.broken_by or reference.verdict_in(name, 0) != "confirmed":
            continue
        unit = reference.case.plan.units[name.split(".", 1)[0]]
        causes = [c for x in event.broken_by for c in reference.blank.joined(unit, x.ref) if c in reference.plan.first]
        causes = [c for c in causes if reference.verdict_in(c, 0) != "ruled_out"]
        standing = [c for c in causes if reference.verdict_in(c, 0) == "confirmed"] or causes
        left = set()
        for c in standing:
            ended = reference.verdict_in(c, 0) == "confirmed" and _gone(reference, c)
            if not ended and not off & _beneath(reference, c):
                left.add(c)
        if left:
            out.add(("damage", name, frozenset(left)))
    return out


def _beneath(reference: StagedReference, name: str) -> set[str]:
    """An event and everything it stands on or may be broken by."""
    found, todo = set(), [name]
    while todo:
        at = todo.pop()
        if at not in found:
            found.add(at)
            todo += reference.blank.parts(reference.blank.formulas[at]) if at in reference.blank.formulas else ()
    return found
