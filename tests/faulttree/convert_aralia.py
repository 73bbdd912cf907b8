"""Convert fault trees of the Aralia set from Open-PSA XML to the compact JSON of this folder.

Use: ``python tests/faulttree/convert_aralia.py OUT_FOLDER FILE.xml …``

One JSON object for a tree, keys in this order:

``tree``
    name of the source file without its ending;
``top``
    the gate that is no gate's input;
``gates``
    name → ``[connective, input, …]`` in the order of the source; the connective is
    ``and``, ``or``, ``not``, ``xor``, ``atleast K`` or ``pass`` (one input, no connective);
``probabilities``
    probability → names of the basic events that have it. Most trees of the set give
    every event 0.01, so this is shorter than one number for each name.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

__all__ = ["convert", "dump"]

_CONNECTIVES = ("and", "or", "not", "xor", "atleast")
_LEAVES = ("gate", "basic-event")


def convert(name: str, xml: str) -> dict[str, Any]:
    """The compact form of one tree. Raises ValueError for an element it does not know."""
    root = ET.fromstring(xml)  # noqa: S314 - a file the developer picked
    gates: dict[str, list[str]] = {}
    for element in root.iter("define-gate"):
        gate = element.attrib["name"]
        if gate in gates:
            raise ValueError(f"{name}: gate {gate} is defined twice")
        gates[gate] = _formula(name, [*element])
    used = {one for formula in gates.values() for one in formula[1:]}
    tops = [gate for gate in gates if gate not in used]
    if len(tops) != 1:
        raise ValueError(f"{name}: {len(tops)} gates are no gate's input, one was expected")
    chances: dict[str, list[str]] = {}
    for element in root.iter("define-basic-event"):
        number = element.find("float")
        if number is None:
            raise ValueError(f"{name}: basic event {element.attrib['name']} has no plain number")
        chances.setdefault(number.attrib["value"], []).append(element.attrib["name"])
    return {"tree": name, "top": tops[0], "gates": gates, "probabilities": chances}


def _formula(name: str, children: list[ET.Element]) -> list[str]:
    if len(children) != 1:
        raise ValueError(f"{name}: a gate with {len(children)} formulas")
    child = children[0]
    if child.tag in _LEAVES:
        return ["pass", child.attrib["name"]]
    if child.tag not in _CONNECTIVES or any(c.tag not in _LEAVES for c in child):
        raise ValueError(f"{name}: element {child.tag} is not known here")
    connective = f"atleast {child.attrib['min']}" if child.tag == "atleast" else child.tag
    return [connective, *(c.attrib["name"] for c in child)]


def dump(tree: dict[str, Any]) -> str:
    """JSON text, one gate on a line."""
    lines = [f' "{key}": {json.dumps(tree[key])},' for key in ("tree", "top")]
    gates = [f"  {json.dumps(g)}: {json.dumps(f)}" for g, f in tree["gates"].items()]
    lines += [' "gates": {', ",\n".join(gates), " },"]
    lines.append(f' "probabilities": {json.dumps(tree["probabilities"])}')
    return "{\n" + "\n".join(lines) + "\n}\n"


def main(arguments: Iterable[str]) -> None:
    """Convert every named file."""
    folder, *files = map(Path, arguments)
    for file in files:
        text = dump(convert(file.stem, file.read_text(encoding="utf-8")))
        (folder / f"{file.stem}.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
