"""Parts of JSON Schemas made from names and their titles."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

__all__ = ["Part", "any_text", "choices", "closed_keys", "when", "with_unit"]

Part = dict[str, Any]


def choices(names: Mapping[str, str], what: str) -> Part:
    """One of ``names`` (name → title, shown on hover) and nothing else."""
    told = {n: (t or n.replace("_", " ")) for n, t in sorted(names.items())}
    # Where there is none yet, nothing fits; an empty anyOf would be no schema.
    if not told:
        return {"title": what, "type": "string", "enum": [], "errorMessage": f"{what}: the catalogue has none"}
    return {"title": what, "type": "string", "anyOf": [{"const": n, "description": t} for n, t in told.items()]}


def any_text(known: Part, otherwise: Part) -> Part:
    """What ``known`` completes, and whatever else ``otherwise`` accepts: for names a file may declare itself."""
    return {"title": known["title"], "anyOf": [otherwise, known]}


def closed_keys(members: Mapping[str, Part]) -> Part:
    """A mapping with these keys only."""
    return {"properties": dict(members), "propertyNames": {"enum": sorted(members)}}


def when(key: str, value: str, then: Part) -> Part:
    """``then`` holds where ``key`` is ``value``."""
    return {"if": {"properties": {key: {"const": value}}, "required": [key]}, "then": then}


def with_unit(names: Mapping[str, str], units: Iterable[tuple[str, Mapping[str, str]]], what: str) -> Part:
    """``unit.name`` with a known name behind any unit; completed for ``units`` (a unit → its own names)."""
    one = "|".join(re.escape(n).replace("\\_", "_") for n in sorted(names))
    pattern: Part = {"type": "string", "pattern": f"^[a-z][a-z0-9_]*\\.({one})$"}
    told = {f"{unit}.{name}": title for unit, own in units for name, title in own.items()}
    return any_text(choices(told, what), pattern) if told else {"title": what, **pattern}
