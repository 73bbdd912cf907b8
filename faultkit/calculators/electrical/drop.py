"""Voltage drop: of a run as it should be, measured, and what is lost in joints and contacts."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import (
    FALLING,
    LIVE,
    PHASE,
    PHASES,
    RISING,
    current,
    resistance,
    share,
    voltage,
)
from faultkit.calculators.electrical.wires import (
    CONDUIT,
    HOT_WIRE,
    STRANDING,
    WIRE,
    conductor,
    length,
    shown_run,
    wire_impedance,
    wire_resistance,
)
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind, format_si

__all__ = [
    "DROP", "DropCheck", "SpliceCheck", "excess_voltage_drop", "splice_check", "splice_drop", "splice_resistance",
    "splice_watts", "voltage_drop", "voltage_drop_check", "voltage_drop_impedance",
]


@dataclass(frozen=True, slots=True)
class DropCheck:
    """Drops in volts, ``share`` of the source, ``resistance`` and ``watts`` of what is too much (None: nothing is)."""

    verdict: str
    measured: float
    expected: float
    excess: float
    share: float
    resistance: float | None
    watts: float | None


@dataclass(frozen=True, slots=True)
class SpliceCheck:
    """``resistance`` in ohms, ``watts`` burnt in the joint."""

    verdict: str
    resistance: float
    watts: float


def _wires(phase: str) -> float:
    if phase not in PHASES:
        raise InputError(f"'phase' is '{phase}'", did_you_mean(phase, list(PHASES)))
    return PHASES[phase]


def voltage_drop(
    phase: str, wire: str, length: float, current: float, stranding: str = "stranded",
    conductor_temperature: float = HOT_WIRE,
) -> float:
    """Voltage a run of copper wire should lose, by its dc resistance (V).

    Single phase out and back, three phase line to line (balanced). Length (m) one way, ``current``
    (A), conductor temperature (K). On the safe side to about 3 AWG; larger wire: by impedance.

    >>> round(voltage_drop("single", "12", 36.576, 12.0), 2)  # 120 ft, 12 A
    5.7
    """
    return _wires(phase) * current * wire_resistance(wire, length, stranding, conductor_temperature)


def voltage_drop_impedance(
    phase: str, wire: str, length: float, current: float, power_factor: float = 0.85, conduit: str = "nonmetallic",
    conductor_temperature: float = HOT_WIRE,
) -> float:
    """Voltage a run of copper wire in conduit should lose at a load's power factor (V).

    As voltage_drop, by the effective impedance at 60 Hz of the electrical code's table 9.

    >>> round(voltage_drop_impedance("single", "12", 36.576, 12.0), 2)  # 120 ft, 12 A, power factor 0.85
    4.98
    """
    return _wires(phase) * current * wire_impedance(wire, length, power_factor, conduit, conductor_temperature)


def _lost(source_voltage: float, load_voltage: float) -> float:
    """Volts lost between two ends. InputError where the load end has more than two meters can differ by."""
    if load_voltage > 1.05 * source_voltage:
        raise InputError(
            f"load_voltage {format_si(load_voltage, 'V', 4)} is above source_voltage "
            f"{format_si(source_voltage, 'V', 4)}",
            "source end first, both between the same conductors",
        )
    return source_voltage - load_voltage


def excess_voltage_drop(
    phase: str, wire: str, length: float, current: float, source_voltage: float, load_voltage: float,
    stranding: str = "stranded", conductor_temperature: float = HOT_WIRE,
) -> float:
    """How much more voltage a run loses than its wire explains (V).

    Volts at both ends at the same ``current`` (A), less voltage_drop. What is left is lost in
    joints, contacts, or wire that is longer, thinner or damaged. Near zero or a little below: nothing.
    A lightly loaded wire is no warmer than its place: say so, the 75 degC of the table hides a fifth.

    >>> round(excess_voltage_drop("single", "12", 36.576, 12.0, 118.0, 108.0), 2)
    4.3
    """
    lost = _lost(source_voltage, load_voltage)
    return lost - voltage_drop(phase, wire, length, current, stranding, conductor_temperature)


def voltage_drop_check(
    phase: str, wire: str, length: float, current: float, source_voltage: float, load_voltage: float,
    stranding: str = "stranded", conductor_temperature: float = HOT_WIRE, advice: float = 0.03, joints: float = 0.5,
) -> DropCheck:
    """Whether a run loses what its wire explains, or more.

    Volts at both ends (V) at the same ``current`` (A). More than ``joints`` (V) above what the wire
    explains: a bad joint, contact or wire on the way. Else above ``advice`` (share of the source; the
    code advises 3 % for a branch, 5 % with the feeder): too thin or too long for the load. Resistance and watts of
    the excess are for single phase; three phase: measure each wire from end to end.

    >>> voltage_drop_check("single", "12", 36.576, 12.0, 118.0, 108.0).verdict
    'bad joint, contact or wire on the way'
    """
    measured = _lost(source_voltage, load_voltage)
    expected = voltage_drop(phase, wire, length, current, stranding, conductor_temperature)
    if expected >= source_voltage:
        raise InputError(
            f"{shown_run(wire, length)} would lose {format_si(expected, 'V')} at {format_si(current, 'A')}",
            "less than the source has: check size, length and amps",
        )
    excess, lost = measured - expected, measured / source_voltage
    if excess > joints:
        verdict = "bad joint, contact or wire on the way"
    else:
        verdict = "wire too thin or too long for the load" if lost > advice else "good"
    told = phase == "single" and excess > 0.0
    return DropCheck(
        verdict, measured, expected, excess, lost, excess / current if told else None,
        excess * current if told else None,
    )


def splice_drop(resistance: float, current: float) -> float:
    """Voltage lost across a joint or contact (V).

    From its ``resistance`` (ohm) and the ``current`` through it (A).

    >>> splice_drop(0.25, 12.0)
    3.0
    """
    return resistance * current


def splice_resistance(voltage_drop: float, current: float) -> float:
    """Resistance of a joint or contact, from the voltage across it under load (ohm).

    Millivolts or volts from one side of the joint, closed contact, fuse or lug to the other, and the
    ``current`` (A) through it at that moment. An ohmmeter's small current does not find it.

    >>> splice_resistance(3.0, 12.0)
    0.25
    """
    return voltage_drop / current


def splice_watts(voltage_drop: float, current: float) -> float:
    """Heat burnt in a joint or contact, from the voltage across it under load (W).

    As splice_resistance. A few watts in a wire nut scorch it, tens of watts can start a fire.

    >>> splice_watts(3.0, 12.0)
    36.0
    """
    return voltage_drop * current


def splice_check(voltage_drop: float, current: float, good: float = 0.1, bad: float = 0.5) -> SpliceCheck:
    """Whether a joint or closed contact is good, from the voltage across it under load.

    As splice_resistance. To ``good`` (V) good; from ``bad`` on to be remade; between, to be watched.

    >>> splice_check(3.0, 12.0).verdict
    'bad'
    """
    if good > bad:
        raise InputError(f"good {format_si(good, 'V')} is above bad {format_si(bad, 'V')}", "the lower one first")
    verdict = "good" if voltage_drop <= good else "bad" if voltage_drop >= bad else "watch"
    return SpliceCheck(verdict, splice_resistance(voltage_drop, current), splice_watts(voltage_drop, current))


_TABLE_8 = "National Electrical Code, chapter 9 table 8 (seen reprinted); Ohm's law"
_TABLE_9 = "National Electrical Code, chapter 9 table 9 and its note 2 (seen reprinted)"
_ADVICE = (
    f"{_TABLE_8}; 3 % and 5 %: informational notes to 210.19 and 215.2, from memory; 0.5 V: common practice, no source"
)
_RUN = {"phase": "single", "wire": "12", "length": "120 ft ± 5 ft", "current": "12 A ± 0.3 A"}
_ENDS = {"source_voltage": "118 V ± 0.5 V", "load_voltage": "108 V ± 0.5 V"}
_FLOWING = (0.05, 2000.0)
_ACROSS = (voltage("voltage_drop", "volts across the joint", RISING, (0.0, 480.0)),)
_JOINT = {"voltage_drop": "3 V ± 0.1 V", "current": "12 A ± 0.3 A"}
_AMPS = current("current", "amps of the load", RISING)
_FALLS = (
    PHASE, WIRE, length(FALLING), current("current", "amps of the load", FALLING, _FLOWING),
    voltage("source_voltage", "volts at the source end", RISING, (5.0, 1000.0)),
    voltage("load_voltage", "volts at the load end", FALLING), STRANDING, conductor(FALLING),
)


def _volts(name: str, title: str) -> Result:
    return Result(name, Kind.VOLTAGE, title, "V")


_LOST = (Result("resistance", Kind.RESISTANCE, "resistance", "ohm"), Result("watts", Kind.POWER, "heat", "W"))

#: The calculators of this file.
DROP: tuple[Calculator, ...] = (
    Calculator(
        "voltage_drop", voltage_drop, (PHASE, WIRE, length(RISING), _AMPS, STRANDING, conductor(RISING)),
        result=Kind.VOLTAGE, unit="V", source=_TABLE_8, caution=LIVE, example=_RUN,
    ),
    Calculator(
        "voltage_drop_impedance", voltage_drop_impedance,
        (
            PHASE, WIRE, length(RISING), _AMPS,
            share("power_factor", "power factor of the load", None, (0.1, 1.0), 0.85), CONDUIT, conductor(RISING),
        ),
        result=Kind.VOLTAGE, unit="V", source=_TABLE_9, caution=LIVE, example={**_RUN, "conduit": "steel"},
    ),
    Calculator(
        "excess_voltage_drop", excess_voltage_drop, _FALLS,
        result=Kind.VOLTAGE, unit="V", source=_TABLE_8, caution=LIVE, example={**_RUN, **_ENDS},
    ),
    Calculator(
        "voltage_drop_check", voltage_drop_check,
        (
            *_FALLS, share("advice", "drop advised at most", None, (0.0, 0.2), 0.03),
            voltage("joints", "excess that joints may have", None, (0.0, 20.0), 0.5),
        ),
        result=(
            Result("verdict", None, "the run"), _volts("measured", "drop measured"),
            _volts("expected", "drop expected"), _volts("excess", "too much"),
            Result("share", Kind.RATIO, "drop as a share", "%"), *_LOST,
        ),
        source=_ADVICE, caution=LIVE, example={**_RUN, **_ENDS},
    ),
    Calculator(
        "splice_drop", splice_drop,
        (resistance("resistance", "resistance of the joint", RISING, (0.0, 100.0)), _AMPS),
        result=Kind.VOLTAGE, unit="V", source="Ohm's law", caution=LIVE,
        example={"resistance": "0.25 ohm", "current": "12 A"},
    ),
    Calculator(
        "splice_resistance", splice_resistance,
        (*_ACROSS, current("current", "amps through the joint", FALLING, _FLOWING)),
        result=Kind.RESISTANCE, unit="ohm", source="Ohm's law", caution=LIVE, example=_JOINT,
    ),
    Calculator(
        "splice_watts", splice_watts, (*_ACROSS, current("current", "amps through the joint", RISING)),
        result=Kind.POWER, unit="W", source="Joule's law", caution=LIVE, example=_JOINT,
    ),
    Calculator(
        "splice_check", splice_check,
        (
            *_ACROSS, current("current", "amps through the joint", None, _FLOWING),
            voltage("good", "good to here", None, (0.0, 5.0), 0.1),
            voltage("bad", "bad from here", None, (0.0, 20.0), 0.5),
        ),
        result=(Result("verdict", None, "the joint is"), *_LOST),
        source="Ohm's and Joule's laws; limits: common practice, no source", caution=LIVE, example=_JOINT,
    ),
)
