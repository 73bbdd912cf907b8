"""E601: one condition under two names, each counted as a sign of its own."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject, TypeView
from faultkit.model.types import Reading

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        seen: dict[object, Reading] = {}
        for reading in view.telling():
            for key, why in _keys(reading):
                first = seen.setdefault(key, reading)
                if first is not reading:
                    yield _finding(view, first, reading, why)
                    break


def _keys(reading: Reading) -> Iterator[tuple[object, str]]:
    """What makes two readings one: the same calculation, or the same words, unit and states."""
    c = reading.calculation
    if c is not None:
        parts = [(a, str(r)) for a, r in (*c.readings.items(), *c.settings.items())]
        parts += [*((a, q.text) for a, q in c.quantities.items()), *c.words.items()]
        yield (c.calculator, tuple(sorted(parts)), reading.states), "the same calculation of the same readings"
    title = " ".join(reading.title.lower().split())
    yield (title, reading.unit, reading.kind, reading.states), "the same title, unit and states"


def _events(reading: Reading) -> list[str]:
    return list(dict.fromkeys(str(r.event) for o in reading.observables for r in o.rows if r.event))


def _finding(view: TypeView, first: Reading, second: Reading, why: str) -> Finding:
    one, two = _events(first), _events(second)
    return RULE.found(
        f"'{second.name}' is '{first.name}' under another name ({why}): one look counts twice, "
        f"for {', '.join(one)} and for {', '.join(two)}",
        "one reading with the rows of both, the first that is true deciding",
        second.where,
        witness=[("first declared", str(first.where))],
        equipment=view.kind.name,
        name=second.name,
    )


RULE = Rule("E601", "same-condition", "One condition counted as two signs", Severity.WARNING, _run)
