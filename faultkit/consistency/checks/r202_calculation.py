"""R202: a calculation whose calculator is unknown, or is given the wrong kinds of quantities."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.model.types import Calculation, EquipmentType, Reading, Ref
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind, kind_of

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        for reading in kind.readings.values():
            if reading.calculation is not None:
                for what, cure in _faults(subject, kind, reading, reading.calculation):
                    yield RULE.found(
                        what, cure, reading.calculation.where or reading.where, equipment=kind.name, name=reading.name
                    )


def _faults(
    subject: Subject, kind: EquipmentType, reading: Reading, c: Calculation
) -> Iterator[tuple[str, str]]:
    calculator = subject.calculators.get(c.calculator)
    if calculator is None:
        yield f"calculator '{c.calculator}' is not known", did_you_mean(c.calculator, subject.calculators)
        return
    kinds: dict[str, Kind] = {name: q.kind for name, q in c.quantities.items()}
    for name, ref in (*c.readings.items(), *c.settings.items()):
        unit = _unit(subject, kind, ref, setting=name in c.settings)
        if unit is None:
            continue  # nothing is joined there: R201 says so
        if not unit:
            yield f"argument '{name}' of '{c.calculator}' is a word", "a quantity"
            return
        kinds[name] = kind_of(unit)
    if len(kinds) < len(c.quantities) + len(c.readings) + len(c.settings):
        return
    try:
        result = calculator.result_kind(kinds)
    except InputError as fault:
        yield from ((p.what, p.expected) for p in fault.problems)
        return
    if result is not kind_of(reading.unit):
        yield (
            f"'{c.calculator}' gives a {result.words}, the reading '{reading.name}' is in {reading.unit}",
            f"a unit of {result.words}",
        )


def _unit(subject: Subject, kind: EquipmentType, ref: Ref, *, setting: bool) -> str | None:
    owners = [kind] if ref.join is None else subject.partners(kind, ref.join)
    for owner in owners:
        if setting and ref.name in owner.settings:
            return owner.settings[ref.name].unit
        if not setting and ref.name in owner.readings:
            return owner.readings[ref.name].unit
    return None


RULE = Rule("R202", "calculation", "A calculation that cannot be done", Severity.ERROR, _run)
