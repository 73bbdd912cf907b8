"""Capacitors: what they have while running, by amps and volts, and against the label."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import CAPACITOR, FALLING, RISING, current, share, voltage
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "CAPACITORS", "CapacitorCheck", "capacitance", "capacitance_deviation", "capacitor_check", "capacitor_current",
]


@dataclass(frozen=True, slots=True)
class CapacitorCheck:
    """``deviation`` as a ratio; ``low`` and ``high`` in farads."""

    verdict: str
    deviation: float
    low: float
    high: float


def capacitance(current: float, voltage: float, frequency: float = 60.0) -> float:
    """Capacitance of a run capacitor, from its amps and volts while running (F).

    ``current`` (A) in the capacitor's own wire (start winding), ``voltage`` (V) across its two
    terminals, supply ``frequency`` (Hz). At 60 Hz microfarads are 2653 times amps by volts.

    >>> round(capacitance(4.2, 300.0) * 1e6, 2)
    37.14
    """
    return current / (2.0 * pi * frequency * voltage)


def capacitor_current(capacitance: float, voltage: float, frequency: float = 60.0) -> float:
    """Amps a capacitor of this size draws at this voltage (A).

    From the label (F) and the volts across it (V) while running; the clamp on its wire should agree.

    >>> round(capacitor_current(37.1e-6, 300.0), 2)
    4.2
    """
    return 2.0 * pi * frequency * voltage * capacitance


def capacitance_deviation(capacitance: float, rated_capacitance: float) -> float:
    """How far a capacitor is off its label, a ratio: 1 is 100 %, weak is negative.

    Microfarads by meter, discharged and wires off, or from amps and volts, against the label; of a
    dual one, each section by itself.

    >>> round(capacitance_deviation(36e-6, 40e-6), 6)
    -0.1
    """
    return capacitance / rated_capacitance - 1.0


def capacitor_check(
    capacitance: float, rated_capacitance: float, below: float = 0.06, above: float = 0.06, weak: float = 0.10
) -> CapacitorCheck:
    """Whether a capacitor is within the tolerance on its label.

    As capacitance_deviation; ``below`` and ``above`` are the label's tolerance (often 6 %, also 5 or
    10 %; a start capacitor's label gives a lowest and a highest value instead). Out by more than
    ``weak``, it is to be replaced at once; a little low, it is on its way.

    >>> capacitor_check(34e-6, 40e-6).verdict
    'weak'
    """
    if weak < below:
        raise InputError(f"weak {format_si(weak, '%')} is less than below {format_si(below, '%')}", "at least as much")
    deviation = capacitance_deviation(capacitance, rated_capacitance)
    low, high = rated_capacitance * (1.0 - below), rated_capacitance * (1.0 + above)
    # Label and meter are decimal: a reading on the limit is within.
    slack = 1e-9 * rated_capacitance
    if capacitance > high + slack:
        verdict = "high"
    elif capacitance >= low - slack:
        verdict = "within"
    else:
        verdict = "weak" if deviation < -weak - 1e-9 else "low"
    return CapacitorCheck(verdict, deviation, low, high)


def _farads(name: str, title: str, direction: Direction | None, least: float = 0.0) -> Argument:
    return Argument(
        name, (Kind.CAPACITANCE,), direction, title, valid=(least, 5e-3), not_zero=least > 0.0, unit="uF"
    )


def _frequency(direction: Direction) -> Argument:
    return Argument(
        "frequency", (Kind.FREQUENCY,), direction, "frequency of the supply", valid=(45.0, 65.0), not_zero=True,
        unit="Hz", default=60.0,
    )


_REACTANCE = "reactance of a capacitor, I = 2 pi f C V; the trade's 2652 at 60 Hz (seen)"
_RATED = _farads("rated_capacitance", "capacitance on the label", FALLING, 1e-7)
_METER = {"capacitance": "36 uF ± 2 %", "rated_capacitance": "40 uF"}

#: The calculators of this file.
CAPACITORS: tuple[Calculator, ...] = (
    Calculator(
        "capacitance", capacitance,
        (
            current("current", "amps in the capacitor's wire", RISING, (0.0, 200.0)),
            voltage("voltage", "volts across the capacitor", FALLING, (20.0, 1000.0)), _frequency(FALLING),
        ),
        result=Kind.CAPACITANCE, unit="uF", source=_REACTANCE, caution=CAPACITOR,
        example={"current": "4.2 A ± 0.1 A", "voltage": "300 V ± 3 V"},
    ),
    Calculator(
        "capacitor_current", capacitor_current,
        (
            _farads("capacitance", "capacitance on the label", RISING),
            voltage("voltage", "volts across the capacitor", RISING), _frequency(RISING),
        ),
        result=Kind.CURRENT, unit="A", source=_REACTANCE, caution=CAPACITOR,
        example={"capacitance": "40 uF ± 6 %", "voltage": "300 V ± 3 V"},
    ),
    Calculator(
        "capacitance_deviation", capacitance_deviation, (_farads("capacitance", "capacitance found", RISING), _RATED),
        result=Kind.RATIO, unit="%", source="follows from the definition", caution=CAPACITOR, example=_METER,
    ),
    Calculator(
        "capacitor_check", capacitor_check,
        (
            _farads("capacitance", "capacitance found", None), _RATED,
            share("below", "label's tolerance below", None, (0.0, 0.3), 0.06),
            share("above", "label's tolerance above", None, (0.0, 0.3), 0.06),
            share("weak", "to be replaced at once below", None, (0.0, 0.5), 0.10),
        ),
        result=(
            Result("verdict", None, "the capacitor is"), Result("deviation", Kind.RATIO, "off its label", "%"),
            Result("low", Kind.CAPACITANCE, "allowed from", "uF"), Result("high", Kind.CAPACITANCE, "allowed to", "uF"),
        ),
        source="label's tolerance; 6 %: common on run capacitors (trade texts seen); 10 %: common practice, no source",
        caution=CAPACITOR, example=_METER,
    ),
)
