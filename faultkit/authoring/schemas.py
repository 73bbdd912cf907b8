"""The shipped JSON Schemas narrowed to the names of one catalogue, for editors.

They only ever accept less than the shipped ones. What a file may declare itself (states, its own
instruments) is completed, not refused; ``faultkit check`` judges those.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from faultkit.authoring.parts import Part, any_text, choices, closed_keys, when, with_unit
from faultkit.calculators import Calculator
from faultkit.model.catalogue import Catalogue
from faultkit.model.types import EquipmentType
from faultkit.model.words import CHANCE_WORDS, HOW_COMMON_WORDS
from faultkit.reading.schemas import KINDS, schema

__all__ = ["SCHEMA_ID", "Words", "special_schemas"]

#: Where the ids of narrowed schemas begin; the shipped ones lie beside, not under it.
SCHEMA_ID = "https://faultkit.example/schemas/of-a-catalogue"

_NAME: Part = {"$ref": "#/$defs/name"}


@dataclass(frozen=True, slots=True)
class Words:
    """What there is to name: a catalogue, its sections (name → title), units of known sites (unit, type)."""

    catalogue: Catalogue
    sections: Mapping[str, str] = field(default_factory=dict)
    units: tuple[tuple[str, str], ...] = ()

    def of_types(self, what: str) -> dict[str, str]:
        """Names → titles of all types' ``readings``, ``events``, ``checks`` or ``remedies``."""
        return {n: t for kind in self.catalogue.types.values() for n, t in _titles(kind, what).items()}

    def of_units(self, *what: str) -> list[tuple[str, dict[str, str]]]:
        """Each known unit with the names of its type."""
        types = self.catalogue.types
        return [(u, _titles(types[t], w)) for u, t in self.units if t in types for w in what]


def _titles(kind: EquipmentType, what: str) -> dict[str, str]:
    return {n: str(getattr(d, "title", "")) for n, d in getattr(kind, what).items()}


def special_schemas(words: Words) -> dict[str, Part]:
    """A schema for each kind of file, by kind."""
    return {kind: _special(kind, words) for kind in KINDS}


def _special(kind: str, words: Words) -> Part:
    made = schema(kind)
    made["$id"] = f"{SCHEMA_ID}/{kind}.v1.json"
    made["title"] = f"{made['title']}, with the names of the catalogue at hand"
    for name, change in _CHANGES.items():
        part = made["$defs"].get(name)
        if part is not None:
            change(part, words)
    _chance_words(made["$defs"])
    if kind == "coverage":
        told = {n: {**_described(t.title, n), "$ref": "#/$defs/floor"} for n, t in words.catalogue.types.items()}
        made["properties"]["minimum"] |= closed_keys(told)
    return made


def _described(title: str, name: str) -> Part:
    return {"description": title or name.replace("_", " ")}


def _chance_words(defs: Part) -> None:
    """Words of chance and frequency with their numbers as hover texts."""
    for name, numbers in (("chance", CHANCE_WORDS), ("frequency", HOW_COMMON_WORDS)):
        if name in defs:
            branch = defs[name]["else"]["else"]
            del branch["enum"]
            branch["anyOf"] = [{"const": w, "description": f"{w.replace('_', ' ')}: {n:g}"} for w, n in numbers.items()]


def _put(part: Part, key: str, new: Part) -> None:
    """``new`` in the place of a property, under the description it had."""
    told = part.get("properties", {})
    if key in told:
        told[key] = {**new, "description": told[key].get("description", "")}


def _list(new: Part) -> Part:
    return {"type": "array", "items": new}


def _task(part: Part, words: Words) -> None:
    """A check, a remedy or a set-up."""
    common = words.catalogue.common
    instruments = {n: i.title for n, i in common.instruments.items()}
    _put(part, "hazards", _list(choices({n: h.caution for n, h in common.hazards.items()}, "a hazard")))
    _put(part, "setups", _list(choices({n: s.title for n, s in common.setups.items()}, "a set-up")))
    _put(part, "tools", _list(choices({**instruments, **common.tools}, "a tool or an instrument")))


def _include(part: Part, words: Words) -> None:
    _put(part, "use", choices(words.sections, "a section"))


