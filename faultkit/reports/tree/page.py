"""Pages: one tree on a page that needs nothing else, or a whole catalogue as pages that link to each other."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree as ET

from faultkit.problems import Problem
from faultkit.reports.tree import words
from faultkit.reports.tree.book import Book, Kind
from faultkit.reports.tree.cross import cross
from faultkit.reports.tree.draw import anchor, draw, said
from faultkit.reports.tree.grow import Picture, Spot, grow
from faultkit.reports.tree.shapes import LEGEND, sample

if TYPE_CHECKING:
    from jinja2 import Environment

__all__ = ["COUNTED", "Web", "counts", "fault_page", "render", "tree_page"]

#: What a page counts.
COUNTED = ("gates", "basic events", "readings", "checks", "remedies", "sources")
_POWERS = {
    "any": "power on or off", "on": "power on, nothing touched", "live": "power on, live parts probed",
    "locked_out": "power locked out and proved dead",
}


@dataclass(frozen=True, slots=True)
class Web:
    """Where the pages of a folder lie, seen from one of them. ``types`` maps name → title."""

    types: Mapping[str, str] = field(default_factory=dict)
    up: str = "../"

    def type(self, name: str) -> str:
        """The page of an equipment type."""
        return f"{self.up}types/{name}.html"

    def index(self) -> str:
        """The first page."""
        return f"{self.up}index.html"

    def common(self) -> str:
        """The page of hazards, set-ups, instruments and tools."""
        return f"{self.up}common.html"


def counts(book: Book) -> tuple[int, ...]:
    """Numbers under the heads of COUNTED."""
    items = book.events.values()
    return (
        sum(i.kind in {Kind.ANY_OF, Kind.ALL_OF, Kind.AT_LEAST} for i in items),
        sum(i.kind is Kind.BASIC for i in items),
        sum(r.reading is not None for r in book.readings.values()),
        len(book.checks), len(book.remedies), len(cross(book).sources),
    )


def tree_page(
    book: Book, *, depth: int | None = None, web: Web | None = None, fits: Mapping[str, Sequence[str]] | None = None,
    faults: Sequence[Problem] = (), version: str = "",
) -> str:
    """The page of a book as HTML.

    ``depth`` folds the pictures there (None: where they become too wide), ``web`` links to the other
    pages of a folder, ``fits`` names the types that fit each join. ``faults`` are shown on top:
    problems of newer files; with ``version`` the page asks its server for a newer one.
    """
    from markupsafe import Markup

    pictures = grow(book, depth)
    spots: dict[str, list[Spot]] = {}
    for p in pictures:
        for s in p.spots:
            if s.event and not s.itself:
                spots.setdefault(s.event, []).append(s)
    return render(
        "tree.html.j2", script=True, version=version, faults=faults, book=book, x=cross(book), web=web,
        fits=fits or {}, spots=spots, outline=list(_outline(pictures)), said=lambda s: said(book, s, title=False),
        loose=[i for n, i in book.events.items() if i.kind is Kind.BASIC and n not in spots],
        counts=list(zip(COUNTED, counts(book), strict=True)), powers=_POWERS,
        pictures=[(p, Markup(_xml(draw(book, p)))) for p in pictures],  # noqa: S704 - escaped by ElementTree
        symbols=[(title, text, Markup(_xml(sample(name)))) for name, title, text in LEGEND],  # noqa: S704
    )


def fault_page(faults: Sequence[Problem], version: str = "") -> str:
    """A page with nothing but problems: no tree could be read yet."""
    return render("faults.html.j2", version=version, faults=faults)


def render(
    template: str, *, script: bool = False, version: str = "", faults: Sequence[Problem] = (), **given: Any
) -> str:
    """A template of this package as text. Every value is escaped; control characters are shown as U+FFFD.

    The page carries our script where asked, or where its ``version`` is watched.
    """
    from markupsafe import Markup

    style = _asset("page.css")
    code = _asset("page.js") if script or version else ""
    policy = "; ".join([
        "default-src 'none'", f"style-src '{_hash(style)}'", *([f"script-src '{_hash(code)}'"] if code else []),
        *(["connect-src 'self'"] if version else []), "base-uri 'none'", "form-action 'none'",
    ])
    text = _environment().get_template(template).render(
        **given, version=version, faults=[_Fault(f) for f in faults], policy=policy,
        style=Markup(style), script=Markup(code),  # noqa: S704 - our own files
    )
    return _close(text) + "\n"


def _close(text: str) -> str:
    """Without empty lines. Style and script go through it first: their hashes are taken of what is on the page."""
    return "\n".join(line.rstrip() for line in text.split("\n") if line.strip())


class _Fault:
    """A problem with its line ready to print."""

    def __init__(self, problem: Problem) -> None:
        self.where = problem.where
        self.what = problem.what
        self.expected = problem.expected
        text, column = (problem.where.text, problem.where.column) if problem.where else ("", 1)
        self.line = text[:200]
        self.caret = "".join("\t" if c == "\t" else " " for c in self.line[: column - 1]) + "^"


def _outline(pictures: Iterable[Picture]) -> Iterator[tuple[str, Spot | None]]:
    """Tokens of nested lists: open a gate, a leaf, close a gate."""
    for p in pictures:
        depth = 0
        for s in p.spots:
            while depth > s.depth:
                yield "close", None
                depth -= 1
            if s.is_gate:
                yield "open", s
                depth = s.depth + 1
            elif s.event:
                yield "leaf", s
        while depth:
            yield "close", None
            depth -= 1


def _xml(element: ET.Element) -> str:
    return ET.tostring(element, encoding="unicode")


def _unbroken(text: str) -> str:
    """A number and its percent sign stay on one line."""
    return text.replace(" %", "\N{NO-BREAK SPACE}%")


@cache
def _asset(name: str) -> str:
    from importlib.resources import files

    return _close(files(__package__).joinpath("templates", name).read_text(encoding="utf-8"))


def _hash(text: str) -> str:
    """What a content security policy calls an inline piece by."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


@cache
def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined
    from markupsafe import Markup

    def shown(value: object) -> object:
        return words.clean(value) if isinstance(value, str) and not isinstance(value, Markup) else value

    made = Environment(
        loader=PackageLoader(__package__, "templates"), autoescape=True, undefined=StrictUndefined, finalize=shown,
        trim_blocks=True, lstrip_blocks=True,
    )
    made.filters["zip"] = lambda a, b: list(zip(a, b, strict=True))
    made.filters["gather"] = lambda names, found: list(dict.fromkeys(c for n in names for c in found.get(n, ())))
    made.globals.update(
        anchor=anchor, place_of=words.place_of, spoken=words.spoken, chance=lambda p: _unbroken(words.chance(p)),
        percent=lambda p: _unbroken(words.percent(p)), how_common=lambda p: _unbroken(words.how_common(p)),
    )
    return made
