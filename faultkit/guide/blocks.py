"""What a session says: blocks of one style each, laid out for any width."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

__all__ = ["Block", "clean", "layout"]

_NARROWEST = 30


@dataclass(frozen=True, slots=True)
class Block:
    """A paragraph. ``style``: head, text, item, step, caution, good, problem or prompt."""

    style: str
    text: str
    indent: int = 0


_HANG = {"item": 2, "step": 2, "caution": 2, "problem": 2}


def layout(blocks: Iterable[Block], width: int) -> Iterator[tuple[str, str]]:
    """(style, line) pairs no wider than ``width``; heads have an empty line before them."""
    for block in blocks:
        if block.style == "head":
            yield "text", ""
        pad = " " * block.indent
        yield from (
            (block.style, line)
            for line in textwrap.wrap(
                clean(block.text), max(_NARROWEST, width), initial_indent=pad,
                subsequent_indent=pad + " " * _HANG.get(block.style, 0), break_on_hyphens=False,
            )
        )


def clean(text: str) -> str:
    """One line without control characters: nobody's text may command a terminal."""
    flat = " ".join(text.split())
    return "".join("\ufffd" if unicodedata.category(c) in {"Cc", "Cf", "Cs", "Co", "Cn"} else c for c in flat)
