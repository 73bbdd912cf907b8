"""The JSON Schemas of the YAML files, loaded once and made ready for validation."""

from __future__ import annotations

import json
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from faultkit.reading.quick import QUICK, accepts_text, keywords
from faultkit.reading.resources import builtin_schemas

if TYPE_CHECKING:
    from jsonschema import Draft202012Validator

__all__ = ["KINDS", "schema", "validator"]

#: Kinds of files by their head key.
KINDS = ("equipment", "section", "common", "site", "call", "cases", "coverage")


@lru_cache(maxsize=16)
def _text(kind: str) -> str:
    return (builtin_schemas() / f"{kind}.v1.json").read_text(encoding="utf-8")


def schema(kind: str) -> dict[str, Any]:
    """The schema of a kind of file (or of an ``entry``) as it lies in ``schemas/``."""
    loaded: dict[str, Any] = json.loads(_text(kind))
    return loaded


@lru_cache(maxsize=16)
def validator(kind: str) -> Draft202012Validator:
    """The validator of a kind; its references are written out, since looking each one up is what costs."""
    from jsonschema import Draft202012Validator, validators

    whole = schema(kind)
    defs = whole.pop("$defs")
    # No $id and $schema in it: nothing is left that would have to be resolved.
    written = _written_out({k: v for k, v in whole.items() if k not in {"$id", "$schema"}}, defs, {})
    extend: Any = validators.extend  # typed in part only
    made = extend(Draft202012Validator, validators=keywords(Draft202012Validator.VALIDATORS))
    found: Draft202012Validator = made(written)
    return found


def _written_out(part: Any, defs: dict[str, Any], done: dict[str, Any]) -> Any:
    """``part`` with each ``$ref`` replaced by what it names, and keys beside it laid over that.

    ``done`` keeps what was written out, so that the same definition stays one object.
    No definition may lead back to itself.
    """
    if isinstance(part, list):
        return [_written_out(p, defs, done) for p in part]
    if not isinstance(part, dict):
        return part
    name = part.get("$ref")
    if isinstance(name, str):
        key = name.removeprefix("#/$defs/")
        if key not in done:
            done[key] = _written_out(defs[key], defs, done)
        beside = {k: v for k, v in part.items() if k != "$ref"}
        return _ready({**done[key], **beside}) if beside else done[key]
    return _ready({_exact(k): _written_out(v, defs, done) for k, v in part.items()} | _pattern(part))


def _ready(part: dict[str, Any]) -> dict[str, Any]:
    # A mapping of schemas (properties, $defs) has no type of its own and gets no shortcut.
    test = accepts_text(part) if isinstance(part.get("type", part.get("enum")), (str, list)) else None
    return part if test is None else {**part, QUICK: test}


def _pattern(part: dict[str, Any]) -> dict[str, str]:
    found = part.get("pattern")
    return {"pattern": _exact(found)} if isinstance(found, str) else {}


def _exact(text: str) -> str:
    # In JSON Schema's patterns $ is the very end; in Python's it lets one line break through.
    return text[:-1] + r"\Z" if text.startswith("^") and text.endswith("$") else text
