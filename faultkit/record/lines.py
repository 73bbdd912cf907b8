"""Lines of a record and back: JSON, each with the sum of the line before and its own.

A line is ``BODY, "sum": "S"}``, where S is the SHA-256 of the bytes of BODY, in
hexadecimal. BODY holds ``line`` (counted from 1), ``entry`` and ``before``, the sum of
the line before (64 zeros in the first); in the first line ``schema`` comes before them.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from faultkit.call import Call
from faultkit.model.entries import Correction, Entry, Opened, entry_from_data
from faultkit.network.site import Site
from faultkit.problems import InputError, Problem, Where, did_you_mean

__all__ = ["SCHEMA", "START", "Chain", "json_text", "line_of", "read_lines"]

#: Version of the format.
SCHEMA = 1

#: What stands as the sum before the first line.
START = "0" * 64

#: Problems shown of one file.
_SHOWN = 20

_LINE = re.compile(rb'(\{.*), "sum": "([0-9a-f]{64})"\}\r?', re.DOTALL)
_WHOLE = re.compile(rb'(\{.*?), "sum": "([0-9a-f]{64})"\}', re.DOTALL)
_HOLE = b"\0" * 64
_BREAKS = {c: f"\\u{ord(c):04x}" for c in "\x7f\x85\u2028\u2029"}


@dataclass(frozen=True, slots=True)
class Chain:
    """What a record holds. ``entries`` are in order of arrival, without the opening.

    ``lines`` and ``length`` count what is whole; ``sum`` is that of the last line; ``torn`` holds the bytes
    after it, and ``unended`` says that the last line is whole but for its line break.
    """

    file: str
    opened: Opened
    entries: tuple[Entry, ...]
    lines: int
    length: int
    sum: str
    torn: bytes = b""
    unended: bool = False

    @property
    def notices(self) -> tuple[str, ...]:
        """What a person should know of the end of the file."""
        if self.torn:
            n = len(self.torn)
            what = f"line {self.lines + 1} was cut off while it was written ({n} byte{'s' if n > 1 else ''})"
            return (f"{self.file}: {what}; the {self.lines} before it are whole",)
        if self.unended:
            return (f"{self.file}: line {self.lines} is whole but for its line break",)
        return ()

    def call(self, site: Site) -> Call:
        """The call at its site. InputError where it is another site, or with all that does not fit it."""
        if site.name != self.opened.site:
            raise InputError(
                [
                    Problem(
                        f"this record is of site '{self.opened.site}', the site given is '{site.name}'",
                        "the site the call was opened at",
                        self.opened.where,
                    )
                ]
            )
        head = self.opened
        return Call(site, head.time, head.call, head.title).merge(self.entries)


def line_of(number: int, entry: Entry, before: str) -> tuple[bytes, str]:
    """The bytes of a line with its line break, and its sum. InputError for text that is none."""
    head = {"schema": SCHEMA} if number == 1 else {}
    data = {**head, "line": number, "entry": entry.to_dict(), "before": before}
    text = json_text(data)[:-1]
    try:
        body = text.encode()
    except UnicodeEncodeError as fault:
        what = f"entry '{entry.id}' holds half a character: U+{ord(text[fault.start]):04X}"
        raise InputError([Problem(what, "the text without it", entry.where)]) from None
    own = hashlib.sha256(body).hexdigest()
    return b'%b, "sum": "%b"}\n' % (body, own.encode()), own


def json_text(data: Any) -> str:
    """JSON for people and programs: UTF-8 as it is, but for what could break a line."""
    text = json.dumps(data, ensure_ascii=False, allow_nan=False)
    for c, escaped in _BREAKS.items():
        text = text.replace(c, escaped)
    return text


def read_lines(data: bytes, file: str) -> Chain:
    """The chain in the bytes of a record; ``file`` is how messages name it.

    A torn end is no error. InputError with every line that was changed, every
    gap, and every entry that is none.
    """
    lines = data.split(b"\n")
    tail = lines.pop()
    if not tail and lines and (lines[-1].startswith(b"\0") or _HOLE in lines[-1]):
        tail = lines.pop() + b"\n"  # after a crash: the file grew, but a block of it never came
    if lines or tail:
        _version(lines[0] if lines else tail, file)
    reader = _Reader(file)
    for line in lines:
        reader.read(line)
    unended = False
    if _is_more_than_a_line(tail):
        # No crash does that: what was written last is a whole line, and its line break is gone.
        reader.read(tail)
    if tail and not reader.problems:
        tried = _Reader(file, reader.lines, reader.number, reader.sums)
        found = tried.read(tail)
        unended = found is not None and not tried.problems
        if unended and found is not None:
            reader.lines, reader.sums = tried.lines, tried.sums
            reader.entries.append(found)
    reader.finish()
    assert isinstance(reader.entries[0], Opened)
    length = len(data) if unended else len(data) - len(tail)
    return Chain(
        file, reader.entries[0], tuple(reader.entries[1:]), reader.lines, length, reader.sums[-1],
        b"" if unended else tail, unended,
    )


def _is_more_than_a_line(tail: bytes) -> bool:
    found = _WHOLE.match(tail)
    return (
        found is not None
        and tail[found.end():] not in {b"", b"\r"}
        and hashlib.sha256(found[1]).hexdigest() == found[2].decode()
    )


def _version(first: bytes, file: str) -> None:
    """A later version may look quite different: say so before anything else."""
    try:
        head = json.loads(first)
    except (ValueError, RecursionError):
        return
    version = head.get("schema") if isinstance(head, dict) else None
    if isinstance(version, int) and version > SCHEMA:
        raise InputError(
            [
                Problem(
                    f"the record has version {version} of the format, this faultkit reads version {SCHEMA}",
                    "a later faultkit",
                    Where(file, 1, 1),
                )
            ]
        )


@dataclass(slots=True)
class _Reader:
    """Reads line after line.

    ``number`` is what the last line says it is; ``sums`` are those the next one may
    name: what the last one says and what it has.
    """

    file: str
    lines: int = 0
    number: int = 0
    sums: tuple[str, ...] = (START,)
    entries: list[Entry] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def read(self, line: bytes) -> Entry | None:
        """Take one line; None where it is none."""
        self.lines += 1
        self.number += 1
        where = Where(self.file, self.lines, 1, line[:400].decode("utf-8", "replace"))
        found = _LINE.fullmatch(line)
        data = _json(line) if found else None
        if found is None or data is None:
            self._say("is no line of a record: it was changed or damaged", "the record as it was written", where)
            self.sums = ()
            return None
        body, said = found[1], found[2].decode()
        own = hashlib.sha256(body).hexdigest()
        if own != said:
            self._say("was changed after it was written: its sum does not fit", "the record as it was written", where)
        self._follow(data, where)
        self.sums = (own, said)
        entry = self._entry(data, where)
        if entry is not None:
            self.entries.append(entry)
        return entry

    def _say(self, what: str, expected: str, where: Where) -> None:
        self.problems.append(Problem(f"line {self.lines} {what}", expected, where))

    def _follow(self, data: dict[str, Any], where: Where) -> None:
        """Whether it is the line that comes here."""
        wanted = {"line", "entry", "before", "sum"} | ({"schema"} if self.lines == 1 else set())
        if set(data) != wanted or (self.lines == 1 and data["schema"] != SCHEMA):
            self._say("has not the keys of a line", ", ".join(sorted(wanted)), where)
            return
        number, wanted_number = data["line"], self.number
        self.number = number if isinstance(number, int) else wanted_number
        if not self.sums or (data["before"] in self.sums and number == wanted_number):
            return
        if isinstance(number, int) and number > wanted_number:
            gap = number - wanted_number
            missing = "1 line before it is missing" if gap == 1 else f"{gap} lines before it are missing"
            what = f"was line {number} when it was written: {missing}"
        else:
            what = "does not follow the line before it: one was put in, removed or moved"
        self._say(what, "the record as it was written", where)

    def _entry(self, data: dict[str, Any], where: Where) -> Entry | None:
        given = data.get("entry")
        if not isinstance(given, dict):
            self._say("has no entry", '"entry": {"kind": …}', where)
            return None
        try:
            entry = entry_from_data(given, where)
        except InputError as fault:
            self.problems += fault.problems
            return None
        if isinstance(entry, Opened) != (self.lines == 1):
            self._say(f"holds an entry of kind '{entry.kind}'", "the opening in the first line and there alone", where)
        elif not (entry.id and entry.time):
            self._say("holds an entry without id or time", "both: a record knows no 'before'", where)
        return entry

    def finish(self) -> None:
        """Raise what was found, entries that do not fit together included."""
        if not self.problems and not self.lines:
            what = "the record holds no whole line: it was cut off while it was created"
            raise InputError([Problem(what, "delete the file and create it again", Where(self.file, 1, 1))])
        if not self.problems:
            self.problems += _together(self.entries)
        if self.problems:
            more = len(self.problems) - _SHOWN
            shown = self.problems[:_SHOWN]
            if more > 0:
                last = shown[-1].where
                shown.append(Problem(f"and {more} more", "", last))
            raise InputError(shown)


def _together(entries: Sequence[Entry]) -> list[Problem]:
    """Ids that stand twice, and corrections of nothing."""
    problems: list[Problem] = []
    seen: dict[str, Entry] = {}
    for entry in entries:
        if entry.id in seen:
            problems.append(
                Problem(f"the id '{entry.id}' stands twice, first at {seen[entry.id].where}", "one entry", entry.where)
            )
        seen.setdefault(entry.id, entry)
    for entry in entries:
        if isinstance(entry, Correction) and entry.corrects not in seen:
            what = f"'{entry.corrects}' is not an entry of this record"
            problems.append(Problem(what, did_you_mean(entry.corrects, seen), entry.where))
    return problems


def _json(line: bytes) -> dict[str, Any] | None:
    try:
        found = json.loads(line, object_pairs_hook=_once, parse_constant=_no_number)
    except (ValueError, RecursionError):
        return None
    return found if isinstance(found, dict) else None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key stands twice")
    return found


def _no_number(name: str) -> float:
    raise ValueError(f"{name} is no number")
