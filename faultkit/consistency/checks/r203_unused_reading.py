"""R203: a reading that tells nothing and feeds nothing."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.model.types import EquipmentType

__all__ = ["RULE", "unused_readings"]


def unused_readings(subject: Subject, kind: EquipmentType) -> frozenset[str]:
    """Readings of a type without rows that no calculation and no joined type uses."""
    used = set(subject.used_elsewhere[kind.name]["readings"])
    for reading in kind.readings.values():
        if any(o.rows for o in reading.observables):
            used.add(reading.name)
        if reading.calculation is not None:
            used |= {ref.name for ref in reading.calculation.readings.values() if ref.join is None}
    return frozenset(kind.readings.keys() - used)


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        for name in sorted(unused_readings(subject, kind)):
            yield RULE.found(
                f"reading '{name}' tells of no event and feeds no calculation",
                "rows for it under tells, a calculation that takes it, or take it away",
                kind.readings[name].where,
                equipment=kind.name,
                name=name,
            )


RULE = Rule("R203", "unused-reading", "A reading that nothing uses", Severity.WARNING, _run)
