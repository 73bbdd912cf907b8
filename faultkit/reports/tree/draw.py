"""Pictures as SVG: every spot with its words for readers who do not see it, placed tidily."""

from __future__ import annotations

from xml.etree import ElementTree as ET

from faultkit.reports.tree.book import Book
from faultkit.reports.tree.grow import GAP, Picture, Shape, Spot
from faultkit.reports.tree.shapes import BOTTOM, LEVEL, LOW, add, cell
from faultkit.reports.tree.tidy import tidy
from faultkit.reports.tree.words import chance, clean, how_common

__all__ = ["SVG_STYLE", "anchor", "draw", "said", "standalone"]

_MARGIN = 8.0
_TOP = -36.0  # nothing hangs over the top event

#: The look of a picture that stands alone; a page has its own.
SVG_STYLE = (
    "text{font:11px Arial,Helvetica,Liberation Sans,sans-serif;text-anchor:middle;fill:#111}"
    ".small{font-size:10px}.tiny{font-size:9px}"
    ".box{fill:#fff;stroke:#333}.symbol{fill:#eef3f8;stroke:#333}.line,.edge{fill:none;stroke:#333}"
    ".edge{shape-rendering:crispEdges}.off{opacity:.45}.knob circle{fill:#fff;stroke:#333}"
)
_SAID = {
    Shape.OR: "or gate", Shape.AND: "and gate", Shape.VOTE: "gate over", Shape.BASIC: "basic event",
    Shape.HOUSE: "house event", Shape.OUTSIDE: "from another tree", Shape.TRANSFER: "drawn elsewhere on this page",
    Shape.OTHER: "not developed",
}


def anchor(kind: str, name: str) -> str:
    """The id of a card: ``event-coil.leak``. Names are snake_case with dots and need no escape."""
    return f"{kind}-{name}".replace(" ", "_")


def standalone(book: Book, pictures: tuple[Picture, ...]) -> str:
    """All pictures under each other in one SVG file, folded branches left out."""
    drawn = [draw(book, p, interactive=False) for p in pictures]
    sizes = [(float(d.get("width", "0")), float(d.get("height", "0"))) for d in drawn]
    wide, high = max((w for w, _ in sizes), default=200.0), sum(h + 12 for _, h in sizes) or 40.0
    svg = ET.Element("svg", {
        "xmlns": "http://www.w3.org/2000/svg", "width": f"{wide:g}", "height": f"{high:g}",
        "viewBox": f"0 0 {wide:g} {high:g}", "role": "img", "aria-labelledby": "picture-title",
    })
    add(svg, "title", book.title, id="picture-title")
    add(svg, "desc", f"Fault trees of the {book.kind} {book.title}, top events first.")
    add(svg, "style", SVG_STYLE)
    add(svg, "rect", width="100%", height="100%", fill="#fff")
    y = 0.0
    for d, (_, height) in zip(drawn, sizes, strict=True):
        d.set("y", f"{y:g}")
        svg.append(d)
        y += height + 12
    ET.indent(svg, " ")
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(svg, encoding="unicode") + "\n"


def draw(book: Book, picture: Picture, *, interactive: bool = True) -> ET.Element:
    """One picture. Interactive: hidden branches are there too, titles are links to cards, gates have a knob."""
    visible = picture.visible()
    x, y = _places(visible)
    wide = max(x[s.index] + s.width / 2 for s in visible) + _MARGIN
    high = max(y.values()) + LEVEL - 8
    svg = ET.Element("svg", {
        "class": "tree", "width": f"{wide:g}", "height": f"{high:g}", "viewBox": f"0 0 {wide:g} {high:g}",
    })
    name = f"picture-{picture.top}"
    if interactive:  # what the script needs to place spots anew
        for key, value in (("gap", GAP), ("level", LEVEL), ("bottom", BOTTOM), ("margin", _MARGIN), ("top", _TOP)):
            svg.set(f"data-{key}", f"{value:g}")
    svg.set("role", "group" if interactive else "img")
    svg.set("aria-labelledby", name)
    add(svg, "title", f"Fault tree: {picture.title}", id=name)
    add(svg, "desc", _description(picture))
    spots = {s.index: s for s in picture.spots}
    lines = add(svg, "g", cls="edges")
    for s in picture.spots:
        if s.parent >= 0 and (interactive or s.index in x):
            edge = add(lines, "path", cls="edge" if s.index in x else "edge hidden", data_to=s.index)
            if s.index in x:
                p = spots[s.parent]
                edge.set("d", _edge(x[p.index], y[p.index], x[s.index], y[s.index], s))
    for s in picture.spots:
        if s.index in x or interactive:
            place = (x[s.index], y[s.index]) if s.index in x else None
            _spot(svg, book, s, place, interactive=interactive)
    return svg


