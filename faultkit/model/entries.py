"""Entries of a call: one schema everywhere, from a YAML list to a log of lines.

An entry is written once and never changed; a correction names the entry it corrects.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields
from datetime import datetime
from types import MappingProxyType
from typing import Any, ClassVar

from faultkit.problems import InputError, Problem, Where, did_you_mean

__all__ = [
    "Complaint", "Conditions", "Correction", "Decision", "Entry", "Fact", "Location", "Note", "RemedyDone",
    "SetupChange", "entry_from_data",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What all entries share. ``time`` is ISO text, ``by`` a role (technician, customer, …)."""

    kind: ClassVar[str] = ""
    id: str = ""
    time: str = ""
    by: str = "technician"
    where: Where | None = field(default=None, compare=False, repr=False)

    def to_dict(self) -> dict[str, Any]:
        """The entry as JSON holds it; what is empty is left out."""
        data: dict[str, Any] = {"kind": self.kind}
        for f in fields(self):
            value = getattr(self, f.name)
            if f.name == "where" or value in ("", None, (), False):
                continue
            data[f.name] = _plain(value)
        return data


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint(Entry):
    """What the customer says is wrong: an event, and the words."""

    kind: ClassVar[str] = "complaint"
    event: str
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact(Entry):
    """One recorded value. ``value`` is a text with unit, a word, or a number with ``unit``."""

    kind: ClassVar[str] = "fact"
    reading: str
    value: str | float
    unit: str = ""
    instrument: str = ""
    state: str = ""

    @property
    def told(self) -> bool:
        """Said by somebody who did not measure: soft, never logic."""
        return self.by not in {"technician", "instrument"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions(Entry):
    """What the call allows: forbidden hazards and power states, missing tools, crew, weather, role."""

    kind: ClassVar[str] = "conditions"
    forbid: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    missing_tools: tuple[str, ...] = ()
    crew: int = 1
    weather: str = ""
    role: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Location(Entry):
    """Where the technician is now."""

    kind: ClassVar[str] = "location"
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupChange(Entry):
    """Set-ups made or taken away at a unit."""

    kind: ClassVar[str] = "setup"
    unit: str
    on: tuple[str, ...] = ()
    off: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RemedyDone(Entry):
    """A remedy was carried out."""

    kind: ClassVar[str] = "remedy"
    unit: str
    remedy: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision(Entry):
    """The customer's word on a remedy: approved, declined or deferred."""

    kind: ClassVar[str] = "decision"
    unit: str
    remedy: str
    answer: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction(Entry):
    """A new value for an earlier fact, or its withdrawal."""

    kind: ClassVar[str] = "correction"
    corrects: str
    value: str | float | None = None
    unit: str = ""
    instrument: str = ""
    state: str = ""
    retract: bool = False
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note(Entry):
    """Free text."""

    kind: ClassVar[str] = "note"
    text: str


_KINDS: Mapping[str, type[Entry]] = MappingProxyType(
    {
        c.kind: c
        for c in (
            Complaint, Fact, Conditions, Location, SetupChange, RemedyDone, Decision, Correction, Note,
        )
    }
)


def entry_from_data(data: Mapping[str, Any], where: Where | None = None) -> Entry:
    """An entry from JSON-like data (a YAML call, a stored record, a dispatch program).

    Raises InputError with every fault of the entry.
    """
    problems: list[Problem] = []
    kind = data.get("kind")
    cls = _KINDS.get(kind) if isinstance(kind, str) else None
    if cls is None:
        hint = did_you_mean(str(kind), _KINDS) if kind is not None else "one of " + ", ".join(_KINDS)
        raise InputError([Problem(f"an entry of kind {kind!r} is not known", f"kind: {hint}", where)])
    known = {f.name: f for f in fields(cls) if f.name != "where"}
    values: dict[str, Any] = {}
    for key, value in data.items():
        if key == "kind":
            continue
        if key not in known:
            problems.append(Problem(f"'{key}' is not a key of a {kind} entry", did_you_mean(key, known), where))
            continue
        try:
            read: Callable[[Any], Any] = _READ.get(key, _text)
            values[key] = read(value)
        except (TypeError, ValueError) as fault:
            problems.append(Problem(f"'{key}' of a {kind} entry is {value!r}", str(fault), where))
    missing = [name for name in _REQUIRED[cls.kind] if name not in data]
    problems += [Problem(f"a {kind} entry has no '{name}'", f"{name}: …", where) for name in missing]
    if cls is Correction and not problems and not values.get("retract") and values.get("value") is None:
        problems.append(Problem("a correction changes nothing", "a new 'value', or 'retract: yes'", where))
    if problems:
        raise InputError(problems)
    return cls(where=where, **values)


_REQUIRED = MappingProxyType(
    {
        "complaint": ("event",),
        "fact": ("reading", "value"),
        "conditions": (),
        "location": ("place",),
        "setup": ("unit",),
        "remedy": ("unit", "remedy"),
        "decision": ("unit", "remedy", "answer"),
        "correction": ("corrects",),
        "note": ("text",),
    }
)


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError("a text")
    return value


def _value(value: Any) -> str | float:
    if isinstance(value, bool):
        raise TypeError("the word yes or no in quotes, a text with a unit ('8 psig'), or a number with 'unit'")
    if isinstance(value, int | float):
        return float(value)
    return _text(value)


def _words(value: Any) -> tuple[str, ...]:
    if not isinstance(value, list | tuple) or not all(isinstance(v, str) for v in value):
        raise TypeError("a list of names")
    return tuple(value)


def _count(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        raise TypeError("a whole number from 1")
    return value


def _flag(value: Any) -> bool:
    if value in {"yes", "no"} and isinstance(value, str):
        return value == "yes"
    if isinstance(value, bool):
        return value
    raise TypeError("yes or no")


def _forbid(value: Any) -> Mapping[str, tuple[str, ...]]:
    if not isinstance(value, Mapping) or not set(value) <= {"hazards", "power"}:
        raise TypeError("a mapping with 'hazards' and 'power', each a list of names")
    return {str(k): _words(v) for k, v in value.items()}


def _time(value: Any) -> str:
    text = _text(value)
    try:
        datetime.fromisoformat(text)
    except ValueError:
        raise ValueError("a date and time as in 2026-07-14T10:05") from None
    return text


def _one_of(*words: str) -> Callable[[Any], str]:
    def read(value: Any) -> str:
        if value not in words:
            raise ValueError("one of " + ", ".join(words))
        return str(value)

    return read


_READ: Mapping[str, Callable[[Any], Any]] = MappingProxyType(
    {
        "value": _value,
        "time": _time,
        "missing_tools": _words,
        "on": _words,
        "off": _words,
        "crew": _count,
        "retract": _flag,
        "forbid": _forbid,
        "answer": _one_of("approved", "declined", "deferred"),
    }
)


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, tuple):
        return list(value)
    if value is True:
        return "yes"
    return value
