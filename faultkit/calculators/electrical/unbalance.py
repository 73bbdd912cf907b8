"""Three phases that differ: unbalance of volts and amps, and what it does to a motor."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from faultkit.calculators.arguments import Argument, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import FALLING, LIVE, RISING, current, share, voltage
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "UNBALANCE", "VoltageUnbalance", "current_unbalance", "farthest", "largest_deviation", "legs",
    "unbalance_derating", "unbalance_rise", "unbalance_rise_share", "voltage_unbalance", "voltage_unbalance_check",
]

_LINES = ("L1-L2", "L2-L3", "L3-L1")
#: Share of rated load a motor may carry, by unbalance: the curve of NEMA MG 1 as read off in a printed table.
_CURVE = (
    (0.0, 1.0), (0.005, 1.0), (0.01, 1.0), (0.015, 0.97), (0.02, 0.95), (0.025, 0.93), (0.03, 0.89), (0.035, 0.85),
    (0.04, 0.82), (0.045, 0.78), (0.05, 0.76),
)
_MOST = 0.05
#: Line voltages close to a triangle; this much is left to the meter.
_METER = 1.05


@dataclass(frozen=True, slots=True)
class VoltageUnbalance:
    """``farthest`` lines, ``average`` in volts, the rest ratios; None above 5 %, where no figure is published."""

    verdict: str
    unbalance: float
    average: float
    farthest: tuple[str, ...]
    derating: float | None
    rise_share: float | None
    current_low: float
    current_high: float


def largest_deviation(readings: tuple[float, float, float], what: str) -> float:
    """Largest deviation from the average, as a share of the average."""
    average = sum(readings) / 3.0
    if average <= 0.0:
        raise InputError(f"all three {what} are zero", f"three {what}, at least one above zero")
    return max(abs(r - average) for r in readings) / average


def _line_voltages(l1_l2: float, l2_l3: float, l3_l1: float) -> tuple[float, float, float]:
    volts = (l1_l2, l2_l3, l3_l1)
    most = max(volts)
    if most > _METER * (sum(volts) - most):
        raise InputError(
            "voltages " + ", ".join(format_si(v, "V", 4) for v in volts) + " do not belong to one three-phase supply",
            "line to line between the same three terminals: none is more than the other two together",
        )
    return volts


def voltage_unbalance(voltage_l1_l2: float, voltage_l2_l3: float, voltage_l3_l1: float) -> float:
    """Voltage unbalance of three phases, a ratio: 1 is 100 %.

    The largest deviation from the average by the average (never highest less lowest), of the three
    line-to-line volts at the motor's terminals, running. Motors are made for 1 %; above 5 % they
    should not run at all.

    >>> round(voltage_unbalance(460.0, 467.0, 450.0), 4)
    0.0196
    """
    return largest_deviation(_line_voltages(voltage_l1_l2, voltage_l2_l3, voltage_l3_l1), "voltages")


def current_unbalance(current_l1: float, current_l2: float, current_l3: float) -> float:
    """Current unbalance of three phases, a ratio: 1 is 100 %.

    The largest deviation from the average by the average, of the amps of the three wires at one
    steady load. Six to ten times the voltage unbalance is what a sound motor shows; 10 % is a
    common limit. 100 %: a leg carries nothing.

    >>> round(current_unbalance(12.1, 14.0, 11.4), 4)
    0.12
    """
    return largest_deviation((current_l1, current_l2, current_l3), "currents")


def unbalance_derating(voltage_unbalance: float) -> float:
    """Share of its rated load a motor may carry on unbalanced voltage, a ratio.

    From the curve of NEMA MG 1, straight between half percents; readings of it differ by 0.01. To
    5 % unbalance; above that a motor should not run.

    >>> unbalance_derating(0.03)
    0.89
    """
    if not 0.0 <= voltage_unbalance <= _MOST:
        raise InputError(f"voltage_unbalance is {format_si(voltage_unbalance, '%')}", "0 % to 5 %; above, do not run")
    for (left, high), (right, low) in pairwise(_CURVE):
        if voltage_unbalance <= right:
            return high + (low - high) * (voltage_unbalance - left) / (right - left)
    return _CURVE[-1][1]


def unbalance_rise_share(voltage_unbalance: float) -> float:
    """How much more the hottest winding warms on unbalanced voltage, as a share of its rise: 1 is 100 %.

    Twice the square of the unbalance in percent, in percent: a rule of thumb, to 5 %.

    >>> round(unbalance_rise_share(0.03), 4)  # 18 %
    0.18
    """
    if not 0.0 <= voltage_unbalance <= _MOST:
        raise InputError(f"voltage_unbalance is {format_si(voltage_unbalance, '%')}", "0 % to 5 %; above, do not run")
    percent = 100.0 * voltage_unbalance
    return 2.0 * percent * percent / 100.0


def unbalance_rise(voltage_unbalance: float, normal_rise: float) -> float:
    """Kelvins the hottest winding warms more on unbalanced voltage.

    ``normal_rise`` (K) is the winding's temperature above its surroundings at this load on balanced
    voltage. Rule of thumb as unbalance_rise_share; ten kelvins more halve the life of insulation.

    >>> round(unbalance_rise(0.03, 80.0), 2)
    14.4
    """
    return unbalance_rise_share(voltage_unbalance) * normal_rise


def farthest(readings: tuple[float, float, float], names: tuple[str, ...]) -> tuple[str, ...]:
    """The names of the readings farthest from the average; none where all are alike."""
    average = sum(readings) / 3.0
    most = max(abs(r - average) for r in readings)
    if most <= 1e-9 * average:
        return ()
    return tuple(n for n, r in zip(names, readings, strict=True) if abs(r - average) >= most * (1.0 - 1e-9))


def voltage_unbalance_check(
    voltage_l1_l2: float, voltage_l2_l3: float, voltage_l3_l1: float, limit: float = 0.01, stop: float = 0.05
) -> VoltageUnbalance:
    """What the unbalance of a three-phase supply means for a motor.

    Line-to-line volts as for voltage_unbalance. To ``limit`` good; to ``stop`` at reduced load while
    the cause is sought; above, do not run. Amps will differ by six to ten times as much.

    >>> voltage_unbalance_check(231.0, 240.0, 228.0).verdict
    'reduce the load'
    """
    if limit > stop:
        raise InputError(f"limit {format_si(limit, '%')} is above stop {format_si(stop, '%')}", "the lower one first")
    unbalance = voltage_unbalance(voltage_l1_l2, voltage_l2_l3, voltage_l3_l1)
    volts = (voltage_l1_l2, voltage_l2_l3, voltage_l3_l1)
    known = unbalance <= _MOST
    return VoltageUnbalance(
        "good" if unbalance <= limit else "reduce the load" if unbalance <= stop else "do not run",
        unbalance, sum(volts) / 3.0, farthest(volts, _LINES),
        unbalance_derating(unbalance) if known else None, unbalance_rise_share(unbalance) if known else None,
        6.0 * unbalance, 10.0 * unbalance,
    )


_DEFINED = "NEMA MG 1, definition of voltage unbalance (worked examples seen)"
_RULE = "rule of thumb; curve of temperature against unbalance in a pump magazine (seen)"


def legs(prefix: str, title: str) -> tuple[Argument, ...]:
    """The amps of three wires."""
    return tuple(current(f"{prefix}_l{n}", f"{title} L{n}", None) for n in (1, 2, 3))


_VOLTS = tuple(voltage(f"voltage_{a}_{b}", f"volts {a.upper()}-{b.upper()}", None)
               for a, b in (("l1", "l2"), ("l2", "l3"), ("l3", "l1")))
_READ = {"voltage_l1_l2": "231 V ± 1 V", "voltage_l2_l3": "240 V ± 1 V", "voltage_l3_l1": "228 V ± 1 V"}


def _ratio(name: str, title: str) -> Result:
    return Result(name, Kind.RATIO, title, "%")


#: The calculators of this file.
UNBALANCE: tuple[Calculator, ...] = (
    Calculator(
        "voltage_unbalance", voltage_unbalance, _VOLTS,
        result=Kind.RATIO, unit="%", source=_DEFINED, caution=LIVE, example=_READ,
    ),
    Calculator(
        "current_unbalance", current_unbalance, legs("current", "amps of"),
        result=Kind.RATIO, unit="%", source="the same for currents; as in a meter maker's manual (seen)", caution=LIVE,
        example={"current_l1": "12.1 A ± 0.2 A", "current_l2": "14 A ± 0.2 A", "current_l3": "11.4 A ± 0.2 A"},
    ),
    Calculator(
        "unbalance_derating", unbalance_derating,
        (share("voltage_unbalance", "voltage unbalance", FALLING, (0.0, _MOST)),),
        result=Kind.RATIO, unit="%", source="NEMA MG 1, figure 14-1 (a printed table of it seen)",
        example={"voltage_unbalance": "3 %"},
    ),
    Calculator(
        "unbalance_rise_share", unbalance_rise_share,
        (share("voltage_unbalance", "voltage unbalance", RISING, (0.0, _MOST)),),
        result=Kind.RATIO, unit="%", source=_RULE, example={"voltage_unbalance": "3 %"},
    ),
    Calculator(
        "unbalance_rise", unbalance_rise,
        (
            share("voltage_unbalance", "voltage unbalance", RISING, (0.0, _MOST)),
            Argument(
                "normal_rise", (Kind.TEMPERATURE_DIFFERENCE,), RISING, "winding above surroundings on balanced volts",
                valid=(0.0, 150.0), unit="delta_degF",
            ),
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_RULE,
        example={"voltage_unbalance": "3 %", "normal_rise": "120 delta_degF"},
    ),
    Calculator(
        "voltage_unbalance_check", voltage_unbalance_check,
        (
            *_VOLTS, share("limit", "good up to here", None, (0.0, 0.1), 0.01),
            share("stop", "do not run above", None, (0.0, 0.1), 0.05),
        ),
        result=(
            Result("verdict", None, "the motor"), _ratio("unbalance", "unbalance"),
            Result("average", Kind.VOLTAGE, "average", "V"), Result("farthest", None, "farthest from the average"),
            _ratio("derating", "share of rated load allowed"), _ratio("rise_share", "winding warms more by"),
            _ratio("current_low", "current unbalance to expect from"), _ratio("current_high", "to"),
        ),
        source=f"{_DEFINED}; limits 1 % and 5 % and six to ten times the current of NEMA MG 1 (seen in texts on it)",
        caution=LIVE, example=_READ,
    ),
)
