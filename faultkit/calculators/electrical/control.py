"""Contactor coils and the starting device: does the voltage pull in, is the cold resistance right."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import LIVE, LOCKED_OUT, RISING, resistance, share, temperature, voltage
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "CONTROL", "CoilCheck", "PtcCheck", "contactor_coil_check", "contactor_drop_out", "contactor_pick_up", "ptc_check",
]

_WARM = 313.15


@dataclass(frozen=True, slots=True)
class CoilCheck:
    """``of_rated`` is a ratio; the limits are volts."""

    verdict: str
    of_rated: float
    pick_up: float
    drop_out: float
    most: float


@dataclass(frozen=True, slots=True)
class PtcCheck:
    """``verdict`` in words, what to do ``next``."""

    verdict: str
    next: str


def contactor_pick_up(rated_voltage: float, share: float = 0.85) -> float:
    """Voltage at which a contactor's coil must pull in (V).

    85 % of the coil's rating, at the coil, measured while it is energized: a weak transformer drops
    only then.

    >>> round(contactor_pick_up(24.0), 6)
    20.4
    """
    return rated_voltage * share


def contactor_drop_out(rated_voltage: float, share: float = 0.60) -> float:
    """Voltage below which a contactor may let go (V).

    Some 60 % of the coil's rating, by kind: between this and the pick-up a closed one holds, may hum
    and chatter, and an open one may not close.

    >>> round(contactor_drop_out(24.0), 6)
    14.4
    """
    return rated_voltage * share


def contactor_coil_check(
    voltage: float, rated_voltage: float, pick_up: float = 0.85, drop_out: float = 0.60, most: float = 1.10
) -> CoilCheck:
    """Whether the voltage at a contactor's coil is enough, or too much.

    Volts at the coil while it is called, against its rating; limits as shares of it. Enough, and it
    stays open: coil open, or something holds it mechanically.

    >>> contactor_coil_check(18.0, 24.0).verdict
    'may not pull in, may chatter'
    """
    if not drop_out < pick_up < most:
        raise InputError(
            f"drop_out {format_si(drop_out, '%')}, pick_up {format_si(pick_up, '%')} and most {format_si(most, '%')} "
            "are not in order", "the lowest first",
        )
    of_rated = voltage / rated_voltage
    if of_rated < drop_out:
        verdict = "no voltage to speak of" if of_rated < 0.1 else "lets go"
    elif of_rated < pick_up:
        verdict = "may not pull in, may chatter"
    else:
        verdict = "enough" if of_rated <= most else "too high: the coil overheats"
    return CoilCheck(
        verdict, of_rated, contactor_pick_up(rated_voltage, pick_up), contactor_drop_out(rated_voltage, drop_out),
        rated_voltage * most,
    )


def ptc_check(
    resistance: float, body_temperature: float, least: float = 3.0, most: float = 50.0, warm_above: float = _WARM,
    open_above: float = 1e5,
) -> PtcCheck:
    """Whether a solid-state starting device (PTC) is good, by its cold resistance.

    Ohms across the disk, off the compressor and the capacitor, and the temperature of its body (K).
    Cold it has a few ohms to some tens, by type: the maker's figure comes first. Warm from running
    it has thousands: let it cool some minutes. Rattling or burnt, it is bad whatever it reads.

    >>> ptc_check(6.0, 295.0).verdict
    'good'
    """
    if not least < most < open_above:
        raise InputError(
            f"least {format_si(least, 'ohm')}, most {format_si(most, 'ohm')} and open_above "
            f"{format_si(open_above, 'ohm')} are not in order", "the lowest first",
        )
    if resistance < least:
        return PtcCheck("shorted", "replace; then see that overload and start winding survived")
    if resistance <= most:
        return PtcCheck("good", "shake it; listen for a broken disk")
    if body_temperature > warm_above:
        return PtcCheck("too warm to judge", "power off, let it cool to the room, read again")
    if resistance > open_above:
        return PtcCheck("open", "replace")
    return PtcCheck("too high", "clean its sockets, read again, compare with the maker's ohms; then replace")


_RANGE = (
    "85 to 110 % of the rating: an army manual on electrical maintenance (TM 5-683, seen); drop-out: common practice, "
    "no source"
)
_COIL = (5.0, 600.0)


def _rated(direction: Direction | None) -> Argument:
    return voltage("rated_voltage", "volts on the coil", direction, _COIL)


def _ohms(name: str, title: str, default: float | None = None) -> Argument:
    return resistance(name, title, None, (0.0, 1e9), default)


#: The calculators of this file.
CONTROL: tuple[Calculator, ...] = (
    Calculator(
        "contactor_pick_up", contactor_pick_up,
        (_rated(RISING), share("share", "must pull in at", RISING, (0.5, 1.0), 0.85)),
        result=Kind.VOLTAGE, unit="V", source=_RANGE, caution=LIVE, example={"rated_voltage": "24 V"},
    ),
    Calculator(
        "contactor_drop_out", contactor_drop_out,
        (_rated(RISING), share("share", "may let go below", RISING, (0.1, 0.9), 0.60)),
        result=Kind.VOLTAGE, unit="V", source=_RANGE, caution=LIVE, example={"rated_voltage": "24 V"},
    ),
    Calculator(
        "contactor_coil_check", contactor_coil_check,
        (
            voltage("voltage", "volts at the coil when called", None), _rated(None),
            share("pick_up", "must pull in at", None, (0.5, 1.0), 0.85),
            share("drop_out", "may let go below", None, (0.1, 0.9), 0.60),
            share("most", "coil stands up to", None, (1.0, 1.3), 1.10),
        ),
        result=(
            Result("verdict", None, "the voltage"), Result("of_rated", Kind.RATIO, "of the rating", "%"),
            Result("pick_up", Kind.VOLTAGE, "must pull in at", "V"),
            Result("drop_out", Kind.VOLTAGE, "may let go below", "V"),
            Result("most", Kind.VOLTAGE, "stands up to", "V"),
        ),
        source=_RANGE, caution=LIVE, example={"voltage": "18 V ± 0.5 V", "rated_voltage": "24 V"},
    ),
    Calculator(
        "ptc_check", ptc_check,
        (
            _ohms("resistance", "ohms across the disk"),
            temperature("body_temperature", "temperature of its body", None, (233.15, 473.15)),
            _ohms("least", "shorted below", 3.0), _ohms("most", "good to here, cold", 50.0),
            temperature("warm_above", "not judged above", None, (283.15, 333.15), _WARM),
            _ohms("open_above", "open above", 1e5),
        ),
        result=(Result("verdict", None, "the starting device is"), Result("next", None, "next")),
        source="3 to 10 ohm, about 25 ohm, 10 to 100 ohm cold: three service texts (seen); limits: common practice",
        caution="A PTC body burns after running. " + LOCKED_OUT,
        example={"resistance": "6 ohm ± 0.5 ohm", "body_temperature": "75 degF"},
    ),
)
