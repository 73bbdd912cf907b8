"""What stays open at the end of a call, and what it can lead to by the tree."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from faultkit.call import Call
from faultkit.diagnosis.result import Diagnosis, Missing, Probability, Verdict
from faultkit.model.entries import Decision, Entry, RemedyDone
from faultkit.model.types import Gate
from faultkit.network.site import Site
from faultkit.reports.visit.data import Open

__all__ = ["open_items"]

_KINDS = {
    "unproved_repair": "unproved", "damage": "cause", "complaint": "complaint", "unexplained": "unexplained",
    "conflict": "conflict",
}
_MOST = 4  # what may break or follow: the first few say it


def open_items(call: Call, d: Diagnosis, entries: Sequence[Entry]) -> tuple[Open, ...]:
    """Decisions whose remedy was not done since, then what keeps the call open, each once."""
    return (*_decided(call, d, entries), *_missing(call.site, d))


def _decided(call: Call, d: Diagnosis, entries: Sequence[Entry]) -> Iterator[Open]:
    last: dict[str, Decision] = {}
    for e in entries:
        if isinstance(e, Decision):
            last[f"{e.unit}.{e.remedy}"] = e
        elif isinstance(e, RemedyDone):
            last.pop(f"{e.unit}.{e.remedy}", None)
    for name, e in last.items():
        # What is ruled out is no risk; a remedy all of whose events are is open in name only.
        events = [x for x in call.site.remedies[name].ends if _may_be(d, x)]
        yield _item(call.site, d, e.answer, name, events, e.id)


def _missing(site: Site, d: Diagnosis) -> Iterator[Open]:
    for m in d.closing.missing:
        yield _item(site, d, _KINDS.get(m.kind, m.kind), m.what, _events(site, d, m), needs=m.needs)


def _events(site: Site, d: Diagnosis, m: Missing) -> list[str]:
    if m.kind == "unproved_repair":
        return [e for e in site.remedies[m.what].ends if _may_be(d, e)]
    if m.kind == "damage":
        return list(m.needs)
    return [m.what] if m.kind == "complaint" else []


def _may_be(d: Diagnosis, event: str) -> bool:
    return event in d.events and d.events[event].verdict is not Verdict.RULED_OUT


def _item(
    site: Site, d: Diagnosis, kind: str, what: str, events: Sequence[str], entry: str = "", *,
    needs: tuple[str, ...] = (),
) -> Open:
    chances = [d.events[e].probability for e in events if e in d.events]
    chance: Probability | None = max(chances, key=lambda p: p.middle) if chances else None
    proved = any(d.events[e].verdict is Verdict.CONFIRMED for e in events if e in d.events)
    breaks, leads = _ahead(site, events)
    return Open(kind, what, entry, tuple(events), chance, proved, breaks, leads, needs)


def _ahead(site: Site, events: Iterable[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Events that these can damage, nearest first, and the events at the top that they can bring about."""
    up = _effects(site)
    start = tuple(events)
    breaks: dict[str, None] = {}
    tops: dict[str, None] = {}
    seen, todo = set(start), list(start)
    while todo:
        at = todo.pop(0)
        if at not in up and at not in start and site.events[at].event.gate is Gate.ANY_OF:
            tops[at] = None
        for effect, damage in up.get(at, ()):
            if damage and effect not in start:
                breaks[effect] = None
            if effect not in seen:
                seen.add(effect)
                todo.append(effect)
    return tuple(breaks)[:_MOST], tuple(tops)[:_MOST]


def _effects(site: Site) -> Mapping[str, list[tuple[str, bool]]]:
    up: dict[str, list[tuple[str, bool]]] = {}
    for e in site.events.values():
        if e.fixed is None:
            for link in e.inputs:
                up.setdefault(link.cause, []).append((e.name, False))
            for link in e.broken_by:
                up.setdefault(link.cause, []).append((e.name, True))
    return up
