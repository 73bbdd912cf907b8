"""Nodes against the JSON Schema of their kind, every error at its place in the file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from faultkit.problems import Problem, did_you_mean
from faultkit.reading.nodes import Node
from faultkit.reading.schemas import KINDS, validator
from faultkit.reading.wording import is_close, missing_key, no_name, unknown_key, wrong_value

if TYPE_CHECKING:
    from jsonschema import ValidationError

__all__ = ["kind_of_file", "validate"]

_KEY_RULES = ("required", "additionalProperties")


def kind_of_file(node: Node, problems: list[Problem]) -> str | None:
    """The head key of a file (one of ``KINDS``), or None with a problem."""
    heads = ", ".join(f"'{k}:'" for k in KINDS)
    if not node.is_map:
        sort = "a list" if node.is_list else "a single value"
        problems.append(
            Problem(f"the file is {sort}, a mapping is wanted here", f"'schema: 1' and one of {heads}", node.where)
        )
        return None
    found = [k for k in KINDS if k in node.value]
    # Calls and cases name their site, so two of the heads may stand together there.
    for head in ("call", "cases"):
        if head in found:
            return head
    if len(found) == 1:
        return found[0]
    if found:
        both = " and ".join(f"'{k}:'" for k in found)
        problems.append(Problem(f"the file has {both}", "one of them: a file holds one thing", node.at_key(found[1])))
        return None
    for key in node.value:
        if is_close(key, KINDS):
            problems.append(Problem(f"'{key}' is not the head of a file", did_you_mean(key, KINDS), node.at_key(key)))
            return None
    problems.append(Problem("the file does not say what it holds", f"one of {heads} with a name", node.where))
    return None


def validate(node: Node, kind: str, problems: list[Problem]) -> bool:
    """Check a node against the schema of ``kind``; False with every error added to ``problems``."""
    errors = list(validator(kind).iter_errors(node.plain()))
    if errors:
        problems.extend(_problems(node, errors))
    return not errors


def _problems(root: Node, errors: list[ValidationError]) -> list[Problem]:
    """One problem for one mistake."""
    found: dict[Problem, None] = {}
    judged: set[tuple[str | int, ...]] = set()
    # The wrong type of a value says more than whatever else it breaks.
    for error in sorted(errors, key=lambda e: e.validator != "type"):
        path = tuple(error.absolute_path)
        node = _at(root, path)
        rule = str(error.validator)
        if rule in _KEY_RULES and node.is_map:
            made = _missing(node, path, error) if rule == "required" else _extra(node, error)
            found.update(dict.fromkeys(made))
        elif path not in judged:
            judged.add(path)
            what, expected = wrong_value(rule, path, error.instance, _schema(error))
            found[Problem(what, expected, node.where)] = None
    return list(found)


def _schema(error: ValidationError) -> Any:
    return error.schema if isinstance(error.schema, dict) else {}


def _at(root: Node, path: Iterable[str | int]) -> Node:
    node = root
    for step in path:
        node = node.value[step]
    return node


def _extra(node: Node, error: ValidationError) -> list[Problem]:
    schema = _schema(error)
    known, patterns = schema.get("properties", {}), schema.get("patternProperties", {})
    keys = [k for k in node.value if k not in known and not any(re.search(p, k) for p in patterns)]
    say = no_name if patterns else unknown_key
    return [Problem(*say(k, schema), node.at_key(k)) for k in keys]


def _missing(node: Node, path: Sequence[str | int], error: ValidationError) -> list[Problem]:
    schema = _schema(error)
    closed = schema.get("additionalProperties") is False
    strange = [k for k in node.value if closed and k not in schema.get("properties", {})]
    # A misspelt key is reported as unknown; that it is missing too would be the same mistake again.
    keys = [k for k in schema["required"] if k not in node.value and not is_close(k, strange)]
    return [Problem(*missing_key(k, path, schema), node.where) for k in keys]
