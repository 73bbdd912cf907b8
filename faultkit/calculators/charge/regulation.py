"""Pressure classes, evacuation before opening, and warming potential, as the federal rules count them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.calculators.arguments import Direction, Result, Word
from faultkit.calculators.charge.terms import HANDLING, LB, mass
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT
from faultkit.calculators.refrigerants import refrigerant as find
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "REGULATION", "PressureClass", "RecoveryRequirement", "evacuation_level", "global_warming_potential",
    "pressure_class", "recovery_requirement",
]

_CLASS_K = 313.15  # 104 °F
_PSI = 6894.757293168362
_LOW, _MEDIUM, _HIGH = 45.0 * _PSI, 170.0 * _PSI, 355.0 * _PSI
_INHG = 3386.388640341
_LOW_PRESSURE_PA = 25.0 * 133.322387415 - 101_325.0  # 25 mmHg absolute, against the standard atmosphere
_LARGE_KG = 200.0 * LB
_SMALL_KG = 5.0 * LB
#: inHg of vacuum by class, then below and from 200 lb: older machines, newer machines.
_LEVELS: Mapping[str, tuple[tuple[float, float], tuple[float, float]]] = MappingProxyType({
    "very high": ((0.0, 0.0), (0.0, 0.0)), "high": ((0.0, 4.0), (0.0, 10.0)), "medium": ((4.0, 4.0), (10.0, 15.0)),
})
#: By kg of carbon dioxide, 100 years, fourth assessment report.
_WARMING: Mapping[str, float] = MappingProxyType({
    "R-32": 675.0, "R-125": 3500.0, "R-134a": 1430.0, "R-143a": 4470.0, "R-1234yf": 1.0, "R-1234ze(E)": 1.0,
    "R-22": 1810.0, "R-290": 3.3, "R-600a": 3.0, "R-744": 1.0,
})
_CLASSES = (
    "40 CFR 82.152: liquid saturation pressure at 104 °F, 45, 170 and 355 psia (seen in the text before 2017 and in "
    "later study material)"
)
_TABLE = "40 CFR 82.156 Table 1 and (a)(1) (seen)"
_SMALL = "40 CFR 82.152 and 82.156 on small appliances (seen in the text before 2017)"


@dataclass(frozen=True, slots=True)
class PressureClass:
    """``low``, ``medium``, ``high`` or ``very high``; Pa absolute at 104 °F, None above the critical point."""

    name: str
    pressure: float | None


@dataclass(frozen=True, slots=True)
class RecoveryRequirement:
    """Words; Pa against the standard atmosphere; ratio and kg, None where the rule asks for a vacuum alone."""

    pressure_class: str
    level: float
    share: float | None
    weight: float | None
    rule: str
    note: str


def global_warming_potential(refrigerant: str) -> float:
    """Global warming potential as the federal leak rules count it: carbon dioxide is 1.

    For a blend the sum of its components' values by mass share; values of the fourth assessment
    report, 100 years. Decides with the charge whether the leak-repair rule of 40 CFR 84.106 covers an appliance.

    >>> round(global_warming_potential("R-404A"))
    3922
    """
    return sum(share * _WARMING[part] for part, share in find(refrigerant).composition)


def pressure_class(refrigerant: str) -> PressureClass:
    """Pressure class of an appliance with this refrigerant, as the evacuation rule counts it.

    By the pressure of the saturated liquid at 104 °F: low below 45 psia, medium to 170, high to 355,
    very high above or with a critical temperature below 104 °F.

    >>> pressure_class("R-22").name, pressure_class("R-134a").name, pressure_class("R-744").name
    ('high', 'medium', 'very high')
    """
    fluid = find(refrigerant)
    if fluid.temperatures[1] < _CLASS_K:
        return PressureClass("very high", None)  # the fits end just below the critical point
    p = fluid.bubble_pressure(_CLASS_K)
    name = "low" if p < _LOW else "medium" if p <= _MEDIUM else "high" if p <= _HIGH else "very high"
    return PressureClass(name, p)


def evacuation_level(refrigerant: str, full_charge: float, machine: str, opening: str) -> float:
    """Vacuum a unit must be brought to before it is opened.

    Takes kg of full charge (of the part that is shut off, if only that is opened), the age of the
    recovery machine and the kind of work; gives Pa against the standard atmosphere of 29.9 inHg: a compound gauge shows
    it at sea level; higher up the same absolute pressure is less of a vacuum. Not for small appliances, see
    ``recovery_requirement``. Where leaks make the level unattainable: as low as it goes, never above 0 psig.

    >>> round(evacuation_level("R-134a", 9.07, "newer", "major") / -3386.389, 3)  # 20 lb: inHg_vac
    10.0
    """
    if opening != "major":
        return 0.0
    name = pressure_class(refrigerant).name
    if name == "low":
        return _LOW_PRESSURE_PA
    return 0.0 - _INHG * _LEVELS[name][machine == "newer"][full_charge >= _LARGE_KG]


def recovery_requirement(
    refrigerant: str, full_charge: float, appliance: str, compressor: str, machine: str, opening: str
) -> RecoveryRequirement:
    """What must be recovered before a unit is opened: vacuum, or share of the charge of a small appliance.

    Takes kg and words. A small appliance is made, charged and sealed in a factory with 5 lb or less; either its
    share is recovered or 4 inHg of vacuum is reached. ``opening``: major is the removal of compressor, condenser,
    evaporator or coil, or an opening over 4 in² for more than 15 min; else, with no evacuation afterwards, 0 psig
    is enough.

    >>> r = recovery_requirement("R-134a", 0.9, "small", "runs", "newer", "major")
    >>> r.share, round(r.level / -3386.389)
    (0.9, 4)
    """
    name, share, weight = pressure_class(refrigerant).name, None, None
    if appliance == "small":
        if full_charge > _SMALL_KG * (1.0 + 1e-9):
            raise InputError(
                f"full_charge {format_si(full_charge, 'lb')} is no small appliance's",
                "5 lb or less, or appliance other",
            )
        share = 0.9 if machine == "newer" and compressor == "runs" else 0.8
        level, weight, rule = -4.0 * _INHG, share * full_charge, "share of the charge, or the vacuum: " + _SMALL
    else:
        level, rule = evacuation_level(refrigerant, full_charge, machine, opening), _TABLE
    return RecoveryRequirement(name, level, share, weight, rule, _note(refrigerant))


def _note(name: str) -> str:
    if name in {"R-290", "R-600a", "R-744"}:
        return "exempt from the venting prohibition in some uses (40 CFR 82.154(a), from memory); local rules apply"
    return "recover; what leaks rule out is as low as can be reached, never above 0 psig"


_MACHINE = Word("machine", ("newer", "older"), "recovery machine made from 1993-11-15 on, or before", default="newer")
_OPENING = Word(
    "opening", ("major", "not major"), "major, or not major and no evacuation afterwards", default="major"
)
_CHARGE = mass("full_charge", "full charge of the unit or the part shut off", Direction.FALLING, None, 0.01)

#: The calculators of this file.
REGULATION: tuple[Calculator, ...] = (
    Calculator(
        "global_warming_potential", global_warming_potential, (REFRIGERANT,), result=Kind.COUNT,
        source="40 CFR 84.64 (seen) with the values of 40 CFR 98 Table A-1 for R-32, R-125, R-134a and R-143a (seen); "
        "the others from memory", example={"refrigerant": "R-448A"},
    ),
    Calculator(
        "pressure_class", pressure_class, (REFRIGERANT,),
        result=(
            Result("name", None, "pressure class"),
            Result("pressure", Kind.ABSOLUTE_PRESSURE, "saturated liquid at 104 °F", "psia"),
        ),
        source=_CLASSES, example={"refrigerant": "R-22"},
    ),
    Calculator(
        "evacuation_level", evacuation_level, (REFRIGERANT, _CHARGE, _MACHINE, _OPENING), result=Kind.GAUGE_PRESSURE,
        unit="inHg_vac", source=f"{_TABLE}; {_CLASSES}", caution=HANDLING,
        example={"refrigerant": "R-134a", "full_charge": "20 lb"},
    ),
    Calculator(
        "recovery_requirement", recovery_requirement,
        (
            REFRIGERANT, mass("full_charge", "full charge", None, None, 0.01),
            Word("appliance", ("small", "other"), "factory-sealed with 5 lb or less, or other", default="other"),
            Word("compressor", ("runs", "does not run"), "compressor of a small appliance", default="runs"),
            _MACHINE, _OPENING,
        ),
        result=(
            Result("pressure_class", None, "pressure class"),
            Result("level", Kind.GAUGE_PRESSURE, "vacuum to reach, at sea level", "inHg_vac"),
            Result("share", Kind.RATIO, "or share of the charge to recover", "%"),
            Result("weight", Kind.MASS, "that is", "lb"), Result("rule", None, "rule"), Result("note", None, "note"),
        ),
        source=f"{_TABLE}; {_CLASSES}; {_SMALL}", caution=HANDLING,
        example={"refrigerant": "R-134a", "full_charge": "2 lb", "appliance": "small", "compressor": "does not run"},
    ),
)
