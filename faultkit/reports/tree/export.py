"""A book's trees as text for other drawing programs: Mermaid flowcharts and DOT graphs, each event once."""

from __future__ import annotations

import re
from collections import deque

from faultkit.reports.tree.book import Book, Item, Kind
from faultkit.reports.tree.words import clean, percent

__all__ = ["dot", "mermaid"]

_GATE = {Kind.ANY_OF: "any of", Kind.ALL_OF: "all of"}
_UNSAFE = re.compile(r"[^\w ,.:°/()+-]")


def _reached(book: Book, depth: int | None) -> dict[str, int]:
    """Events to draw, top events first, with the least number of steps from a top."""
    found = dict.fromkeys(book.tops(), 0)
    todo = deque(found)
    while todo:
        name = todo.popleft()
        if depth is not None and found[name] >= depth:
            continue
        for cause in book.events[name].below:
            if cause.event not in found:
                found[cause.event] = found[name] + 1
                todo.append(cause.event)
    return found


def _word(item: Item) -> str:
    if item.damage:
        return "by itself or by"
    if item.kind is Kind.AT_LEAST and item.event is not None:
        return f"{item.event.k} of {len(item.causes)}"
    return _GATE.get(item.kind, "")


def _lines(item: Item) -> list[str]:
    """What stands in a node: title, then gate or frequency."""
    out = [clean(item.title)]
    if item.event is not None and item.event.prior is not None:
        out.append(percent(item.event.prior.otherwise))
    if item.below:
        out.append(_word(item))
    return out


def mermaid(book: Book, depth: int | None = None) -> str:
    """A flowchart. Characters that mean something to Mermaid or to a browser are written as number codes."""
    shapes = {Kind.BASIC: ("((", "))"), Kind.HOUSE: ("[/", "\\]"), Kind.OUTSIDE: (">", "]")}
    found = _reached(book, depth)
    ids = {name: f"e{n}" for n, name in enumerate(found)}
    out = ["flowchart TD"]
    for name in found:
        item = book.events[name]
        left, right = ("[", "]") if item.below else shapes.get(item.kind, ("[", "]"))
        text = "<br>".join(_UNSAFE.sub(lambda c: f"#{ord(c[0])};", line) for line in _lines(item))
        out.append(f'    {ids[name]}{left}"{text}"{right}')
    for name in found:
        item = book.events[name]
        for cause in item.below:
            if cause.event in ids:
                label = f'|"{percent(cause.strength)}"| ' if cause.strength < 1.0 else ""
                out.append(f"    {ids[name]} --- {label}{ids[cause.event]}")
        if _leak(item) and (depth is None or found[name] < depth):
            assert item.event is not None
            out += [f'    {ids[name]}o{{"others {percent(item.event.other)}"}}', f"    {ids[name]} --- {ids[name]}o"]
    return "\n".join(out) + "\n"


def _leak(item: Item) -> bool:
    return item.kind is Kind.ANY_OF and item.event is not None and item.event.other > 0.0 and item.fixed is None


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _label(lines: list[str]) -> str:
    # A line break is the two characters \n inside a DOT string.
    return '"' + "\\n".join(_quoted(line)[1:-1] for line in lines) + '"'


def dot(book: Book, depth: int | None = None) -> str:
    """A DOT graph, top events above. Node names are the events' names."""
    shapes = {Kind.BASIC: "circle", Kind.HOUSE: "house", Kind.OUTSIDE: "triangle"}
    found = _reached(book, depth)
    out = [f"graph {_quoted(book.name)} {{", f"    label={_label([clean(book.title)])};", "    rankdir=TB;",
           '    node [shape=box, fontname="sans-serif", fontsize=10];', "    edge [fontsize=9];"]
    for name in found:
        item = book.events[name]
        shape = "box" if item.below else shapes.get(item.kind, "box")
        out.append(f"    {_quoted(name)} [shape={shape}, label={_label(_lines(item))}];")
    for name in found:
        item = book.events[name]
        for cause in item.below:
            if cause.event in found:
                label = f" [label={_quoted(percent(cause.strength))}]" if cause.strength < 1.0 else ""
                out.append(f"    {_quoted(name)} -- {_quoted(cause.event)}{label};")
        if _leak(item) and (depth is None or found[name] < depth):
            assert item.event is not None
            other = _quoted(f"{name}.other")
            out += [f"    {other} [shape=diamond, label={_label(['others', percent(item.event.other)])}];",
                    f"    {_quoted(name)} -- {other};"]
    return "\n".join([*out, "}"]) + "\n"
