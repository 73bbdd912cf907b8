"""Site files: the units of one place, their nameplate values and joins."""

from __future__ import annotations

from collections.abc import Sequence

from faultkit.model.site import SitePlan, Travel, Unit
from faultkit.problems import Problem, Where, did_you_mean
from faultkit.reading.common import read_instruments
from faultkit.reading.mistakes import title_of
from faultkit.reading.nodes import Node
from faultkit.units import Kind, Quantity, UnitError, parse_quantity

__all__ = ["read_site", "read_units"]


def read_site(node: Node, problems: list[Problem]) -> SitePlan:
    """The plan of a schema-valid site file. Anything wrong is added to ``problems``; the plan then lacks it.

    Whether the equipment types exist and know these settings and joins is seen when the site is joined.
    """
    return read_units(node, node.text("site"), problems)


def read_units(node: Node, name: str, problems: list[Problem]) -> SitePlan:
    """The plan named ``name`` in a schema-valid mapping with ``units`` and what goes with them."""
    block = node.value["units"]
    units = {key: _unit(key, member, block.at_key(key)) for key, member in block.items()}
    for key, member in block.items():
        _check_joins(key, member, list(units), problems)
    title = node.text("title") or title_of(name)
    return SitePlan(
        name,
        title,
        _altitude(node.get("altitude"), problems),
        node.text("hemisphere", "north"),
        _travel(node.get("travel"), dict.fromkeys(u.place for u in units.values() if u.place), problems),
        read_instruments(node.get("instruments"), node.text("source"), problems),
        units,
        node.at_key("site" if "site" in node.keys else "units"),
    )


def _altitude(node: Node | None, problems: list[Problem]) -> float:
    if node is None:
        return 0.0
    try:
        return parse_quantity(str(node.value), Kind.LENGTH).value
    except UnitError as error:
        problems.append(Problem(f"altitude: {error.what}", error.expected, node.where))
        return 0.0


def _unit(name: str, node: Node, where: Where) -> Unit:
    settings = node.get("settings")
    joins = node.get("joins")
    given = dict(settings.items()) if settings is not None else {}
    joined = dict(joins.items()) if joins is not None else {}
    places = {key: member.where for key, member in {**node.value, **given, **joined}.items()}
    return Unit(
        name,
        node.text("equipment"),
        node.text("title") or title_of(name),
        node.text("place"),
        {key: _nameplate(str(member.value)) for key, member in given.items()},
        {key: str(member.value) for key, member in joined.items()},
        places,
        where,
    )


def _nameplate(text: str) -> Quantity | str | bool:
    """A house event (yes, no), a quantity, or else a word: which of them is right the equipment type says."""
    if text in ("yes", "no"):
        return text == "yes"
    try:
        return parse_quantity(text)
    except UnitError:
        return text


def _check_joins(name: str, node: Node, names: Sequence[str], problems: list[Problem]) -> None:
    joins = node.get("joins")
    for join, member in joins.items() if joins is not None else ():
        if member.value == name:
            problems.append(Problem(f"unit '{name}' is joined to itself under '{join}'", "another unit", member.where))
        elif member.value not in names:
            others = [n for n in names if n != name]
            problems.append(
                Problem(
                    f"no unit '{member.value}' at this site",
                    did_you_mean(str(member.value), others),
                    member.where,
                )
            )


def _travel(block: Node | None, places: dict[str, None], problems: list[Problem]) -> tuple[Travel, ...]:
    ways: dict[frozenset[str], Travel] = {}
    for node in block.list() if block is not None else ():
        ends = node.value["between"].value
        unknown = [end for end in ends if end.value not in places]
        problems += [
            Problem(f"no unit stands at a place '{e.value}'", did_you_mean(str(e.value), places), e.where)
            for e in unknown
        ]
        a, b = (str(end.value) for end in ends)
        pair = frozenset((a, b))
        if a == b:
            problems.append(Problem(f"a way from '{a}' to itself", "two places", ends[1].where))
        elif pair in ways:
            first = ways[pair].where
            problems.append(
                Problem(
                    f"the way between '{a}' and '{b}' stands twice, first at {first}",
                    "each way once",
                    node.where,
                )
            )
        elif not unknown:
            ways[pair] = Travel((a, b), float(node.value["minutes"].value), node.where)
    return tuple(ways.values())
