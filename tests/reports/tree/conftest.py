"""Books of the built-in catalogue and of a small one that tries every symbol and every trick."""

from __future__ import annotations

from pathlib import Path

import pytest

import faultkit
from faultkit.model.catalogue import Catalogue
from faultkit.network.site import Site
from faultkit.reports.tree.book import Book
from faultkit.reports.tree.of_site import book_of_site
from faultkit.reports.tree.of_type import book_of_type

ROOT = Path(__file__).parents[3]

#: Every kind of event; titles that would be markup, code or control characters if let through.
TRICKY = r"""
schema: 1
equipment: tricky
title: "<script>alert(1)</script> & \"quotes\""
plain: "</title><img src=x onerror=alert(2)>"
source: "</style><script>alert(3)</script>"
house_events:
  fitted: {default: no, title: "fitted' onload='alert(4)"}
joins:
  fed_by: {optional: yes, title: "<b>feed</b>", events: [gone]}
readings:
  look: {yes_no: yes, title: "a \u0007 bell and \u202e turned"}
  size: {unit: degF, title: "]]> --> `tick`", bands: [low, {at: 38 degF, source: "<i>book</i>"}, high]}
events:
  top: {title: "<svg onload=alert(5)>", any_of: [two, {both: seldom}, fed_by.gone, fitted]}
  two: {title: "two | of \\ three {}", at_least: 2, of: [a, b, c]}
  both: {all_of: [a, two]}
  a: {how_common: common, title: "a;]%%\"(("}
  b: {how_common: {winter: common, otherwise: rare}, broken_by: {a: often}, title: "b #quot; &lt;"}
  c: {how_common: rare, only_with: fitted, stays: yes, intermittent: yes}
tells:
  look: [{top: {yes: always}}, {otherwise: {no: nearly_always}}]
  size: [{a: {high: usually}}, {otherwise: {low: nearly_always}}]
checks:
  see: {gives: [look, size], minutes: 2, steps: ["<script>alert(6)</script>"], hazards: [burn]}
remedies:
  mend: {ends: [a, b], minutes: 5, prove: {look: no}, may_leave: {c: rarely}, disturbs: [size]}
"""

COMMON = """
schema: 1
common: words
source: common practice
hazards: {burn: {caution: "<script>alert(7)</script>"}}
"""


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return faultkit.load_catalogue(installed=False)


@pytest.fixture(scope="session")
def tricky_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("tricky")
    (folder / "tricky.yaml").write_text(TRICKY, encoding="utf-8")
    (folder / "words.yaml").write_text(COMMON, encoding="utf-8")
    return folder


@pytest.fixture(scope="session")
def tricky(tricky_folder: Path) -> Book:
    found = faultkit.load_catalogue([tricky_folder], installed=False)
    return book_of_type(found.types["tricky"], found.common, found.types)


@pytest.fixture(scope="session")
def books(catalogue: Catalogue, tricky: Book) -> list[Book]:
    """Every built-in type, the example site, and the tricky one."""
    site: Site = faultkit.load_site(ROOT / "examples" / "site.yaml", catalogue)
    types = [book_of_type(t, catalogue.common, catalogue.types) for t in catalogue.types.values()]
    return [*types, book_of_site(site, catalogue.types), tricky]
