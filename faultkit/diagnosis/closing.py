"""Can this call be closed? What is missing until it can."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from faultkit.diagnosis.prepare import Footing
from faultkit.diagnosis.result import Closing, Explained, Missing, Repair
from faultkit.evidence.timeline import Timeline
from faultkit.model.entries import Complaint, Decision
from faultkit.network.site import SiteEvent

__all__ = ["closing", "complained_of"]


def complained_of(told: Timeline) -> tuple[str, ...]:
    """Events complained of, each once."""
    return tuple(
        dict.fromkeys(e.event for e, _ in told.entries if isinstance(e, Complaint) and e.id not in told.withdrawn)
    )


def closing(
    base: Footing, told: Timeline, explained: Sequence[Explained], repairs: Sequence[Repair]
) -> Closing:
    """What keeps the call open.

    It can be closed when no facts clash, nothing abnormal is unexplained, every repair is
    proved, every event complained of is ruled out by measurement, and every damage has its
    cause ended, ruled out or decided on.
    """
    missing = [Missing("conflict", "", c) for c in base.conflicts]
    findings = base.belief.evidence.findings
    missing += [
        Missing("unexplained", x.sign, tuple(sorted(findings[x.sign].facts)))
        for x in explained
        if x.status == "unexplained"
    ]
    for r in repairs:
        if not r.proved:
            missing.append(Missing("unproved_repair", r.remedy, tuple(p.sign for p in r.prove if p.status != "seen")))
    for event in complained_of(told):
        if event in base.network.index and not _gone(base, event):
            missing.append(Missing("complaint", event))
    missing += _damages(base, _put_off(base, told))
    return Closing(not missing, tuple(missing))


def _gone(base: Footing, event: str) -> bool:
    """Whether an event was ruled out after the last remedy that changed anything beneath it."""
    since = range(base.stages.remedied(event), base.story.last + 1)
    return any(base.story.node(event, stage) in base.logic.false for stage in since)


def _put_off(base: Footing, told: Timeline) -> frozenset[str]:
    """Events whose remedy the customer declined or put off, by the last word on each remedy."""
    answers = {
        f"{e.unit}.{e.remedy}": e.answer
        for e, _ in told.entries
        if isinstance(e, Decision) and e.id not in told.withdrawn
    }
    off = (r for r, answer in answers.items() if answer in {"declined", "deferred"})
    return frozenset(e for r in off if r in base.site.remedies for e in base.site.remedies[r].ends)


def _damages(base: Footing, put_off: frozenset[str]) -> Iterable[Missing]:
    """Confirmed damage whose cause is still open, with the causes in question."""
    for event in base.site.events.values():
        node = base.network.index.get(event.name)
        causes = _causes(base, event)
        if node in base.logic.true and causes:
            # A cause that is confirmed is the one to settle; without one, all that are not ruled out.
            standing = [c for c in causes if base.network.index[c] in base.logic.true] or causes
            left = tuple(c for c in standing if not _settled(base, c, put_off))
            if left:
                yield Missing("damage", event.name, left)


def _causes(base: Footing, event: SiteEvent) -> list[str]:
    """What may have done the damage, as it was before any remedy."""
    index, false = base.network.index, base.logic.false
    return [x.cause for x in event.broken_by if x.cause in index and index[x.cause] not in false]


def _settled(base: Footing, cause: str, put_off: frozenset[str]) -> bool:
    """Whether a cause was confirmed and is ended, or its remedy was decided on."""
    index = base.network.index
    if index[cause] in base.logic.true and _gone(base, cause):
        return True
    beneath = {base.network.nodes[i].name for i in base.network.ancestors([index[cause]])}
    return not put_off.isdisjoint(beneath)
