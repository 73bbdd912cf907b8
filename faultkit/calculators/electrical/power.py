"""Power, power factor and resistive heaters."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import (
    FALLING,
    LIVE,
    LOCKED_OUT,
    PHASE,
    PHASES,
    RISING,
    current,
    power,
    share,
    voltage,
)
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind, format_si

__all__ = [
    "POWER", "HeaterBank", "apparent_power", "heater_bank_check", "heater_bank_current", "heater_current",
    "heater_power", "heater_resistance", "open_heaters", "power_factor", "real_power",
]

#: Meters for watts, volts and amps together may put the power factor this high; more is a wrong hook-up.
_METERS = 1.10


@dataclass(frozen=True, slots=True)
class HeaterBank:
    """``open`` heaters, ``expected`` amps with that many open; None where the reading fits no number."""

    verdict: str
    open: int | None
    expected: float | None


def _volt_amperes(phase: str, voltage: float, current: float) -> float:
    if phase not in PHASES:
        raise InputError(f"'phase' is '{phase}'", did_you_mean(phase, list(PHASES)))
    return (sqrt(3.0) if phase == "three" else 1.0) * voltage * current


def apparent_power(phase: str, voltage: float, current: float) -> float:
    """Apparent power a load draws (VA, shown as W).

    Single phase volts times amps; three phase, balanced: line-to-line volts times amps of a line
    times the root of 3. What wire and transformer have to carry.

    >>> round(apparent_power("three", 208.0, 10.0), 1)
    3602.7
    """
    return _volt_amperes(phase, voltage, current)


def real_power(phase: str, voltage: float, current: float, power_factor: float) -> float:
    """Power a load turns into work and heat (W).

    Apparent power times power factor (ratio); three phase balanced, line-to-line volts.

    >>> round(real_power("three", 208.0, 10.0, 0.85), 1)
    3062.3
    """
    return _volt_amperes(phase, voltage, current) * power_factor


def power_factor(phase: str, power: float, voltage: float, current: float) -> float:
    """Power factor of a load, a ratio: real by apparent power.

    Watts by a power meter, volts and amps at the same time (three phase balanced, line to line). A
    loaded motor stands well above an idling one.

    >>> round(power_factor("single", 1100.0, 118.0, 11.0), 3)
    0.847
    """
    found = power / _volt_amperes(phase, voltage, current)
    if found > _METERS:
        raise InputError(
            f"{format_si(power, 'W', 4)} at {format_si(voltage, 'V', 4)} and {format_si(current, 'A', 4)} is more than "
            "all of the apparent power", "all three of the same load at the same time, phase right",
        )
    return min(found, 1.0)


def heater_resistance(rated_power: float, rated_voltage: float) -> float:
    """Resistance of a resistive heater, from its nameplate (ohm).

    Rated volts squared by rated watts: what it should read hot, a few percent less cold. One element at a
    time, leads off.

    >>> heater_resistance(2000.0, 240.0)
    28.8
    """
    return rated_voltage * rated_voltage / rated_power


def heater_power(rated_power: float, rated_voltage: float, voltage: float) -> float:
    """Heat of a resistive heater at another voltage (W).

    Goes with the square of the voltage: a 240 V heater gives three quarters at 208 V.

    >>> round(heater_power(2000.0, 240.0, 208.0), 1)
    1502.2
    """
    return rated_power * (voltage / rated_voltage) ** 2


def heater_current(rated_power: float, rated_voltage: float, voltage: float) -> float:
    """Amps of a single-phase resistive heater at its measured voltage (A).

    Rated watts by rated volts, in proportion to the voltage it has.

    >>> round(heater_current(2000.0, 240.0, 208.0), 3)
    7.222
    """
    return rated_power / rated_voltage * (voltage / rated_voltage)


def _whole(name: str, number: float, least: int) -> int:
    if number != round(number) or number < least:
        raise InputError(f"{name} is {number:g}", f"a whole number, {least} or more")
    return round(number)


def heater_bank_current(current_each: float, heaters: float, open_heaters: float) -> float:
    """Amps of equal heaters in parallel when some of them are open (A).

    ``current_each`` (A) of one at the measured voltage (heater_current), how many there are, and
    how many are open.

    >>> heater_bank_current(4.8, 3.0, 1.0)
    9.6
    """
    count, opened = _whole("heaters", heaters, 1), _whole("open_heaters", open_heaters, 0)
    if opened > count:
        raise InputError(f"open_heaters is {opened}, heaters {count}", "no more open than there are")
    return current_each * (count - opened)


def open_heaters(current: float, current_each: float, heaters: float) -> float:
    """How many of equal heaters in parallel are open, from the amps of all (pieces, as a number).

    Near a whole number it tells; between, the voltage is not what was taken or they are not equal.
    ``current_each`` (A) is that of one at the measured voltage.

    >>> round(open_heaters(9.6, 4.8, 3.0), 6)
    1.0
    """
    count = _whole("heaters", heaters, 1)
    if current > 1.2 * count * current_each:
        raise InputError(
            f"current is {format_si(current, 'A', 4)}, all {count} together {format_si(count * current_each, 'A', 4)}",
            "no more than all heaters draw: check current_each and the voltage",
        )
    return count - current / current_each


def heater_bank_check(current: float, current_each: float, heaters: float, tolerance: float = 0.25) -> HeaterBank:
    """Whether all of equal heaters in parallel work, from their amps.

    As open_heaters; off a whole number by more than ``tolerance`` of one heater, the reading fits none.

    >>> heater_bank_check(9.6, 4.8, 3.0).verdict
    '1 of 3 open'
    """
    count = _whole("heaters", heaters, 1)
    found = open_heaters(current, current_each, heaters)
    opened = max(0, round(found))
    if abs(found - opened) > tolerance:
        return HeaterBank("fits no number of heaters: check volts, each heater by itself", None, None)
    words = "all heat" if opened == 0 else f"{opened} of {count} open"
    return HeaterBank(words, opened, heater_bank_current(current_each, heaters, float(opened)))


def _count(name: str, title: str, direction: Direction | None, least: float = 0.0) -> Argument:
    return Argument(name, (Kind.COUNT,), direction, title, valid=(least, 100.0), unit="count")


_AMPS = current("current", "amps", RISING)
_VOLTS = voltage("voltage", "volts", RISING)
_LOAD = (0.01, 2000.0)
_EACH = (0.01, 500.0)
_PLATE = {"rated_power": "2000 W", "rated_voltage": "240 V"}
_JOULE = "Ohm's and Joule's laws"
_DRAWN = {"phase": "three", "voltage": "208 V ± 2 V", "current": "10 A ± 0.2 A"}
_BANK = {"current": "9.6 A ± 0.2 A", "current_each": "4.8 A", "heaters": "3 count"}


def _plate(power_direction: Direction, voltage_direction: Direction) -> tuple[Argument, Argument]:
    return (
        power("rated_power", "watts on the nameplate", power_direction),
        voltage("rated_voltage", "volts on the nameplate", voltage_direction, (5.0, 1000.0)),
    )


#: The calculators of this file.
POWER: tuple[Calculator, ...] = (
    Calculator(
        "apparent_power", apparent_power, (PHASE, _VOLTS, _AMPS),
        result=Kind.POWER, unit="W", source="follows from the definition", caution=LIVE, example=_DRAWN,
    ),
    Calculator(
        "real_power", real_power, (PHASE, _VOLTS, _AMPS, share("power_factor", "power factor", RISING, (0.0, 1.0))),
        result=Kind.POWER, unit="W", source="follows from the definition", caution=LIVE,
        example={**_DRAWN, "power_factor": "85 %"},
    ),
    Calculator(
        "power_factor", power_factor,
        (
            PHASE, power("power", "watts by meter", RISING, (0.0, 1e6)),
            voltage("voltage", "volts", FALLING, (5.0, 1000.0)), current("current", "amps", FALLING, _LOAD),
        ),
        result=Kind.RATIO, unit="%", source="follows from the definition", caution=LIVE,
        example={"phase": "single", "power": "1100 W ± 2 %", "voltage": "118 V ± 1 V", "current": "11 A ± 0.2 A"},
    ),
    Calculator(
        "heater_resistance", heater_resistance, _plate(FALLING, RISING),
        result=Kind.RESISTANCE, unit="ohm", source=_JOULE, caution=LOCKED_OUT, example=_PLATE,
    ),
    Calculator(
        "heater_power", heater_power, (*_plate(RISING, FALLING), _VOLTS),
        result=Kind.POWER, unit="W", source=_JOULE, caution=LIVE, example={**_PLATE, "voltage": "208 V ± 2 V"},
    ),
    Calculator(
        "heater_current", heater_current, (*_plate(RISING, FALLING), _VOLTS),
        result=Kind.CURRENT, unit="A", source=_JOULE, caution=LIVE, example={**_PLATE, "voltage": "208 V ± 2 V"},
    ),
    Calculator(
        "heater_bank_current", heater_bank_current,
        (
            current("current_each", "amps of one heater", RISING, _EACH), _count("heaters", "heaters", RISING, 1.0),
            _count("open_heaters", "of them open", FALLING),
        ),
        result=Kind.CURRENT, unit="A", source="follows from the heaters in parallel", caution=LIVE,
        example={"current_each": "4.8 A", "heaters": "3 count", "open_heaters": "1 count"},
    ),
    Calculator(
        "open_heaters", open_heaters,
        (
            current("current", "amps of all", FALLING), current("current_each", "amps of one heater", RISING, _EACH),
            _count("heaters", "heaters", RISING, 1.0),
        ),
        result=Kind.COUNT, unit="count", source="follows from the heaters in parallel", caution=LIVE, example=_BANK,
    ),
    Calculator(
        "heater_bank_check", heater_bank_check,
        (
            current("current", "amps of all", None), current("current_each", "amps of one heater", None, _EACH),
            _count("heaters", "heaters", None, 1.0),
            share("tolerance", "off a whole heater, at most", None, (0.0, 0.5), 0.25),
        ),
        result=(
            Result("verdict", None, "the bank"), Result("open", Kind.COUNT, "open", "count"),
            Result("expected", Kind.CURRENT, "amps with that many open", "A"),
        ),
        source="follows from the heaters in parallel; 25 %: common practice, no source", caution=LIVE, example=_BANK,
    ),
)
