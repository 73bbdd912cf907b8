"""The page as a person uses it, in headless Chromium. Skipped where Playwright or Chromium is not installed."""

from __future__ import annotations

import importlib.util
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import faultkit
from faultkit.cli.main import _parser
from faultkit.cli.watch import Watcher
from faultkit.model.catalogue import Catalogue
from faultkit.reports.tree.book import Book
from faultkit.reports.tree.folder import folder_pages
from faultkit.reports.tree.grow import grow
from faultkit.reports.tree.page import tree_page

CHROMIUM = next((found for n in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(n))), None)
QUIET = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]
pytestmark = pytest.mark.skipif(
    CHROMIUM is None or importlib.util.find_spec("playwright") is None, reason="needs Playwright and a Chromium"
)
SEEN = "g.spot:not(.hidden)"
DESK, PHONE = (1400, 900), (390, 844)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        found = player.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield found
        found.close()


class Look:
    """A page, with everything that went wrong and everything that was asked for from elsewhere."""

    def __init__(self, browser: Any, address: str, size: tuple[int, int] = DESK) -> None:
        self.page = browser.new_page(viewport={"width": size[0], "height": size[1]})
        self.wrong: list[str] = []
        self.asked: list[str] = []
        self.page.on("console", lambda m: self.wrong.append(m.text))
        self.page.on("pageerror", lambda e: self.wrong.append(str(e)))
        self.page.on("dialog", lambda d: self.wrong.append(f"dialog {d.message}"))
        self.page.on("request", lambda r: self.asked.append(r.url))
        self.page.goto(address)


@pytest.fixture(scope="module")
def unit(books: list[Book], tmp_path_factory: pytest.TempPathFactory) -> tuple[Book, str]:
    book = next(b for b in books if b.name == "condensing_unit_receiver")
    path = tmp_path_factory.mktemp("page") / "unit.html"
    path.write_text(tree_page(book), encoding="utf-8")
    return book, path.as_uri()


def test_titles_run_nothing(browser: Any, tricky: Book, tmp_path: Path) -> None:
    (tmp_path / "t.html").write_text(tree_page(tricky), encoding="utf-8")
    look = Look(browser, (tmp_path / "t.html").as_uri())
    look.page.get_by_role("button", name="Unfold all").first.click()
    look.page.fill("#find", "<script>")
    assert look.wrong == []
    assert look.page.locator("h1").inner_text() == '<script>alert(1)</script> & "quotes"'


def test_the_script_places_spots_where_python_did(browser: Any, unit: tuple[Book, str]) -> None:
    book, address = unit
    look = Look(browser, address)
    plain = browser.new_context(java_script_enabled=False).new_page()
    plain.goto(address)
    read = (
        "els => els.map(e => [e.id, ...e.getAttribute('transform').match(/[-\\d.]+/g)"
        ".map(x => Math.round(x * 100) / 100)])"
    )
    places = look.page.locator(SEEN).evaluate_all(read)
    before = plain.locator(SEEN).evaluate_all(read)  # evaluating works: only the page's own script is off
    assert [x for _, *xy in before for x in xy] == pytest.approx([x for _, *xy in places for x in xy], abs=0.01)
    assert [name for name, *_ in before] == [name for name, *_ in places]
    assert len(places) == sum(len(p.visible()) for p in grow(book))
    assert look.wrong == []


def test_fold_unfold_and_keys(browser: Any, unit: tuple[Book, str]) -> None:
    book, address = unit
    look = Look(browser, address)
    page = look.page
    figure = page.locator("figure").first
    picture = grow(book)[0]
    figure.get_by_role("button", name="Unfold all").click()
    assert figure.locator(SEEN).count() == len(picture.spots)
    figure.get_by_role("button", name="Fold", exact=True).click()
    top = picture.spots[0]
    assert figure.locator(SEEN).count() == 1 + top.children
    link = figure.locator(f"#spot-{top.index} a")
    link.focus()
    page.keyboard.press("ArrowDown")
    first = next(s for s in picture.spots if s.parent == top.index)
    focused = "document.activeElement.closest('g.spot').id"
    assert page.evaluate(focused) == f"spot-{first.index}"
    page.keyboard.press(" ")
    assert figure.locator(SEEN).count() == 1 + top.children + first.children
    page.keyboard.press("ArrowRight")
    second = [s for s in picture.spots if s.parent == top.index][1]
    assert page.evaluate(focused) == f"spot-{second.index}"
    page.keyboard.press("ArrowUp")
    assert page.evaluate(focused) == f"spot-{top.index}"
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == f"#event-{top.event}"
    assert page.locator(f"[id='event-{top.event}']").is_visible()
    assert look.wrong == []


