"""Entries of a call: one schema everywhere, from a YAML list to a log of lines."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import datetime
from math import isfinite
from types import MappingProxyType
from typing import Any

from faultkit.model.entry_kinds import (
    Closed,
    Complaint,
    Conditions,
    Correction,
    Decision,
    Entry,
    Fact,
    Location,
    Note,
    Opened,
    Part,
    Product,
    RefrigerantMoved,
    RemedyDone,
    SetupChange,
)
from faultkit.problems import InputError, Problem, Where, did_you_mean

__all__ = [
    "OUTCOMES", "Closed", "Complaint", "Conditions", "Correction", "Decision", "Entry", "Fact", "Location", "Note",
    "Opened", "Part", "Product", "RefrigerantMoved", "RemedyDone", "SetupChange", "entry_from_data",
]

#: How a call may end.
OUTCOMES = ("repaired", "cause_not_proved", "left_open_by_decision", "no_fault_found", "handed_over")

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.:-]*")
_NAME = re.compile(r"[a-z][a-z0-9_]*")
_TIME = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}")

_KINDS: Mapping[str, type[Entry]] = MappingProxyType(
    {
        c.kind: c
        for c in (
            Complaint, Fact, Conditions, Location, SetupChange, RemedyDone, Decision, Correction, Note, Opened,
            Part, RefrigerantMoved, Product, Closed,
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
        except (TypeError, ValueError, OverflowError) as fault:
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
        "opened": ("site", "time"),
        "part": ("unit", "part"),
        "refrigerant": ("unit", "way", "refrigerant", "mass"),
        "product": ("food", "action"),
        "closed": ("outcome",),
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
        number = float(value)
        if not isfinite(number):
            raise ValueError("a number that can be measured")
        return number
    return _text(value)


def _id(value: Any) -> str:
    text = _text(value)
    if not _ID.fullmatch(text):
        raise ValueError("letters, digits and _ . : -, like f1")
    return text


def _name(value: Any) -> str:
    text = _text(value)
    if not _NAME.fullmatch(text):
        raise ValueError("a name: small letters, digits and _, a letter first")
    return text


def _order(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < 10**9:
        raise TypeError("a whole number from 0: the place among entries of the same time")
    return value


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
        text = ""
    if not _TIME.match(text):  # fromisoformat takes more than the schema: weeks, days alone
        raise ValueError("a date and time as in 2026-07-14T10:05")
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
        "id": _id,
        "corrects": _id,
        "order": _order,
        "count": _count,
        "part": _name,
        "way": _one_of("in", "out"),
        "action": _one_of("moved", "discarded", "kept"),
        "outcome": _one_of(*OUTCOMES),
    }
)
