"""What caused what, as an outline: from what was complained of down to the causes that were proved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from faultkit.reports.visit.data import Cause, Report

__all__ = ["Spot", "outline"]

#: How a cause stands to the spot above it.
CAUSED, BROKE, MAY = "caused", "broke", "may"
_FAR = "far"  # may, by way of events that are not proved


@dataclass(frozen=True, slots=True)
class Spot:
    """One line: an event, how deep, how it stands to the spot above ('' at the top), whether it was shown before."""

    event: str
    depth: int
    link: str = ""
    again: bool = False
    proved: bool = True


def outline(report: Report, *, short: bool) -> tuple[Spot, ...]:
    """The proved and the likely events as a forest, complaints first.

    A link that a longer way explains is left out. ``short`` leaves out events in the middle of a chain
    that are neither complaint nor basic, and trees without a basic event.
    """
    proved = {f.event for f in report.found}
    likely = {u.event for u in report.likely}
    complaints = [c.event for c in report.complaints]
    below = _reduced(_links(report.links, proved | likely, complaints))
    if short:
        below = _shortened(below, {f.event for f in report.found if f.basic} | likely | set(complaints))
    basic = {f.event for f in report.found if f.basic} | likely
    caused = {c for many in below.values() for c in many}
    roots = [e for e in dict.fromkeys(complaints) if below.get(e) or e in proved]
    roots += [e for e in (*(f.event for f in report.found), *sorted(likely)) if e not in caused and e not in roots]
    out: list[Spot] = []
    seen: set[str] = set()
    for root in roots:
        reach = _under(below, root)
        if root not in complaints and (not reach & basic or reach & basic <= seen):
            continue  # nothing new, or nothing with a cause to name
        _grow(out, seen, below, proved, root)
    return tuple(out)


def _grow(
    out: list[Spot], seen: set[str], below: Mapping[str, Mapping[str, str]], proved: set[str], root: str
) -> None:
    stack = [(root, 0, "")]
    while stack:
        event, depth, link = stack.pop()
        again = event in seen and bool(below.get(event))
        out.append(Spot(event, depth, MAY if link == _FAR else link, again, event in proved))
        if event not in seen:
            seen.add(event)
            stack += [(c, depth + 1, how) for c, how in reversed(list(below.get(event, {}).items()))]


def _under(below: Mapping[str, Mapping[str, str]], root: str) -> set[str]:
    found, todo = {root}, [root]
    while todo:
        for c in below.get(todo.pop(), ()):
            if c not in found:
                found.add(c)
                todo.append(c)
    return found


def _links(links: Iterable[Cause], proved: set[str], complaints: Iterable[str]) -> dict[str, dict[str, str]]:
    """Effect → cause → how. Events on the way to a complaint that are not proved are passed over: it may be so."""
    up: dict[str, list[Cause]] = {}
    for x in links:
        up.setdefault(x.cause, []).append(x)
    below: dict[str, dict[str, str]] = {}
    tops = set(complaints)
    for cause in proved:
        for x in up.get(cause, ()):
            if x.effect in proved:
                below.setdefault(x.effect, {})[cause] = x.how
    for cause in sorted(proved):
        todo = [x.effect for x in up.get(cause, ()) if x.effect not in proved]
        seen = set(todo)
        while todo:
            at = todo.pop()
            if at in tops:
                below.setdefault(at, {}).setdefault(cause, _FAR)
            for x in up.get(at, ()):
                if x.effect in tops:
                    below.setdefault(x.effect, {}).setdefault(cause, _FAR)
                elif x.effect not in seen and x.effect not in proved:
                    seen.add(x.effect)
                    todo.append(x.effect)
    return {e: dict(sorted(c.items())) for e, c in below.items()}


def _reduced(below: dict[str, dict[str, str]]) -> dict[str, dict[str, str]]:
    """Without a link whose cause also acts through another cause of the same effect.

    A way through events that are not proved gives way to a direct one to the same basic causes.
    """
    out: dict[str, dict[str, str]] = {}
    for effect, causes in below.items():
        near = {c: how for c, how in causes.items() if how != _FAR}
        reach = set[str]().union(*(_under(below, c) for c in near))
        far = {c: _FAR for c in causes if c not in near and not _leaves(below, c) <= reach}
        sure, may, any_ = set[str](), set[str](), set[str]()
        for c, how in (near | far).items():
            under = _under(below, c) - {c}
            any_ |= under
            if how != _FAR:
                may |= under
                if how != MAY:
                    sure |= under
        hides = {_FAR: any_, MAY: may}
        out[effect] = {c: how for c, how in (near | far).items() if c not in hides.get(how, sure)}
    return out


def _leaves(below: Mapping[str, Mapping[str, str]], root: str) -> set[str]:
    return {e for e in _under(below, root) if not below.get(e)}


def _shortened(below: dict[str, dict[str, str]], kept: set[str]) -> dict[str, dict[str, str]]:
    """Without events in the middle: their causes take their place."""
    out: dict[str, dict[str, str]] = {}
    for effect, causes in below.items():
        if effect not in kept:
            continue
        found: dict[str, str] = {}
        todo = list(reversed(causes.items()))
        seen = set[str]()
        while todo:
            cause, how = todo.pop()
            if cause in kept or cause not in below:
                found.setdefault(cause, how)
            elif cause not in seen:
                seen.add(cause)
                # Nothing may look surer than its weakest link; damage on the way stays damage.
                todo += [(c, _both(how, h)) for c, h in reversed(below[cause].items())]
        out[effect] = {c: h for c, h in found.items() if c in kept} or found
    return _reduced(out)


def _both(upper: str, lower: str) -> str:
    if BROKE in {upper, lower} and upper not in {MAY, _FAR}:
        return BROKE
    return _FAR if _FAR in {upper, lower} else MAY if MAY in {upper, lower} else CAUSED
