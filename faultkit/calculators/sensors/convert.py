"""Ohms to temperature and back on a named curve, and what a good sensor reads in an ice bath."""

from __future__ import annotations

from faultkit.calculators.arguments import Argument, Direction
from faultkit.calculators.declare import Calculator
from faultkit.calculators.sensors.curves import CURVE, CURVE_SOURCE, OHMMETER, find_curve
from faultkit.calculators.sensors.models import ICE_POINT
from faultkit.units import Kind

__all__ = ["CONVERT", "RESISTANCE", "TEMPERATURE", "ice_bath_resistance", "sensor_resistance", "sensor_temperature"]

#: The widest range of any curve; each curve checks its own.
_ANY_TEMPERATURE = (73.15, 1123.15)
_ANY_RESISTANCE = (1.0, 1e6)


def sensor_resistance(curve: str, temperature: float) -> float:
    """Resistance of a good sensor at a temperature.

    Ohm, from a curve's name and kelvin. Each curve has its range: pt100, pt1000 -328 to
    1562 degF; NTC -58 to 302 degF (type 3 to 266, 3435 to 230 degF); PTC -67 to 212 degF.
    What to look for on the ohmmeter with the sensor in air or water of known temperature.

    >>> round(sensor_resistance("ntc_10k_type_2", 275.15))  # 35.6 degF
    29500
    """
    return find_curve(curve).resistance(temperature)


def sensor_temperature(curve: str, resistance: float) -> float:
    """Temperature a sensor is at by its resistance.

    Kelvin, from a curve's name and ohm; ranges as for sensor_resistance. InputError for ohms
    off the curve: that is an open, a short or another curve, not a temperature.

    >>> round(sensor_temperature("pt1000", 1000.0), 6)  # 32 degF
    273.15
    """
    return find_curve(curve).temperature(resistance)


def ice_bath_resistance(curve: str, bath: float = ICE_POINT) -> float:
    """Resistance of a good sensor in a stirred ice bath.

    Ohm, from a curve's name; ``bath`` (K) is 32 degF of crushed ice just covered with clean
    water, stirred, sensor a few minutes in it and off the glass; 30 to 34 degF is taken so
    that its accuracy can be given (``32.2 degF ± 0.2 delta_degF``).

    >>> round(ice_bath_resistance("ntc_10k_type_2"))
    32650
    """
    return find_curve(curve).resistance(bath)


TEMPERATURE = Argument(
    "temperature", (Kind.TEMPERATURE,), Direction.EITHER, "true temperature of the sensor",
    valid=_ANY_TEMPERATURE, unit="degF",
)
RESISTANCE = Argument(
    "resistance", (Kind.RESISTANCE,), Direction.EITHER, "resistance of the sensor, leads off the control",
    valid=_ANY_RESISTANCE, unit="ohm",
)

#: The calculators of this file.
CONVERT: tuple[Calculator, ...] = (
    Calculator(
        "sensor_resistance", sensor_resistance, (CURVE, TEMPERATURE),
        result=Kind.RESISTANCE, unit="ohm", source=CURVE_SOURCE, caution=OHMMETER,
        example={"curve": "ntc_10k_type_2", "temperature": "38 degF"},
    ),
    Calculator(
        "sensor_temperature", sensor_temperature, (CURVE, RESISTANCE),
        result=Kind.TEMPERATURE, unit="degF", source=CURVE_SOURCE, caution=OHMMETER,
        example={"curve": "ntc_10k_3435", "resistance": "27.3 kohm ± 1 %"},
    ),
    Calculator(
        "ice_bath_resistance", ice_bath_resistance,
        (CURVE, Argument(
            "bath", (Kind.TEMPERATURE,), Direction.EITHER, "temperature of the bath",
            valid=(272.03888888, 274.26111112), unit="degF", default=ICE_POINT,
        )),
        result=Kind.RESISTANCE, unit="ohm", source=CURVE_SOURCE, caution=OHMMETER,
        example={"curve": "ptc_990", "bath": "32.1 degF ± 0.2 delta_degF"},
    ),
)
