"""A book's events grown into trees: what several gates stand on is drawn once and transferred to elsewhere."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

from faultkit.reports.tree.book import Book, Item, Kind
from faultkit.reports.tree.tidy import tidy
from faultkit.reports.tree.words import percent

__all__ = ["GAP", "Picture", "Shape", "Spot", "grow"]

#: Widths of a cell, and the gap between two, in pixels of the picture.
GATE_WIDTH, LEAF_WIDTH, OTHER_WIDTH, GAP = 128.0, 112.0, 54.0, 10.0
#: A picture is folded where it would become wider than this, but never above the second level.
_WIDE, _LEAST_DEPTH, _MOST = 1500.0, 2, 40


class Shape(StrEnum):
    """The symbol under an event's rectangle."""

    OR = "or"
    AND = "and"
    VOTE = "vote"
    BASIC = "basic"
    HOUSE = "house"
    OUTSIDE = "outside"      # transfer in from another tree
    TRANSFER = "transfer"    # transfer in from elsewhere on this page
    OTHER = "other"          # undeveloped: causes that the gate does not list


_SHAPES = {
    Kind.ANY_OF: Shape.OR, Kind.ALL_OF: Shape.AND, Kind.AT_LEAST: Shape.VOTE, Kind.BASIC: Shape.BASIC,
    Kind.HOUSE: Shape.HOUSE, Kind.OUTSIDE: Shape.OUTSIDE,
}
_GATES = frozenset({Shape.OR, Shape.AND, Shape.VOTE})


@dataclass(frozen=True, slots=True)
class Spot:
    """One event in a picture. ``index`` is unique on the page, ``parent`` an index or -1.

    ``transfer`` numbers a gate drawn once and used more often (0: used once). ``itself``
    marks the circle of a basic event that others also break.
    """

    index: int
    event: str
    title: str
    shape: Shape
    parent: int
    depth: int
    strength: float = 1.0
    text: str = ""
    transfer: int = 0
    children: int = 0
    itself: bool = False
    open: bool = True

    @property
    def width(self) -> float:
        """Width of its cell."""
        if self.shape is Shape.OTHER:
            return OTHER_WIDTH
        return GATE_WIDTH if self.shape in _GATES else LEAF_WIDTH

    @property
    def is_gate(self) -> bool:
        """Whether something is drawn below it."""
        return self.shape in _GATES


@dataclass(frozen=True, slots=True)
class Picture:
    """The tree under one top event, in pre-order. ``depth`` is where it is folded."""

    top: str
    title: str
    spots: tuple[Spot, ...] = field(default=())
    depth: int = 0

    def visible(self) -> tuple[Spot, ...]:
        """The spots that no folded gate hides."""
        hidden: set[int] = set()
        out = []
        closed = {s.index for s in self.spots if not s.open}
        for s in self.spots:
            if s.parent in hidden or s.parent in closed:
                hidden.add(s.index)
            else:
                out.append(s)
        return tuple(out)


def grow(book: Book, depth: int | None = None) -> tuple[Picture, ...]:
    """A picture for each top event. Folded at ``depth`` (0: only the top); None chooses a readable one."""
    grower = _Grower(book)
    pictures = [grower.picture(top) for top in book.tops()]
    return tuple(_folded(grower.numbered(p), depth) for p in pictures)


