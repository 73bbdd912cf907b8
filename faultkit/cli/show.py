"""``faultkit show``: a tree to look at."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from faultkit.model.catalogue import Catalogue, Section
from faultkit.problems import InputError, Problem, Where, did_you_mean
from faultkit.reports.tree.book import Book

__all__ = ["Pages", "add_show", "folders_of", "is_file", "prepare", "run_show", "write_pages"]

#: Problems and version of a watched page → path → text. A single text has the path ''.
Pages = Callable[[Sequence[Problem], str], Mapping[str, str]]

_FORMATS = ("html", "svg", "mermaid", "dot", "json")


def add_show(commands: argparse._SubParsersAction[argparse.ArgumentParser], epilog: str) -> None:
    """The command's options."""
    show = commands.add_parser(
        "show", epilog=epilog,
        help="a tree as a page with pictures, as SVG, Mermaid, DOT or JSON; a whole catalogue as a folder of pages",
    )
    show.add_argument(
        "what", nargs="?", metavar="WHAT", help="an equipment type, a section, or a file of either or of a site",
    )
    show.add_argument("--event", default="", metavar="NAME", help="only what stands under this event")
    show.add_argument("--all", action="store_true", help="every type and section as linked pages; with --out FOLDER")
    show.add_argument("--format", choices=_FORMATS, default="html", help="default: html")
    show.add_argument(
        "--out", metavar="PATH",
        help="file to write (a folder with --all; '-': standard output); default: NAME.html, other formats are printed",
    )
    show.add_argument(
        "--depth", type=int, metavar="LEVELS", help="fold below this many levels; default: where it gets wide",
    )
    show.add_argument("--watch", action="store_true", help="serve the page here and renew it as files change")
    show.add_argument("--port", type=int, default=0, metavar="NUMBER", help="of --watch; default: any free one")
    show.add_argument(
        "--catalogue", action="append", default=[], metavar="FOLDER",
        help="a folder of equipment types besides the installed ones (may be repeated)",
    )
    show.add_argument("--strict", action="store_true", help="a broken plugin is an error")


def run_show(options: argparse.Namespace) -> None:
    """Write, print or serve what was asked for."""
    _refuse(options)
    if options.watch:
        from faultkit.cli.watch import watch

        watch(options)
        return
    pages = prepare(options)((), "")
    if options.all:
        print(f"{len(pages)} pages in {write_pages(pages, options.out)}, begin with index.html")
        return
    out = options.out
    if out is None and options.format == "html":
        out = f"{_stem(options)}.html"
    if out is None or out == "-":
        sys.stdout.write(pages[""])
    else:
        write_pages(pages, out)
        print(f"{out} written")


def _refuse(options: argparse.Namespace) -> None:
    if options.all and (options.what or options.event):
        raise InputError("--all shows the whole catalogue", "--all alone, or a type or file without --all")
    if not options.all and not options.what:
        raise InputError("nothing to show", "an equipment type, a section, a file, or --all --out FOLDER")
    if options.all and options.format != "html":
        raise InputError(f"--all has no format {options.format}", "--format html, or one type at a time")
    if options.all and not options.watch and options.out in {None, "-"}:
        raise InputError("--all needs a folder to write to", "--out FOLDER")
    if options.watch and (options.format != "html" or options.out == "-"):
        raise InputError("--watch serves pages", "--format html, and a file or nothing as --out")
    if options.depth is not None and options.depth < 0:
        raise InputError("--depth counts levels", "0 or more")


def _stem(options: argparse.Namespace) -> str:
    return Path(options.what).name.removesuffix(".yaml").removesuffix(".yml")


def is_file(what: str | None) -> bool:
    """Whether WHAT is meant as a file."""
    return what is not None and (what.endswith((".yaml", ".yml")) or os.sep in what)


