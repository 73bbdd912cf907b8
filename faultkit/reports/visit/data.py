"""What a report holds: ids and numbers of one call, frozen; texts come from rendering.

Masses are in kg, times of a log in s since its first row, temperatures in K, chances from 0 to 1.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from enum import StrEnum
from typing import Any

from faultkit.diagnosis.result import Closing, Ended, Probability, Reproof, Retake, Verdict

__all__ = [
    "Cause", "Complained", "Done", "Food", "Found", "Line", "Log", "Mass", "Money", "Moved", "Open", "Report", "Taken",
    "Total", "Unknown", "Used",
]


@dataclass(frozen=True, slots=True)
class Complained:
    """A complaint by its entry, and whether the event is there now."""

    entry: str
    event: str
    words: str
    now: Verdict


@dataclass(frozen=True, slots=True)
class Found:
    """An event that was proved to be there. ``now`` is as it is at the end, ``facts`` prove it was there."""

    event: str
    basic: bool
    facts: tuple[str, ...]
    now: Verdict
    chance: Probability


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause that is proved, or likely, and its effect.

    ``how``: ``caused`` (the one brings the other about), ``broke`` (it can have done the damage) or ``may``
    (it can have brought the other about, or the other is not proved itself).
    """

    cause: str
    effect: str
    how: str


@dataclass(frozen=True, slots=True)
class Done:
    """A remedy done: entry, what became of the events, what shows it. ``minutes`` are those of the tree."""

    entry: str
    time: str
    remedy: str
    stage: int
    minutes: float
    ends: tuple[Ended, ...]
    prove: tuple[Reproof, ...]
    proved: bool


@dataclass(frozen=True, slots=True)
class Open:
    """An open item.

    ``kind``: ``declined``, ``deferred``, ``approved`` (a remedy the customer spoke on, not done), ``unproved``
    (a remedy done), ``cause`` (a damage whose cause is in question), ``complaint``, ``unexplained`` (a sign)
    or ``conflict``. ``events`` are what it is about, ``chance`` that the likeliest of them is there now,
    ``proved`` that it is; ``may_break`` and ``may_lead_to`` are events that these can damage and bring
    about, by the tree.
    """

    kind: str
    what: str
    entry: str = ""
    events: tuple[str, ...] = ()
    chance: Probability | None = None
    proved: bool = False
    may_break: tuple[str, ...] = ()
    may_lead_to: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Unknown:
    """A basic event neither proved nor ruled out, with its chance."""

    event: str
    chance: Probability


@dataclass(frozen=True, slots=True)
class Mass:
    """kg, and how far it may be off."""

    kg: float
    accuracy: float


@dataclass(frozen=True, slots=True)
class Moved:
    """Refrigerant in or out."""

    entry: str
    time: str
    unit: str
    way: str
    refrigerant: str
    mass: Mass
    cylinder: str


@dataclass(frozen=True, slots=True)
class Total:
    """All of one refrigerant moved one way at a unit; accuracies added. ``all_stated``: each entry gave one."""

    unit: str
    way: str
    refrigerant: str
    mass: Mass
    all_stated: bool


@dataclass(frozen=True, slots=True)
class Used:
    """A part used."""

    entry: str
    time: str
    unit: str
    part: str
    count: int
    number: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Food:
    """What became of food."""

    entry: str
    time: str
    food: str
    action: str
    unit: str
    amount: str
    temperature: str
    to: str
    by: str


@dataclass(frozen=True, slots=True)
class Log:
    """A temperature read several times: rows (s, K, ± K) with their entries.

    Food has the figures of the calculator ``cold_holding`` (s, K); None elsewhere.
    """

    reading: str
    food: bool
    start: str
    rows: tuple[tuple[float, float, float], ...]
    entries: tuple[str, ...]
    limit: float | None = None
    above: float | None = None
    surely_above: float | None = None
    possibly_above: float | None = None
    highest: float | None = None
    unknown: float | None = None
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading taken, and what became of it."""

    entry: str
    time: str
    by: str
    reading: str
    value: str
    instrument: str
    state: str
    stage: int
    status: str
    why: str


@dataclass(frozen=True, slots=True)
class Line:
    """A line of money: ``kind`` is part, refrigerant or labor. In the book's currency."""

    kind: str
    what: str
    amount: float
    unit: str
    each: float
    sum: float


@dataclass(frozen=True, slots=True)
class Money:
    """What a price book says of what was used; ``missing`` has no price in it and is in no sum."""

    book: str
    currency: str
    lines: tuple[Line, ...]
    total: float
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Report:
    """Everything a report says of one call, as of its latest entry, ``until``.

    ``outcome`` and ``reason`` are those of the closing that counts, '' while there is none.
    ``likely`` are basic events that were or are more likely than not, without proof, with the greater chance.
    ``minutes`` lie between the first and the latest entry that is not the customer's.
    """

    site: str
    call: str
    title: str
    opened: str
    until: str
    catalogue: str
    outcome: str
    reason: str
    minutes: float
    complaints: tuple[Complained, ...]
    found: tuple[Found, ...]
    likely: tuple[Unknown, ...]
    links: tuple[Cause, ...]
    done: tuple[Done, ...]
    open: tuple[Open, ...]
    unknown: tuple[Unknown, ...]
    further_fault: Probability
    moved: tuple[Moved, ...]
    totals: tuple[Total, ...]
    parts: tuple[Used, ...]
    food: tuple[Food, ...]
    logs: tuple[Log, ...]
    taken: tuple[Taken, ...]
    stale: tuple[Retake, ...]
    closing: Closing
    entries: tuple[Mapping[str, Any], ...]
    withdrawn: tuple[str, ...]
    money: Money | None = None

    def to_dict(self) -> dict[str, Any]:
        """JSON-ready data, valid against ``schemas/report.v1.json``."""
        return {"schema": 1, "kind": "report", **_plain(self)}


def _plain(value: Any) -> Any:
    if isinstance(value, StrEnum):
        return value.value
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, Mapping):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(v) for v in value]
    return value