def test_nothing_overlaps_when_all_is_unfolded(browser: Any, unit: tuple[Book, str]) -> None:
    page = Look(browser, unit[1]).page
    figure = page.locator("figure").first
    figure.get_by_role("button", name="Unfold all").click()
    boxes = figure.locator(f"{SEEN} rect.box").evaluate_all(
        "els => els.map(e => { const r = e.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]; })"
    )
    boxes.sort()
    for n, (_, b, c, d) in enumerate(boxes):
        for a2, b2, _, d2 in boxes[n + 1 :]:
            if a2 >= c:
                break
            assert d2 <= b or b2 >= d


def test_titles_fit_their_boxes(browser: Any, unit: tuple[Book, str]) -> None:
    """Measured with the fonts of this machine, a hair allowed for."""
    page = Look(browser, unit[1]).page
    page.locator("figure").first.get_by_role("button", name="Unfold all").click()
    worst = page.evaluate(
        """() => Math.max(...[...document.querySelectorAll('g.spot:not(.hidden) a')]
           .filter(a => a.querySelector('rect')).map(a => { const w = +a.querySelector('rect').getAttribute('width');
             return Math.max(...[...a.querySelectorAll(':scope > text:not(.small):not(.tiny)')]
               .map(t => t.getBBox().width - w)); }))"""
    )
    assert worst <= 0


def test_search(browser: Any, unit: tuple[Book, str]) -> None:
    look = Look(browser, unit[1])
    look.page.fill("#find", "condenser_dirty")
    assert look.page.locator("#event-condenser_dirty").is_visible()
    assert not look.page.locator("#event-no_line").is_visible()
    assert look.page.locator("g.spot.hit:not(.hidden)").count() >= 1
    assert "places in the pictures" in look.page.locator("#found").inner_text()
    look.page.fill("#find", "")
    assert look.page.locator("#event-no_line").is_visible()
    assert look.wrong == []


def test_from_a_card_into_the_picture(browser: Any, unit: tuple[Book, str]) -> None:
    look = Look(browser, unit[1])
    card = look.page.locator("#event-condenser_dirty")
    card.locator(".at a").first.click()
    spot = look.page.evaluate("location.hash")
    assert look.page.locator(f"{spot}.chosen").is_visible()
    look.page.wait_for_function("s => { const r = document.querySelector(s).getBoundingClientRect();"
                                "return r.top >= 0 && r.bottom <= innerHeight && r.left >= 0; }", arg=spot)


@pytest.mark.parametrize("size", [DESK, PHONE])
def test_no_page_is_wider_than_the_screen(
    browser: Any, catalogue: Catalogue, tmp_path: Path, size: tuple[int, int]
) -> None:
    for path, text in folder_pages(catalogue, faultkit.loading.load_sections(installed=False)).items():
        file = tmp_path / path
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, encoding="utf-8")
        look = Look(browser, file.as_uri(), size)
        assert look.page.evaluate("document.documentElement.scrollWidth <= innerWidth"), path
        assert look.asked == [file.as_uri()]  # nothing is downloaded
        assert look.wrong == []
        look.page.close()


def test_the_page_renews_itself_and_keeps_what_is_unfolded(browser: Any, tmp_path: Path, tricky_folder: Path) -> None:
    path = tmp_path / "tricky.yaml"
    good = (tricky_folder / "tricky.yaml").read_text(encoding="utf-8")
    (tmp_path / "words.yaml").write_text((tricky_folder / "words.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    path.write_text(good, encoding="utf-8")
    watcher = Watcher(_parser().parse_args(["show", str(path), "--watch", "--depth", "1"]))
    watcher.look()
    server = watcher.server(0)
    thread = threading.Thread(target=server.serve_forever, args=(0.05,))
    thread.start()
    try:
        look = Look(browser, f"http://127.0.0.1:{server.server_port}/")
        figure = look.page.locator("figure").first
        figure.get_by_role("button", name="Unfold all").click()
        before = figure.locator(SEEN).count()
        path.write_text(good.replace("any_of: [two,", "any_of: [tow,"), encoding="utf-8")
        assert watcher.look()
        look.page.wait_for_selector(".problems")
        assert "did you mean 'two'" in look.page.locator(".problems").inner_text()
        assert look.page.locator("figure").first.locator(SEEN).count() == before
        path.write_text(good.replace("common, title", "rare, title"), encoding="utf-8")
        assert watcher.look()
        look.page.wait_for_selector(".problems", state="detached")
        assert look.page.locator("figure").first.locator(SEEN).count() == before
        assert look.wrong == []
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
