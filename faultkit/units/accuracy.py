"""The bound on an instrument's error."""

from __future__ import annotations

import re
from dataclasses import dataclass

from faultkit.units.kinds import Kind, UnitError, described, difference_kind
from faultkit.units.lookup import example_unit, lookup, shown, suggest
from faultkit.units.quantity import split_number
from faultkit.units.table import Unit

__all__ = ["Accuracy", "parse_accuracy"]

_PERCENT = re.compile(r"(?:%|percent|pct)(?:\s+of\s+(?:the\s+)?reading)?")
_PLUS = re.compile(r"(?<=[^\s+])\s*(?<![0-9][eE])\+\s*")
_WHOLE = 100.0


@dataclass(frozen=True, slots=True)
class Accuracy:
    """``percent`` of the measured value plus ``absolute`` (SI, of the reading's difference kind).

    Percent counts from the zero of the unit the reading is written in; every unit a
    percentage is allowed for has that zero at SI zero (a psig at the atmosphere).
    """

    percent: float
    absolute: float
    text: str

    def bound(self, value_si: float) -> float:
        """Half width, SI: the true value is within ``value_si`` ± this."""
        return self.percent / _WHOLE * abs(value_si) + self.absolute


def parse_accuracy(text: str, unit: str) -> Accuracy:
    """Read ``1 %``, ``0.5 V``, ``1 % + 0.5 V``, ``±2 delta_degF`` for a reading in ``unit``.

    UnitError for a percentage of a temperature, a part written twice, a negative
    part, and an absolute part that is not a difference of the reading's kind.
    """
    reading = lookup(unit)
    written = text.strip()
    example = f"'0.5 {suggest(reading, difference_kind(reading.kind)) or reading.name}'"
    percent: float | None = None
    absolute: float | None = None
    for term in _PLUS.split(written.removeprefix("±").removeprefix("+/-").lstrip()):
        number, unit_text = split_number(term, example)
        if number < 0:
            cure = f"write how far off it can be, for example {example}"
            raise UnitError(f"accuracy {shown(written)} is negative", cure)
        share = _share(number, unit_text, reading, written, example)
        if (percent if share is not None else absolute) is not None:
            what = f"accuracy {shown(written)} gives the same part twice"
            raise UnitError(what, "at most one percentage and one amount")
        if share is not None:
            percent = share
        else:
            absolute = _amount(number, unit_text, reading, written)
    return Accuracy(percent or 0.0, absolute or 0.0, written)


def _share(number: float, unit_text: str, reading: Unit, written: str, example: str) -> float | None:
    """The percentage, or None when the part is an amount."""
    if not _PERCENT.fullmatch(unit_text):
        return None
    if reading.kind is Kind.TEMPERATURE:
        raise UnitError(
            f"accuracy {shown(written)}: a percentage of a temperature in {reading.name} means nothing",
            f"write an amount, for example {example}",
        )
    if reading.kind is Kind.RATIO and "of" not in unit_text:
        raise UnitError(
            f"accuracy {shown(written)} of a reading in {reading.name} can mean two things",
            "write '2 points' for an amount or '2 % of reading' for a share",
        )
    if number >= _WHOLE:
        raise UnitError(f"accuracy {shown(written)} says nothing about the reading", "a percentage below 100")
    return number


def _amount(number: float, unit_text: str, reading: Unit, written: str) -> float:
    part = lookup(unit_text)
    wanted = difference_kind(reading.kind)
    if part.kind is wanted:
        return part.to_si(number)
    name = suggest(part, wanted) or suggest(reading, wanted) or example_unit(wanted)
    raise UnitError(
        f"accuracy {shown(written)}: '{part.name}' is {described(part.kind)}, not {described(wanted)}",
        f"write it in '{name}'",
    )
