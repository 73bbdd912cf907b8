"""L404: a row of a tells block that never decides, because a row above is always true with it."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.logic import Logic
from faultkit.consistency.standalone import MAIN
from faultkit.consistency.subject import Subject, TypeView
from faultkit.faulttree.bdd import FALSE, TRUE
from faultkit.model.types import Observable

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for view in subject.views.values():
        for reading in view.telling():
            for o in reading.observables:
                for n in range(len(o.rows)):
                    if _dead(view, o, n):
                        yield _finding(view, o, n)


def _dead(view: TypeView, o: Observable, n: int) -> bool:
    """Whether a row decides in no configuration, though its event is not ruled out by all of them."""
    looked = False
    for house in view.configurations():
        logic = view.logic_of(house)
        rows = _rows(logic, o)
        if rows is None or rows[n] == FALSE:
            continue
        looked = True
        if logic.bdd.both(rows[n], logic.bdd.negate(logic.any(rows[:n]))) != FALSE:
            return False
    return looked


def _rows(logic: Logic, o: Observable) -> list[int] | None:
    """The functions of a sign's rows, otherwise last; None where the sign does not exist."""
    name = f"{MAIN}.{o.name}"
    sign = logic.alone.site.signs.get(name)
    if sign is None:
        return None
    found = []
    for event in sign.rows:
        shown = logic.net.index.get(f"acting:{event}@{name}")
        found.append(TRUE if event is None else logic.functions[shown] if shown is not None else logic.of(event))
    return found


def _finding(view: TypeView, o: Observable, n: int) -> Finding:
    logic = view.logic
    rows = _rows(logic, o) or []
    row = o.rows[n]
    name = str(row.event) if row.event else "otherwise"
    f = rows[n] if rows else FALSE
    above = [str(r.event) for r, g in zip(o.rows[:n], rows, strict=False) if logic.bdd.both(f, g) != FALSE]
    whole = next((str(r.event) for r, g in zip(o.rows[:n], rows, strict=False) if logic.implies(f, g)), "")
    by = f"'{whole}'" if whole else "the rows " + ", ".join(f"'{a}'" for a in above)
    return RULE.found(
        f"the row '{name}' of '{o.name}' never decides: {by} stands above it and is true whenever it is",
        "the narrower event above the wider one, or no such row",
        row.where,
        witness=[*logic.witness(f), ("row that decides", whole or (above[0] if above else ""))],
        equipment=view.kind.name,
        name=o.name,
        data={"row": n},
    )


RULE = Rule("L404", "shadowed-row", "A row that never decides", Severity.ERROR, _run)
