"""L402: a reading or an event that is always the same."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.standalone import MAIN
from faultkit.consistency.subject import Subject, TypeView
from faultkit.faulttree.bdd import FALSE

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        yield from _readings(view)
        yield from _events(view)


def _readings(view: TypeView) -> Iterator[Finding]:
    for reading in view.telling():
        for o in reading.observables:
            seen: set[str] = set()
            for house in view.configurations() if o.rows else ():
                logic = view.logic_of(house)
                sign = logic.net.signs.get(f"{MAIN}.{o.name}")
                if sign is not None:
                    seen |= {b for n, b in enumerate(o.bands) if logic.allowed(sign, n) != FALSE}
                if len(seen) > 1:
                    break
            if len(seen) == 1:
                yield RULE.found(
                    f"'{o.name}' is always '{next(iter(seen))}', whatever is wrong: it tells nothing",
                    "rows that say when it is otherwise, or no such reading",
                    reading.where,
                    witness=[(o.name, next(iter(seen)))],
                    equipment=view.kind.name,
                    name=o.name,
                )


def _events(view: TypeView) -> Iterator[Finding]:
    for event in view.kind.events.values():
        decisions = [d for _, d in view.decisions(f"{MAIN}.{event.name}")]
        if event.prior is None and decisions and all(d is True for d in decisions):
            house = next(iter(view.configurations()))
            yield RULE.found(
                f"event '{event.name}' is always true where it exists: its configuration alone makes it so",
                "inputs that are faults, or no such event",
                event.where,
                witness=[(h, "on") for h, on in house.items() if on],
                equipment=view.kind.name,
                name=event.name,
            )


RULE = Rule("L402", "always", "What is always the same", Severity.ERROR, _run)
