"""Case files and coverage files: text → plans, every problem of a file at once."""

from __future__ import annotations

import os

from faultkit.cases.model import CaseFile, CasePlan, Expectation, Floors, Named
from faultkit.problems import Problem
from faultkit.reading import load_file
from faultkit.reading.call import moment, read_entries
from faultkit.reading.mistakes import title_of
from faultkit.reading.nodes import Node
from faultkit.reading.site import read_units
from faultkit.reading.text import shown_path

__all__ = ["load_case_file", "load_floors"]


def load_case_file(path: str | os.PathLike[str]) -> CaseFile:
    """The plan of a ``*.cases.yaml``. InputError with every problem of the file."""
    return load_file(path, "cases", lambda node, problems: _case_file(node, shown_path(path), problems))


def load_floors(path: str | os.PathLike[str]) -> Floors:
    """The least shares in a coverage file, each with its place. InputError with every problem of the file."""
    return load_file(path, "coverage", lambda node, _: _floors(node))


def _case_file(node: Node, path: str, problems: list[Problem]) -> CaseFile:
    site, units = node.get("site"), node.get("units")
    if (site is None) == (units is None):
        what = "the cases have no site" if site is None else "the cases have two sites: 'site' and 'units'"
        problems.append(
            Problem(what, "either 'site: <file>' or 'units: …'", node.at_key("cases" if site is None else "units"))
        )
    name = node.text("cases")
    block = node.value["calls"]
    return CaseFile(
        name,
        node.text("title") or title_of(name),
        path,
        node.text("site"),
        read_units(node, name, problems) if units is not None else None,
        tuple(_case(key, member, node, block, problems) for key, member in block.items()),
        site.where if site is not None else node.at_key("units"),
    )


def _case(name: str, node: Node, whole: Node, block: Node, problems: list[Problem]) -> CasePlan:
    opened = node.get("opened") or whole.value["opened"]
    day = moment(opened, problems)
    entries = read_entries(node.value["entries"], day, problems)
    expect = node.value["expect"]
    found = {key: _named(expect, key, problems) for key in Expectation.__slots__}
    _disjoint(found, problems)
    return CasePlan(
        name,
        node.text("story"),
        str(opened.value),
        entries,
        Expectation(**found),
        node.text("known_to_fail"),
        block.at_key(name),
    )


def _named(expect: Node, key: str, problems: list[Problem]) -> tuple[Named, ...]:
    block = expect.get(key)
    found: dict[str, Named] = {}
    for member in block.list() if block is not None else ():
        name = str(member.value)
        if name in found:
            problems.append(Problem(f"'{name}' stands twice in '{key}'", "each once", member.where))
        found.setdefault(name, Named(name, member.where))
    return tuple(found.values())


def _disjoint(found: dict[str, tuple[Named, ...]], problems: list[Problem]) -> None:
    """An event has one verdict; ``not_confirmed`` goes with any but ``confirmed``."""
    first: dict[str, str] = {}
    for key in ("confirmed", "ruled_out", "open"):
        for n in found[key]:
            if n.name in first:
                what = f"'{n.name}' cannot be both '{first[n.name]}' and '{key}'"
                problems.append(Problem(what, "one of them", n.where))
            first.setdefault(n.name, key)
    problems += [
        Problem(f"'{n.name}' cannot be both 'confirmed' and 'not_confirmed'", "one of them", n.where)
        for n in found["not_confirmed"]
        if first.get(n.name) == "confirmed"
    ]


def _floors(node: Node) -> Floors:
    return {
        name: {key: (float(share.value), share.where) for key, share in member.items()}
        for name, member in node.value["minimum"].items()
    }
