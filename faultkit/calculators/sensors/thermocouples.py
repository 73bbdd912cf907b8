"""Thermocouples K, T and J: voltage from temperature and back, by the ITS-90 reference functions."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp
from types import MappingProxyType

from faultkit.calculators.arguments import Argument, Direction, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.sensors.models import ICE_POINT
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind, format_si

__all__ = ["THERMOCOUPLES", "thermocouple_temperature", "thermocouple_voltage"]


@dataclass(frozen=True, slots=True)
class _Couple:
    """Coefficients (mV, degC, rising powers) below and above 0 degC; ``highest`` degC; the extra term of type K."""

    below: tuple[float, ...]
    above: tuple[float, ...]
    highest: float
    extra: tuple[float, float, float] = (0.0, 0.0, 0.0)

    def volts(self, kelvin: float) -> float:
        """Volts against a junction at 0 degC."""
        t = kelvin - ICE_POINT
        value = 0.0
        for coefficient in reversed(self.below if t < 0.0 else self.above):
            value = value * t + coefficient
        size, rate, centre = self.extra if t >= 0.0 else (0.0, 0.0, 0.0)
        return (value + size * exp(rate * (t - centre) ** 2)) * 1e-3


_LOWEST = -200.0
#: Taken beyond the ends (K), so that the rounded voltage of a table's last row still is.
_SLACK = 0.5
_COUPLES = MappingProxyType({
    "K": _Couple(
        (
            0.0, 3.94501280250e-2, 2.36223735980e-5, -3.28589067840e-7, -4.99048287770e-9, -6.75090591730e-11,
            -5.74103274280e-13, -3.10888728940e-15, -1.04516093650e-17, -1.98892668780e-20, -1.63226974860e-23,
        ),
        (
            -1.76004136860e-2, 3.89212049750e-2, 1.85587700320e-5, -9.94575928740e-8, 3.18409457190e-10,
            -5.60728448890e-13, 5.60750590590e-16, -3.20207200030e-19, 9.71511471520e-23, -1.21047212750e-26,
        ),
        1372.0, (1.185976e-1, -1.183432e-4, 126.9686),
    ),
    "T": _Couple(
        (
            0.0, 3.87481063640e-2, 4.41944343470e-5, 1.18443231050e-7, 2.00329735540e-8, 9.01380195590e-10,
            2.26511565930e-11, 3.60711542050e-13, 3.84939398830e-15, 2.82135219250e-17, 1.42515947790e-19,
            4.87686622860e-22, 1.07955392700e-24, 1.39450270620e-27, 7.97951539270e-31,
        ),
        (
            0.0, 3.87481063640e-2, 3.32922278800e-5, 2.06182434040e-7, -2.18822568460e-9, 1.09968809280e-11,
            -3.08157587720e-14, 4.54791352900e-17, -2.75129016730e-20,
        ),
        400.0,
    ),
    "J": _Couple(*(2 * ((
        0.0, 5.03811878150e-2, 3.04758369300e-5, -8.56810657200e-8, 1.32281952950e-10, -1.70529583370e-13,
        2.09480906970e-16, -1.25383953360e-19, 1.56317256970e-23,
    ),)), 760.0),
})


def _couple(name: str) -> _Couple:
    if name not in _COUPLES:
        raise InputError(f"couple is '{name}'", did_you_mean(name, _COUPLES))
    return _COUPLES[name]


def thermocouple_voltage(couple: str, temperature: float, junction: float = ICE_POINT) -> float:
    """Voltage of a thermocouple.

    V, for type K, T or J at a temperature with its open ends at ``junction`` (K both, the junction -40 to
    185 degF). From -328 degF to 2501 (K), 752 (T), 1400 degF (J). To check a meter's input, or a clamp
    probe with a millivoltmeter.

    >>> round(thermocouple_voltage("K", 373.15) * 1e3, 3)  # mV at 212 degF, ends in ice
    4.096
    """
    found = _couple(couple)
    _within(found, temperature, "temperature")
    _within(found, junction, "junction")
    return found.volts(temperature) - found.volts(junction)


def _within(couple: _Couple, kelvin: float, name: str) -> None:
    if not _LOWEST - _SLACK <= kelvin - ICE_POINT <= couple.highest + _SLACK:
        low, high = (format_si(t + ICE_POINT, "degF", 4) for t in (_LOWEST, couple.highest))
        raise InputError(f"{name} is {format_si(kelvin, 'degF', 4)}", f"{low} to {high}")


def thermocouple_temperature(couple: str, voltage: float, junction: float = ICE_POINT) -> float:
    """Temperature of a thermocouple by its voltage.

    Kelvin, the reverse of thermocouple_voltage: the voltage (V) is the difference of the two ends, so
    the temperature of the open ends (K) counts in full.

    >>> round(thermocouple_temperature("K", 0.004096) - 273.15, 1)
    100.0
    """
    found = _couple(couple)
    _within(found, junction, "junction")
    wanted = voltage + found.volts(junction)
    low, high = _LOWEST - _SLACK + ICE_POINT, found.highest + _SLACK + ICE_POINT
    ends = found.volts(low), found.volts(high)
    if not ends[0] <= wanted <= ends[1]:
        off = found.volts(junction)
        raise InputError(
            f"voltage is {format_si(voltage, 'mV', 4)}",
            f"{format_si(ends[0] - off, 'mV', 4)} to {format_si(ends[1] - off, 'mV', 4)} for type {couple}",
        )
    # Rises throughout; halving ends at the last bit.
    while low < (middle := (low + high) / 2.0) < high:
        if found.volts(middle) < wanted:
            low = middle
        else:
            high = middle
    return high


_TYPE = Word("couple", tuple(_COUPLES), "type of thermocouple")
_JUNCTION = (233.15, 358.15)
_SOURCE = "ITS-90 reference functions, NIST Standard Reference Database 60 (Monograph 175)"


def _junction(direction: Direction) -> Argument:
    return Argument(
        "junction", (Kind.TEMPERATURE,), direction, "temperature of the open ends", valid=_JUNCTION, unit="degF",
        default=ICE_POINT,
    )


#: The calculators of this file.
THERMOCOUPLES: tuple[Calculator, ...] = (
    Calculator(
        "thermocouple_voltage", thermocouple_voltage,
        (
            _TYPE,
            Argument(
                "temperature", (Kind.TEMPERATURE,), Direction.RISING, "temperature of the tip",
                valid=(73.15, 1645.15), unit="degF",
            ),
            _junction(Direction.FALLING),
        ),
        result=Kind.VOLTAGE, unit="mV", source=_SOURCE,
        example={"couple": "K", "temperature": "38 degF", "junction": "75 degF"},
    ),
    Calculator(
        "thermocouple_temperature", thermocouple_temperature,
        (
            _TYPE,
            Argument(
                "voltage", (Kind.VOLTAGE,), Direction.RISING, "voltage of the open ends",
                valid=(-0.02, 0.06), unit="mV",
            ),
            _junction(Direction.RISING),
        ),
        result=Kind.TEMPERATURE, unit="degF", source=_SOURCE,
        example={"couple": "T", "voltage": "-0.8 mV ± 0.02 mV", "junction": "75 degF"},
    ),
)
