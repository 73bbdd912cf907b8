"""A report in each format."""

from __future__ import annotations

import json

from faultkit.call import Call
from faultkit.reports.visit.blocks import Document
from faultkit.reports.visit.customer import customer_document
from faultkit.reports.visit.data import Report
from faultkit.reports.visit.say import Say
from faultkit.reports.visit.shop import shop_document

__all__ = ["FORMATS", "READERS", "document", "render"]

FORMATS = ("text", "markdown", "json", "html")
READERS = ("customer", "shop")


def document(call: Call, report: Report, reader: str) -> Document:
    """The report in words for ``customer`` or ``shop``."""
    customer = reader == "customer"
    return (customer_document if customer else shop_document)(report, Say(call, customer=customer))


def render(call: Call, report: Report, reader: str, form: str) -> str:
    """The report as ``text``, ``markdown``, ``html``, or as ``json``, which holds everything for whatever reader."""
    if form == "json":
        return json.dumps(report.to_dict(), indent=2, ensure_ascii=False) + "\n"
    found = document(call, report, reader)
    if form == "html":
        from faultkit.reports.visit.page import html

        return html(found)
    from faultkit.reports.visit.render import markdown, text

    return (markdown if form == "markdown" else text)(found)
