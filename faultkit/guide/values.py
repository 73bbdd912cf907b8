"""What a technician types for a reading → the text that is recorded, or choices to ask back."""

from __future__ import annotations

import re
from dataclasses import dataclass

from faultkit.network.site import Site
from faultkit.problems import InputError
from faultkit.units import UNITS, Kind, UnitError, kind_of, parse_quantity
from faultkit.units.quantity import split_number

__all__ = ["Typed", "bands_of", "read_value"]

_BARE = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)")
_PRESSURES = {Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE}
_YES = {"y": "yes", "yes": "yes", "n": "no", "no": "no"}


@dataclass(frozen=True, slots=True)
class Typed:
    """A value to record, or ``options`` (what to type, value) with the question ``why``."""

    value: str = ""
    why: str = ""
    options: tuple[tuple[str, str], ...] = ()


def bands_of(site: Site, reading: str) -> tuple[str, ...]:
    """The words a reading may have; empty for a quantity."""
    found = site.all_readings[reading].reading
    return () if found.unit else found.observables[0].bands


def read_value(site: Site, reading: str, text: str) -> Typed:
    """``58 psi`` is asked back, ``14.2 C`` is taken where it can mean one thing. InputError says what is wrong."""
    found = site.all_readings[reading].reading
    if not found.unit:
        return Typed(_word(bands_of(site, reading), text))
    wanted = kind_of(found.unit)
    if _BARE.fullmatch(text):
        return Typed(why=f"{text} what?", options=_options(text, found.unit, wanted))
    try:
        number, unit = split_number(text)
        written = _plain_degrees(unit, wanted)
        if written:
            return Typed(f"{_digits(text, unit)} {written}")
        quantity = parse_quantity(text)
    except UnitError as fault:
        raise InputError(fault.what, fault.expected.replace("8 psig", f"12 {found.unit}")) from None
    if quantity.kind is Kind.PRESSURE_DIFFERENCE and wanted in _PRESSURES:
        both = [("psig", "psia")] if "psi" in unit else []
        both += [(u + "_gauge", u + "_abs") for u in ("kPa", "bar") if u.lower() == unit.strip().lower()]
        if both:
            digits = _digits(text, unit)
            options = tuple((n, f"{digits} {n}") for n in both[0])
            return Typed(why=f"{number:g} {unit.strip()}: gauge or absolute?", options=options)
    return Typed(text)


def _digits(text: str, unit: str) -> str:
    return text.removesuffix(unit).strip()


def _plain_degrees(unit: str, wanted: Kind) -> str:
    """F and C where only one meaning fits the reading."""
    letter = unit.strip().removeprefix("°").removeprefix("deg").strip().upper()
    if letter not in {"F", "C"}:
        return ""
    prefix = {Kind.TEMPERATURE: "deg", Kind.TEMPERATURE_DIFFERENCE: "delta_deg"}.get(wanted)
    return prefix + letter if prefix else ""


def _options(number: str, unit: str, wanted: Kind) -> tuple[tuple[str, str], ...]:
    names = [unit, *(u.name for u in UNITS.values() if u.kind is wanted)]
    if wanted in _PRESSURES:
        names = [unit, "psig", "psia"]
    return tuple((n, f"{number} {n}") for n in list(dict.fromkeys(names))[:3])


def _word(bands: tuple[str, ...], text: str) -> str:
    word = "_".join(text.lower().split())
    if set(bands) == {"yes", "no"} and word in _YES:
        return _YES[word]
    if word.isdigit() and 1 <= int(word) <= len(bands):
        return bands[int(word) - 1]
    if word in bands:
        return word
    near = [b for b in bands if b.startswith(word)]
    if len(near) == 1:
        return near[0]
    raise InputError(f"'{text}' is none of its words", "one of " + ", ".join(bands))
