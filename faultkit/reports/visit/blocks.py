"""A report as a list of simple blocks, which each format renders in its own way."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Block", "ChainPicture", "CurvePicture", "Document", "Heading", "Items", "Node", "Para", "Table"]


@dataclass(frozen=True, slots=True)
class Heading:
    """The head of a section."""

    text: str


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph; ``kind`` is '', ``caution``, ``good`` or ``small``."""

    text: str
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Items:
    """A list. An item's first text is what it is about, the others stand under it."""

    items: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a name for those who do not see it; ``right`` are columns of numbers."""

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Node:
    """A line of the cause chain: its words, how it stands to the one above, what became of it.

    ``state``: ``gone``, ``there`` or ``maybe``.
    """

    text: str
    depth: int
    link: str
    note: str
    state: str


@dataclass(frozen=True, slots=True)
class ChainPicture:
    """What caused what."""

    title: str
    nodes: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class CurvePicture:
    """A temperature over time: rows (minutes, value, ± value) in ``unit``, times as text, a limit or None."""

    title: str
    unit: str
    rows: tuple[tuple[float, float, float], ...]
    times: tuple[str, ...]
    limit: float | None
    summary: str
    #: Minutes between rows above which nothing is known.
    gap: float


Block = Heading | Para | Items | Table | ChainPicture | CurvePicture


@dataclass(frozen=True, slots=True)
class Document:
    """A title, a line under it, and blocks."""

    title: str
    under: tuple[str, ...]
    blocks: tuple[Block, ...]
