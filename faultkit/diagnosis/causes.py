"""What caused what: links between what is confirmed, down to basic events and up to the complaint."""

from __future__ import annotations

from collections.abc import Iterable

from faultkit.diagnosis.prepare import Footing
from faultkit.diagnosis.result import CauseLink

__all__ = ["cause_links"]


def cause_links(base: Footing, complaints: Iterable[str]) -> tuple[CauseLink, ...]:
    """Links whose cause is confirmed and whose effect is, or may be on the way to a complaint.

    A link of a later stage is listed where that stage has its own copy of the cause or the effect.
    """
    links = _links(base)
    wanted = _above(links, complaints)
    out: dict[tuple[int, int], CauseLink] = {}
    for stage in range(base.story.last + 1):
        # Damage is done before the call: as it was then it shows in the first stage alone.
        here = [(c, e, d) for c, e, d in links if not d or stage == 0]
        reached = {name for c, e, d in here for name in (c, e) if _is(base, name, stage, true=True)}
        grew = True
        while grew:  # beyond what is confirmed the way goes on to the complaint
            more = {
                e for c, e, _ in here
                if c in reached and e in wanted and e not in reached and not _is(base, e, stage, true=False)
            }
            grew = bool(more)
            reached |= more
        for cause, effect, damage in here:
            nodes = base.story.node(cause, stage), base.story.node(effect, stage)
            if cause in reached and effect in reached and None not in nodes:
                out.setdefault(nodes, CauseLink(cause, effect, damage, stage))  # type: ignore[arg-type]
    return tuple(out.values())


def _links(base: Footing) -> list[tuple[str, str, bool]]:
    """(cause, effect, whether it is damage) of the whole site, leaks included."""
    out: list[tuple[str, str, bool]] = []
    index = base.network.index
    for e in base.site.events.values():
        if e.name in index:
            out += [(x.cause, e.name, False) for x in e.inputs if x.cause in index]
            out += [(x.cause, e.name, True) for x in e.broken_by if x.cause in index]
            if f"{e.name}.other" in index:
                out.append((f"{e.name}.other", e.name, False))
    return out


def _above(links: list[tuple[str, str, bool]], complaints: Iterable[str]) -> set[str]:
    """Everything a complaint stands on, itself included."""
    under: dict[str, list[str]] = {}
    for cause, effect, _ in links:
        under.setdefault(effect, []).append(cause)
    found = set(complaints)
    stack = list(found)
    while stack:
        for cause in under.get(stack.pop(), ()):
            if cause not in found:
                found.add(cause)
                stack.append(cause)
    return found


def _is(base: Footing, event: str, stage: int, *, true: bool) -> bool:
    return base.story.node(event, stage) in (base.logic.true if true else base.logic.false)
