"""Small helpers of the expansion: collecting problems, flags, lists of words, titles, sources."""

from __future__ import annotations

import re
from collections.abc import Mapping

from faultkit.model.types import Basis, Deprecated
from faultkit.problems import Problem, Where
from faultkit.reading.nodes import Node

__all__ = [
    "NAME",
    "Mistakes",
    "basis",
    "deprecated",
    "flag",
    "headed",
    "lower_first",
    "one_word",
    "same_twice",
    "texts",
    "title_of",
    "words",
]

#: A name of the YAML format.
NAME = re.compile(r"[a-z][a-z0-9_]*")


class Mistakes:
    """Problems found so far; the same one counts once."""

    def __init__(self) -> None:
        self._found: dict[Problem, None] = {}

    def add(self, where: Where | None, what: str, expected: str = "") -> None:
        """Note one mistake: what is wrong and what to write instead."""
        self._found[Problem(what, expected, where)] = None

    def all(self) -> list[Problem]:
        """Every mistake in the order found."""
        return list(self._found)

    def __len__(self) -> int:
        return len(self._found)


def flag(node: Node | None, mistakes: Mistakes, *, default: bool = False) -> bool:
    """``yes`` or ``no``; ``default`` when it is not there."""
    if node is None or node.value is None:
        return default
    if node.value in ("yes", "no"):
        return bool(node.value == "yes")
    mistakes.add(node.where, f"{_shown(node)} is not a flag", "write yes or no")
    return default


def _shown(node: Node) -> str:
    if node.is_map:
        return "a mapping"
    if node.is_list:
        return "a list"
    if isinstance(node.value, bool):
        return "'true'" if node.value else "'false'"
    return f"'{node.value}'"


def one_word(node: Node, mistakes: Mistakes, kind: str) -> str:
    """The text of a scalar, or '' and a mistake: ``kind`` says what was wanted there."""
    if isinstance(node.value, str) and node.value.strip():
        return node.value.strip()
    mistakes.add(node.where, f"{_shown(node)} is not {kind}", f"write {kind}")
    return ""


def words(node: Node | None, mistakes: Mistakes, kind: str) -> list[Node]:
    """The texts of a list (one text counts as a list of one); what is no text is noted and left out."""
    if node is None or node.value is None:
        return []
    return [n for n in node.list() if one_word(n, mistakes, kind)]


def same_twice(names: list[tuple[str, Where]], mistakes: Mistakes, place: str) -> None:
    """Note each name that stands twice in ``place``."""
    seen: set[str] = set()
    for name, where in names:
        if name in seen:
            mistakes.add(where, f"'{name}' stands twice in {place}", "each once")
        seen.add(name)


def title_of(name: str) -> str:
    """The title that a name gives: ``motor_failed`` → ``Motor failed``."""
    text = name.replace("_", " ")
    return text[:1].upper() + text[1:]


def lower_first(text: str) -> str:
    """The text for the middle of a line; an abbreviation (``AC motor``) stays as it is."""
    if len(text) > 1 and not (text[1].islower() or text[1].isspace()):
        return text
    return text[:1].lower() + text[1:]


def headed(label: str, title: str) -> str:
    """A title behind the label of its part or section: ``Left fan: motor failed``."""
    return f"{label}: {lower_first(title)}" if label else title


def basis(node: Node | None, inherited: str) -> Basis | None:
    """The ``source`` of a node, else the one inherited from its file, else None."""
    own = node.text("source") if node is not None else ""
    if own:
        return Basis(own)
    return Basis(inherited, inherited=True) if inherited else None


def deprecated(node: Node, prefix: str) -> Deprecated | None:
    """The ``deprecated`` of a node; ``prefix`` stands before the names of its scope."""
    found = node.get("deprecated")
    if found is None:
        return None
    return Deprecated(prefix + found.text("use"), found.text("because"), node.at_key("deprecated"))


def texts(node: Node) -> Mapping[str, str]:
    """A mapping of name → text; members that are no text become the title of their name."""
    return {k: str(n.value) if isinstance(n.value, str) and n.value else title_of(k) for k, n in node.items()}


def members(node: Node, key: str) -> list[tuple[str, Node, Where]]:
    """The members of the mapping under ``key`` with the places of their names; none when it is not there."""
    found = node.get(key)
    return [(k, n, found.at_key(k)) for k, n in found.items()] if found is not None else []
