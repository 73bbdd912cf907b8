"""B303: a band so narrow that no value is ever surely in it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import isfinite

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.rulers import Line, line_of, setting_limits
from faultkit.consistency.subject import Subject
from faultkit.model.types import EquipmentType, Observable, Reading
from faultkit.units import Accuracy, Quantity, format_si

__all__ = ["RULE", "never_certain"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        for reading in kind.readings.values():
            for o in reading.observables if reading.accuracy is not None else ():
                yield from _observable(kind, reading, o)


def _observable(kind: EquipmentType, reading: Reading, o: Observable) -> Iterator[Finding]:
    assert reading.accuracy is not None
    for n, (left, right) in enumerate(pairwise(o.cuts)):
        a, b = line_of(kind, left), line_of(kind, right)
        tried = _tried(kind, a, b)
        if tried and all(never_certain(a.at(v), b.at(v), reading.accuracy) for v in tried):
            middle = (a.at(tried[0]) + b.at(tried[0])) / 2.0
            yield RULE.found(
                f"the band '{o.bands[n + 1]}' of '{o.name}' is narrower than the instrument is sure "
                f"(± {reading.accuracy.text}): no value is ever surely in it",
                "a wider band, or a reading taken with a better instrument",
                right.where or reading.where,
                witness=[(reading.name, format_si(middle, reading.unit))],
                equipment=kind.name,
                name=o.name,
            )


def never_certain(low: float, high: float, accuracy: Accuracy) -> bool:
    """Whether no value's whole interval lies between two cuts (SI).

    With a bound of p·|v| + a, the value surest to lie between them is the middle.
    """
    middle = (low + high) / 2.0
    return low < high and accuracy.bound(middle) > (high - low) / 2.0


def _tried(kind: EquipmentType, a: Line, b: Line) -> list[float]:
    """Values of the setting that decide for all between them; none where the cuts rest on two settings."""
    if a.setting and b.setting and a.setting != b.setting:
        return []
    name = a.setting or b.setting
    if not name:
        return [0.0]
    default = kind.settings[name].default
    ends = [v for v in setting_limits(kind, name) if isfinite(v) and v != 0.0]
    return [default.value, *ends] if isinstance(default, Quantity) else ends


RULE = Rule("B303", "band-too-narrow", "A band narrower than the accuracy", Severity.WARNING, _run)
