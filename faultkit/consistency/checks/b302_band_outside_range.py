"""B302: a band that no value within the reading's range can reach."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from faultkit.consistency.calculated import span_of
from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.rulers import Line, line_of, setting_limits
from faultkit.consistency.subject import Subject
from faultkit.model.types import EquipmentType, Observable, Reading
from faultkit.units import format_si

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        for reading in kind.readings.values():
            span = span_of(subject, kind, reading)
            if span is not None:
                for o in reading.observables:
                    yield from _observable(kind, reading, o, span)


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
