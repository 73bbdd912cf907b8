"""A number with its unit: read from text, held in SI, shown again."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import floor, isfinite, log10

from faultkit.units.kinds import Kind, UnitError, described, physical_range
from faultkit.units.lookup import example_unit, lookup, shown, wrong_kind
from faultkit.units.table import UNITS, Unit

__all__ = ["Quantity", "format_si", "parse_quantity", "split_number"]

# The Unicode minus is what a word processor makes of a hyphen.
_MINUS = "\N{MINUS SIGN}"
_NUMBER = re.compile(
    rf"([+\-{_MINUS}]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+\-{_MINUS}]?[0-9]+)?)\s*(.*)", re.DOTALL
)
_CURES = {
    ",": "write the number without commas and with a decimal point, for example '1200.5 W'",
    "/": "write the fraction as a decimal number, for example '0.25 in'",
}
_EXAMPLE = "'8 psig'"
_HUGE = 1e15
_TINY_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class Quantity:
    """``value`` in the SI unit of ``kind``; ``text`` as the author wrote it."""

    value: float
    kind: Kind
    text: str


def split_number(text: str, example: str = _EXAMPLE) -> tuple[float, str]:
    """The number and the unit's text, not looked up yet. UnitError when either is missing."""
    match = _NUMBER.fullmatch(text)
    if match is None:
        raise _no_number(text, example)
    digits, unit = match.groups()
    if not unit:
        raise UnitError(f"{shown(text)} has no unit", f"write the unit, for example {example}")
    if unit[0] in ",/-+.0123456789\N{EN DASH}\N{MINUS SIGN}":
        cure = _CURES.get(unit[0], f"write one number and its unit, for example {example}")
        raise UnitError(f"{shown(text)} is not one number and a unit", cure)
    number = float(digits.replace(_MINUS, "-"))
    if not isfinite(number):
        raise UnitError(f"{shown(text)} is too large", "a number that can be measured")
    return number, unit


def _no_number(text: str, example: str) -> UnitError:
    if not text:
        return UnitError("the quantity is empty", f"write a number and its unit, for example {example}")
    cure = f"write a number and its unit, for example {example}"
    if re.match(rf"[+\-{_MINUS}]?(?:nan|inf(?:inity)?)\b", text, re.IGNORECASE):
        return UnitError(f"{shown(text)} is not a finite number", cure)
    return UnitError(f"{shown(text)} does not start with a number", cure)


def parse_quantity(text: str, kind: Kind | None = None) -> Quantity:
    """Read ``8 psig``, ``-12.5 degF``, ``1.2e3 ohm``, ``10 inHg_vac``, ``208V``.

    ``kind``, if given, is the kind that belongs here: another one is an error
    naming the unit to write. UnitError too for a missing or unknown unit, a
    number that is not finite, and a value nature does not allow.
    """
    written = text.strip()
    number, unit_text = split_number(written, _EXAMPLE if kind is None else f"'8 {example_unit(kind)}'")
    unit = UNITS.get(unit_text) or lookup(unit_text)
    if kind is not None and unit.kind is not kind:
        raise wrong_kind(written, unit_text, kind)
    value = unit.to_si(number)
    low, high = physical_range(unit.kind)
    if not low <= value <= high or not isfinite(value):
        raise _impossible(written, unit, value, low)
    return Quantity(value, unit.kind, written)


def _impossible(text: str, unit: Unit, value: float, low: float) -> UnitError:
    if not isfinite(value):
        return UnitError(f"{shown(text)} is too large", "a number that can be measured")
    end = "at most" if unit.scale < 0 else "at least"
    limit = f"{end} {_number(unit.from_si(low), 5)} {unit.name}"
    return UnitError(f"{shown(text)} cannot be {described(unit.kind)}", limit)


def format_si(value_si: float, unit: str, digits: int = 3) -> str:
    """An SI value in ``unit`` for a reader: ``41 degF``, ``8.25 psig``, ``1725 rpm``.

    ``digits`` (at least 1) significant digits, zeros at the end left out; digits before the
    decimal point are never rounded away. ValueError for ``digits`` below 1.
    """
    if digits < 1:
        raise ValueError(f"digits is {digits}; it must be at least 1")
    found = lookup(unit)
    return f"{_number(found.from_si(value_si), digits)} {found.name}"


def _number(value: float, digits: int) -> str:
    if not isfinite(value):
        return f"{value}"
    if value == 0.0:
        return "0"
    decimals = max(0, digits - 1 - floor(log10(abs(value))))
    if abs(value) >= _HUGE or decimals > digits - 1 + _TINY_DECIMALS:
        return f"{value:.{digits}g}"
    shown_number = f"{value:.{decimals}f}"
    if decimals:
        shown_number = shown_number.rstrip("0").rstrip(".")
    return "0" if shown_number == "-0" else shown_number
