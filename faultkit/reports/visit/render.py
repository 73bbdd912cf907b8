"""A document as plain text and as Markdown. Pure: the same document gives the same bytes."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Sequence

from faultkit.reports.tree.words import clean
from faultkit.reports.visit.blocks import Block, ChainPicture, CurvePicture, Document, Heading, Items, Para, Table
from faultkit.reports.visit.pictures import chain_words, curve_words

__all__ = ["curve_table", "markdown", "text"]

_WIDTH = 88
#: What Markdown would read as something else than text.
_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#+|~!$&-])")
_NUMBER = re.compile(r"^(\s*\d+)([.)])")


def text(document: Document) -> str:
    """Plain text, lines of at most 88 characters but for long words and tables."""
    lines = [_flat(document.title), "=" * min(len(document.title), _WIDTH), *map(_flat, document.under)]
    for block in document.blocks:
        lines += _text(block)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _flat(value: str) -> str:
    return clean(" ".join(value.split()))


def _wrap(value: str, indent: str = "", more: str | None = None) -> list[str]:
    return textwrap.wrap(
        _flat(value), _WIDTH, initial_indent=indent, subsequent_indent=indent if more is None else more,
        break_long_words=False, break_on_hyphens=False,
    )


def _text(block: Block) -> Iterator[str]:
    if isinstance(block, Heading):
        yield from ("", block.text.upper())
    elif isinstance(block, Para):
        yield from _wrap(("CAUTION: " if block.kind == "caution" else "") + block.text, "  ")
    elif isinstance(block, Items):
        for first, *rest in block.items:
            yield from _wrap(first, "  - ", "    ")
            for line in rest:
                yield from _wrap(line, "      ", "        ")
    elif isinstance(block, Table):
        yield from _table(block)
    elif isinstance(block, ChainPicture):
        for line in chain_words(block):
            indent = len(line) - len(line.lstrip())
            yield from _wrap(line, " " * (2 + indent), " " * (6 + indent))
    else:
        yield from _wrap(curve_words(block), "  - ", "    ")
        pairs = zip(block.times, block.rows, strict=True)
        yield from _wrap("; ".join(f"{t} {v:.1f} ± {a:.1f} {block.unit}" for t, (_, v, a) in pairs), "      ")


def _table(block: Table) -> Iterator[str]:
    """Columns where they fit the width, else one row as lines under each other."""
    rows = [tuple(map(_flat, r)) for r in block.rows]
    widths = [max(len(r[i]) for r in (block.heads, *rows)) for i in range(len(block.heads))]
    if sum(widths) + 2 * len(widths) <= _WIDTH:
        for row in (block.heads, *rows):
            cells = [c.rjust(w) if i in block.right else c.ljust(w)
                     for i, (c, w) in enumerate(zip(row, widths, strict=True))]
            yield "  " + "  ".join(cells)
        return
    for row in rows:
        yield from _wrap("; ".join(f"{h.lower()} {c}" if i else c
                                   for i, (h, c) in enumerate(zip(block.heads, row, strict=True)) if c), "  - ", "    ")


def markdown(document: Document) -> str:
    """CommonMark with pipe tables; whatever an author or a customer wrote is escaped."""
    lines = [f"# {_md(document.title)}", "", *(f"{_md(u)}  " for u in document.under)]
    for block in document.blocks:
        lines += ["", *_markdown(block)]
    return "\n".join(lines) + "\n"


def _md(value: str) -> str:
    return _NUMBER.sub(r"\1\\\2", _SPECIAL.sub(r"\\\1", _flat(value)))


def _markdown(block: Block) -> Iterator[str]:
    if isinstance(block, Heading):
        yield f"## {_md(block.text)}"
    elif isinstance(block, Para):
        yield ("> " if block.kind == "caution" else "") + _md(block.text)
    elif isinstance(block, Items):
        for first, *rest in block.items:
            yield f"- {_md(first)}"
            yield from (f"  - {_md(line)}" for line in rest)
    elif isinstance(block, Table):
        yield _md_row(block.heads)
        yield "|" + "|".join(" ---: " if i in block.right else " --- " for i in range(len(block.heads))) + "|"
        yield from (_md_row(r) for r in block.rows)
    elif isinstance(block, ChainPicture):
        for line in chain_words(block):
            indent = len(line) - len(line.lstrip())
            yield " " * indent + f"- {_md(line)}"
    else:
        yield _md(curve_words(block))
        yield ""
        yield from _markdown(curve_table(block))


def _md_row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(map(_md, cells)) + " |"


def curve_table(block: CurvePicture) -> Table:
    """The rows of a curve."""
    return Table(
        block.title, ("Time", block.unit, "accuracy"),
        tuple((t, f"{v:.1f}", f"± {a:.1f}") for t, (_, v, a) in zip(block.times, block.rows, strict=True)), (1, 2),
    )
