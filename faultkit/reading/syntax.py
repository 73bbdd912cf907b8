"""What a YAML syntax error means for the author, and what to write instead."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import yaml

from faultkit.problems import Problem, Where

__all__ = ["explain"]

_NO_SPACE = re.compile(r"\s*(?:- +)*([\w.\-]+):(?=[^\s:/\\])")
_INDENT = re.compile(r"[ \t]*")
_QUOTED = "the text in quotes"


@dataclass(frozen=True, slots=True)
class _Place:
    """A position, both numbers from 0."""

    line: int
    column: int


@dataclass(frozen=True, slots=True)
class _Fault:
    """What the parser said, and the text it said it of."""

    file: str
    lines: Sequence[str]
    at: _Place
    start: _Place | None
    said: str

    def line(self, number: int) -> str:
        return self.lines[number] if 0 <= number < len(self.lines) else ""

    def problem(self, what: str, expected: str, place: _Place | None = None) -> Problem:
        spot = place or self.at
        return Problem(what, expected, Where(self.file, spot.line + 1, spot.column + 1, self.line(spot.line)))

    @property
    def char(self) -> str:
        return self.line(self.at.line)[self.at.column : self.at.column + 1]

    @property
    def before(self) -> str:
        """The text of the line left of the fault."""
        return self.line(self.at.line)[: self.at.column]

    def last_written(self) -> int:
        """The nearest line above the fault that is no blank and no comment, or -1."""
        number = self.at.line - 1
        while number >= 0 and (not self.line(number).strip() or self.line(number).lstrip().startswith("#")):
            number -= 1
        return number


def explain(error: yaml.YAMLError, file: str, lines: Sequence[str]) -> Problem:
    """One problem for a syntax error of the YAML parser."""
    if not isinstance(error, yaml.MarkedYAMLError):
        return Problem(f"this is no YAML: {error}", "", Where(file, 1, 1))
    mark = error.problem_mark or error.context_mark
    at = _Place(mark.line, mark.column) if mark is not None else _Place(0, 0)
    start = _Place(error.context_mark.line, error.context_mark.column) if error.context_mark is not None else None
    said = " ".join(f"{error.context or ''} {error.problem or ''}".split())
    fault = _Fault(file, lines, at, start, said)
    hidden = _invisible(fault)
    if hidden is not None:
        return hidden
    for part, say in _CAUSES.items():
        if part in said:
            return say(fault)
    return fault.problem(f"this is no YAML: {said}", "")


def _invisible(fault: _Fault) -> Problem | None:
    """A tab or a non-breaking space in the indentation, at the fault or just above it."""
    for number in (fault.at.line, fault.last_written()):
        line = fault.line(number)
        tab = _INDENT.match(line)
        if tab is not None and "\t" in tab[0]:
            place = _Place(number, tab[0].index("\t"))
            return fault.problem("a tab stands in the indentation", "spaces: two for each level", place)
        if "\N{NO-BREAK SPACE}" in line:
            place = _Place(number, line.index("\N{NO-BREAK SPACE}"))
            return fault.problem("a space that does not break (U+00A0) stands here", "a plain space", place)
    if fault.char == "\t":
        return fault.problem("a tab stands where a value should begin", "spaces")
    return None


def _second_colon(fault: _Fault) -> Problem:
    if re.search(r":\s", fault.before) or fault.before.rstrip().endswith(":"):
        return fault.problem("a second ': ' stands in this line", "one key in each line; a text with ': ' in quotes")
    above = fault.last_written()
    missing = _NO_SPACE.match(fault.line(above))
    if missing is not None:
        return _no_space(fault, above, missing)
    if above >= 0 and _depth(fault.line(fault.at.line)) > _depth(fault.line(above)):
        place = _Place(fault.at.line, _depth(fault.line(fault.at.line)))
        what = "this line is indented under a line that already has its value"
        return fault.problem(what, "the same indentation as its neighbours, or nothing behind the ':' above", place)
    return fault.problem(
        "a ':' stands where no key can be", "one 'name: value' in each line; a text with ':' in quotes"
    )


def _depth(line: str) -> int:
    return len(line) - len(line.lstrip())


def _no_space(fault: _Fault, number: int, found: re.Match[str]) -> Problem:
    place = _Place(number, found.end(1))
    return fault.problem(f"there is no space behind '{found[1]}:'", f"'{found[1]}: …' with a space", place)


def _no_key(fault: _Fault) -> Problem:
    start = fault.start or fault.at
    missing = _NO_SPACE.match(fault.line(start.line))
    if missing is not None:
        return _no_space(fault, start.line, missing)
    return fault.problem("this line has no ':' behind its name", "name: value", start)


def _open_quote(fault: _Fault) -> Problem:
    start = fault.start or fault.at
    quote = fault.line(start.line)[start.column : start.column + 1] or "quote"
    return fault.problem(f"the quote ({quote}) opened here is never closed", f"a closing {quote}", start)


def _bad_start(fault: _Fault) -> Problem:
    return fault.problem(f"a text cannot start with {fault.char or 'this'}", _QUOTED)


def _open_bracket(fault: _Fault) -> Problem:
    start = fault.start or fault.at
    bracket = fault.line(start.line)[start.column : start.column + 1]
    close = {"{": "}", "[": "]"}.get(bracket, "a bracket")
    kind = "mapping" if "mapping" in fault.said else "list"
    if fault.at.line != start.line or fault.at.column >= len(fault.line(fault.at.line)):
        return fault.problem(
            f"the {kind} opened here with '{bracket}' is not closed",
            f"a closing '{close}', a comma between members",
            start,
        )
    return fault.problem(
        f"a ',' or '{close}' is missing before this",
        f"members with commas between them, then '{close}'; a text with signs in quotes",
    )


def _not_here(fault: _Fault) -> Problem:
    """A line that does not fit the mapping or list it stands in."""
    quoted = fault.before.rstrip()[-1:]
    if quoted in {'"', "'"}:
        return fault.problem(f"text goes on behind the closing {quoted}", "the whole text in quotes of the other sort")
    if fault.char in {"]", "}", ","}:
        return fault.problem(f"a '{fault.char}' stands here that closes nothing", "without it, or the text in quotes")
    if fault.start is not None and fault.char == "-" and "mapping" in fault.said:
        above = fault.line(fault.last_written())
        if above.lstrip().startswith("- "):
            return fault.problem("this '- ' does not stand under the '- ' above", f"'- ' in column {_depth(above) + 1}")
        return fault.problem(
            "a list item stands among the keys of a mapping", "'- ' under the key it belongs to, indented"
        )
    if fault.start is not None:
        column = fault.start.column + 1
        kind = "list" if "collection" in fault.said or "sequence" in fault.said else "mapping"
        what = f"this does not fit the {kind} that begins in line {fault.start.line + 1}"
        start = "a line of it starts with '- '" if kind == "list" else "a key of it starts"
        return fault.problem(what, f"{start} in column {column}; check the indentation")
    return fault.problem(
        "this line is indented less than the first line", "the same indentation as the first line, or more"
    )


def _no_list_here(fault: _Fault) -> Problem:
    return fault.problem(
        "a '-' cannot start a list in the line of its key",
        "the list in the lines below, or [in, brackets]; a text with '- ' in quotes",
    )


def _no_value(fault: _Fault) -> Problem:
    if fault.char in {"]", "}", ","}:
        return fault.problem(f"a value is missing before this '{fault.char}'", f"a value; or {_QUOTED}")
    number = fault.at.line if fault.line(fault.at.line).strip() else fault.last_written()
    if number < fault.at.line:
        what = "the text ends here, and a value is missing"
        return fault.problem(
            what, "a value; every bracket closed", _Place(number, len(fault.line(number).rstrip()) - 1)
        )
    return fault.problem("a value is missing here", "a value")


def _escape(fault: _Fault) -> Problem:
    return fault.problem(
        "a '\\' in double quotes starts an escape, and this one is unknown",
        "single quotes around the text, or '\\\\'",
    )


def _mark_sign(fault: _Fault) -> Problem:
    place = fault.start or fault.at
    sign = fault.line(place.line)[place.column : place.column + 1]
    return fault.problem(
        f"'{sign}' here means a mark for repeating values, which is not read",
        f"{_QUOTED} if it starts with {sign}",
        place,
    )


def _percent(fault: _Fault) -> Problem:
    return fault.problem(
        "a line that starts with '%' is an order to the parser",
        f"{_QUOTED}, or the file without this line",
        fault.start or fault.at,
    )


def _block_text(fault: _Fault) -> Problem:
    start = fault.start or fault.at
    sign = fault.line(start.line)[start.column : start.column + 1]
    what = f"behind '{sign}' the line must end: the text follows below"
    return fault.problem(what, f"the text indented in the next lines, or {_QUOTED}")


def _too_deep(fault: _Fault) -> Problem:
    return fault.problem("too many levels stand in each other here", "a flatter file")


#: Part of the parser's words → what it means. The first that fits counts.
_CAUSES: Mapping[str, Callable[[_Fault], Problem]] = MappingProxyType(
    {
        "found unexpected end of stream": _open_quote,
        "found unexpected document indicator": _open_quote,
        "mapping values are not allowed": _second_colon,
        "could not find expected ':'": _no_key,
        "cannot start any token": _bad_start,
        "expected ',' or": _open_bracket,
        "unknown escape": _escape,
        "escape code": _escape,
        "expected hexdecimal": _escape,
        "scanning an anchor": _mark_sign,
        "scanning an alias": _mark_sign,
        "scanning a directive": _percent,
        "%YAML": _percent,
        "incompatible YAML": _percent,
        "sequence entries are not allowed": _no_list_here,
        "expected node content": _no_value,
        "expected the node content": _no_value,
        "maximum nesting": _too_deep,
        "scanning a block scalar": _block_text,
        "did not find expected": _not_here,
        "expected <block end>": _not_here,
        "expected '<document start>'": _not_here,
    }
)
