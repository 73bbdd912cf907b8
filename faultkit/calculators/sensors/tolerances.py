"""How far a platinum sensor may be off by its class: IEC 60751."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.calculators.arguments import Argument, Result, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.sensors.curves import OHMMETER, find_curve
from faultkit.calculators.sensors.models import ICE_POINT
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind, format_si

__all__ = ["TOLERANCES", "RtdLimits", "rtd_limits", "rtd_tolerance"]


@dataclass(frozen=True, slots=True)
class _Class:
    """Tolerance ``fixed + share * |t|`` (K), and where it holds (degC) for either kind of element."""

    fixed: float
    share: float
    ranges: Mapping[str, tuple[float, float]]


def _class(fixed: float, share: float, wire: tuple[float, float], film: tuple[float, float]) -> _Class:
    return _Class(fixed, share, MappingProxyType({"film": film, "wire_wound": wire}))


_CLASSES = MappingProxyType({
    "AA": _class(0.1, 0.0017, (-50.0, 250.0), (0.0, 150.0)),
    "A": _class(0.15, 0.002, (-100.0, 450.0), (-30.0, 300.0)),
    "B": _class(0.3, 0.005, (-196.0, 600.0), (-50.0, 500.0)),
})
_ELEMENTS = ("film", "wire_wound")
_PLATINUM = ("pt100", "pt1000")


@dataclass(frozen=True, slots=True)
class RtdLimits:
    """Ohms of a good platinum sensor: lowest, nominal, highest."""

    low: float
    nominal: float
    high: float


def rtd_tolerance(tolerance_class: str, temperature: float, element: str = "film") -> float:
    """How far a new platinum sensor may be off.

    Plus or minus, in kelvin of difference, by class AA, A or B at a temperature (K); t in degC:
    AA 0.1 + 0.0017 |t|, A 0.15 + 0.002 |t|, B 0.3 + 0.005 |t|. InputError where the class does not
    hold for the kind of element: film AA 0 to 150, A -30 to 300, B -50 to 500 degC; wire wound AA
    -50 to 250, A -100 to 450, B -196 to 600 degC.

    >>> round(rtd_tolerance("B", 253.15), 3)  # -4 degF: 0.72 degF
    0.4
    """
    if tolerance_class not in _CLASSES:
        raise InputError(f"tolerance_class is '{tolerance_class}'", did_you_mean(tolerance_class, _CLASSES))
    if element not in _ELEMENTS:
        raise InputError(f"element is '{element}'", did_you_mean(element, _ELEMENTS))
    found = _CLASSES[tolerance_class]
    t = temperature - ICE_POINT
    low, high = found.ranges[element]
    if not low <= round(t, 9) <= high:
        low, high = low + ICE_POINT, high + ICE_POINT
        raise InputError(
            f"temperature is {format_si(temperature, 'degF', 4)}",
            f"{format_si(low, 'degF', 4)} to {format_si(high, 'degF', 4)} for class {tolerance_class}, {element}",
        )
    return found.fixed + found.share * abs(t)


def rtd_limits(curve: str, tolerance_class: str, temperature: float, element: str = "film") -> RtdLimits:
    """Ohms within which a platinum sensor meets its class.

    ``low``, ``nominal``, ``high`` in ohm for pt100 or pt1000 of a class at a temperature (K);
    ranges as for rtd_tolerance. Leads come on top: a two-wire sensor is measured with them.

    >>> found = rtd_limits("pt1000", "B", 273.15)
    >>> round(found.low, 1), round(found.high, 1)
    (998.8, 1001.2)
    """
    if curve not in _PLATINUM:
        raise InputError(f"curve is '{curve}'", did_you_mean(curve, _PLATINUM))
    allowed = rtd_tolerance(tolerance_class, temperature, element)
    found = find_curve(curve)
    return RtdLimits(*(found.resistance(temperature + off) for off in (-allowed, 0.0, allowed)))


_CLASS = Word("tolerance_class", tuple(_CLASSES), "class of the sensor, IEC 60751")
_ELEMENT = Word("element", _ELEMENTS, "kind of element", default="film")
# Smallest at the ice point, so that no direction holds.
_TRUE = Argument(
    "temperature", (Kind.TEMPERATURE,), None, "temperature of the sensor", valid=(77.15, 873.15), unit="degF"
)
_SOURCE = "IEC 60751:2008, tolerance classes, as makers of sensors publish them"

#: The calculators of this file.
TOLERANCES: tuple[Calculator, ...] = (
    Calculator(
        "rtd_tolerance", rtd_tolerance, (_CLASS, _TRUE, _ELEMENT),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_SOURCE,
        example={"tolerance_class": "B", "temperature": "-4 degF"},
    ),
    Calculator(
        "rtd_limits", rtd_limits,
        (Word("curve", _PLATINUM, "platinum sensor"), _CLASS, _TRUE, _ELEMENT),
        result=(
            Result("low", Kind.RESISTANCE, "lowest ohms of its class", "ohm"),
            Result("nominal", Kind.RESISTANCE, "ohms of the table", "ohm"),
            Result("high", Kind.RESISTANCE, "highest ohms of its class", "ohm"),
        ),
        source=_SOURCE, caution=OHMMETER,
        example={"curve": "pt1000", "tolerance_class": "B", "temperature": "32 degF"},
    ),
)
