"""What a schema error means for the author: what is wrong, and what to write instead."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from faultkit.problems import did_you_mean

__all__ = ["is_close", "missing_key", "named", "no_name", "sort_of", "unknown_key", "wrong_value"]

_SHOWN = 60
_FEW = 12
_SORTS = MappingProxyType(
    {
        "object": "a mapping",
        "array": "a list",
        "string": "a text",
        "number": "a number",
        "integer": "a whole number",
        "boolean": "a truth value",
        "null": "nothing",
    }
)
_SHAPES = MappingProxyType(
    {
        "object": "'name: value', one in each line, indented",
        "array": "[one, two], or lines that start with '- '",
    }
)


def named(path: Sequence[str | int]) -> str:
    """How a message names the value at a path: ``'minutes'``, ``item 2 of 'tools'``, ``the file``."""
    if not path:
        return "the file"
    last = path[-1]
    if isinstance(last, str):
        return f"'{_cut(last)}'"
    return f"item {last + 1} of {named(path[:-1])}"


def sort_of(value: Any) -> str:
    """What a value is, in plain words."""
    if isinstance(value, bool):
        return "a truth value"
    if value is None:
        return "nothing"
    if isinstance(value, (int, float)):
        return "a number"
    if isinstance(value, str):
        return "a text"
    return "a mapping" if isinstance(value, dict) else "a list"


def _cut(text: str) -> str:
    flat = " ".join(text.split())
    return flat[:_SHOWN] + "…" if len(flat) > _SHOWN else flat


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return f"{value:.15g}" if isinstance(value, float) else str(value)
    return f"'{_cut(value)}'" if isinstance(value, str) else sort_of(value)


def unknown_key(key: str, schema: Mapping[str, Any]) -> tuple[str, str]:
    """A key that the mapping does not have."""
    return f"'{_cut(key)}' is not a key of {_title(schema)}", did_you_mean(key, schema.get("properties", {}))


def no_name(key: str, schema: Mapping[str, Any]) -> tuple[str, str]:
    """A key that is not written as the names of this mapping must be."""
    return f"'{_cut(key)}' cannot stand as a name in {_title(schema)}", str(schema.get("patternErrorMessage", ""))


def missing_key(key: str, path: Sequence[str | int], schema: Mapping[str, Any]) -> tuple[str, str]:
    """A key that the mapping must have."""
    about = schema.get("properties", {}).get(key, {}).get("description", "")
    return f"{named(path)} has no '{key}'", f"'{key}: …'" + (f" ({about.rstrip('.')})" if about else "")


def _title(schema: Mapping[str, Any]) -> str:
    return str(schema.get("title", "this mapping"))


def wrong_value(rule: str, path: Sequence[str | int], value: Any, schema: Mapping[str, Any]) -> tuple[str, str]:
    """A value that breaks the schema keyword ``rule``."""
    say = _RULES.get(rule)
    if say is not None:
        return say(path, value, schema)
    return f"{named(path)} is {_shown(value)}", str(schema.get("errorMessage", "")) or _title(schema)


def _wrong_type(path: Sequence[str | int], value: Any, schema: Mapping[str, Any]) -> tuple[str, str]:
    kinds = [schema["type"]] if isinstance(schema["type"], str) else list(schema["type"])
    wanted = " or ".join(_SORTS[k] for k in kinds)
    help_ = str(schema.get("errorMessage", ""))
    if value is None:
        return f"{named(path)} has no value, {wanted} is wanted here", help_ or _SHAPES.get(kinds[0], wanted)
    if not help_ and "string" in kinds and isinstance(value, (bool, int, float)):
        help_ = f'in quotes if it is meant as a text: "{_shown(value)}"'
    return f"{named(path)} is {sort_of(value)}, {wanted} is wanted here", help_ or _SHAPES.get(kinds[0], wanted)


def _not_allowed(path: Sequence[str | int], value: Any, schema: Mapping[str, Any]) -> tuple[str, str]:
    allowed = [str(v) for v in schema.get("enum", [])] or [str(schema.get("const"))]
    help_ = str(schema.get("errorMessage", ""))
    what = f"{named(path)} is {_shown(value)}"
    if allowed == ["yes", "no"]:
        return what, "write yes or no"
    if "const" in schema:
        return what, help_ or allowed[0]
    hint = did_you_mean(str(value), allowed)
    if hint.startswith("did") and 1 < len(allowed) <= _FEW:
        hint += " One of " + ", ".join(allowed)
    return what, "; ".join(filter(None, (hint, help_)))


def _wrong_count(path: Sequence[str | int], value: Any, schema: Mapping[str, Any]) -> tuple[str, str]:
    help_ = str(schema.get("errorMessage", ""))
    if not value:
        return f"{named(path)} is empty", help_ or "at least one"
    return f"{named(path)} has {len(value)} member" + ("" if len(value) == 1 else "s"), help_


def _alone(path: Sequence[str | int], value: Any, schema: Mapping[str, Any]) -> tuple[str, str]:
    pairs = [
        (k, n) for k, needed in schema["dependentRequired"].items() if k in value for n in needed if n not in value
    ]
    key, needed = pairs[0]
    return f"{named(path)} has '{key}' but no '{needed}'", f"'{needed}: …' beside it"


_RULES: Mapping[str, Callable[[Sequence[str | int], Any, Mapping[str, Any]], tuple[str, str]]] = MappingProxyType(
    {
        "type": _wrong_type,
        "enum": _not_allowed,
        "const": _not_allowed,
        "minLength": _wrong_count,
        "minItems": _wrong_count,
        "maxItems": _wrong_count,
        "minProperties": _wrong_count,
        "dependentRequired": _alone,
    }
)


def is_close(word: str, known: Sequence[str]) -> bool:
    """Whether one of ``known`` may be a misspelling of ``word``."""
    return bool(difflib.get_close_matches(word, known, n=1, cutoff=0.6))
