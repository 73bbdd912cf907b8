"""From YAML text to nodes that know where they stand.

Only plain data is let through: one document, mappings with names as keys, no
anchors, aliases, merge keys or tags. Everything else is a problem with its place.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import yaml

from faultkit.problems import Problem, Where
from faultkit.reading.nodes import Node
from faultkit.reading.resolve import resolve
from faultkit.reading.syntax import explain
from faultkit.reading.text import SIZE_LIMIT, read_bytes, readable_text, shown_path, split_lines

__all__ = ["DEPTH_LIMIT", "SIZE_LIMIT", "parse_file", "parse_text", "shown_path"]

#: Levels of mappings and lists in each other.
DEPTH_LIMIT = 40
#: Values in one file: keeps a hostile file from eating the memory.
_VALUES_LIMIT = 300_000
#: Problems of one file after which reading it further helps nobody.
_PROBLEMS_LIMIT = 50
_SHOWN = 60
_NO_KEYS: Mapping[str, Where] = MappingProxyType({})  # one for all values without keys
_SKIP = "\0"  # no key is let through that holds it: marks a value that is read and thrown away

# The C loader is some ten times faster, but PyYAML can be built without it.
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class _StopError(Exception):
    """Nothing behind this point is worth reading."""


@dataclass(slots=True)
class _Frame:
    """An open mapping or list. ``key`` is the key whose value is awaited."""

    node: Node
    keys: dict[str, Where] | None = None
    key: str | None = None
    is_key: bool = False


class _Builder:
    """Turns parser events into one node; thrown away afterwards."""

    def __init__(self, file: str, lines: Sequence[str], problems: list[Problem]) -> None:
        self.file = file
        self.lines = lines
        self.problems = problems
        self.root: Node | None = None
        self.stack: list[_Frame] = []
        self.values = 0
        self.documents = 0

    def where(self, mark: Any) -> Where:
        line = mark.line
        return Where(self.file, line + 1, mark.column + 1, self.lines[line] if line < len(self.lines) else "")

    def bad(self, where: Where, what: str, expected: str) -> None:
        self.problems.append(Problem(what, expected, where))
        if len(self.problems) >= _PROBLEMS_LIMIT:
            raise _StopError

    # -- events ---------------------------------------------------------------

    def feed(self, event: Any) -> None:
        kind = type(event)
        if kind is yaml.ScalarEvent:
            self.scalar(event)
        elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
            self.open(event, mapping=kind is yaml.MappingStartEvent)
        elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
            self.close()
        elif kind is yaml.AliasEvent:
            self.alias(event)
        elif kind is yaml.DocumentStartEvent:
            self.document(event)

    def document(self, event: Any) -> None:
        self.documents += 1
        where = self.where(event.start_mark)
        if self.documents > 1:
            self.bad(
                where,
                "a second document starts here",
                "one document in each file: without this '---', or a file of its own",
            )
            raise _StopError
        if event.tags:
            self.bad(where, "a %TAG line gives tags a meaning, and no tag is read here", "the file without it")

    def alias(self, event: Any) -> None:
        where = self.where(event.start_mark)
        self.bad(
            where,
            f"'*{_cut(event.anchor)}' repeats another place of the file (an alias)",
            "the value written out; a text that starts with * in quotes",
        )
        if self.wants_key():
            self.stack[-1].key = _SKIP
        else:
            self.place(Node(where, None, _NO_KEYS))

    def marked(self, event: Any, where: Where) -> None:
        """An anchor or tag in front of a value."""
        if event.anchor is not None:
            self.bad(
                where,
                f"'&{_cut(event.anchor)}' names this value for use elsewhere (an anchor)",
                "the value alone; a text that starts with & in quotes",
            )
        if event.tag is not None:
            self.bad(
                where,
                f"the tag '{_tag(event.tag)}' stands before this value",
                "the value alone; a text that starts with ! in quotes",
            )

    def scalar(self, event: Any) -> None:
        where = self.where(event.start_mark)
        if event.anchor is not None or event.tag is not None:
            self.marked(event, where)
        plain = not event.style
        value = resolve(event.value) if plain else event.value
        if self.wants_key():
            self.name(value, where, event.value, plain=plain)
        else:
            self.place(Node(where, value, _NO_KEYS))

    def name(self, value: Any, where: Where, text: str, *, plain: bool) -> None:
        """A key of the innermost mapping."""
        frame = self.stack[-1]
        frame.key = _SKIP
        keys = frame.keys
        if plain and text == "<<":
            self.bad(where, "'<<' takes over the keys of another mapping (a merge key)", "these keys written out")
        elif not isinstance(value, str):
            shown = f"'{_cut(text)}' is {_sort(value)}" if text else "there is no text before this ':'"
            self.bad(
                where,
                f"{shown}, and a key must be a name",
                f"a name, or '\"{_cut(text)}\":' in quotes" if text else "name: value",
            )
        elif not value.isprintable():
            hidden = next(c for c in value if not c.isprintable())
            shown = _cut(value.replace(hidden, "\N{REPLACEMENT CHARACTER}"))
            what = f"the key '{shown}' holds a character that cannot be seen: U+{ord(hidden):04X}"
            self.bad(where, what, "the key without it")
        elif keys is not None and value in keys:
            first = keys[value]
            self.bad(
                where,
                f"the key '{_cut(value)}' stands twice in one mapping, "
                f"first in line {first.line}, column {first.column}",
                "each key once: take one of the two away or rename it",
            )
        elif keys is not None:
            keys[value] = where
            frame.key = value

    def open(self, event: Any, *, mapping: bool) -> None:
        where = self.where(event.start_mark)
        if event.anchor is not None or event.tag is not None:
            self.marked(event, where)
        if len(self.stack) >= DEPTH_LIMIT:
            self.bad(where, f"more than {DEPTH_LIMIT} levels stand in each other here", "a flatter file")
            raise _StopError
        is_key = self.wants_key()
        if is_key:
            self.bad(
                where,
                f"a {'mapping' if mapping else 'list'} stands here as a key",
                "a name as key; a text with brackets in quotes",
            )
        keys: dict[str, Where] | None = {} if mapping else None
        node = Node(where, {}, keys) if keys is not None else Node(where, [], _NO_KEYS)
        if not is_key:
            self.place(node, done=False)
        self.stack.append(_Frame(node, keys, is_key=is_key))

    def close(self) -> None:
        frame = self.stack.pop()
        if frame.is_key:
            self.stack[-1].key = _SKIP
        elif self.stack:
            self.stack[-1].key = None

    # -- where a value goes -----------------------------------------------------

    def wants_key(self) -> bool:
        return bool(self.stack) and self.stack[-1].keys is not None and self.stack[-1].key is None

    def place(self, node: Node, *, done: bool = True) -> None:
        """Put a value where it belongs; ``done`` is False for one still open."""
        self.values += 1
        if self.values > _VALUES_LIMIT:
            self.bad(node.where, f"more than {_VALUES_LIMIT} values in one file", "several smaller files")
            raise _StopError
        if not self.stack:
            self.root = node
            return
        frame = self.stack[-1]
        if frame.keys is None:
            frame.node.value.append(node)
            return
        if frame.key is not None and frame.key != _SKIP:
            frame.node.value[frame.key] = node
        if done:
            frame.key = None


def _sort(value: Any) -> str:
    if value is None:
        return "the empty value"
    return "a truth value" if isinstance(value, bool) else "a number"


def _tag(tag: str) -> str:
    return _cut(re.sub(r"^tag:yaml\.org,2002:", "!!", tag))


def _cut(text: str) -> str:
    return text[:_SHOWN] + "…" if len(text) > _SHOWN else text


def parse_text(text: str | bytes, file: str, problems: list[Problem], *, limit: int = SIZE_LIMIT) -> Node | None:
    """The one YAML document of a text, or None with what is wrong added to ``problems``.

    ``file`` is the name shown in messages, ``limit`` the most bytes (or characters) read.
    """
    found: list[Problem] = []
    good = readable_text(text, file, found, limit)
    node = _build(good, file, found) if good is not None else None
    problems += found
    return None if found else node


def _build(text: str, file: str, problems: list[Problem]) -> Node | None:
    lines = split_lines(text)
    builder = _Builder(file, lines, problems)
    loader = _LOADER(text)
    try:
        while True:
            event = loader.get_event()
            if type(event) is yaml.StreamEndEvent:
                break
            builder.feed(event)
    except _StopError:
        return None
    except yaml.YAMLError as error:
        problems.append(explain(error, file, lines))
        return None
    finally:
        loader.dispose()
    root = builder.root
    if root is None or root.value is None:
        if not problems:
            problems.append(Problem("the file is empty", "a mapping that starts 'schema: 1'", Where(file, 1, 1)))
        return None
    return root


def parse_file(path: str | Any, problems: list[Problem], *, limit: int = SIZE_LIMIT) -> Node | None:
    """``parse_text`` of a file; one that cannot be read or is over ``limit`` bytes is a problem too."""
    data = read_bytes(path, problems, limit=limit)
    return None if data is None else parse_text(data, shown_path(path), problems, limit=limit)
