"""DOT by two real parsers, Mermaid by the rules its documentation gives, JSON by its schema."""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from typing import Any

import pydot
import pytest
from jsonschema import Draft202012Validator

from faultkit.reading.resources import data_folder
from faultkit.reports.tree.book import Book, Kind
from faultkit.reports.tree.data import tree_data
from faultkit.reports.tree.export import dot, mermaid

NODE = re.compile(r'    (e\d+o?)(\(\(|\[/|\[|>|\{)"([^"]*)"(\)\)|\\\]|\]|\})')
EDGE = re.compile(r'    (e\d+) --- (?:\|"([^"]*)"\| )?(e\d+o?)')


def links(book: Book) -> set[tuple[str, str]]:
    """Links of everything under the tops, straight from the book."""
    found: set[tuple[str, str]] = set()
    todo = list(book.tops())
    while todo:
        name = todo.pop()
        for cause in book.events[name].below:
            if (name, cause.event) not in found:
                found.add((name, cause.event))
                todo.append(cause.event)
    return found


def unquoted(name: object) -> str:
    text = str(name)
    return re.sub(r"\\(.)", r"\1", text[1:-1]) if text.startswith('"') else text


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # pydot calls pyparsing by its old names
def test_dot_holds_every_link_once(books: list[Book]) -> None:
    for book in books:
        graphs = pydot.graph_from_dot_data(dot(book))
        assert graphs is not None
        (graph,) = graphs
        edges = {(unquoted(e.get_source()), unquoted(e.get_destination())) for e in graph.get_edges()}
        assert {(a, b) for a, b in edges if not b.endswith(".other")} == links(book)
        names = {unquoted(n.get_name()) for n in graph.get_nodes()} - {"node", "edge"}
        assert names == {n for edge in edges for n in edge} | set(book.tops())


@pytest.mark.skipif(shutil.which("dot") is None, reason="graphviz is not installed")
def test_graphviz_draws_dot(books: list[Book]) -> None:
    for book in books:
        done = subprocess.run(["dot", "-Tplain"], input=dot(book), capture_output=True, text=True, check=True)  # noqa: S607
        assert done.stderr == ""
        assert sum(line.startswith("edge ") for line in done.stdout.splitlines()) >= len(links(book))


def test_mermaid_lines_are_nodes_and_links(books: list[Book]) -> None:
    for book in books:
        first, *rest = mermaid(book).splitlines()
        assert first == "flowchart TD"
        nodes = {m[1]: m for line in rest if (m := NODE.fullmatch(line))}
        edges = [m for line in rest if (m := EDGE.fullmatch(line))]
        assert len(nodes) + len(edges) == len(rest)
        assert all(e[1] in nodes and e[3] in nodes for e in edges)
        assert sum(not e[3].endswith("o") for e in edges) == len(links(book))


def test_mermaid_texts_come_back(tricky: Book) -> None:
    """Codes are ``#`` and a decimal number and ``;``, as Mermaid's documentation says; decoded they are the title."""
    said = {m[3] for line in mermaid(tricky).splitlines() if (m := NODE.fullmatch(line))}
    decoded = {html.unescape(re.sub(r"#(\d+);", r"&#\1;", t.split("<br>")[0])) for t in said}
    for item in tricky.events.values():
        if item.kind is not Kind.HOUSE or item.name == "fitted":
            assert item.title in decoded
    assert not [t for t in said if "<" in t.replace("<br>", "") or ">" in t.replace("<br>", "")]


def test_depth(books: list[Book]) -> None:
    for book in books:
        assert len(NODE.findall(mermaid(book, 0))) == len(book.tops())
        assert " -- " not in dot(book, 0)


@pytest.fixture(scope="module")
def schema() -> Draft202012Validator:
    text = json.loads((data_folder("schemas") / "tree.v1.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(text)
    return Draft202012Validator(text)


def test_json_is_valid_and_complete(books: list[Book], schema: Draft202012Validator) -> None:
    for book in books:
        data: dict[str, Any] = json.loads(json.dumps(tree_data(book)))
        assert [e.message for e in schema.iter_errors(data)] == []
        assert list(data["events"]) == list(book.events)
        assert set(data["remedies"]) == set(book.remedies)
        for reading in data["readings"].values():
            for ruler in reading["tells"]:
                assert all(len(row["chances"]) == len(ruler["bands"]) for row in ruler["rows"])


def test_the_schema_refuses_what_is_no_tree(books: list[Book], schema: Draft202012Validator) -> None:
    data = tree_data(books[0])
    next(iter(data["events"].values()))["causes"] = [{"event": "x", "strength": 2}]
    assert list(schema.iter_errors(data))
    assert list(schema.iter_errors({"schema": 1}))
