"""Common files: hazards, set-ups, instruments and tools shared by all types of a catalogue."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from faultkit.model.types import Common, Hazard, Instrument, Setup
from faultkit.problems import Problem, Where, did_you_mean
from faultkit.reading.mistakes import basis, title_of
from faultkit.reading.nodes import Node
from faultkit.units import Accuracy, Kind, UnitError, difference_kind, kind_of, parse_accuracy

__all__ = ["read_common", "read_instruments"]

_TERM = re.compile(r"\s*(?:±|\+/-)?\s*[0-9.]+(?:[eE][-+]?[0-9]+)?\s*(.*?)\s*")
_PLUS = re.compile(r"(?<=[^\s+])\s*(?<![0-9][eE])\+\s*")
_SHARE = re.compile(r"(?:%|percent|pct)(?:\s+of\s+(?:the\s+)?reading)?")


def read_common(files: Sequence[Node], problems: list[Problem]) -> Common:
    """Several schema-valid common files as one; a name in two of them is a problem naming both places."""
    hazards: dict[str, Hazard] = {}
    setups: dict[str, Setup] = {}
    tools: dict[str, str] = {}
    instruments: dict[str, Instrument] = {}
    for where, name, node, source in _members(files, "hazards", problems):
        hazards[name] = Hazard(name, node.text("caution"), basis(node, source), where)
    for _, name, node, source in _members(files, "setups", problems):
        dangers = node.get("hazards")
        named = dangers.list() if dangers is not None else []
        problems += [
            Problem(f"no hazard '{d.value}'", did_you_mean(str(d.value), hazards), d.where)
            for d in named
            if d.value not in hazards
        ]
        setups[name] = Setup(
            name,
            float(node.value["minutes"].value),
            node.text("title") or title_of(name),
            tuple(str(d.value) for d in named),
            basis(node, source),
        )
    for _, name, node, source in _members(files, "instruments", problems):
        made = _instrument(name, node, source, problems)
        if made is not None:
            instruments[name] = made
    for _, name, node, _ in _members(files, "tools", problems):
        tools[name] = str(node.value)
    return Common(hazards, setups, instruments, tools)


def _members(files: Sequence[Node], key: str, problems: list[Problem]) -> Iterator[tuple[Where, str, Node, str]]:
    """Place, name, node and the file's source of each member under ``key``; a name's first place counts."""
    seen: dict[str, Where] = {}
    for file in files:
        block = file.get(key)
        for name, node in block.items() if block is not None else ():
            where = block.at_key(name) if block is not None else node.where
            if name in seen:
                what = f"'{name}' of {key} stands in two common files, first at {seen[name]}"
                problems.append(Problem(what, "one of the two away or renamed", where))
                continue
            seen[name] = where
            yield where, name, node, file.text("source")


def read_instruments(block: Node | None, source: str, problems: list[Problem]) -> Mapping[str, Instrument]:
    """The instruments under one key; one whose accuracy cannot be read is left out, with a problem."""
    made = {n: _instrument(n, node, source, problems) for n, node in (block.items() if block is not None else ())}
    return {name: instrument for name, instrument in made.items() if instrument is not None}


def _instrument(name: str, node: Node, source: str, problems: list[Problem]) -> Instrument | None:
    given = node.value["accuracy"]
    try:
        accuracy, measures = _accuracy(str(given.value))
    except UnitError as error:
        problems.append(Problem(f"instrument '{name}': {error.what}", error.expected, given.where))
        return None
    return Instrument(name, accuracy, node.text("title") or title_of(name), measures, basis(node, source))


def _accuracy(text: str) -> tuple[Accuracy, Kind | None]:
    """An accuracy that stands without a reading: its own amount gives the unit.

    One that is a percentage alone has no unit; a volt then stands for any unit
    whose zero is nothing, which is where a percentage means something.
    """
    units = [found[1] for term in _PLUS.split(text.strip()) if (found := _TERM.fullmatch(term)) and found[1]]
    amounts = [u for u in units if not _SHARE.fullmatch(u)]
    if not amounts:
        return parse_accuracy(text, "V"), None
    return parse_accuracy(text, amounts[0]), difference_kind(kind_of(amounts[0]))
