"""L406: events that a setting of the house events makes dead without saying so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.standalone import MAIN, local
from faultkit.consistency.subject import Subject, TypeView
from faultkit.model.types import Event, Gate

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        for event in view.kind.events.values():
            if event.gate is not Gate.BASIC:
                yield from _event(view, event)


def _event(view: TypeView, event: Event) -> Iterator[Finding]:
    """Decided in some configuration in which it exists, but not in all (that is L401 or L402)."""
    name = f"{MAIN}.{event.name}"
    decisions = list(view.decisions(name))
    taken = [(house, d) for house, d in decisions if d is not None]
    if not taken or len(taken) == len(decisions):
        return
    house, value = taken[0]
    direct = [str(i.ref) for i in event.inputs if i.ref.name in view.kind.house_events and i.ref.join is None]
    if not value and direct and event.gate is Gate.ALL_OF:
        return  # that is what a house event in an all_of is for
    switches = _responsible(view, name, house, value=value)
    dead = [local(i.cause) for i in view.alone(house).site.events[name].inputs if local(i.cause) not in direct]
    if value:
        what = f"event '{event.name}' is then always true, and {', '.join(dead)} below it change nothing"
        cure = "the house event out of this any_of: only_with on what needs it"
    else:
        what = f"event '{event.name}' can then never be true, and nothing says that it is left out"
        cure = "only_with: [" + ", ".join(s for s, on in switches if on == "off") + f"] for '{event.name}'"
    shown = " and ".join(f"{s} {on}" for s, on in switches) or "the house events handed down"
    yield RULE.found(
        f"with {shown}, {what}",
        cure,
        event.where,
        witness=switches,
        equipment=view.kind.name,
        name=event.name,
    )


def _responsible(
    view: TypeView, name: str, house: Mapping[str, bool], *, value: bool | None
) -> list[tuple[str, str]]:
    """The switches without which it would not be so."""
    found = []
    for switch, on in house.items():
        other = view.alone({**house, switch: not on})
        if other.site.events[name].fixed is not None or other.fixed.get(name) is not value:
            found.append((switch, "on" if on else "off"))
    return found


RULE = Rule("L406", "dead-branch", "A branch that a house event makes dead", Severity.WARNING, _run)
