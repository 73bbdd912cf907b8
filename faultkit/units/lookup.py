"""From a unit's text to the unit, with help for one that is not known."""

from __future__ import annotations

import difflib
import unicodedata

from faultkit.problems import did_you_mean
from faultkit.units.foreign import foreign_unit
from faultkit.units.kinds import Kind, UnitError, described
from faultkit.units.table import ALIASES, FOLDED, REFUSED, UNITS, Unit, sibling

__all__ = ["from_si", "kind_of", "lookup", "shown", "suggest", "to_si", "unit_name", "wrong_kind"]

_SHOWN = 60
_EXAMPLES = {
    Kind.TEMPERATURE: "degF", Kind.TEMPERATURE_DIFFERENCE: "delta_degF", Kind.GAUGE_PRESSURE: "psig",
    Kind.ABSOLUTE_PRESSURE: "psia", Kind.PRESSURE_DIFFERENCE: "psi", Kind.TIME: "min", Kind.RATIO: "%",
}
_PRESSURES = (Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE)


def shown(text: str) -> str:
    """``text`` in quotes, cut short, on one line."""
    flat = " ".join(text.split())
    return f"'{flat[:_SHOWN]}…'" if len(flat) > _SHOWN else f"'{flat}'"


def lookup(text: str) -> Unit:
    """The unit written as ``text``. UnitError with a suggestion when it is not known."""
    unit = UNITS.get(text)
    if unit is None:
        unit = _spelled(unicodedata.normalize("NFKC", text.strip()))
    return unit


def _spelled(text: str) -> Unit:
    if not text:
        raise UnitError("the unit is missing", "write the unit, for example 'psig'")
    if text in REFUSED:
        raise UnitError(f"unit '{text}' can mean several things", REFUSED[text])
    name = text if text in UNITS else ALIASES.get(text) or FOLDED.get(text.lower())
    if name:
        return UNITS[name]
    unit = foreign_unit(text)
    if unit is None:
        raise UnitError(f"unknown unit {shown(text)}", _nearest(text))
    return unit


def _nearest(text: str) -> str:
    known = {**{name.lower(): name for name in UNITS}, **FOLDED}
    close = difflib.get_close_matches(text.lower(), known, n=4, cutoff=0.6)
    return did_you_mean(text, [known[c] for c in close][:2] or UNITS, cutoff=0.0 if close else 1.0)


def kind_of(unit: str) -> Kind:
    """The kind a unit measures. UnitError when the unit is not known."""
    return lookup(unit).kind


def unit_name(unit: str) -> str:
    """The name of a unit in the table, for whatever spelling: ``degF`` for ``°F``."""
    return lookup(unit).name


def to_si(value: float, unit: str) -> float:
    """The SI value of ``value`` in ``unit``; an inHg_vac comes out negative."""
    return lookup(unit).to_si(value)


def from_si(value_si: float, unit: str) -> float:
    """The number in ``unit`` of an SI value of its kind."""
    return lookup(unit).from_si(value_si)


def suggest(unit: Unit, wanted: Kind) -> str:
    """The name to write for ``wanted`` by someone who wrote ``unit``; '' when there is no telling."""
    form = sibling(unit, wanted)
    if form:
        return form.name
    if unit.kind is Kind.PRESSURE_DIFFERENCE and wanted in _PRESSURES and unit.name not in UNITS:
        return unit.name + ("_gauge" if wanted is Kind.GAUGE_PRESSURE else "_abs")
    if wanted is Kind.PRESSURE_DIFFERENCE and unit.name not in UNITS:
        return unit.family
    return ""


def wrong_kind(text: str, unit: str, wanted: Kind) -> UnitError:
    """The error for ``text``, written in ``unit``, where a quantity of kind ``wanted`` belongs."""
    found = lookup(unit)
    what = f"{shown(text)} is {described(found.kind)}, not {described(wanted)}"
    if found.kind is Kind.PRESSURE_DIFFERENCE and wanted in _PRESSURES:
        both = [f"{name} ({k.words.split()[0]})" for k in _PRESSURES if (name := suggest(found, k))]
        return UnitError(what, "say " + " or ".join(both))
    form = suggest(found, wanted)
    if form and wanted in (Kind.TEMPERATURE_DIFFERENCE, Kind.PRESSURE_DIFFERENCE, Kind.TEMPERATURE):
        return UnitError(what, f"write it in '{form}'")
    return UnitError(what, f"{described(wanted)}, for example in '{example_unit(wanted)}'")


def example_unit(kind: Kind) -> str:
    """A common unit of ``kind``."""
    return _EXAMPLES.get(kind) or next(u.name for u in UNITS.values() if u.kind is kind)
