"""Pictures as SVG: the cause chain as an outline with arrows, a temperature over time. Readable at 360 px."""

from __future__ import annotations

import math
import textwrap
from itertools import pairwise
from xml.etree import ElementTree as ET

from faultkit.reports.tree.shapes import add
from faultkit.reports.visit.blocks import ChainPicture, CurvePicture, Node

__all__ = ["chain_svg", "chain_words", "curve_svg", "curve_words"]

_WIDE = 400.0
_INDENT, _MOST_INDENT = 16.0, 160.0
_LINE, _PAD, _GAP = 16.0, 7.0, 22.0
#: Width of a character of the sheet's 13 px font, on the wide side.
_LETTER = 6.3


def chain_words(picture: ChainPicture) -> list[str]:
    """The picture in words: one line a spot, set in by two spaces a level."""
    return [
        "  " * n.depth + (f"{n.link}: " if n.link else "") + n.text + (f" ({n.note})" if n.note else "")
        for n in picture.nodes
    ]


def curve_words(picture: CurvePicture) -> str:
    """The curve in words."""
    limit = "" if picture.limit is None else f"; the limit drawn is {picture.limit:g} {picture.unit}"
    return f"{picture.title}: {picture.summary}{limit}"


def _svg(cls: str, number: int, high: float, title: str, words: str) -> ET.Element:
    svg = ET.Element("svg", {
        "xmlns": "http://www.w3.org/2000/svg", "class": cls, "viewBox": f"0 0 {_WIDE:g} {high:g}", "role": "img",
        "aria-labelledby": f"t{number} d{number}",
    })
    add(svg, "title", title, id=f"t{number}")
    add(svg, "desc", words, id=f"d{number}")
    return svg


def chain_svg(picture: ChainPicture, number: int) -> ET.Element:
    """Boxes from the effect down to its causes; each cause points at what stands above it."""
    boxes = []
    y = 1.0
    for n in picture.nodes:
        x = 1.0 + min(n.depth * _INDENT, _MOST_INDENT)
        lines = textwrap.wrap(n.text, int((_WIDE - x - 2 * _PAD) / _LETTER)) or [""]
        notes = textwrap.wrap(n.note, int((_WIDE - x - 2 * _PAD) / _LETTER))
        y += _GAP - 6 if n.link else 8.0 * (n.depth == 0)
        high = 2 * _PAD + _LINE * (len(lines) + len(notes)) - 2
        boxes.append((n, x, y, high, lines, notes))
        y += high + 6
    svg = _svg("chain", number, y + 1, picture.title, ". ".join(t.strip() for t in chain_words(picture)))
    _arrows(svg, boxes)
    for n, x, top, high, lines, notes in boxes:
        group = add(svg, "g", cls=f"spot {n.state}")
        add(group, "rect", x=x, y=top, width=_WIDE - x - 1, height=high, rx=5)
        for i, line in enumerate(lines + notes):
            cls = "note" if i >= len(lines) else "words"
            add(group, "text", line, x=x + _PAD, y=top + _PAD + 11 + i * _LINE, cls=cls)
        if n.link:
            add(svg, "text", n.link, x=x + 3, y=top - 4, cls="link")
    return svg


Box = tuple[Node, float, float, float, list[str], list[str]]


def _arrows(svg: ET.Element, boxes: list[Box]) -> None:
    open_: list[tuple[float, float]] = []  # x and foot of the boxes above, by depth
    for n, x, top, high, _, _ in boxes:
        del open_[n.depth:]
        if n.depth and open_:
            px, foot = open_[-1]
            at, middle = px + 7, top + high / 2
            kind = "" if n.link.startswith("caused") else " weak"
            add(svg, "path", d=f"M{x:g},{middle:g} H{at:g} V{foot + 6:g}", cls=f"arrow{kind}")
            add(svg, "path", d=f"M{at:g},{foot:g} l-4,8 h8 z", cls="tip")
        open_.append((x, top + high))


def curve_svg(picture: CurvePicture, number: int) -> ET.Element:
    """Readings with their accuracy over time; a broken line where they lie too far apart to know."""
    high, left, right, top, foot = 230.0, 40.0, 12.0, 12.0, 30.0
    rows = picture.rows
    low = min(v - a for _, v, a in rows)
    most = max(v + a for _, v, a in rows)
    if picture.limit is not None:
        low, most = min(low, picture.limit), max(most, picture.limit)
    step = _step((most - low) or 1.0)
    low, most = math.floor(low / step) * step, math.ceil(most / step) * step
    most = most if most > low else low + step
    long = rows[-1][0] or 1.0

    def px(t: float) -> float:
        return round(left + t / long * (_WIDE - left - right - 14) + 7, 1)

    def py(v: float) -> float:
        return round(top + (most - v) / (most - low) * (high - top - foot), 1)

    svg = _svg("curve", number, high, picture.title, curve_words(picture))
    for i in range(round((most - low) / step) + 1):
        v = low + i * step
        add(svg, "line", x1=left, x2=_WIDE - right, y1=py(v), y2=py(v), cls="grid")
        add(svg, "text", f"{v:g}", x=left - 5, y=py(v) + 4, cls="end")
    if picture.limit is not None:
        y = py(picture.limit)
        add(svg, "line", x1=left, x2=_WIDE - right, y1=y, y2=y, cls="limit")
        add(svg, "text", f"{picture.limit:g} {picture.unit}", x=left + 4, y=y - 4, cls="limit")
    for (t1, v1, _), (t2, v2, _) in pairwise(rows):
        cls = "line" if t2 - t1 <= picture.gap else "line unknown"
        add(svg, "line", x1=px(t1), y1=py(v1), x2=px(t2), y2=py(v2), cls=cls)
    for t, v, a in rows:
        add(svg, "line", x1=px(t), x2=px(t), y1=py(v - a), y2=py(v + a), cls="bound")
        add(svg, "circle", cx=px(t), cy=py(v), r=3, cls="dot")
    add(svg, "text", picture.times[0], x=left, y=high - 8, cls="start")
    add(svg, "text", picture.times[-1], x=_WIDE - right, y=high - 8, cls="end")
    add(svg, "text", picture.unit, x=left - 5, y=high - 8, cls="end")
    return svg


def _step(span: float) -> float:
    """A round step that gives 4 to 10 lines."""
    raw = span / 5
    size = 10.0 ** math.floor(math.log10(raw))
    return next(size * m for m in (1, 2, 5, 10) if size * m >= raw)
