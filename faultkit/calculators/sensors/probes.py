"""A display against a reference thermometer and against an ice bath: offset to enter, limits of the Food Code."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Direction, Result, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.sensors.models import ICE_POINT
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind

__all__ = ["PROBES", "ProbeCheck", "ice_bath_check", "probe_check", "probe_offset", "thermometer_limit"]

_FOOD_CODE = "FDA Food Code 4-203.11 (food) and 4-203.12 (ambient air and water)"
#: Limits in kelvin by use and scale of the display.
_LIMITS = {
    ("food", "fahrenheit"): 10.0 / 9.0, ("food", "celsius"): 1.0,
    ("air", "fahrenheit"): 5.0 / 3.0, ("air", "celsius"): 1.5,
}
_USES, _SCALES = ("food", "air"), ("fahrenheit", "celsius")


@dataclass(frozen=True, slots=True)
class ProbeCheck:
    """``error`` and ``limit`` in kelvin; ``verdict`` is within, out or too close to call; ``offset`` puts it right."""

    verdict: str
    error: float
    limit: float
    offset: float


def probe_offset(shown: float, reference: float) -> float:
    """Offset to enter so that a display agrees with a reference.

    Reference minus shown, in kelvin of difference, from two temperatures (K) read together with
    both probes side by side, in moving air or better in one bath, once both are steady. For a
    control that adds its offset to the reading; some subtract it: read the display again after.

    >>> probe_offset(shown=276.0, reference=274.5)
    -1.5
    """
    return reference - shown


def thermometer_limit(use: str = "air", scale: str = "fahrenheit") -> float:
    """How far off a thermometer of a food business may read.

    Plus or minus, in kelvin of difference. Of food: 2 degF where scaled only in Fahrenheit, 1 degC where
    scaled in Celsius or both (4-203.11). Of ambient air and water: 3 degF, or 1.5 degC (4-203.12).
    States adopt the Food Code with changes; local law decides.

    >>> round(thermometer_limit("food", "fahrenheit") * 9 / 5, 9)
    2.0
    """
    if use not in _USES:
        raise InputError(f"use is '{use}'", did_you_mean(use, _USES))
    if scale not in _SCALES:
        raise InputError(f"scale is '{scale}'", did_you_mean(scale, _SCALES))
    return _LIMITS[use, scale]


def probe_check(
    shown: float, reference: float, reference_accuracy: float, use: str = "air", scale: str = "fahrenheit"
) -> ProbeCheck:
    """Whether a display is within its limit, by a reference thermometer.

    From what it shows and the reference (K) and how far the reference may be off (K). ``within``
    or ``out`` only where that holds wherever in its accuracy the reference is; else ``too close
    to call``: take a better reference. Limits as for thermometer_limit.

    >>> probe_check(shown=276.0, reference=274.5, reference_accuracy=0.3).verdict  # 2.7 degF warm, limit 3 degF
    'too close to call'
    """
    error, limit = shown - reference, thermometer_limit(use, scale)
    if abs(error) + reference_accuracy <= limit:
        verdict = "within"
    elif abs(error) - reference_accuracy > limit:
        verdict = "out"
    else:
        verdict = "too close to call"
    return ProbeCheck(verdict, error, limit, reference - shown)


def ice_bath_check(
    shown: float, bath_accuracy: float = 1.0 / 9.0, use: str = "air", scale: str = "fahrenheit"
) -> ProbeCheck:
    """Whether a display is within its limit, by an ice bath.

    As probe_check, the reference 32 degF: crushed ice to the top just covered with clean water,
    stirred, probe in the middle a few minutes. ``bath_accuracy`` (K) is how far such a bath may be
    off, 0.2 degF.

    >>> ice_bath_check(shown=275.0).verdict  # shows 35.3 degF
    'out'
    """
    return probe_check(shown, ICE_POINT, bath_accuracy, use, scale)


def _shown(direction: Direction | None, low: float, high: float) -> Argument:
    return Argument(
        "shown", (Kind.TEMPERATURE,), direction, "temperature the display shows", valid=(low, high), unit="degF"
    )


def _accuracy(name: str, title: str, default: float | None) -> Argument:
    return Argument(
        name, (Kind.TEMPERATURE_DIFFERENCE,), None, title, valid=(0.0, 3.0), unit="delta_degF", default=default
    )


def _reference(direction: Direction | None) -> Argument:
    return Argument(
        "reference", (Kind.TEMPERATURE,), direction, "temperature of the reference thermometer",
        valid=_PLACE, unit="degF",
    )


_PLACE = (193.15, 423.15)
_WORDS = (
    Word("use", _USES, "what it measures", default="air"),
    Word("scale", _SCALES, "fahrenheit only, or celsius (also beside fahrenheit)", default="fahrenheit"),
)
_RESULTS = (
    Result("verdict", None, "the display"),
    Result("error", Kind.TEMPERATURE_DIFFERENCE, "shown minus reference", "delta_degF"),
    Result("limit", Kind.TEMPERATURE_DIFFERENCE, "allowed, either way", "delta_degF"),
    Result("offset", Kind.TEMPERATURE_DIFFERENCE, "offset that puts it right", "delta_degF"),
)
_BATH = f"{_FOOD_CODE}; ice bath to 0.2 degF: common practice, no source"

#: The calculators of this file.
PROBES: tuple[Calculator, ...] = (
    Calculator(
        "probe_offset", probe_offset, (_shown(Direction.FALLING, *_PLACE), _reference(Direction.RISING)),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source="follows from the definition",
        example={"shown": "41.3 degF ± 0.1 delta_degF", "reference": "38.5 degF ± 0.5 delta_degF"},
    ),
    Calculator(
        "thermometer_limit", thermometer_limit, _WORDS,
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_FOOD_CODE,
        example={"use": "food", "scale": "fahrenheit"},
    ),
    Calculator(
        "probe_check", probe_check,
        (
            _shown(None, *_PLACE), _reference(None),
            _accuracy("reference_accuracy", "how far the reference may be off", None), *_WORDS,
        ),
        result=_RESULTS, source=_FOOD_CODE,
        example={"shown": "41.3 degF", "reference": "38.5 degF", "reference_accuracy": "0.5 delta_degF"},
    ),
    Calculator(
        "ice_bath_check", ice_bath_check,
        (
            _shown(None, 253.15, 293.15),
            _accuracy("bath_accuracy", "how far the bath may be off", 1.0 / 9.0), *_WORDS,
        ),
        result=_RESULTS, source=_BATH, example={"shown": "33.4 degF", "use": "food"},
    ),
)
