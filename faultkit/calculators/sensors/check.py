"""Open, short, drift or good: a sensor's ohms against its curve at a temperature that is known."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.sensors.convert import RESISTANCE, TEMPERATURE
from faultkit.calculators.sensors.curves import CURVE, CURVE_SOURCE, OHMMETER, find_curve
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = ["CHECK", "SensorCheck", "sensor_check", "sensor_deviation", "sensor_error"]

_TOLERANCE = 10.0 / 9.0  # 2 degF


@dataclass(frozen=True, slots=True)
class SensorCheck:
    """``verdict`` is good, drift, open or short; ``reads`` (K) and ``error`` (K) are None for the last two."""

    verdict: str
    reads: float | None
    error: float | None
    expected: float


def sensor_error(curve: str, resistance: float, temperature: float) -> float:
    """How far off a sensor reads by its ohms.

    Temperature its ohms mean minus true temperature, in kelvin of difference, from curve, ohm
    and the temperature (K) of a thermometer beside it. InputError for ohms off the curve.

    >>> round(sensor_error("ntc_10k_type_2", 31000.0, 273.15), 2)  # reads 1.8 degF warm
    1.02
    """
    return find_curve(curve).temperature(resistance) - temperature


def sensor_deviation(curve: str, resistance: float, temperature: float) -> float:
    """How far a sensor's ohms are off its table.

    (measured - expected) / expected, a ratio, from curve, ohm and true temperature (K).

    >>> round(sensor_deviation("ntc_10k_type_2", 31000.0, 273.15), 3)  # 5 % low
    -0.051
    """
    expected = find_curve(curve).resistance(temperature)
    return (resistance - expected) / expected


def sensor_check(
    curve: str, resistance: float, temperature: float, tolerance: float = _TOLERANCE,
    coldest: float = 223.15, hottest: float = 423.15,
) -> SensorCheck:
    """Whether a sensor is open, short, drifted or good.

    From curve, ohm (leads off the control; a meter's overload as a large value, say 100 Mohm) and true
    temperature (K). ``open`` and ``short``: ohms that mean colder than ``coldest`` or warmer than
    ``hottest`` (K), which no working sensor in this place can be at; -58 and 302 degF, or the
    curve's ends where those are nearer. ``good``: what the ohms mean is within ``tolerance`` (K,
    2 degF) of the true temperature; else ``drift``, by ``error`` (warm is positive). A drift of
    several degrees that is gone at 77 degF is a sensor of another curve.

    >>> sensor_check("ntc_10k_type_2", 32700.0, 273.15).verdict
    'good'
    >>> sensor_check("ntc_10k_type_2", 3.0, 273.15).verdict
    'short'
    """
    found = find_curve(curve)
    expected = found.resistance(temperature)
    low, high = max(coldest, found.lowest), min(hottest, found.highest)
    if not low < high:
        raise InputError(
            f"coldest {format_si(coldest, 'degF', 4)} is not below hottest {format_si(hottest, 'degF', 4)}",
            "the coldest and the hottest the place can be",
        )
    least, most = sorted((found.resistance(low), found.resistance(high)))
    if not least <= resistance <= most:
        return SensorCheck("short" if resistance < least else "open", None, None, expected)
    reads = found.temperature(resistance)
    good = abs(reads - temperature) <= tolerance
    return SensorCheck("good" if good else "drift", reads, reads - temperature, expected)


_TRUE = Argument(
    "temperature", (Kind.TEMPERATURE,), Direction.FALLING, "true temperature, by a thermometer beside the sensor",
    valid=TEMPERATURE.valid, unit="degF",
)
_OHMS = Argument(
    "resistance", (Kind.RESISTANCE,), Direction.RISING, RESISTANCE.title, valid=(0.0, 1e9), unit="ohm"
)


def _limit(name: str, title: str, default: float) -> Argument:
    return Argument(
        name, (Kind.TEMPERATURE,), None, title, valid=TEMPERATURE.valid, unit="degF", default=default
    )


#: The calculators of this file.
CHECK: tuple[Calculator, ...] = (
    Calculator(
        "sensor_error", sensor_error, (CURVE, RESISTANCE, _TRUE),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=CURVE_SOURCE, caution=OHMMETER,
        example={"curve": "ntc_10k_type_2", "resistance": "31.0 kohm ± 1 %", "temperature": "32 degF"},
    ),
    Calculator(
        "sensor_deviation", sensor_deviation, (CURVE, _OHMS, TEMPERATURE),
        result=Kind.RATIO, unit="%", source=CURVE_SOURCE, caution=OHMMETER,
        example={"curve": "ptc_990", "resistance": "812 ohm", "temperature": "32 degF"},
    ),
    Calculator(
        "sensor_check", sensor_check,
        (
            CURVE, _OHMS, _TRUE,
            Argument(
                "tolerance", (Kind.TEMPERATURE_DIFFERENCE,), None, "error still good", valid=(0.05, 20.0),
                unit="delta_degF", default=_TOLERANCE,
            ),
            _limit("coldest", "coldest the sensor can be", 223.15),
            _limit("hottest", "hottest the sensor can be", 423.15),
        ),
        result=(
            Result("verdict", None, "the sensor"),
            Result("reads", Kind.TEMPERATURE, "temperature its ohms mean", "degF"),
            Result("error", Kind.TEMPERATURE_DIFFERENCE, "read minus true", "delta_degF"),
            Result("expected", Kind.RESISTANCE, "ohms of a good sensor there", "ohm"),
        ),
        source=f"common practice, no source, for the limits; {CURVE_SOURCE}", caution=OHMMETER,
        example={"curve": "ntc_10k_3435", "resistance": "24.0 kohm ± 1 %", "temperature": "32 degF ± 0.5 delta_degF"},
    ),
)
