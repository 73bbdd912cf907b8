# ruff: noqa: E501 - tables: one case in each line
"""What is let through, what is refused, and where the messages point."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from faultkit.problems import Problem
from faultkit.reading import parse
from faultkit.reading.nodes import Node
from faultkit.reading.parse import DEPTH_LIMIT, SIZE_LIMIT, parse_text

GOOD = """\
# a comment
schema: 1
equipment: rail          # another
settings: {supply_voltage: 208 V, fan: {unit: A}}
steps:
  - "Open the panel: carefully"
  - 'it''s open'
  - |
    Two
    lines
flags: [yes, no, 10:05, 1e3]
nothing:
"""


@pytest.fixture(params=["CSafeLoader", "SafeLoader"])
def loader(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Both parsers of PyYAML: the C one may be missing."""
    monkeypatch.setattr(parse, "_LOADER", getattr(yaml, request.param))
    return str(request.param)


def problems_of(text: str | bytes) -> list[Problem]:
    problems: list[Problem] = []
    assert parse_text(text, "f.yaml", problems) is None
    assert problems
    return problems


def only(text: str | bytes) -> tuple[int, int, Problem]:
    [problem] = problems_of(text)
    assert problem.where is not None
    assert problem.where.file == "f.yaml"
    return problem.where.line, problem.where.column, problem


@pytest.mark.usefixtures("loader")
def test_a_good_file_gives_its_values() -> None:
    problems: list[Problem] = []
    node = parse_text(GOOD, "f.yaml", problems)
    assert problems == []
    assert node is not None
    assert node.plain() == {
        "schema": 1,
        "equipment": "rail",
        "settings": {"supply_voltage": "208 V", "fan": {"unit": "A"}},
        "steps": ["Open the panel: carefully", "it's open", "Two\nlines\n"],
        "flags": ["yes", "no", "10:05", 1000.0],
        "nothing": None,
    }


@pytest.mark.usefixtures("loader")
def test_every_value_and_key_knows_its_place() -> None:
    node = parse_text(GOOD, "f.yaml", [])
    assert node is not None
    lines = GOOD.splitlines()

    def visit(at: Node) -> Iterator[tuple[str, int, int]]:
        for key, member in at.items():
            where = at.at_key(key)
            assert lines[where.line - 1][where.column - 1 :].startswith(key)
            assert where.text == lines[where.line - 1]
            yield key, where.line, where.column
            yield from visit(member)
        for member in at.value if at.is_list else ():
            yield str(member.value), member.where.line, member.where.column

    found = set(visit(node))
    assert {("supply_voltage", 4, 12), ("unit", 4, 41), ("10:05", 11, 18), ("it's open", 7, 5)} <= found
    volts = node.value["settings"].value["supply_voltage"]
    assert (volts.where.line, volts.where.column) == (4, 28)


@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_lines_are_counted_whatever_ends_them(newline: str) -> None:
    line, column, problem = only(newline.join(["a: 1", "b: 2", "  # x", "a: 3"]))
    assert (line, column) == (4, 1)
    assert problem.where is not None
    assert problem.where.text == "a: 3"


def test_columns_count_characters_not_bytes() -> None:
    line, column, _ = only("a: {é😀: 1, é😀: 2}")
    assert (line, column) == (1, 12)


def test_a_byte_order_mark_is_no_part_of_the_text() -> None:
    node = parse_text("\ufeffschema: 1".encode(), "f.yaml", [])
    assert node is not None
    assert node.plain() == {"schema": 1}


