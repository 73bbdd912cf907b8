"""A price book, and what it makes of the parts, the refrigerant and the time of a call."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from faultkit.problems import InputError, Problem
from faultkit.reports.visit.data import Done, Line, Money, Total, Used

if TYPE_CHECKING:
    from faultkit.reading.nodes import Node

__all__ = ["PriceBook", "load_prices", "priced"]

#: kg in the units a price can be per.
_UNITS: Mapping[str, float] = MappingProxyType({"lb": 0.45359237, "oz": 0.028349523125, "kg": 1.0, "g": 0.001})


@dataclass(frozen=True, slots=True)
class PriceBook:
    """Prices in one currency: of a part by its name, of a refrigerant as (price, unit), of a remedy's labor."""

    name: str
    currency: str
    parts: Mapping[str, Decimal]
    refrigerants: Mapping[str, tuple[Decimal, str]]
    labor: Mapping[str, Decimal]


def load_prices(path: str | os.PathLike[str]) -> PriceBook:
    """The price book in a YAML or JSON file. InputError with every problem of the file."""
    from faultkit.reading.parse import parse_file
    from faultkit.reading.validate import validate

    problems: list[Problem] = []
    node = parse_file(path, problems)
    if node is not None and node.get("prices") is None:
        problems.append(Problem("this is no price book", "'schema: 1', 'prices: NAME', 'currency: USD'", node.where))
    elif node is not None and validate(node, "prices", problems):
        found = _read(node, problems)
        if not problems:
            return found
    raise InputError(problems)


def _read(node: Node, problems: list[Problem]) -> PriceBook:
    def money(at: Node) -> Decimal:
        value = Decimal(str(at.value))
        if not value.is_finite():
            problems.append(Problem(f"a price of {at.value}", "a number that money can be counted in", at.where))
        return value

    def items(key: str) -> Iterable[tuple[str, Any]]:
        block = node.get(key)
        return block.items() if block is not None else ()

    return PriceBook(
        node.text("prices"), node.text("currency"),
        {name: money(at) for name, at in items("parts")},
        {name: (money(at.value["each"]), at.text("per")) for name, at in items("refrigerants")},
        {name: money(at) for name, at in items("labor")},
    )


def priced(book: PriceBook, parts: Iterable[Used], totals: Iterable[Total], done: Iterable[Done]) -> Money:
    """Parts used, refrigerant put in and remedies done, with their prices. What the book does not have is missing."""
    lines: list[tuple[Line, Decimal]] = []
    missing: dict[str, None] = {}

    def add(kind: str, what: str, amount: float, unit: str, each: Decimal | None) -> None:
        if each is None:
            missing[what] = None
        else:
            total = (each * Decimal(str(amount))).quantize(Decimal("0.01"), ROUND_HALF_UP)
            lines.append((Line(kind, what, amount, unit, float(each), float(total)), total))

    for p in parts:
        add("part", p.part, p.count, "", book.parts.get(p.part))
    for t in totals:
        if t.way == "in":
            each, per = book.refrigerants.get(t.refrigerant, (None, "kg"))
            add("refrigerant", t.refrigerant, round(t.mass.kg / _UNITS[per], 4), per, each)
    if book.labor:
        for d in done:
            add("labor", d.remedy, 1, "", book.labor.get(d.remedy, book.labor.get(d.remedy.partition(".")[2])))
    return Money(
        book.name, book.currency, tuple(x for x, _ in lines), float(sum((s for _, s in lines), Decimal(0))),
        tuple(missing),
    )