def _places(visible: tuple[Spot, ...]) -> tuple[dict[int, float], dict[int, float]]:
    """Middle and upper edge of each visible spot, by index."""
    at = {s.index: n for n, s in enumerate(visible)}
    x = tidy([at.get(s.parent, -1) for s in visible], [s.width for s in visible], GAP)
    return (
        {s.index: c + _MARGIN for s, c in zip(visible, x, strict=True)},
        {s.index: _TOP + s.depth * LEVEL for s in visible},
    )


def _edge(px: float, py: float, cx: float, cy: float, child: Spot) -> str:
    """Down from the gate to the bar, along it, down to the cause."""
    return f"M{px:g},{py + BOTTOM:g} V{cy:g} H{cx:g} V{cy + _head(child):g}"


def _head(child: Spot) -> float:
    if child.strength < 1.0:
        return 0.0
    return 46.0 if child.shape is Shape.OTHER else 44.0


def _description(picture: Picture) -> str:
    gates = sum(s.is_gate for s in picture.spots)
    basic = len({s.event for s in picture.spots if s.shape is Shape.BASIC})
    return f"{picture.title}, with {gates} gates over {basic} basic events. The same as text stands in the outline."


def _spot(
    svg: ET.Element, book: Book, s: Spot, place: tuple[float, float] | None, *, interactive: bool
) -> None:
    item = book.events.get(s.event)
    classes = ["spot", s.shape.value]
    if place is None:
        classes.append("hidden")
    if item is not None and item.fixed is False:
        classes.append("off")
    g = add(svg, "g", cls=" ".join(classes))
    if place is not None:
        g.set("transform", f"translate({place[0]:g},{place[1]:g})")
    target: ET.Element = g
    spoken = said(book, s)
    if interactive:
        g.set("id", f"spot-{s.index}")
        for key, value in (("i", s.index), ("p", s.parent), ("w", s.width), ("d", s.depth), ("h", _head(s))):
            g.set(f"data-{key}", f"{value:g}")
        g.set("data-e", s.event)
        target = add(g, "a", href=f"#{anchor('event', s.event)}", aria_label=spoken)
    add(target, "title", spoken)
    cell(target, s, _only(book, s))
    if s.children:
        _knob(g, s, interactive=interactive)


def _only(book: Book, s: Spot) -> str:
    """The house events that a spot exists with, in words."""
    item = book.events.get(s.event)
    if item is None or s.itself or not item.only_with:
        return ""
    return "only with: " + ", ".join(book.events[h].title if h in book.events else h for h in item.only_with)


def _knob(g: ET.Element, s: Spot, *, interactive: bool) -> None:
    below = f"M0,{LOW - (6 if s.shape is Shape.OR else 0):g} V{BOTTOM:g}"  # an or gate is hollow below
    if not interactive:
        if not s.open:
            add(g, "text", f"… {s.children} below", cls="tiny", x=0, y=BOTTOM - 5)
        else:
            add(g, "path", cls="line", d=below)
        return
    add(g, "path", cls="line", d=below)
    knob = add(g, "g", cls="knob", role="button", tabindex=0, aria_expanded="true" if s.open else "false",
               aria_label=f"Causes of: {s.title}")
    add(knob, "circle", cx=0, cy=BOTTOM - 9, r=9)
    size = "small" if s.children < 10 else "tiny"
    add(knob, "text", "−" if s.open else f"+{s.children}", cls=size, x=0, y=BOTTOM - 5.5)


def said(book: Book, s: Spot, *, title: bool = True) -> str:
    """The spot in words: ``Breaker tripped; or gate; acts: usually, 85 %``; the title may be left out."""
    parts = [clean(s.title), _SAID[s.shape]]
    item = book.events.get(s.event)
    if s.shape is Shape.VOTE:
        parts[1] = f"at least {s.text.replace('/', ' of ')}"
    elif s.shape is Shape.BASIC and item is not None and item.event is not None and item.event.prior is not None:
        parts.append(how_common(item.event.prior))
    elif s.shape is Shape.TRANSFER:
        parts.append(f"number {s.transfer}")
    elif s.shape is Shape.OTHER:
        parts.append(f"{s.text} of the gate's chance")
    elif s.shape is Shape.HOUSE and s.text:
        parts.append(s.text)
    if s.is_gate and s.transfer:
        parts.append(f"used elsewhere as number {s.transfer}")
    if s.strength < 1.0:
        parts.append(f"acts: {chance(s.strength)}")
    return "; ".join(parts if title else parts[1:])
