"""The arguments and cautions that the calculators of this subject share."""

from __future__ import annotations

from math import sqrt

from faultkit.calculators.arguments import Argument, Direction, Interval, Word
from faultkit.units import Kind

__all__ = [
    "CAPACITOR", "EITHER", "FALLING", "HOT", "LIVE", "LOCKED_OUT", "MEGOHM", "PHASE", "PHASES", "RISING", "current",
    "power", "resistance", "share", "temperature", "voltage",
]

RISING, FALLING, EITHER = Direction.RISING, Direction.FALLING, Direction.EITHER

_RULE = " Local codes and licensed practice rule."
LIVE = (
    "Live terminals: only a qualified person reads them, with meter, leads, gloves and face shield rated for it, "
    "never at the pins of a compressor under pressure. Motors start by themselves." + _RULE
)
LOCKED_OUT = (
    "Lock out, try to start, prove dead at the terminals on all poles before ohms; discharge capacitors through a "
    "resistor and prove them dead. A compressor's terminals can blow out: read at the far end of its leads." + _RULE
)
CAPACITOR = (
    "A capacitor holds its charge with the power off: lock out, discharge it through a resistor (about 20 kohm, 5 W), "
    "prove it dead with a meter, then touch; never short it with a blade. " + LIVE
)
MEGOHM = (
    "Megohm test only locked out, leads off the winding, capacitors, drives and electronics disconnected, nobody "
    "touching, never on a compressor under vacuum (the gas inside arcs over); discharge the winding to ground after. "
    + LOCKED_OUT
)
HOT = (
    "Shell, head and discharge line burn. An overload resets by itself and the motor starts without warning: leave it "
    "locked out while it cools. " + LOCKED_OUT
)

#: Conductors that count: single phase out and back, three phase line to line.
PHASES = {"single": 2.0, "three": sqrt(3.0)}
PHASE = Word("phase", tuple(PHASES), "single phase or three phase")


def voltage(
    name: str, title: str, direction: Direction | None, valid: Interval = (0.0, 1000.0), default: float | None = None
) -> Argument:
    """A voltage between two conductors."""
    return Argument(
        name, (Kind.VOLTAGE,), direction, title, valid=valid, not_zero=valid[0] > 0.0, unit="V", default=default
    )


def current(
    name: str, title: str, direction: Direction | None, valid: Interval = (0.0, 2000.0), default: float | None = None
) -> Argument:
    """A current."""
    return Argument(
        name, (Kind.CURRENT,), direction, title, valid=valid, not_zero=valid[0] > 0.0, unit="A", default=default
    )


def resistance(
    name: str, title: str, direction: Direction | None, valid: Interval = (0.0, 1e5), default: float | None = None,
    unit: str = "ohm",
) -> Argument:
    """A resistance."""
    return Argument(
        name, (Kind.RESISTANCE,), direction, title, valid=valid, not_zero=valid[0] > 0.0, unit=unit, default=default
    )


def power(name: str, title: str, direction: Direction | None, valid: Interval = (1.0, 1e6)) -> Argument:
    """A power."""
    return Argument(name, (Kind.POWER,), direction, title, valid=valid, not_zero=valid[0] > 0.0, unit="W")


def share(
    name: str, title: str, direction: Direction | None, valid: Interval, default: float | None = None
) -> Argument:
    """A ratio, 1 = 100 %."""
    return Argument(name, (Kind.RATIO,), direction, title, valid=valid, unit="%", default=default)


def temperature(
    name: str, title: str, direction: Direction | None, valid: Interval = (223.15, 473.15),
    default: float | None = None,
) -> Argument:
    """A temperature."""
    return Argument(name, (Kind.TEMPERATURE,), direction, title, valid=valid, unit="degF", default=default)
