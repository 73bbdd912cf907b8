"""Shortcuts for validating YAML: most values are texts, and a text is judged without jsonschema's machinery.

A shortcut only ever accepts. What it does not accept goes through jsonschema,
which then says what is wrong.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any

__all__ = ["QUICK", "accepts_text", "keywords"]

#: Where a schema made ready holds its shortcut; no keyword of JSON Schema.
QUICK = "faultkit:accepts_text"

Test = Callable[[str], bool]
# Keywords that judge a text and are not followed here: such a schema has no shortcut.
_OTHERS = frozenset({"$ref", "anyOf", "oneOf", "not", "maxLength", "format"})


def accepts_text(schema: Any) -> Test | None:
    """A test that is true for just the texts that are valid; None when there is no quick one."""
    if isinstance(schema, bool):
        return lambda _: schema
    if _OTHERS & schema.keys():
        return None
    kinds = schema.get("type", "string")
    if kinds != "string" and "string" not in kinds:
        return lambda _: False
    tests = [t for name, make in _TESTS.items() if name in schema for t in [make(schema)]]
    if any(t is None for t in tests):
        return None
    good = [t for t in tests if t is not None]
    if len(good) == 1:
        return good[0]
    return lambda text: all(t(text) for t in good)


def _enum(schema: Mapping[str, Any]) -> Test:
    words = frozenset(v for v in schema["enum"] if isinstance(v, str))
    return lambda text: text in words


def _const(schema: Mapping[str, Any]) -> Test:
    word = schema["const"]
    return lambda text: text == word


def _pattern(schema: Mapping[str, Any]) -> Test:
    search = re.compile(schema["pattern"]).search
    return lambda text: search(text) is not None


def _length(schema: Mapping[str, Any]) -> Test:
    least = int(schema["minLength"])
    return lambda text: len(text) >= least


def _all(schema: Mapping[str, Any]) -> Test | None:
    tests = [accepts_text(s) for s in schema["allOf"]]
    good = [t for t in tests if t is not None]
    return (lambda text: all(t(text) for t in good)) if len(good) == len(tests) else None


def _if(schema: Mapping[str, Any]) -> Test | None:
    test, then, other = (accepts_text(schema.get(k, True)) for k in ("if", "then", "else"))
    if test is None or then is None or other is None:
        return None
    return lambda text: then(text) if test(text) else other(text)


_TESTS: Mapping[str, Callable[[Mapping[str, Any]], Test | None]] = {
    "enum": _enum,
    "const": _const,
    "pattern": _pattern,
    "minLength": _length,
    "allOf": _all,
    "if": _if,
}


def _passes(value: Any, schema: Any) -> bool:
    if not isinstance(value, str):
        return False
    test = schema.get(QUICK)
    return test is not None and test(value)


def _properties(validator: Any, members: Any, instance: Any, _: Any) -> Iterator[Any]:
    if isinstance(instance, dict):
        for name, value in instance.items():
            if name in members and not _passes(value, members[name]):
                yield from validator.descend(value, members[name], path=name, schema_path=name)


def _pattern_properties(validator: Any, members: Any, instance: Any, _: Any) -> Iterator[Any]:
    for pattern, schema in members.items() if isinstance(instance, dict) else ():
        search = re.compile(pattern).search
        for name, value in instance.items():
            if search(name) and not _passes(value, schema):
                yield from validator.descend(value, schema, path=name, schema_path=pattern)


def _items(validator: Any, schema: Any, instance: Any, _: Any) -> Iterator[Any]:
    if isinstance(instance, list):
        for index, value in enumerate(instance):
            if not _passes(value, schema):
                yield from validator.descend(value, schema, path=index)


def keywords(standard: Mapping[str, Any]) -> dict[str, Any]:
    """Keyword functions for jsonschema that go down only where a shortcut does not accept.

    ``standard`` holds those of the draft. Schemas with ``prefixItems`` are not meant for these.
    """

    def if_(validator: Any, test: Any, instance: Any, schema: Any) -> Iterator[Any]:
        if list(test) != ["type"]:
            yield from standard["if"](validator, test, instance, schema)
            return
        branch = "then" if validator.is_type(instance, test["type"]) else "else"
        if branch in schema:
            yield from validator.descend(instance, schema[branch], schema_path=branch)

    return {
        "properties": _properties,
        "patternProperties": _pattern_properties,
        "items": _items,
        "if": if_,
    }
