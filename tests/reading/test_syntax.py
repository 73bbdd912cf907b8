"""Syntax errors in an author's words. Line and column count from 1."""

from __future__ import annotations

import pytest

from faultkit.problems import Problem
from faultkit.reading.parse import parse_text

# text, line, column, what, expected
CASES: dict[str, tuple[str, int, int, str, str]] = {
    "unclosed double quote": ('a: 1\nb: "x\nc: 2\n', 2, 4, "never closed", 'a closing "'),
    "unclosed single quote": ("a: 'x\n", 1, 4, "never closed", "a closing '"),
    "document marker in a quote": ('a: "x\n---\n"', 1, 4, "never closed", 'a closing "'),
    "no space behind a colon": ("key:value\nb: 1", 1, 4, "no space behind 'key:'", "'key: …'"),
    "no space, later line": ("a: 1\nb:1\nc: 2", 2, 2, "no space behind 'b:'", "'b: …'"),
    "no space in a list": ("- a\n- b:1\n  c: 2", 2, 4, "no space behind 'b:'", "'b: …'"),
    "no colon": ("x: 1\nhello\ny: 2", 2, 1, "no ':' behind its name", "name: value"),
    "second colon": ("title: Fan: left", 1, 11, "a second ': '", "in quotes"),
    "indented under a value": ("a: 1\n  b: 2", 2, 3, "already has its value", "same indentation"),
    "indented one too far": ("a: 1\n b: 2\nc: 3", 2, 2, "already has its value", "same indentation"),
    "indented too little": ("a:\n  b: 1\n c: 2", 3, 2, "does not fit the mapping that begins in line 1", "column 1"),
    "left of the first line": ("  a: 1\nb: 2", 2, 1, "indented less than the first line", "same indentation"),
    "key after a list": ("a:\n  - x\n  y: 1", 3, 3, "does not fit the list that begins in line 2", "column 3"),
    "key at a list's level": ("- a\nb: 1", 2, 1, "does not fit the list that begins in line 1", "'- '"),
    "crooked list": ("a:\n  - x\n - y", 3, 2, "does not stand under the '- ' above", "column 3"),
    "list among keys": ("a: b\n- c", 2, 1, "a list item stands among the keys", "indented"),
    "list behind its key": ("a: - x", 1, 4, "cannot start a list", "lines below"),
    "tab": ("a:\n\tb: 1", 2, 1, "a tab", "spaces"),
    "tab behind spaces": ("a:\n  b: 1\n  \tc: 1", 3, 3, "a tab", "spaces"),
    "tab in front": ("\ta: 1", 1, 1, "a tab", "spaces"),
    "tab after a value": ("a: 1\n\tb: 2", 2, 1, "a tab", "spaces"),
    "hard space": ("a:\u00a01\nb: 2", 1, 3, "U+00A0", "a plain space"),
    "open brace": ("a: {b: 1", 1, 4, "opened here with '{' is not closed", "a closing '}'"),
    "open bracket": ("a: [1, 2\nb: 3", 1, 4, "opened here with '[' is not closed", "a closing ']'"),
    "wrong bracket": ("a: {b: 1]\nc: 2", 1, 9, "a ',' or '}' is missing", "commas"),
    "colon in braces": ("a: {b: c: d}", 1, 9, "a ',' or '}' is missing", "in quotes"),
    "nothing behind a brace": ("a: 1\nb: {", 2, 4, "the text ends here", "every bracket closed"),
    "stray bracket": ("a: ]", 1, 4, "a value is missing before this ']'", "in quotes"),
    "stray comma": ("a: , b", 1, 4, "a value is missing before this ','", "in quotes"),
    "at sign": ("a: @x", 1, 4, "cannot start with @", "in quotes"),
    "backtick": ("a: `x`", 1, 4, "cannot start with `", "in quotes"),
    "percent sign": ("a: %5", 1, 4, "cannot start with %", "in quotes"),
    "percent line": ("%x", 1, 1, "starts with '%'", "without this line"),
    "newer YAML": ("%YAML 2.0\n---\na: 1", 1, 1, "starts with '%'", "without this line"),
    "text behind a quote": ('a: "x" y', 1, 8, 'behind the closing "', "the other sort"),
    "apostrophe in single quotes": ("a: 'it's'\nb: 1", 1, 8, "behind the closing '", "the other sort"),
    "backslash": ('a: "C:\\q"', 1, 7, "starts an escape", "single quotes"),
    "half an escape": ('a: "\\xZZ"', 1, 7, "starts an escape", "single quotes"),
    "star alone": ("a: * x", 1, 4, "'*' here means a mark", "in quotes"),
    "glob": ("a: *.yaml", 1, 4, "'*' here means a mark", "in quotes"),
    "ampersand alone": ("a: & x", 1, 4, "'&' here means a mark", "in quotes"),
    "text behind a bar": ("a: > x", 1, 6, "behind '>' the line must end", "next lines"),
}


@pytest.mark.parametrize("name", CASES)
def test_one_problem_with_place_line_and_cure(name: str) -> None:
    text, line, column, what, expected = CASES[name]
    problems: list[Problem] = []
    assert parse_text(text, "f.yaml", problems) is None
    [problem] = problems
    assert problem.where is not None
    assert (problem.where.line, problem.where.column) == (line, column)
    assert what in problem.what
    assert expected in problem.expected
    shown = problem.render().splitlines()
    assert shown[0].startswith(f"f.yaml:{line}:{column}: ")
    assert shown[1] == "    " + text.splitlines()[line - 1]
    assert shown[2].index("^") == 3 + column


def test_no_message_of_the_parser_comes_through_untranslated() -> None:
    for text, *_ in CASES.values():
        problems: list[Problem] = []
        parse_text(text, "f.yaml", problems)
        assert "this is no YAML" not in problems[0].what
