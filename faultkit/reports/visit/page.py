"""A document as one page of HTML that needs nothing else: no network, no script."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

from faultkit.reports.tree.words import clean
from faultkit.reports.visit.blocks import Block, ChainPicture, CurvePicture, Document, Heading
from faultkit.reports.visit.pictures import chain_svg, chain_words, curve_svg, curve_words
from faultkit.reports.visit.render import curve_table

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

__all__ = ["html"]


def html(document: Document) -> str:
    """The page. Every text is escaped, control characters are shown as U+FFFD; the style is allowed by its hash."""
    from markupsafe import Markup

    style = _asset("report.css")
    policy = f"default-src 'none'; style-src '{_hash(style)}'; base-uri 'none'; form-action 'none'"
    text = _environment().get_template("report.html.j2").render(
        document=document, sections=_sections(document.blocks), policy=policy,
        style=Markup(style),  # noqa: S704 - our own file
    )
    return "\n".join(line.rstrip() for line in text.split("\n") if line.strip()) + "\n"


def _sections(blocks: Sequence[Block]) -> list[tuple[str, list[tuple[str, object, Markup | None]]]]:
    """Blocks under their headings, each with its name and its picture."""
    from markupsafe import Markup

    out: list[tuple[str, list[tuple[str, object, Markup | None]]]] = []
    for number, block in enumerate(blocks):
        if isinstance(block, Heading):
            out.append((block.text, []))
            continue
        if not out:
            out.append(("", []))
        picture = None
        if isinstance(block, ChainPicture | CurvePicture):
            svg = chain_svg(block, number) if isinstance(block, ChainPicture) else curve_svg(block, number)
            picture = Markup(ET.tostring(svg, encoding="unicode"))  # noqa: S704 - escaped by ElementTree
        out[-1][1].append((type(block).__name__, block, picture))
    return out


def _hash(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


@cache
def _asset(name: str) -> str:
    from importlib.resources import files

    text = files(__package__).joinpath("templates", name).read_text(encoding="utf-8")
    return "\n".join(line.rstrip() for line in text.split("\n") if line.strip())


@cache
def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined
    from markupsafe import Markup

    def shown(value: object) -> object:
        if not isinstance(value, str) or isinstance(value, Markup):
            return value
        return clean(value).replace(" %", "\N{NO-BREAK SPACE}%")

    made = Environment(
        loader=PackageLoader(__package__, "templates"), autoescape=True, undefined=StrictUndefined, finalize=shown,
        trim_blocks=True, lstrip_blocks=True,
    )
    made.globals.update(chain_words=chain_words, curve_table=curve_table, curve_words=curve_words)
    return made
