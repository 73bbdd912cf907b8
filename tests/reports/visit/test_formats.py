"""Every report in every format: valid for outside parsers, nothing of a call runs, the same bytes each time."""

from __future__ import annotations

import base64
import hashlib
import json
import os
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import html5lib
import pytest
from jsonschema import Draft202012Validator

import faultkit
from faultkit.reading.resources import data_folder
from faultkit.reports.visit.blocks import ChainPicture, CurvePicture, Node
from faultkit.reports.visit.data import Report
from faultkit.reports.visit.pictures import chain_svg, curve_svg
from faultkit.reports.visit.report import FORMATS, READERS, render

HTML, SVG = "{http://www.w3.org/1999/xhtml}", "{http://www.w3.org/2000/svg}"
NAMES = (
    "conflict", "four_remedies", "leak_and_declined_cleaning", "motor_on_suspicion", "one_fault", "three_faults",
    "priced", "empty", "hostile",
)
ROOT = Path(__file__).parents[3]

Both = tuple[faultkit.Call, Report]

pages = pytest.mark.parametrize("reader", READERS)
every = pytest.mark.parametrize("name", NAMES)


def parsed(text: str) -> Any:
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=True).parse(text)


@every
@pages
def test_a_page_is_valid_html_that_needs_nothing_else(calls: dict[str, Both], name: str, reader: str) -> None:
    text = render(*calls[name], reader, "html")
    page = parsed(text)
    tags = {e.tag for e in page.iter()}
    assert not tags & {HTML + t for t in ("script", "link", "img", "iframe", "object", "form", "base")}
    style = page.find(f".//{HTML}style").text
    assert "url(" not in style
    assert "@import" not in style
    policy = next(m.get("content") for m in page.iter(HTML + "meta") if m.get("http-equiv"))
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert policy == f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    for e in page.iter():
        assert not [a for a in e.attrib if a.startswith("on") or a in {"style", "src", "href"}], e.attrib


@every
@pages
def test_each_picture_is_xml_with_words_for_it(calls: dict[str, Both], name: str, reader: str) -> None:
    for svg in re.findall(r"<svg.*?</svg>", render(*calls[name], reader, "html"), re.DOTALL):
        root = ET.fromstring(svg)  # noqa: S314 - our own
        named = [root.find(f"{SVG}title"), root.find(f"{SVG}desc")]
        assert all(n is not None and n.text for n in named)
        assert root.get("role") == "img"
        assert (root.get("aria-labelledby") or "").split() == [n.get("id") for n in named if n is not None]


def test_ids_of_a_page_are_its_own(calls: dict[str, Both]) -> None:
    text = render(*calls["leak_and_declined_cleaning"], "customer", "html")
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids)) == 6  # the chain and two curves, a title and a description each


@every
def test_the_json_is_valid(calls: dict[str, Both], name: str) -> None:
    schema = json.loads((data_folder("schemas") / "report.v1.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    call, report = calls[name]
    text = render(call, report, "customer", "json")
    assert text == render(call, report, "shop", "json")
    errors = [f"{e.json_path} {e.message}" for e in Draft202012Validator(schema).iter_errors(json.loads(text))]
    assert errors == []


def test_the_schema_is_closed(calls: dict[str, Both]) -> None:
    schema = json.loads((data_folder("schemas") / "report.v1.json").read_text(encoding="utf-8"))
    data = json.loads(render(*calls["priced"], "shop", "json"))
    data["money"]["more"] = data["more"] = 1
    found = sorted(e.json_path for e in Draft202012Validator(schema).iter_errors(data))
    assert found[0] == "$"
    assert len(found) == 2


@pages
def test_what_people_wrote_stays_text(calls: dict[str, Both], reader: str) -> None:
    page = parsed(render(*calls["hostile"], reader, "html"))
    said = " ".join("".join(page.itertext()).split())
    assert '<script>alert(1)</script> | "x"' in said
    assert "\x07" not in said
    assert "\u202e" not in said
    for form in ("markdown", "text"):
        text = render(*calls["hostile"], reader, form)
        assert "\x07" not in text
        assert "\u202e" not in text
    markdown = render(*calls["hostile"], reader, "markdown")
    assert not re.search(r"(?<!\\)<(script|img|/style)", markdown)
    assert not re.search(r"(?<!\\)\[a\]\(", markdown)
    for line in markdown.split("\n"):  # a bar in a text would start another cell
        if line.startswith("| "):
            assert len(re.findall(r"(?<!\\)\|", line)) in {3, 4, 5, 6, 7, 9}


@pages
def test_tables_of_markdown_are_whole(calls: dict[str, Both], reader: str) -> None:
    lines = render(*calls["hostile"], reader, "markdown").split("\n")
    bars = [len(re.findall(r"(?<!\\)\|", line)) if line.startswith("|") else 0 for line in lines]
    assert sum(map(bool, bars)) > 10
    for one, two in pairwise(bars):
        assert not one or not two or one == two


def test_the_same_call_gives_the_same_bytes_in_another_process() -> None:
    code = (
        "import sys, hashlib, faultkit\n"
        "from faultkit.reports.visit.gather import build_report\n"
        "from faultkit.reports.visit.report import FORMATS, READERS, render\n"
        "call = faultkit.load_call('examples/leak_and_declined_cleaning.call.yaml')\n"
        "report = build_report(call, call.diagnose(advice=False))\n"
        "text = ''.join(render(call, report, r, f) for r in READERS for f in FORMATS)\n"
        "print(hashlib.sha256(text.encode()).hexdigest(), len(text))\n"
    )
    said = [
        subprocess.run(
            [sys.executable, "-c", code], cwd=ROOT, check=True, capture_output=True, text=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": str(ROOT)},
        ).stdout
        for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo"))
    ]
    assert said[0] == said[1]
    assert int(said[0].split()[1]) > 10_000


def test_every_format_says_something_about_an_empty_call(calls: dict[str, Both]) -> None:
    for reader in READERS:
        for form in FORMATS:
            assert len(render(*calls["empty"], reader, form)) > 300


def test_a_flat_curve_and_a_deep_chain_can_be_drawn() -> None:
    flat = CurvePicture("flat", "°F", ((0.0, 41.0, 0.0), (5.0, 41.0, 0.0)), ("10:00", "10:05"), None, "level", 30.0)
    one = CurvePicture("one", "°F", ((0.0, -40.0, 0.1),), ("10:00",), None, "one", 30.0)
    deep = ChainPicture("deep", tuple(Node("w" * 90, n, "caused by" if n else "", "", "gone") for n in range(60)))
    for svg in (curve_svg(flat, 1), curve_svg(one, 2), chain_svg(deep, 3)):
        numbers = [float(v) for e in svg.iter() for k, v in e.attrib.items() if k in {"x", "y", "width", "x1", "y1"}]
        assert all(0.0 <= n < 10_000.0 for n in numbers)
        assert all(float(e.get("width", "1")) > 100 for e in svg.iter("rect"))
