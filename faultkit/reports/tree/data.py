"""A book as plain JSON data; described by ``schemas/tree.v1.json``."""

from __future__ import annotations

from typing import Any

from faultkit.model.types import Basis
from faultkit.reports.tree.book import Book, Cause, Item, Kind, Reader, Task
from faultkit.reports.tree.cross import Cross, cross
from faultkit.reports.tree.words import kept, place_of

__all__ = ["tree_data"]


def tree_data(book: Book) -> dict[str, Any]:
    """Everything a page shows, by name, with numbers as numbers."""
    x = cross(book)
    return {
        "schema": 1, "kind": "tree", "about": book.kind.value, "name": book.name, "title": book.title,
        "tops": list(book.tops()),
        "events": {n: _event(item, x) for n, item in book.events.items()},
        "readings": {n: _reading(r, x) for n, r in book.readings.items()},
        "checks": {n: _task(t, {"gives": list(t.gives)}) for n, t in book.checks.items()},
        "remedies": {
            n: _task(t, {
                "ends": list(t.ends), "prove": dict(t.prove), "may_leave": _causes(t.may_leave),
                "disturbs": list(t.disturbs),
            })
            for n, t in book.remedies.items()
        },
    }


def _causes(causes: tuple[Cause, ...]) -> list[dict[str, Any]]:
    return [{"event": c.event, "strength": c.strength} for c in causes]


def _based(basis: Basis | None, place: str) -> dict[str, Any]:
    return {"source": kept(basis), "place": place}


def _event(item: Item, x: Cross) -> dict[str, Any]:
    out: dict[str, Any] = {
        "title": item.title, "plain": item.plain, "kind": item.kind.value, "causes": _causes(item.causes),
        "broken_by": _causes(item.damage), "only_with": list(item.only_with),
        "readings": list(dict.fromkeys(s.ruler.name for s in x.sights.get(item.name, ()))),
        "remedies": list(x.remedies.get(item.name, ())),
    }
    if item.fixed is not None:
        out["fixed"] = item.fixed
    if item.kind is Kind.OUTSIDE:
        out["types"] = [t for t, _ in item.homes]
    e = item.event
    if e is not None:
        out |= _based(e.basis, place_of(e.where))
        out |= {"stays": e.stays, "intermittent": e.intermittent}
        if e.prior is not None:
            out["prior"] = {"otherwise": e.prior.otherwise, "seasons": dict(e.prior.seasons)}
        if item.kind is Kind.ANY_OF:
            out |= {"other": e.other, "complete": e.complete}
        if item.kind is Kind.AT_LEAST:
            out["k"] = e.k
    return out


def _reading(r: Reader, x: Cross) -> dict[str, Any]:
    out: dict[str, Any] = {
        "title": r.title, "checks": list(x.checks.get(r.name, ())),
        "tells": [
            {
                "name": ruler.name, "state": ruler.state, "bands": list(ruler.bands),
                "cuts": [{"at": c.text, "source": kept(c.basis)} for c in ruler.cuts],
                "rows": [{"event": row.event, "chances": list(row.chances), "source": kept(row.basis)}
                         for row in ruler.rows],
            }
            for ruler in r.rulers
        ],
    }
    if r.reading is not None:
        out |= {"plain": r.reading.plain, "kind": r.reading.kind.value, "unit": r.reading.unit}
        out |= _based(r.reading.basis, place_of(r.reading.where))
        if r.reading.accuracy is not None:
            out["accuracy"] = r.reading.accuracy.text
        if r.reading.calculation is not None:
            out["calculate"] = {"use": r.reading.calculation.calculator, **r.inputs}
    return out


def _task(t: Task, more: dict[str, Any]) -> dict[str, Any]:
    s = t.source
    return {
        "title": t.title, "minutes": s.minutes, "power": s.power.value, "at": t.place, "who": s.who, "crew": s.crew,
        "setups": list(s.setups), "tools": list(s.tools), "hazards": list(s.hazards), "steps": list(s.steps),
        **more, **_based(s.basis, place_of(s.where)),
    }
