"""Calculated readings of a type, bound to their calculators with nameplate values that a site could have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import isfinite

from faultkit.calculators import Calculator
from faultkit.calculators.arguments import Interval, Value
from faultkit.consistency.rulers import setting_limits
from faultkit.consistency.subject import Subject
from faultkit.model.types import Calculation, Dimension, EquipmentType, Reading, Ref, Setting
from faultkit.network.calculations import BoundCalculation, bind
from faultkit.problems import InputError, Where
from faultkit.units import Quantity, atmosphere, kind_of

__all__ = ["bound_to", "faults_of", "sample_of", "span_of"]

Given = dict[str, tuple[Quantity | str, Where | None]]


def faults_of(subject: Subject, kind: EquipmentType, reading: Reading, calculator: Calculator) -> list[tuple[str, str]]:
    """What is wrong with a calculation, tried with every word that its settings may hold: (what, cure)."""
    found: dict[tuple[str, str], None] = {}
    c, units = reading.calculation, _units(subject, kind, reading)
    if c is not None and units is not None:
        for given in _nameplates(subject, kind, c):
            bind(
                calculator, reading, c, units, given, atmosphere(0.0),
                lambda what, cure, _: found.setdefault((what, cure)),
            )
    return list(found)


def bound_to(subject: Subject, kind: EquipmentType, reading: Reading) -> BoundCalculation | None:
    """The calculation with settings at their defaults or a value they can have; None where it cannot be done."""
    c, units = reading.calculation, _units(subject, kind, reading)
    calculator = subject.calculators.get(c.calculator) if c is not None else None
    if c is None or calculator is None or units is None:
        return None
    given = next(_nameplates(subject, kind, c))
    return bind(calculator, reading, c, units, given, atmosphere(0.0), lambda *_: None)


def span_of(subject: Subject, kind: EquipmentType, reading: Reading) -> Interval | None:
    """Lowest and highest value (SI) of a reading; of a calculated one, from the ranges of what it takes."""
    c = reading.calculation
    if c is None or reading.range is not None:
        return reading.range
    bound = bound_to(subject, kind, reading)
    if bound is None:
        return None
    spans: dict[str, Interval] = {}
    for name, ref in c.readings.items():
        base = kind.readings.get(ref.name) if ref.join is None else None
        span = span_of(subject, kind, base) if base is not None else None
        if span is None:
            return None
        spans[name] = span
    constants: dict[str, Value] = dict(bound.constants)
    for name, ref in c.settings.items():
        setting = _setting(subject, kind, ref)
        if setting is not None and setting.dimension is Dimension.QUANTITY and ref.join is None:
            limits = setting_limits(kind, setting.name)
            if not all(map(isfinite, limits)):
                return None
            constants[name] = limits
    try:
        return replace(bound, constants=constants).evaluate(spans)
    except InputError:
        return None  # outside what the calculator holds for


def _units(subject: Subject, kind: EquipmentType, reading: Reading) -> Mapping[str, str] | None:
    """Units of the readings that feed a calculation; None where no type of the catalogue can be joined."""
    found: dict[str, str] = {}
    for name, ref in reading.calculation.readings.items() if reading.calculation else ():
        owners = [kind] if ref.join is None else subject.partners(kind, ref.join)
        source = next((o.readings[ref.name] for o in owners if ref.name in o.readings), None)
        if source is None:
            return None
        found[name] = source.unit
    return found


def _setting(subject: Subject, kind: EquipmentType, ref: Ref) -> Setting | None:
    """A setting followed to the one that a unit gives."""
    owners = [kind] if ref.join is None else subject.partners(kind, ref.join)
    found = next((o.settings[ref.name] for o in owners if ref.name in o.settings), None)
    if found is None or not found.alias:
        return found
    return _setting(subject, kind, Ref(found.alias, found.join or ref.join))


def _nameplates(subject: Subject, kind: EquipmentType, c: Calculation) -> Iterator[Given]:
    """Values of the settings of a calculation: the usual ones first, then each further word on its own."""
    settings = {a: _setting(subject, kind, ref) for a, ref in c.settings.items()}
    usual: Given = {a: (sample_of(s), c.where) for a, s in settings.items() if s is not None}
    yield usual
    for name, setting in settings.items():
        for word in setting.words if setting is not None else ():
            if word != usual[name][0]:
                yield usual | {name: (word, c.where)}


def sample_of(setting: Setting) -> Quantity | str:
    """A value that a unit could give: the default, the first word, or a number within the limits."""
    if setting.default is not None:
        return setting.default
    if setting.dimension is Dimension.WORD:
        return setting.words[0]
    measures = kind_of(setting.unit)
    low, high = setting.range or (1.0, 1.0)
    return Quantity((low + high) / 2.0, measures, f"{(low + high) / 2.0:g} (SI)")
