"""L401: a band or an event that can never be."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.logic import Logic
from faultkit.consistency.standalone import MAIN
from faultkit.consistency.subject import Subject, TypeView
from faultkit.faulttree.bdd import FALSE
from faultkit.model.types import Observable

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        yield from _bands(view)
        yield from _events(view)


def _bands(view: TypeView) -> Iterator[Finding]:
    for reading in view.telling():
        for o in reading.observables:
            for n, band in enumerate(o.bands if o.rows else ()):
                if all(_impossible(logic, o, n) for logic in _lazily(view)):
                    yield RULE.found(
                        f"'{o.name}' can never be '{band}': every row that is ever reached says never",
                        "a chance for this band in the row where it comes, or no such band",
                        reading.where,
                        witness=[
                            (str(row.event) if row.event else "otherwise", "never") for row in o.rows
                        ],
                        equipment=view.kind.name,
                        name=o.name,
                        data={"band": band},
                    )


def _lazily(view: TypeView) -> Iterator[Logic]:
    """All switches on first: what is possible there need not be looked for elsewhere."""
    for house in view.configurations():
        yield view.logic_of(house)


def _impossible(logic: Logic, o: Observable, band: int) -> bool:
    sign = logic.net.signs.get(f"{MAIN}.{o.name}")
    return sign is None or logic.allowed(sign, band) == FALSE


def _events(view: TypeView) -> Iterator[Finding]:
    for event in view.kind.events.values():
        decisions = [d for _, d in view.decisions(f"{MAIN}.{event.name}")]
        if event.prior is None and decisions and all(d is False for d in decisions):
            yield RULE.found(
                f"event '{event.name}' can never be true, however the house events are set",
                "an input that can be, or no such event",
                event.where,
                witness=[(str(link.ref), "never true") for link in event.inputs],
                equipment=view.kind.name,
                name=event.name,
            )


RULE = Rule("L401", "never", "What can never be", Severity.ERROR, _run)
