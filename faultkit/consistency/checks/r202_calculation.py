"""R202: a calculation whose calculator is unknown, or is given what it does not take."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.calculated import faults_of
from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.model.types import EquipmentType, Reading
from faultkit.problems import did_you_mean

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        for reading in kind.readings.values():
            for what, cure in _faults(subject, kind, reading):
                assert reading.calculation is not None
                yield RULE.found(
                    what, cure, reading.calculation.where or reading.where, equipment=kind.name, name=reading.name
                )


def _faults(subject: Subject, kind: EquipmentType, reading: Reading) -> list[tuple[str, str]]:
    c = reading.calculation
    if c is None:
        return []
    calculator = subject.calculators.get(c.calculator)
    if calculator is None:
        return [(f"calculator '{c.calculator}' is not known", did_you_mean(c.calculator, subject.calculators))]
    return faults_of(subject, kind, reading, calculator)


RULE = Rule("R202", "calculation", "A calculation that cannot be done", Severity.ERROR, _run)
