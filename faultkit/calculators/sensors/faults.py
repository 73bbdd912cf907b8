"""What a faulty sensor circuit shows: wrong curve, added resistance, leakage, long leads."""

from __future__ import annotations

from math import pi

from faultkit.calculators.arguments import Argument, Direction, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.sensors.convert import TEMPERATURE
from faultkit.calculators.sensors.curves import CURVE, CURVE_SOURCE, CURVES, OHMMETER, Curve, curve_word, find_curve
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "FAULTS", "lead_wire_error", "parallel_leakage_error", "series_resistance_error", "wrong_curve_error",
    "wrong_curve_reading",
]

_SOURCE = f"follows from the curves; {CURVE_SOURCE}"


def _shown(curve: Curve, ohms: float, why: str) -> float:
    """What a control set for ``curve`` shows at ``ohms``; InputError where that is an alarm."""
    if not curve.holds(ohms):
        low, high = curve.ends
        raise InputError(
            f"{why} the control meets {format_si(ohms, 'ohm', 5)} and shows a sensor alarm, no temperature",
            f"{format_si(low, 'ohm', 5)} to {format_si(high, 'ohm', 5)} on curve '{curve.name}'",
        )
    return curve.temperature(ohms)


def wrong_curve_reading(sensor: str, control: str, temperature: float) -> float:
    """What a control set for one curve shows with a sensor of another.

    Kelvin, from the curve of the ``sensor``, the curve the ``control`` is set for and the true
    temperature (K). InputError where the ohms are off the control's curve: it then shows an alarm.

    >>> shown = wrong_curve_reading("ntc_10k_type_3", "ntc_10k_type_2", 273.15)  # 32 degF
    >>> round(shown - 273.15, 2)  # shows 35.6 degF
    2.01
    """
    ohms = find_curve(sensor).resistance(temperature)
    return _shown(find_curve(control), ohms, f"with sensor '{sensor}'")


def wrong_curve_error(sensor: str, control: str, temperature: float) -> float:
    """How far off a control set for one curve reads with a sensor of another.

    Shown minus true, in kelvin of difference; arguments as in wrong_curve_reading. An error that is
    nothing at 77 degF and grows with distance from it is the mark of a wrong curve; of drift it is not.

    >>> round(wrong_curve_error("ntc_10k_3435", "ntc_10k_type_2", 255.37), 1)  # at 0 degF 10.9 degF warm
    6.0
    """
    return wrong_curve_reading(sensor, control, temperature) - temperature


def series_resistance_error(curve: str, temperature: float, added: float) -> float:
    """How far off a sensor reads with resistance added in its leads.

    Shown minus true, in kelvin of difference, from curve, true temperature (K) and added ohm:
    a corroded connector, a bad splice, thin leads. An NTC then reads cold and the unit runs short;
    platinum and PTC read warm and it runs on.

    >>> round(series_resistance_error("ntc_10k_type_2", 275.0, 1000.0), 2)  # 35.3 degF: 1.2 degF cold
    -0.65
    """
    found = find_curve(curve)
    ohms = found.resistance(temperature) + added
    return _shown(found, ohms, f"with {format_si(added, 'ohm', 4)} added") - temperature


def parallel_leakage_error(curve: str, temperature: float, leakage: float) -> float:
    """How far off a sensor reads with a leak across it.

    Shown minus true, in kelvin of difference, from curve, true temperature (K) and the ohms of the
    leak in parallel: water in the probe or its splice. An NTC then reads warm, most when cold;
    platinum and PTC read cold.

    >>> round(parallel_leakage_error("ntc_10k_type_2", 255.37, 1e6), 2)  # 1 Mohm at 0 degF: 2.6 degF warm
    1.44
    """
    found = find_curve(curve)
    ohms = found.resistance(temperature)
    together = ohms * leakage / (ohms + leakage)
    return _shown(found, together, f"with {format_si(leakage, 'ohm', 4)} across the sensor") - temperature


def lead_wire_error(curve: str, temperature: float, length: float, gauge: str) -> float:
    """How far off a two-wire sensor reads through the resistance of its leads.

    Shown minus true, in kelvin of difference, from curve, true temperature (K), run of cable (m,
    one way: there and back is counted) and wire size. Solid copper at 68 degF, 1.7241e-8 ohm·m; a
    stranded wire of the size has 2 to 5 % more, a wire in a freezer a sixth less. Small on
    thermistors; platinum of 100 ohm needs a third wire or an offset.

    >>> round(lead_wire_error("pt1000", 275.0, 30.48, "18"), 2)  # 100 ft of 18 AWG: 0.6 degF warm
    0.33
    """
    diameter = 0.127e-3 * 92.0 ** ((36 - int(gauge)) / 39.0)
    return series_resistance_error(curve, temperature, 1.7241e-8 * 2.0 * length / (pi / 4.0 * diameter**2))


_TRUE = Argument(
    "temperature", (Kind.TEMPERATURE,), None, "true temperature of the sensor", valid=TEMPERATURE.valid, unit="degF"
)
_SENSOR = Word("sensor", tuple(CURVES), "curve of the sensor fitted", read=curve_word)
_CONTROL = Word("control", tuple(CURVES), "curve the control is set for", read=curve_word)
_GAUGE = Word("gauge", tuple(str(n) for n in range(14, 31)), "wire size, AWG")

#: The calculators of this file.
FAULTS: tuple[Calculator, ...] = (
    Calculator(
        "wrong_curve_reading", wrong_curve_reading, (_SENSOR, _CONTROL, TEMPERATURE),
        result=Kind.TEMPERATURE, unit="degF", source=_SOURCE,
        example={"sensor": "ntc_10k_3435", "control": "ntc_10k_type_2", "temperature": "0 degF"},
    ),
    Calculator(
        "wrong_curve_error", wrong_curve_error, (_SENSOR, _CONTROL, _TRUE),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_SOURCE,
        example={"sensor": "ntc_10k_type_3", "control": "ntc_10k_type_2", "temperature": "36 degF"},
    ),
    Calculator(
        "series_resistance_error", series_resistance_error,
        (CURVE, TEMPERATURE, Argument(
            "added", (Kind.RESISTANCE,), Direction.EITHER, "resistance added in the leads",
            valid=(0.0, 1e6), unit="ohm",
        )),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_SOURCE, caution=OHMMETER,
        example={"curve": "ntc_10k_type_2", "temperature": "35 degF", "added": "1000 ohm"},
    ),
    Calculator(
        "parallel_leakage_error", parallel_leakage_error,
        (CURVE, TEMPERATURE, Argument(
            "leakage", (Kind.RESISTANCE,), Direction.EITHER, "resistance of the leak across the sensor",
            valid=(100.0, 1e9), unit="kohm",
        )),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_SOURCE, caution=OHMMETER,
        example={"curve": "ntc_10k_type_2", "temperature": "0 degF", "leakage": "1 Mohm"},
    ),
    Calculator(
        "lead_wire_error", lead_wire_error,
        (
            CURVE, TEMPERATURE,
            Argument(
                "length", (Kind.LENGTH,), Direction.EITHER, "run of cable, one way", valid=(0.0, 914.4), unit="ft",
            ),
            _GAUGE,
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF",
        source=f"AWG by its definition (ASTM B258, from memory); copper 1.7241e-8 ohm·m at 20 degC; {_SOURCE}",
        example={"curve": "pt1000", "temperature": "35 degF", "length": "150 ft", "gauge": "20"},
    ),
)
