"""The symbols of a fault tree as SVG elements, drawn around x = 0 below y = 0.

After the Fault Tree Handbook NUREG-0492, chapter IV, and for k of n the majority gate of IEC 61025
(symbols from memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree import ElementTree as ET

from faultkit.reports.tree.grow import Shape, Spot
from faultkit.reports.tree.words import clean, fit_lines, percent

__all__ = ["BOTTOM", "LEGEND", "LEVEL", "LOW", "add", "cell", "sample"]

#: Height of a level; where the line to the causes begins.
LEVEL, BOTTOM = 190.0, 174.0
_BOX, _BOX_HEIGHT, _LINES, _FONT, _LEADING = 44.0, 70.0, 5, 11.0, 12.8
_TOP, LOW = 120.0, 156.0  # of the symbol
_MIDDLE = (_TOP + LOW) / 2

#: What each symbol means: (name for ``sample``, title, meaning).
LEGEND = (
    ("event", "Event", "A rectangle says what is the case: a state of the machine, never an observation."),
    ("or", "Or gate", "Any one of the causes below is enough."),
    ("and", "And gate", "All causes below are needed together."),
    ("vote", "k of n gate", "At least so many of the causes below are needed."),
    ("basic", "Basic event", "A cause that is not taken apart further, with the share of units that have it."),
    ("other", "Undeveloped event", "Causes that the gate above does not list, as a share of its own chance."),
    ("house", "House event", "A switch of the configuration: on or off for a machine, no matter of chance."),
    ("inhibit", "Inhibit gate", "The cause below acts only with the chance in the ellipse (the conditioning event)."),
    ("transfer", "Transfer in", "Drawn elsewhere on this page, where the same number stands."),
    ("outside", "Transfer in from another tree", "An event of a joined unit, or one bound by the including type."),
    ("out", "Transfer out", "This branch is used elsewhere too; the number stands there again."),
)


def add(parent: ET.Element, tag: str, text: str = "", **given: object) -> ET.Element:
    """A child element; ``cls`` is its class, underscores in names become dashes, numbers are kept short."""
    attributes = {}
    for key, value in given.items():
        name = "class" if key == "cls" else key.replace("_", "-")
        attributes[name] = f"{value:g}" if isinstance(value, int | float) else clean(str(value))
    made = ET.SubElement(parent, tag, attributes)
    if text:
        made.text = clean(text)
    return made


def cell(parent: ET.Element, spot: Spot, only_with: str = "") -> None:
    """Everything of one spot except its lines: inhibit gate, rectangle with the title, symbol, marks."""
    if spot.strength < 1.0:
        _inhibit(parent, percent(spot.strength))
    if spot.shape is Shape.OTHER:
        add(parent, "path", cls="symbol", d="M0,46 L24,70 L0,94 L-24,70 Z")
        _write(parent, [spot.text], 70 + 3.5, "small")
        _write(parent, ["others"], 106, "small")
        return
    half = spot.width / 2
    add(parent, "rect", cls="box", x=-half, y=_BOX, width=spot.width, height=_BOX_HEIGHT, rx=2)
    lines = fit_lines(spot.title, spot.width - 10, _FONT, _LINES)
    first = _BOX + _BOX_HEIGHT / 2 - (len(lines) - 1) * _LEADING / 2 + _FONT / 3
    for n, line in enumerate(lines):
        add(parent, "text", line, x=0, y=first + n * _LEADING)
    add(parent, "path", cls="line", d=f"M0,{_BOX + _BOX_HEIGHT:g} V{_TOP:g}")
    _symbol(parent, spot)
    if spot.is_gate and spot.transfer:
        add(parent, "path", cls="line", d=f"M20,{_MIDDLE:g} H34")
        _triangle(parent, 45, _MIDDLE - 9, 22, str(spot.transfer))
    if only_with:
        mark = add(parent, "g", cls="only", transform=f"translate(-42,{_TOP:g})")
        add(mark, "title", only_with)
        add(mark, "path", cls="symbol", d="M0,6 L9,0 L18,6 V18 H0 Z")


def _symbol(parent: ET.Element, spot: Spot) -> None:
    shape = spot.shape
    if shape is Shape.OR:
        # Pointed above, hollow below.
        add(parent, "path", cls="symbol",
            d=f"M-20,{LOW:g} c0,-18 8,-30 20,-36 c12,6 20,18 20,36 q-20,-12 -40,0 Z")
        _write(parent, ["or"], _MIDDLE + 3, "small")
    elif shape is Shape.AND:
        # Round above, flat below.
        add(parent, "path", cls="symbol",
            d=f"M-20,{LOW:g} V{_TOP + 20:g} A20,20 0 0 1 20,{_TOP + 20:g} V{LOW:g} Z")
        _write(parent, ["and"], _MIDDLE + 6, "small")
    elif shape is Shape.VOTE:
        add(parent, "path", cls="symbol", d=f"M-22,{_TOP:g} H22 V{LOW:g} H-22 Z")
        _write(parent, [f"≥ {spot.text}"], _MIDDLE + 4, "small")
    elif shape is Shape.BASIC:
        add(parent, "circle", cls="symbol", cx=0, cy=_TOP + 20, r=20)
        first, dash, second = spot.text.partition("–")
        _write(parent, [first + dash], _TOP + (18.5 if dash else 23.5), "tiny" if dash else "small")
        _write(parent, [second], _TOP + 29.5, "tiny")
    elif shape is Shape.HOUSE:
        add(parent, "path", cls="symbol", d=f"M-20,{LOW:g} V{_TOP + 14:g} L0,{_TOP:g} L20,{_TOP + 14:g} V{LOW:g} Z")
        _write(parent, [spot.text], _MIDDLE + 8, "small")
    elif shape is Shape.TRANSFER:
        _triangle(parent, 0, _TOP, 36, str(spot.transfer))
    else:
        _triangle(parent, 0, _TOP, 36, "↗")


def _triangle(parent: ET.Element, x: float, y: float, size: float, text: str) -> None:
    half = size * 0.58
    add(parent, "path", cls="symbol", d=f"M{x:g},{y:g} L{x + half:g},{y + size:g} H{x - half:g} Z")
    add(parent, "text", text, cls="small" if size > 30 else "tiny", x=x, y=y + size - (7 if size > 30 else 5))


def _inhibit(parent: ET.Element, text: str) -> None:
    add(parent, "path", cls="line", d=f"M0,0 V6 M0,36 V{_BOX:g} M13,21 H20")
    add(parent, "path", cls="symbol", d="M0,6 L13,13.5 V28.5 L0,36 L-13,28.5 V13.5 Z")
    add(parent, "ellipse", cls="symbol", cx=38, cy=21, rx=18, ry=10)
    add(parent, "text", text, cls="tiny", x=38, y=24)


def _write(parent: ET.Element, lines: Iterable[str], y: float, size: str) -> None:
    for line in lines:
        if line:
            add(parent, "text", line, cls=size, x=0, y=y)


def sample(name: str) -> ET.Element:
    """One symbol of the legend as a picture of its own."""
    boxes = {"event": "-36 40 72 78", "inhibit": "-30 0 92 44", "other": "-30 42 60 56", "out": "-30 116 92 44"}
    svg = ET.Element("svg", {
        "viewBox": boxes.get(name, "-30 114 60 48"), "class": "sample", "aria-hidden": "true", "focusable": "false",
    })
    if name == "event":
        add(svg, "rect", cls="box", x=-34, y=_BOX, width=68, height=_BOX_HEIGHT, rx=2)
    elif name == "inhibit":
        _inhibit(svg, "85 %")
    elif name == "other":
        cell(svg, Spot(0, "", "", Shape.OTHER, -1, 0, text="2 %"))
    elif name == "out":
        _symbol(svg, Spot(0, "", "", Shape.OR, -1, 0))
        add(svg, "path", cls="line", d=f"M20,{_MIDDLE:g} H34")
        _triangle(svg, 45, _MIDDLE - 9, 22, "1")
    else:
        texts = {"vote": "2/3", "basic": "1 %", "house": "on"}
        _symbol(svg, Spot(0, "", "", Shape(name), -1, 0, text=texts.get(name, ""), transfer=1))
    return svg
