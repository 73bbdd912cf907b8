"""Pages are valid, safe, self-contained and the same each time; every link in them works."""

from __future__ import annotations

import base64
import hashlib
import os
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import PurePosixPath
from typing import Any
from xml.etree import ElementTree as ET

import html5lib
import pytest

import faultkit
from faultkit.model.catalogue import Catalogue
from faultkit.problems import Problem, Where
from faultkit.reports.tree.book import Book
from faultkit.reports.tree.draw import standalone
from faultkit.reports.tree.folder import folder_pages
from faultkit.reports.tree.grow import grow
from faultkit.reports.tree.page import fault_page, tree_page

HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"
#: Where HTML and SVG let a page fetch something.
FETCHING = ("src", "srcset", "data", "poster", "action", "formaction", "background", "{http://www.w3.org/1999/xlink}href")


@cache
def parsed(text: str) -> Any:
    """The page by the HTML standard's own rules; html5lib raises on any parse error."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=True).parse(text)


def ids(root: Any) -> list[str]:
    return [e.get("id") for e in root.iter() if e.get("id")]


def links(root: Any) -> Iterator[str]:
    for e in root.iter():
        if e.tag in {f"{HTML}a", f"{SVG}a"}:
            yield e.get("href")


@pytest.fixture(scope="module")
def pages(catalogue: Catalogue) -> Mapping[str, str]:
    return folder_pages(catalogue, faultkit.loading.load_sections(installed=False))


@pytest.fixture(scope="module")
def singles(books: list[Book]) -> list[str]:
    return [tree_page(b) for b in books]


def test_pages_are_valid_html(pages: Mapping[str, str], singles: list[str]) -> None:
    for text in [*pages.values(), *singles, fault_page([Problem("what", "cure", Where("a.yaml", 1, 2, "text"))], "v")]:
        root = parsed(text)
        names = ids(root)
        assert len(names) == len(set(names))


def test_every_link_of_a_single_page_works(singles: list[str]) -> None:
    for text in singles:
        root = parsed(text)
        known = set(ids(root))
        targets = list(links(root))
        assert len(targets) > 20
        assert [t for t in targets if not t.startswith("#") or t[1:] not in known] == []


def test_every_link_of_a_folder_works(pages: Mapping[str, str]) -> None:
    roots = {path: parsed(text) for path, text in pages.items()}
    known = {path: set(ids(root)) for path, root in roots.items()}
    across = 0
    for path, root in roots.items():
        for target in links(root):
            file, _, anchor = target.partition("#")
            to = os.path.normpath(PurePosixPath(path).parent / file) if file else path
            assert to in known, (path, target)
            assert not anchor or anchor in known[to], (path, target)
            across += to != path
    assert across > 50
    assert {"index.html", "common.html", "types/branch_circuit.html", "sections/forced_air_coil.html"} <= set(pages)


def test_a_joined_event_leads_to_the_page_of_the_type_that_has_it(pages: Mapping[str, str]) -> None:
    root = parsed(pages["types/prep_rail_forced_air.html"])
    assert "../types/branch_circuit.html#event-dead" in set(links(root))


def test_nothing_is_fetched_and_no_code_stands_in_attributes(pages: Mapping[str, str], singles: list[str]) -> None:
    for text in [*pages.values(), *singles]:
        for e in parsed(text).iter():
            assert e.tag not in {f"{HTML}{t}" for t in ("link", "img", "iframe", "object", "embed", "base")}
            assert not [a for a in e.keys() if a in FETCHING or a.startswith("on") or a == "style"]  # noqa: SIM118 - ET
            assert not (e.get("href") or "").lower().startswith(("http", "//", "javascript", "data"))
    assert not re.search(r"@import|url\(", singles[0])


def test_the_policy_allows_our_script_and_style_alone(singles: list[str]) -> None:
    for text in singles:
        root = parsed(text)
        policy = next(e.get("content") for e in root.iter(f"{HTML}meta") if e.get("http-equiv"))
        for tag in ("script", "style"):
            (only,) = list(root.iter(f"{HTML}{tag}"))
            digest = base64.b64encode(hashlib.sha256(only.text.encode()).digest()).decode()
            assert f"{tag}-src 'sha256-{digest}'" in policy
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy


def test_titles_stay_text(tricky: Book) -> None:
    page = tree_page(tricky)
    root = parsed(page)
    assert len(list(root.iter(f"{HTML}script"))) == 1
    assert not list(root.iter(f"{HTML}img"))
    heading = next(root.iter(f"{HTML}h1"))
    assert heading.text == '<script>alert(1)</script> & "quotes"'
    assert len(heading) == 0
    assert "\u202e" not in page
    assert "\x07" not in page
    assert "<script>alert(6)</script>" in "".join(root.itertext())  # as text, to be read
    picture = standalone(tricky, grow(tricky, 99))
    assert not list(ET.fromstring(picture).iter(f"{SVG}script"))  # noqa: S314 - made here
    assert "&lt;svg onload=alert(5)&gt;" in picture


def test_pictures_are_xml_with_words_for_every_spot(books: list[Book]) -> None:
    for book in books:
        root = ET.fromstring(standalone(book, grow(book, 99)))  # noqa: S314 - made here
        assert root.tag == f"{SVG}svg"
        spots = [g for g in root.iter(f"{SVG}g") if (g.get("class") or "").startswith("spot")]
        assert len(spots) == sum(len(p.spots) for p in grow(book, 99))
        assert all((g.findtext(f"{SVG}title") or "").strip() for g in spots)
        assert all(s.findtext(f"{SVG}title") and s.findtext(f"{SVG}desc") for s in root.iter(f"{SVG}svg"))


def test_what_is_drawn_stays_inside_and_apart(books: list[Book]) -> None:
    """Rectangles read back from the SVG: none overlaps another, none sticks out."""
    for book in books:
        root = ET.fromstring(standalone(book, grow(book, 99)))  # noqa: S314 - made here
        for svg in root.findall(f"{SVG}svg"):
            wide, high = float(svg.get("width", "0")), float(svg.get("height", "0"))
            boxes = []
            for g in svg.iter(f"{SVG}g"):
                place = re.fullmatch(r"translate\(([-\d.e+]+),([-\d.e+]+)\)", g.get("transform") or "")
                box = g.find(f"{SVG}rect")
                if place and box is not None and g.get("class") != "only":
                    x, y = float(place[1]) + float(box.get("x", "0")), float(place[2]) + float(box.get("y", "0"))
                    boxes.append((x, y, x + float(box.get("width", "0")), y + float(box.get("height", "0"))))
            assert boxes
            assert all(a >= 0 and b >= 0 and c <= wide and d <= high for a, b, c, d in boxes)
            boxes.sort()
            for n, (_, b, c, d) in enumerate(boxes):
                for a2, b2, _, d2 in boxes[n + 1 :]:
                    if a2 >= c:
                        break
                    assert d2 <= b or b2 >= d


def test_a_picture_grows_with_the_tree_and_no_faster(books: list[Book]) -> None:
    """Gates that several stand on are drawn once: unfolded anew each time, this tree would have thousands of spots."""
    biggest = max(books, key=lambda b: len(b.events))
    spots = [s for p in grow(biggest, 99) for s in p.spots]
    assert len(spots) < 3 * len(biggest.events)


def test_problems_stand_above_the_last_good_picture(tricky: Book) -> None:
    where = Where("box.yaml", 12, 5, "  - <b>x</b>: often")
    faults = [Problem("event '<b>x</b>' is not known", "did you mean 'y'?", where)]
    root = parsed(tree_page(tricky, faults=faults, version="1"))
    said = " ".join("".join(root.itertext()).split())
    assert "1 problem in the files; the page below is the last that could be read" in said
    assert "box.yaml:12:5 event '<b>x</b>' is not known - <b>x</b>: often ^Instead: did you mean 'y'?" in said
    assert list(root.iter(f"{SVG}svg"))


def test_a_reader_finds_the_way_from_event_to_check_to_remedy(pages: Mapping[str, str]) -> None:
    root = parsed(pages["types/branch_circuit.html"])
    card = next(e for e in root.iter(f"{HTML}article") if e.get("id") == "event-panel_dead")
    said = " ".join("".join(card.itertext()).split())
    assert "very rare, 0.03 % of units on a random day" in said
    targets = set(links(card))
    assert {"#event-dead", "#reading-panel_voltage", "#check-measure_panel", "#remedy-call_power_company"} <= targets


def test_the_same_bytes_in_another_process(tmp_path: os.PathLike[str]) -> None:
    code = (
        "import faultkit, hashlib; from faultkit.reports.tree.folder import folder_pages;"
        "c = faultkit.load_catalogue(installed=False); s = faultkit.loading.load_sections(installed=False);"
        "print(hashlib.sha256(repr(folder_pages(c, s)).encode()).hexdigest())"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", code], check=True, capture_output=True, text=True, cwd=tmp_path,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("0", "31415")
    }
    assert len(said) == 1
