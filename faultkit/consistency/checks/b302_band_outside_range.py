"""B302: a band that no value within the reading's range can reach."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf
from typing import Any

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.rulers import Line, line_of, setting_limits
from faultkit.consistency.subject import Subject
from faultkit.model.types import EquipmentType, Observable, Reading
from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = ["RULE", "range_of"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        for reading in kind.readings.values():
            span = range_of(kind, reading, subject.calculators)
            if span is not None:
                for o in reading.observables:
                    yield from _observable(kind, reading, o, span)


def range_of(
    kind: EquipmentType, reading: Reading, calculators: Mapping[str, Any]
) -> tuple[float, float] | None:
    """Lowest and highest value (SI) of a reading; of a calculated one, from the ranges of what it takes."""
    c = reading.calculation
    if c is None or reading.range is not None:
        return reading.range
    spans = {name: (q.value, q.value) for name, q in c.quantities.items()}
    for name, ref in c.readings.items():
        base = kind.readings.get(ref.name) if ref.join is None else None
        span = range_of(kind, base, calculators) if base is not None else None
        if span is None:
            return None
        spans[name] = span
    for name, ref in c.settings.items():
        low, high = setting_limits(kind, ref.name) if ref.join is None else (-inf, inf)
        if inf in (-low, high):
            return None
        spans[name] = (low, high)
    try:
        found: tuple[float, float] = calculators[c.calculator].evaluate(spans)
    except (InputError, KeyError):
        return None  # outside what the calculator holds for, or R202 says so
    return found


def _observable(
    kind: EquipmentType, reading: Reading, o: Observable, span: tuple[float, float]
) -> Iterator[Finding]:
    lines = [line_of(kind, c) for c in o.cuts]
    for n, band in enumerate(o.bands if lines else ()):
        above = _least(kind, lines[n - 1]) if n else -inf
        below = _greatest(kind, lines[n]) if n < len(lines) else inf
        if above > span[1] or below <= span[0]:
            cut = o.cuts[n - 1 if above > span[1] else n]
            low, high = (format_si(v, reading.unit) for v in span)
            yield RULE.found(
                f"the band '{band}' of '{o.name}' can never be read: the reading goes from {low} to {high}, "
                f"the cut '{cut.text}' lies beyond",
                "a range that holds all bands, or another cut",
                cut.where or reading.where,
                witness=[("lowest", low), ("highest", high)],
                equipment=kind.name,
                name=o.name,
            )


def _least(kind: EquipmentType, line: Line) -> float:
    ends = setting_limits(kind, line.setting) if line.setting else (0.0, 0.0)
    return min(line.at(v) for v in ends)


def _greatest(kind: EquipmentType, line: Line) -> float:
    ends = setting_limits(kind, line.setting) if line.setting else (0.0, 0.0)
    return max(line.at(v) for v in ends)


RULE = Rule("B302", "band-outside-range", "A band outside the reading's range", Severity.ERROR, _run)