class _Grower:
    """Numbers spots over all pictures of a page; each gate is drawn once."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self.count = 0
        self.drawn: set[str] = set()
        self.used: set[str] = set()
        self.numbers: dict[str, int] = {}

    def picture(self, top: str) -> Picture:
        owners = self.owners(top)
        spots: list[Spot] = []
        # (event, parent's index, parent's event, depth, strength, circle of a damaged part itself)
        todo: list[tuple[str, int, str, int, float, bool]] = [(top, -1, "", 0, 1.0, False)]
        while todo:
            event, parent, above, depth, strength, itself = todo.pop()
            item = self.book.events.get(event)
            if item is None:  # what an any_of gate does not list
                owner = self.book.events[above]
                assert owner.event is not None
                spots.append(Spot(self.next(), above, f"Causes not listed of: {owner.title}", Shape.OTHER, parent,
                                  depth, text=percent(owner.event.other)))
                continue
            spot = self.spot(item, parent, depth, strength, itself=itself, mine=owners.get(event) == above)
            spots.append(spot)
            if spot.is_gate:
                self.drawn.add(event)
                todo += reversed([(e, spot.index, event, depth + 1, s, i) for e, s, i in _below(item)])
        parents = [s.parent for s in spots]
        return Picture(top, self.book.events[top].title,
                       tuple(replace(s, children=parents.count(s.index)) for s in spots))

    def next(self) -> int:
        self.count += 1
        return self.count - 1

    def owners(self, top: str) -> dict[str, str]:
        """The event under which each gate of this picture is drawn: where it comes first and highest."""
        owners = {top: ""}
        todo = deque([top])
        while todo:
            name = todo.popleft()
            for cause in self.book.events[name].below:
                item = self.book.events[cause.event]
                if item.below and cause.event not in owners and cause.event not in self.drawn:
                    owners[cause.event] = name
                    todo.append(cause.event)
        return owners

    def spot(
        self, item: Item, parent: int, depth: int, strength: float, *, itself: bool, mine: bool
    ) -> Spot:
        shape = _SHAPES[item.kind]
        if item.damage and not itself:
            shape = Shape.OR
        title, text = item.title, _text(item)
        if item.below and not itself and (item.name in self.drawn or not mine):
            shape = Shape.TRANSFER
            self.used.add(item.name)
        if itself:
            title = "By itself"
        return Spot(self.next(), item.name, title, shape, parent, depth, strength, text, itself=itself)

    def numbered(self, picture: Picture) -> Picture:
        """Transfers get their numbers when it is known which gates are used again."""
        for s in picture.spots:
            if s.event in self.used and s.event not in self.numbers:
                self.numbers[s.event] = len(self.numbers) + 1
        return replace(
            picture,
            spots=tuple(
                replace(s, transfer=self.numbers[s.event])
                if s.event in self.used and (s.is_gate or s.shape is Shape.TRANSFER) else s
                for s in picture.spots
            ),
        )


def _below(item: Item) -> Iterable[tuple[str, float, bool]]:
    """What is drawn under an event: (event, strength, whether it is the damaged part itself); '' is the leak."""
    out = [(c.event, c.strength, False) for c in item.causes]
    if item.damage:
        out = [(item.name, 1.0, True), *out, *((c.event, c.strength, False) for c in item.damage)]
    if item.event is not None and item.kind is Kind.ANY_OF and item.event.other > 0.0 and item.fixed is None:
        out.append(("", 1.0, False))
    return out


def _text(item: Item) -> str:
    if item.kind is Kind.AT_LEAST and item.event is not None:
        return f"{item.event.k}/{len(item.causes)}"
    if item.kind is Kind.HOUSE and item.fixed is not None:
        return "on" if item.fixed else "off"
    if item.event is not None and item.event.prior is not None:
        p = item.event.prior
        chances = (p.otherwise, *p.seasons.values())
        low, high = min(chances), max(chances)
        return percent(low) if low == high else f"{percent(low).removesuffix(' %')}–{percent(high)}"
    return ""


def _folded(picture: Picture, depth: int | None) -> Picture:
    deepest = max((s.depth for s in picture.spots), default=0)
    if depth is None:
        depth = deepest
        while depth > 1 and _too_much(_at(picture, depth).visible(), depth):
            depth -= 1
    return _at(picture, min(depth, deepest))


def _too_much(spots: Sequence[Spot], depth: int) -> bool:
    """Wider than a screen, but for the first two rows; or more than an eye takes in."""
    return len(spots) > _MOST or (depth > _LEAST_DEPTH and _width(spots) > _WIDE)


def _at(picture: Picture, depth: int) -> Picture:
    spots = tuple(replace(s, open=s.depth < depth) if s.is_gate else s for s in picture.spots)
    return replace(picture, spots=spots, depth=depth)


def _width(spots: Sequence[Spot]) -> float:
    at = {s.index: n for n, s in enumerate(spots)}
    x = tidy([at.get(s.parent, -1) for s in spots], [s.width for s in spots], GAP)
    return max(c + s.width / 2 for c, s in zip(x, spots, strict=True))