def folders_of(options: argparse.Namespace) -> list[Path]:
    """The user's catalogue folders; that of a type's own file is one of them."""
    folders = [Path(f) for f in options.catalogue]
    return [*folders, Path(options.what).parent] if is_file(options.what) else folders


def prepare(options: argparse.Namespace) -> Pages:
    """Read everything; what comes back draws it. InputError with all problems of the files."""
    from faultkit.loading import load_catalogue, load_sections

    kind, name = ("", options.what)
    if is_file(options.what):
        from faultkit.reading import kind_of

        kind, name = kind_of(options.what)
    folders = folders_of(options) if kind in {"", "equipment", "section"} else [Path(f) for f in options.catalogue]
    catalogue = load_catalogue(folders, strict=options.strict)
    for broken in catalogue.broken:
        print(f"warning: {broken}", file=sys.stderr)
    if options.all:
        from faultkit.reports.tree.folder import folder_pages

        sections = load_sections(folders)
        return lambda faults, version: folder_pages(
            catalogue, sections, depth=options.depth, faults=faults, version=version
        )
    book, fits = _book(options.what, kind, name, catalogue, lambda: load_sections(folders))
    if options.event:
        from faultkit.reports.tree.cross import under

        book = under(book, options.event)
    return lambda faults, version: {"": _text(options, book, fits, faults, version)}


def _book(
    what: str, kind: str, name: str, catalogue: Catalogue, sections: Callable[[], Mapping[str, Section | None]]
) -> tuple[Book, Mapping[str, Sequence[str]]]:
    """The book asked for, and the types that fit each of its joins."""
    from faultkit.reports.tree.of_type import book_of_section, book_of_type, homes_of

    if kind == "site":
        from faultkit.loading import load_site
        from faultkit.reports.tree.of_site import book_of_site

        return book_of_site(load_site(what, catalogue), catalogue.types), {}
    if kind not in {"", "equipment", "section"}:
        cure = "a file of an equipment type, a section or a site"
        raise InputError([Problem(f"a file of kind '{kind}' has no tree", cure, Where(what, 1, 1))])
    if name in catalogue.types and kind != "section":
        found = catalogue.types[name]
        fits = {n: homes_of(j, catalogue.types) for n, j in found.joins.items()}
        return book_of_type(found, catalogue.common, catalogue.types), fits
    known = sections()
    if name not in known:
        cure = did_you_mean(name, [*catalogue.types, *known])
        raise InputError(f"there is no equipment type or section '{name}'", cure)
    section = known[name]
    if section is None:
        raise InputError(f"section '{name}' is whole only inside a type", "a type that includes it")
    return book_of_section(section.kind, section.needs, catalogue.common), {}


def _text(
    options: argparse.Namespace, book: Book, fits: Mapping[str, Sequence[str]], faults: Sequence[Problem], version: str
) -> str:
    if options.format == "html":
        from faultkit.reports.tree.page import tree_page

        return tree_page(book, depth=options.depth, fits=fits, faults=faults, version=version)
    if options.format == "svg":
        from faultkit.reports.tree.draw import standalone
        from faultkit.reports.tree.grow import grow

        return standalone(book, grow(book, 10**6 if options.depth is None else options.depth))
    if options.format == "json":
        from faultkit.reports.tree.data import tree_data

        return json.dumps(tree_data(book), indent=2, ensure_ascii=False) + "\n"
    from faultkit.reports.tree import export

    return (export.dot if options.format == "dot" else export.mermaid)(book, options.depth)


def write_pages(pages: Mapping[str, str], out: str) -> str:
    """Write pages below a folder, or the one page '' to a file; the place written to."""
    try:
        for path, text in pages.items():
            to = Path(out) / path if path else Path(out)
            to.parent.mkdir(parents=True, exist_ok=True)
            to.write_text(text, encoding="utf-8", newline="\n")
    except OSError as fault:
        what = f"cannot write {fault.filename or out}: {fault.strerror or fault}"
        raise InputError(what, "--out with a place that can be written to") from fault
    return out
