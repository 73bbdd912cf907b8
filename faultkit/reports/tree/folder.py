"""A whole catalogue as pages that link to each other: an index, one per type and section, one for what they share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from faultkit.model.catalogue import Catalogue, Section
from faultkit.problems import Problem
from faultkit.reports.tree.book import Book, BookKind
from faultkit.reports.tree.of_type import book_of_section, book_of_type, homes_of
from faultkit.reports.tree.page import COUNTED, Web, counts, render, tree_page

__all__ = ["folder_pages"]


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of the index."""

    name: str
    title: str
    href: str
    counts: tuple[int, ...]
    tops: tuple[tuple[str, str], ...]


def folder_pages(
    catalogue: Catalogue, sections: Mapping[str, Section | None], *, depth: int | None = None,
    faults: Sequence[Problem] = (), version: str = "",
) -> dict[str, str]:
    """Path below the folder → page. The same catalogue gives the same bytes.

    ``faults`` and ``version`` as for ``tree_page``.
    """
    types = {n: catalogue.types[n] for n in sorted(catalogue.types)}
    web = Web({name: t.title for name, t in types.items()})
    pages: dict[str, str] = {}
    lines: dict[BookKind, list[_Line]] = {BookKind.TYPE: [], BookKind.SECTION: []}

    def put(book: Book, fits: Mapping[str, Sequence[str]]) -> None:
        folder = "types" if book.kind is BookKind.TYPE else "sections"
        href = f"{folder}/{book.name}.html"
        pages[href] = tree_page(book, depth=depth, web=web, fits=fits, faults=faults, version=version)
        tops = tuple((t, book.events[t].title) for t in book.tops())
        lines[book.kind].append(_Line(book.name, book.title, href, counts(book), tops))

    for kind in types.values():
        put(book_of_type(kind, catalogue.common, types), {n: homes_of(j, types) for n, j in kind.joins.items()})
    for name in sorted(sections):
        section = sections[name]
        if section is not None:
            put(book_of_section(section.kind, section.needs, catalogue.common), {})
    own = lines[BookKind.TYPE]
    pages["index.html"] = render(
        "index.html.j2", version=version, faults=faults, types=own, sections=lines[BookKind.SECTION],
        words=COUNTED,
        # Types share sources: they are not summed.
        totals=[*(sum(line.counts[i] for line in own) for i in range(len(COUNTED) - 1)), ""],
        alone=sorted(n for n, s in sections.items() if s is None),
    )
    pages["common.html"] = render("common.html.j2", version=version, faults=faults, common=catalogue.common)
    return dict(sorted(pages.items()))