def _with_a_unit(part: Part, _: Words) -> None:
    from faultkit.units.table import ALIASES, UNITS

    known = {u: unit.kind.value.replace("_", " ") for u, unit in UNITS.items()}
    spelled = {"enum": sorted(set(ALIASES) - set(known))}
    # A product or power of units is left to faultkit, which asks a library of units.
    otherwise: Part = {"type": "string", "anyOf": [{"pattern": "[*/^ ]"}, spelled]}
    _put(part, "unit", any_text(choices(known, "a unit"), otherwise))


def _reading(part: Part, words: Words) -> None:
    _with_a_unit(part, words)
    states = {n: t for kind in words.catalogue.types.values() for n, t in kind.states.items()}
    _put(part, "in", any_text(choices(states, "a state"), {"$ref": "#/$defs/name_or_names"}))


def _calculate(part: Part, words: Words) -> None:
    known: Mapping[str, Calculator] = words.catalogue.calculators
    _put(part, "use", choices({n: c.title for n, c in known.items()}, "a calculator"))
    part["allOf"] = [
        when("use", name, closed_keys({
            "use": {},
            **{a.name: {**_described(a.title, a.name), "$ref": "#/$defs/quantity"} for a in c.arguments},
        }))
        for name, c in known.items()
    ]


def _unit(part: Part, words: Words) -> None:
    """A unit of a site: its type, and the settings and joins of that type."""
    types = words.catalogue.types
    _put(part, "equipment", choices({n: t.title for n, t in types.items()}, "an equipment type"))
    part["allOf"] = [
        when("equipment", name, {"properties": {
            "settings": closed_keys({
                n: _described(str(getattr(s, "title", "")), n) for n, s in {**t.settings, **t.house_events}.items()
            }),
            "joins": closed_keys({n: _described(j.title, n) for n, j in t.joins.items()}),
        }})
        for name, t in types.items()
    ]


def _path(key: str, *what: str, many: bool = False) -> Callable[[Part, Words], None]:
    def change(part: Part, words: Words) -> None:
        names = {n: t for w in what for n, t in words.of_types(w).items()}
        new = with_unit(names, words.of_units(*what), "one of: " + ", ".join(what))
        _put(part, key, {**_list(new), "minItems": 1} if many else new)

    return change


def _fact(part: Part, words: Words) -> None:
    _path("reading", "readings")(part, words)
    _with_a_unit(part, words)
    instruments = {n: i.title for n, i in words.catalogue.common.instruments.items()}
    states = {n: t for kind in words.catalogue.types.values() for n, t in kind.states.items()}
    _put(part, "instrument", any_text(choices(instruments, "an instrument"), _NAME))
    _put(part, "state", choices(states, "a state"))


def _remedy_entry(part: Part, words: Words) -> None:
    # A definition of the same name describes a remedy of a tree: that one has no unit.
    if "kind" in part.get("properties", {}):
        _put(part, "remedy", choices(words.of_types("remedies"), "a remedy"))
    else:
        _task(part, words)


def _setup(part: Part, words: Words) -> None:
    setups = choices({n: s.title for n, s in words.catalogue.common.setups.items()}, "a set-up")
    _put(part, "on", _list(setups))
    _put(part, "off", _list(setups))
    _task(part, words)


def _forbid(part: Part, words: Words) -> None:
    _put(part, "hazards", _list(choices({n: h.caution for n, h in words.catalogue.common.hazards.items()}, "a hazard")))


def _conditions(part: Part, words: Words) -> None:
    common = words.catalogue.common
    tools = {**{n: i.title for n, i in common.instruments.items()}, **common.tools}
    _put(part, "missing_tools", _list(any_text(choices(tools, "a tool or an instrument"), _NAME)))


def _expect(part: Part, words: Words) -> None:
    for key in ("confirmed", "not_confirmed", "ruled_out", "open", "first_suspect"):
        _path(key, "events", many=True)(part, words)
    _path("next", "checks", "remedies", many=True)(part, words)


#: What becomes of each definition, wherever a schema has it.
_CHANGES: Mapping[str, Callable[[Part, Words], Any]] = {
    "include": _include, "long_setting": _with_a_unit, "long_reading": _reading, "calculate": _calculate,
    "check": _task, "remedy": _remedy_entry, "decision": _remedy_entry, "part": _remedy_entry,
    "setup": _setup, "unit": _unit, "complaint": _path("event", "events"), "fact": _fact, "forbid": _forbid,
    "conditions": _conditions, "expect": _expect,
}