REFUSED: dict[str, tuple[str | bytes, int, int, list[str], str]] = {
    "duplicate key": ("a: 1\nb:\n  c: 1\n  d: 2\n  c: 3\n", 5, 3, ["'c' stands twice", "line 3, column 3"], "each key once"),
    "duplicate key in braces": ("x: {a: 1, 'a': 2}", 1, 11, ["'a' stands twice", "line 1, column 5"], "each key once"),
    "anchor": ("a: &x 1\nb: 2", 1, 4, ["&x", "anchor"], "the value alone"),
    "anchor on a mapping": ("a: &x\n  b: 1", 1, 4, ["&x", "anchor"], "the value alone"),
    "anchor on a list": ("a: &x [1]", 1, 4, ["&x", "anchor"], "the value alone"),
    "alias": ("a: *x", 1, 4, ["*x", "alias"], "written out"),
    "alias in a list": ("a: [1, *x]", 1, 8, ["*x", "alias"], "in quotes"),
    "alias as a key": ("*x : 1", 1, 1, ["*x", "alias"], "written out"),
    "merge key": ("a:\n  <<: {b: 1}", 2, 3, ["<<", "merge key"], "written out"),
    "tag": ("a: !!str 1", 1, 4, ["'!!str'", "tag"], "the value alone"),
    "own tag": ("a: !thing {b: 1}", 1, 4, ["'!thing'", "tag"], "in quotes"),
    "bare tag": ("a: ! x", 1, 4, ["'!'", "tag"], "in quotes"),
    "tag on a key": ("!!str a: 1", 1, 1, ["'!!str'", "tag"], "the value alone"),
    "two documents": ("---\na: 1\n---\nb: 2", 3, 1, ["second document"], "one document in each file"),
    "number as key": ("a: 1\n1: 2", 2, 1, ["'1' is a number"], "'\"1\":' in quotes"),
    "truth value as key": ("true: 2", 1, 1, ["'true' is a truth value"], "in quotes"),
    "empty value as key": ("~: 2", 1, 1, ["'~' is the empty value"], "in quotes"),
    "nothing as key": ("a: 1\n?\n: 2", 2, 2, ["no text before this ':'"], "name: value"),
    "list as key": ("? [a, b]\n: 1", 1, 3, ["a list stands here as a key"], "a name as key"),
    "mapping as key": ("{{a: b}: 1}", 1, 2, ["a mapping stands here as a key"], "a name as key"),
    "hidden character in a key": ("a\u00a0b: 1", 1, 1, ["U+00A0"], "without it"),
    "zero in a key": ('"a\\0": 1', 1, 1, ["U+0000"], "without it"),
    "empty file": ("", 1, 1, ["the file is empty"], "schema: 1"),
    "only a comment": ("# nothing\n", 1, 1, ["the file is empty"], "schema: 1"),
    "only a marker": ("---\n", 1, 1, ["the file is empty"], "schema: 1"),
    "only null": ("~", 1, 1, ["the file is empty"], "schema: 1"),
    "zero byte": (b"ab: 1\ncd\0: 2", 2, 3, ["no text file", "byte 8"], "UTF-8"),
    "not UTF-8": (b"a: 1\nb: caf\xe9\n", 2, 7, ["byte 11", "0xe9"], "UTF-8"),
    "cut UTF-8": ("a: é".encode()[:-1], 1, 4, ["byte 3", "0xc3"], "UTF-8"),
    "not UTF-8 behind a byte order mark": (b"\xef\xbb\xbfa: \xe9", 1, 4, ["byte 6"], "UTF-8"),
    "UTF-16": ("a: 1".encode("utf-16"), 1, 1, ["UTF-16"], "UTF-8"),
    "control character": ("a: 1\nb: x\x07y", 2, 5, ["U+0007"], "without it"),
    "half a character": ("a: \ud800", 1, 4, ["U+D800"], "without it"),
    "second byte order mark": ("a: 1\n\ufeffb: 2", 2, 1, ["U+FEFF"], "without it"),
}  # fmt: skip


@pytest.mark.usefixtures("loader")
@pytest.mark.parametrize("name", REFUSED)
def test_refused(name: str) -> None:
    text, line, column, parts, expected = REFUSED[name]
    found = only(text)
    assert found[:2] == (line, column)
    for part in parts:
        assert part in found[2].what
    assert expected in found[2].expected


@pytest.mark.parametrize(
    "text",
    ["a: 'R&D *x* !y'", 'a: "&x"', "a: fish & chips", "a: 2 * 3", "a: b!", "a: |\n  &x\n  *y\n  <<: z", "a: '<<'",
     "# &x *y !z\na: 1", "'<<': 1", "yes: 1", "no: 2", "on: 3", "'1': 4", "'': 5", "a: <<", "%YAML 1.2\n---\na: 1"],
)  # fmt: skip
def test_signs_that_are_only_text_are_let_through(text: str) -> None:
    problems: list[Problem] = []
    assert parse_text(text, "f.yaml", problems) is not None
    assert problems == []


def test_mistakes_are_reported_together() -> None:
    found = problems_of("a: 1\na: 2\n1: x\nb: &y 3\nc: !z 4\nd: *y\n<<: {}\nd: 5\n")
    places = [(p.where.line, p.where.column) for p in found if p.where]
    assert places == [(2, 1), (3, 1), (4, 4), (5, 4), (6, 4), (7, 1), (8, 1)]


