"""The supply: how far its voltage is off, how much it sags under load."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Result, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import EITHER, FALLING, LIVE, RISING, current, share, voltage
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind, format_si

__all__ = [
    "SUPPLY", "MotorVoltage", "UtilizationVoltage", "dual_voltage_deviation", "loaded_voltage", "motor_voltage_check",
    "source_impedance", "utilization_voltage_check", "utilization_voltage_deviation", "voltage_deviation",
    "voltage_sag",
]

_SYSTEMS = {"120": 120.0, "208": 208.0, "240": 240.0, "277": 277.0, "480": 480.0, "600": 600.0}
#: Utilization voltage on the 120 V base: lowest on circuits without and with lighting, highest.
_BASE = {
    "range_A": {"no_lighting": (108.0, 126.0), "lighting": (110.0, 126.0)},
    "range_B": {"no_lighting": (104.0, 127.0), "lighting": (106.0, 127.0)},
}
_SERVES = ("no_lighting", "lighting")
#: A meter read twice may show this much more under load; beyond it the supply itself changed.
_METER = 1.05


@dataclass(frozen=True, slots=True)
class UtilizationVoltage:
    """Limits in volts, ``deviation`` from the nominal as a ratio; ``verdict`` in words."""

    verdict: str
    deviation: float
    low_a: float
    high_a: float
    low_b: float
    high_b: float


@dataclass(frozen=True, slots=True)
class MotorVoltage:
    """Limits in volts, ``deviation`` from the nearer rating as a ratio; ``verdict`` in words."""

    verdict: str
    deviation: float
    least: float
    most: float


def voltage_deviation(voltage: float, rated_voltage: float) -> float:
    """How far a voltage is off its rating, a ratio: 1 is 100 %, low is negative.

    Volts measured at the terminals, equipment running, against the nameplate or the nominal
    voltage of the system. Motors of one rating stand 10 % either way.

    >>> round(voltage_deviation(198.0, 230.0), 4)  # 13.9 % low
    -0.1391
    """
    return voltage / rated_voltage - 1.0


def _limits(system: str, limits: str, serves: str) -> tuple[float, float]:
    for name, word, known in (("system", system, _SYSTEMS), ("limits", limits, _BASE), ("serves", serves, _SERVES)):
        if word not in known:
            raise InputError(f"'{name}' is '{word}'", did_you_mean(word, list(known)))
    low, high = _BASE[limits][serves]
    scale = _SYSTEMS[system] / 120.0
    return float(round(low * scale)), float(round(high * scale))


def utilization_voltage_deviation(
    voltage: float, system: str, limits: str = "range_A", serves: str = "no_lighting"
) -> float:
    """How far a voltage lies outside the utilization range of its system, a ratio of the nominal: 0 is within.

    Volts at the equipment's terminals, running, line to line (120 and 277: line to neutral);
    below the range negative. ``limits``: range A is what a supply is designed for, range B
    what it may be for limited times. Circuits with lighting have the narrower range.

    >>> round(utilization_voltage_deviation(198.0, "240"), 4)  # range A begins at 216 V: 18 V of 240 V
    -0.075
    """
    low, high = _limits(system, limits, serves)
    outside = min(voltage - low, 0.0) + max(voltage - high, 0.0)
    return outside / _SYSTEMS[system]


def utilization_voltage_check(voltage: float, system: str, serves: str = "no_lighting") -> UtilizationVoltage:
    """Whether a voltage is within the utilization ranges A and B of its system.

    Volts as for utilization_voltage_deviation. Outside range A but inside B is to be put right in
    reasonable time, outside B at once. A limit belongs to its range.

    >>> utilization_voltage_check(210.0, "240").verdict
    'range B'
    """
    low_a, high_a = _limits(system, "range_A", serves)
    low_b, high_b = _limits(system, "range_B", serves)
    if low_a <= voltage <= high_a:
        verdict = "range A"
    elif low_b <= voltage <= high_b:
        verdict = "range B"
    else:
        verdict = "below range B" if voltage < low_b else "above range B"
    return UtilizationVoltage(verdict, voltage / _SYSTEMS[system] - 1.0, low_a, high_a, low_b, high_b)


def dual_voltage_deviation(voltage: float, lower_rated_voltage: float, upper_rated_voltage: float) -> float:
    """How far a voltage is off a nameplate with two ratings, a ratio: 0 between them, low is negative.

    For a plate as 208-230 V: below 208 V as a share of 208 V, above 230 V as a share of 230 V.
    Not for a motor reconnected for one or the other voltage: take the one it is connected for.

    >>> round(dual_voltage_deviation(198.0, 208.0, 230.0), 4)
    -0.0481
    """
    if lower_rated_voltage > upper_rated_voltage:
        raise InputError(
            f"lower_rated_voltage {format_si(lower_rated_voltage, 'V')} is above upper_rated_voltage "
            f"{format_si(upper_rated_voltage, 'V')}",
            "the lower rating first, as in 208 V and 230 V",
        )
    return min(voltage / lower_rated_voltage - 1.0, 0.0) + max(voltage / upper_rated_voltage - 1.0, 0.0)


def motor_voltage_check(
    voltage: float, lower_rated_voltage: float, upper_rated_voltage: float, tolerance: float = 0.10
) -> MotorVoltage:
    """Whether a voltage is within what a motor stands.

    Volts at the motor's terminals, running. A plate with one rating: the same twice. 10 % below the
    lower to 10 % above the upper rating: 187 to 253 V for 208-230 V. Some makers allow welded
    single-phase compressors 5 % below 208 V only: the maker's range comes first.

    >>> motor_voltage_check(198.0, 208.0, 230.0).verdict
    'within'
    """
    deviation = dual_voltage_deviation(voltage, lower_rated_voltage, upper_rated_voltage)
    least, most = lower_rated_voltage * (1.0 - tolerance), upper_rated_voltage * (1.0 + tolerance)
    verdict = "low" if voltage < least else "high" if voltage > most else "within"
    return MotorVoltage(verdict, deviation, least, most)


def _fell(no_load_voltage: float, loaded_voltage: float) -> float:
    """Volts lost under load. InputError where the supply rose by more than a meter can be off."""
    if loaded_voltage > _METER * no_load_voltage:
        raise InputError(
            f"loaded_voltage {format_si(loaded_voltage, 'V', 4)} is above no_load_voltage "
            f"{format_si(no_load_voltage, 'V', 4)}",
            "both at the same terminals, one right after the other, the supply steady",
        )
    return no_load_voltage - loaded_voltage


def voltage_sag(no_load_voltage: float, loaded_voltage: float) -> float:
    """How much of a supply's voltage is lost when the load comes on, a ratio: 1 is 100 %.

    Same terminals, equipment off, then running (or starting, with a meter that holds the lowest
    reading). A little below zero: less than the meter can tell.

    >>> voltage_sag(240.0, 222.0)
    0.075
    """
    return _fell(no_load_voltage, loaded_voltage) / no_load_voltage


def source_impedance(no_load_voltage: float, loaded_voltage: float, current: float) -> float:
    """Impedance of everything upstream, from volts without and with load (ohm).

    Same terminals, and ``current`` (A) the load adds between the readings. It is the part that costs
    volts at this load's power factor; utility, transformer, wire and joints together, both
    conductors. A little below zero: less than the meter can tell.

    >>> source_impedance(120.0, 115.0, 8.0)
    0.625
    """
    return _fell(no_load_voltage, loaded_voltage) / current


def loaded_voltage(no_load_voltage: float, loaded_voltage: float, current: float, other_current: float) -> float:
    """Volts to expect at another current, from volts without load and at one current.

    As source_impedance; ``other_current`` (A) is the one wanted, as the locked-rotor current of a
    compressor that will not start. Holds for a load of like power factor.

    >>> loaded_voltage(120.0, 115.0, 8.0, 20.0)
    107.5
    """
    volts = no_load_voltage - _fell(no_load_voltage, loaded_voltage) * other_current / current
    if volts <= 0.0:
        raise InputError(
            f"at other_current {format_si(other_current, 'A', 4)} this supply would have no voltage left",
            f"less than {format_si(no_load_voltage * current / (no_load_voltage - loaded_voltage), 'A', 4)}",
        )
    return volts


_C84 = (
    "ANSI C84.1, utilization voltage, 120 V base scaled and rounded, from memory; 120, 240, 277, 480 and 600 V seen in "
    "an equipment manual's table"
)
_MG1 = (
    "NEMA MG 1-12.44, 10 % either way (seen in texts on it); two ratings: a compressor maker's table of voltages (seen)"
)
_OHM = "Ohm's law; as the maker of a circuit tester has its own checked (manual seen)"
_SYSTEM = Word("system", tuple(_SYSTEMS), "nominal volts of the system")
_SERVED = Word("serves", _SERVES, "whether the circuit serves lighting", default="no_lighting")
_VOLTS = voltage("voltage", "volts at the terminals", RISING)
_RATED = (20.0, 1000.0)
_LOWER = voltage("lower_rated_voltage", "lower rating on the plate", FALLING, _RATED)
_UPPER = voltage("upper_rated_voltage", "upper rating on the plate", FALLING, _RATED)
_NO_LOAD = (5.0, 1000.0)
_ADDED = (0.05, 2000.0)
_PLATE = {"voltage": "198 V ± 2 V", "lower_rated_voltage": "208 V", "upper_rated_voltage": "230 V"}
_SAGGED = {"no_load_voltage": "240 V ± 1 V", "loaded_voltage": "222 V ± 1 V"}
_DEVIATION = Result("deviation", Kind.RATIO, "off the nominal or rating", "%")


def _volts(name: str, title: str) -> Result:
    return Result(name, Kind.VOLTAGE, title, "V")


#: The calculators of this file.
SUPPLY: tuple[Calculator, ...] = (
    Calculator(
        "voltage_deviation", voltage_deviation,
        (_VOLTS, voltage("rated_voltage", "volts it should have", FALLING, (5.0, 1000.0))),
        result=Kind.RATIO, unit="%", source="follows from the definition", caution=LIVE,
        example={"voltage": "198 V ± 2 V", "rated_voltage": "230 V"},
    ),
    Calculator(
        "utilization_voltage_deviation", utilization_voltage_deviation,
        (_VOLTS, _SYSTEM, Word("limits", tuple(_BASE), "which range", default="range_A"), _SERVED),
        result=Kind.RATIO, unit="%", source=_C84, caution=LIVE, example={"voltage": "198 V ± 2 V", "system": "240"},
    ),
    Calculator(
        "utilization_voltage_check", utilization_voltage_check, (_VOLTS, _SYSTEM, _SERVED),
        result=(
            Result("verdict", None, "the voltage is in or"), _DEVIATION,
            _volts("low_a", "range A from"), _volts("high_a", "range A to"),
            _volts("low_b", "range B from"), _volts("high_b", "range B to"),
        ),
        source=_C84, caution=LIVE, example={"voltage": "198 V ± 2 V", "system": "208"},
    ),
    Calculator(
        "dual_voltage_deviation", dual_voltage_deviation, (_VOLTS, _LOWER, _UPPER),
        result=Kind.RATIO, unit="%", source="follows from the definition", caution=LIVE, example=_PLATE,
    ),
    Calculator(
        "motor_voltage_check", motor_voltage_check,
        (_VOLTS, _LOWER, _UPPER, share("tolerance", "allowed either way", None, (0.0, 0.2), 0.10)),
        result=(
            Result("verdict", None, "the voltage is"), _DEVIATION,
            _volts("least", "lowest allowed"), _volts("most", "highest allowed"),
        ),
        source=_MG1, caution=LIVE, example=_PLATE,
    ),
    Calculator(
        "voltage_sag", voltage_sag,
        (
            voltage("no_load_voltage", "volts without the load", RISING, _NO_LOAD),
            voltage("loaded_voltage", "volts with the load", FALLING),
        ),
        result=Kind.RATIO, unit="%", source="follows from the definition", caution=LIVE, example=_SAGGED,
    ),
    Calculator(
        "source_impedance", source_impedance,
        (
            voltage("no_load_voltage", "volts without the load", RISING, _NO_LOAD),
            voltage("loaded_voltage", "volts with the load", FALLING),
            current("current", "amps the load adds", EITHER, _ADDED),
        ),
        result=Kind.RESISTANCE, unit="ohm", source=_OHM, caution=LIVE,
        example={**_SAGGED, "current": "24 A ± 0.5 A"},
    ),
    Calculator(
        "loaded_voltage", loaded_voltage,
        (
            voltage("no_load_voltage", "volts without the load", EITHER, _NO_LOAD),
            voltage("loaded_voltage", "volts with the load", RISING),
            current("current", "amps the load adds", EITHER, _ADDED),
            current("other_current", "amps wanted", EITHER),
        ),
        result=Kind.VOLTAGE, unit="V", source=_OHM, caution=LIVE,
        example={**_SAGGED, "current": "24 A ± 0.5 A", "other_current": "70 A"},
    ),
)
