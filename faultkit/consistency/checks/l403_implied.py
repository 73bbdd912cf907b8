"""L403: an input that another input already implies, or two events that mean the same."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.logic import Logic
from faultkit.consistency.standalone import MAIN, local
from faultkit.consistency.subject import Subject, TypeView
from faultkit.faulttree.bdd import TRUE
from faultkit.model.types import Event, Gate
from faultkit.network.site import SiteLink

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        for event in view.kind.events.values():
            if event.gate is not Gate.BASIC:
                yield from _inputs(view, event)
        yield from _twins(view)


def _inputs(view: TypeView, event: Event) -> Iterator[Finding]:
    name = f"{MAIN}.{event.name}"
    houses = [house for house, decided in view.decisions(name) if decided is None]
    count = len(view.alone(houses[0]).site.events[name].inputs) if houses else 0
    for n in range(count if count > 1 else 0):
        logics = (view.logic_of(house) for house in houses)
        if all(_adds_nothing(logic, event, logic.alone.site.events[name].inputs, n) for logic in logics):
            yield _finding(view.logic_of(houses[0]), view, event, n)


def _finding(logic: Logic, view: TypeView, event: Event, n: int) -> Finding:
    inputs = logic.alone.site.events[f"{MAIN}.{event.name}"].inputs
    link = inputs[n]
    f = _acting(logic, event, link)
    alone = [i.cause for k, i in enumerate(inputs) if k != n and _covers(logic, event, i, f)]
    by = f"'{local(alone[0])}'" if alone else "the other inputs together"
    how = "never without" if event.gate is not Gate.ALL_OF else "always true with"
    shown = [(local(x), "true") for x in alone] if event.gate is Gate.ALL_OF else logic.witness(f)
    where = next((i.ref.where for i in event.inputs if str(i.ref).endswith(local(link.cause))), None)
    return RULE.found(
        f"input '{local(link.cause)}' adds nothing to '{event.name}': it is {how} {by}",
        f"'{event.name}' without it, or an input that means something else",
        where or event.where,
        witness=shown + [(local(c), "true with it") for c in alone[:1] if event.gate is not Gate.ALL_OF],
        equipment=view.kind.name,
        name=event.name,
        data={"input": n},
    )


def _covers(logic: Logic, event: Event, other: SiteLink, f: int) -> bool:
    g = _acting(logic, event, other)
    return logic.implies(g, f) if event.gate is Gate.ALL_OF else logic.implies(f, g)


def _acting(logic: Logic, event: Event, link: SiteLink) -> int:
    """The function of an input as it enters its gate: weak links with their hidden inhibitor."""
    gate = f"{MAIN}.{event.name}"
    names = [f"acts:{link.cause}>{gate}", f"acting:{link.cause}", link.cause]
    if link.strength >= 1.0:
        names = names[1:]
    elif logic.alone.fixed.get(link.cause):
        names = [f"link:{link.cause}>{gate}"]
    at = next((logic.net.index[n] for n in names if n in logic.net.index), None)
    return logic.of(link.cause) if at is None else logic.functions[at]


def _adds_nothing(logic: Logic, event: Event, inputs: tuple[SiteLink, ...], n: int) -> bool:
    parts = [_acting(logic, event, i) for i in inputs]
    if logic.alone.fixed.get(inputs[n].cause) is False and event.gate is not Gate.ALL_OF:
        return True  # left out in this configuration
    rest = parts[:n] + parts[n + 1 :]
    if event.gate is Gate.ANY_OF:
        return logic.implies(parts[n], logic.any(rest))
    if event.gate is Gate.ALL_OF:
        return logic.implies(logic.all(rest), parts[n])
    bdd = logic.bdd
    return len(rest) >= event.k and bdd.at_least(event.k, parts) == bdd.at_least(event.k, rest)


def _twins(view: TypeView) -> Iterator[Finding]:
    """Gates with one function in every configuration."""
    logic = view.logic
    first: dict[int, Event] = {}
    for event in view.kind.events.values():
        if event.gate is Gate.BASIC or len(event.inputs) < 2:
            continue
        f = logic.of(f"{MAIN}.{event.name}")
        if f <= TRUE:
            continue
        other = first.setdefault(f, event)
        if other is event or other.only_with != event.only_with:
            continue
        if all(
            (one := view.logic_of(house)).of(f"{MAIN}.{event.name}") == one.of(f"{MAIN}.{other.name}")
            for house in view.configurations()
        ):
            yield RULE.found(
                f"events '{other.name}' and '{event.name}' mean the same: each is true exactly where the other is",
                "one of them, used in both places",
                event.where,
                witness=logic.witness(f),
                equipment=view.kind.name,
                name=event.name,
            )


RULE = Rule("L403", "implied", "What another already implies", Severity.WARNING, _run)