def test_a_hopeless_file_does_not_flood() -> None:
    assert len(problems_of("a: 1\n" * 1000)) == 50


def nested(levels: int) -> str:
    return "[" * levels + "]" * levels


@pytest.mark.usefixtures("loader")
def test_nesting_up_to_the_limit_is_read() -> None:
    assert parse_text(nested(DEPTH_LIMIT), "f.yaml", []) is not None
    line, column, problem = only(nested(DEPTH_LIMIT + 1))
    assert (line, column) == (1, DEPTH_LIMIT + 1)
    assert f"{DEPTH_LIMIT} levels" in problem.what


@pytest.mark.parametrize(
    "text",
    ["[" * 100_000, "{a: " * 100_000, "- " * 100_000, "? " * 100_000,
     "".join(" " * i + "a:\n" for i in range(2000)), nested(999), nested(1001)],
    ids=["lists", "mappings", "dashes", "keys", "indented", "below the parser's limit", "above it"],
)  # fmt: skip
def test_deep_nesting_is_a_problem_not_a_crash(text: str) -> None:
    found = problems_of(text)
    assert len(found) <= 50
    assert any("levels" in p.what or "as a key" in p.what for p in found)


def test_too_many_values_are_refused() -> None:
    line, _, problem = only("- a\n" * 300_001)
    assert line == 300_000  # the list itself counts too
    assert "300000 values" in problem.what


def test_a_text_over_the_limit_is_refused_before_it_is_read() -> None:
    _, _, problem = only(b"\0" * (SIZE_LIMIT + 1))
    assert "too large" in problem.what
    assert "5 000 001" in problem.what
    problems: list[Problem] = []
    assert parse_text("a: 1", "f.yaml", problems, limit=3) is None
    assert "too large" in problems[0].what


def test_a_string_too_long_for_an_integer_is_text() -> None:
    node = parse_text(f"a: {'9' * 10_000}", "f.yaml", [])
    assert node is not None
    assert node.plain() == {"a": "9" * 10_000}


YAMLISH = st.lists(
    st.sampled_from(
        ["a", "b:", "a: ", "- ", "? ", ": ", "\n", "\n  ", "\n\t", "{", "}", "[", "]", ",", "&x ", "*x ", "!y ", "'", '"',
         "|\n", ">-", "#c", "---", "...", "%YAML 1.2\n", "<<: ", "1", "~", "yes", "é", "\u2028", "\u00a0", "\\", "@", "`"],
    )
).map("".join)  # fmt: skip


def judged(text: str | bytes) -> Any:
    """A node or problems with places, never both, never an exception."""
    problems: list[Problem] = []
    node = parse_text(text, "f.yaml", problems)
    assert (node is None) is bool(problems)
    for problem in problems:
        assert problem.where is not None
        assert problem.where.line >= 1
        assert problem.where.column >= 1
        assert problem.what
        assert problem.render()
    return None if node is None else node.plain()


@settings(max_examples=400)
@given(st.text() | YAMLISH)
@example("\ud800")
@example("\x85")
@example('"\\0": 1')
def test_any_text_gives_a_node_or_problems(text: str) -> None:
    judged(text)


@settings(max_examples=200)
@given(st.binary() | YAMLISH.map(lambda t: t.encode("utf-8")) | YAMLISH.map(lambda t: t.encode("utf-16")))
def test_any_bytes_give_a_node_or_problems(data: bytes) -> None:
    judged(data)


@settings(max_examples=200)
@given(YAMLISH)
def test_what_is_let_through_is_what_yaml_means(text: str) -> None:
    """PyYAML's own composer, all scalars as text, is the reference for structure and text."""
    found = judged(text)
    if found is None:
        return

    def as_text(node: yaml.Node) -> Any:
        if isinstance(node, yaml.MappingNode):
            return {k.value: as_text(v) for k, v in node.value}
        if isinstance(node, yaml.SequenceNode):
            return [as_text(v) for v in node.value]
        return node.value

    def same(ours: Any, theirs: Any) -> bool:
        if isinstance(ours, dict):
            return ours.keys() == theirs.keys() and all(same(ours[k], theirs[k]) for k in ours)
        if isinstance(ours, list):
            return len(ours) == len(theirs) and all(map(same, ours, theirs))
        if isinstance(ours, str):
            return bool(ours == theirs)
        return isinstance(theirs, str)

    composed = yaml.compose(text, Loader=yaml.CSafeLoader)
    assert composed is not None
    assert same(found, as_text(composed))
