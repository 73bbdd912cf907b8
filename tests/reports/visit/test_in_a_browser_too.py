"""The page of a report in headless Chromium. Skipped where Playwright or Chromium is not installed."""

from __future__ import annotations

import importlib.util
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import faultkit
from faultkit.reports.visit.data import Report
from faultkit.reports.visit.report import READERS, render

CHROMIUM = next((found for n in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(n))), None)
QUIET = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync"]
pytestmark = pytest.mark.skipif(
    CHROMIUM is None or importlib.util.find_spec("playwright") is None, reason="needs Playwright and a Chromium"
)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        found = player.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield found
        found.close()


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("wide", [360, 1200])
def test_it_fits_asks_for_nothing_and_runs_nothing(
    browser: Any, calls: dict[str, tuple[faultkit.Call, Report]], tmp_path: Path, reader: str, wide: int
) -> None:
    path = tmp_path / "report.html"
    path.write_text(render(*calls["hostile"], reader, "html"), encoding="utf-8")
    page = browser.new_page(viewport={"width": wide, "height": 800})
    wrong: list[str] = []
    asked: list[str] = []
    page.on("console", lambda m: wrong.append(m.text))
    page.on("pageerror", lambda e: wrong.append(str(e)))
    page.on("dialog", lambda d: wrong.append(d.message))
    page.on("request", lambda r: asked.append(r.url))
    page.goto(path.as_uri())
    assert wrong == []
    assert asked == [path.as_uri()]
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    # The style was let through by its hash: boxes of the chain are filled by class alone.
    filled = page.evaluate("getComputedStyle(document.querySelector('svg .spot.there rect')).strokeWidth")
    assert filled == "2.5px"
    # No word of the chain sticks out of its picture.
    out = page.evaluate(
        "[...document.querySelectorAll('svg.chain text')].filter(t => "
        "t.getBoundingClientRect().right > t.ownerSVGElement.getBoundingClientRect().right + 1).length"
    )
    assert out == 0
    page.close()


def test_it_prints_on_letter_and_a4(
    browser: Any, leak: tuple[faultkit.Call, Report], tmp_path: Path
) -> None:
    path = tmp_path / "report.html"
    path.write_text(render(*leak, "customer", "html"), encoding="utf-8")
    page = browser.new_page()
    page.goto(path.as_uri())
    page.emulate_media(media="print")
    for size, width in (("Letter", 816), ("A4", 794)):
        page.set_viewport_size({"width": width - 106, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width - 106
        assert page.pdf(format=size).startswith(b"%PDF")
    page.close()
