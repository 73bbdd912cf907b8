"""L407: a top event that no single fault can bring about."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.logic import Logic
from faultkit.consistency.standalone import MAIN
from faultkit.consistency.subject import Subject, TypeView
from faultkit.faulttree.bdd import TRUE
from faultkit.model.types import Gate
from faultkit.network.ir import NodeKind

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        logic = view.logic
        for name in _tops(subject, view):
            f = logic.of(f"{MAIN}.{name}")
            if f > TRUE and not _by_one(logic, f):
                faults = [name for name, value in logic.witness(f) if value == "true"]
                yield RULE.found(
                    f"no single fault brings about '{name}': at least {len(faults)} are needed together",
                    "a gate with a cause of its own below it; or say why two faults are meant",
                    view.kind.events[name].where,
                    witness=[(name, "true") for name in faults],
                    equipment=view.kind.name,
                    name=name,
                )


def _tops(subject: Subject, view: TypeView) -> Iterator[str]:
    """Gates that nothing stands on, in the type or in one joined to it."""
    below = {
        link.ref.name
        for e in view.kind.events.values()
        for link in (*e.inputs, *e.broken_by)
        if link.ref.join is None
    }
    below |= subject.used_elsewhere[view.kind.name]["events"]
    for event in view.kind.events.values():
        if event.gate is not Gate.BASIC and event.name not in below:
            yield event.name


def _by_one(logic: Logic, f: int) -> bool:
    """Whether one root besides the weak links makes it true."""
    roots = [r for r in logic.support(f) if logic.net.nodes[r].kind is not NodeKind.INHIBITOR]
    return any(logic.holds(f, logic.single([r])) for r in roots)


RULE = Rule("L407", "no-single-fault", "A top event that no single fault causes", Severity.WARNING, _run)
