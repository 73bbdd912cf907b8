"""Pressure transducers: 4-20 mA and 0.5-4.5 V ratiometric signals to pressure and back, and dead signals."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = [
    "SignalCheck", "loop_check", "loop_current", "loop_pressure", "ratiometric_check",
    "ratiometric_pressure", "ratiometric_signal", "transducer_error",
]

_ZERO_MA, _SPAN_MA = 4e-3, 16e-3


@dataclass(frozen=True, slots=True)
class SignalCheck:
    """``pressure`` (Pa gauge) is None where the signal is dead; ``causes`` then says what to look for."""

    verdict: str
    pressure: float | None
    causes: tuple[str, ...]


def _span(low: float, high: float) -> float:
    if not low < high:
        raise InputError(
            f"range is {format_si(low, 'psig', 4)} to {format_si(high, 'psig', 4)}",
            "the lowest, then the highest pressure on the transducer's label",
        )
    return high - low


def loop_pressure(current: float, low: float, high: float) -> float:
    """Pressure a 4-20 mA transducer reports.

    Pa gauge, from the loop current (A) and the pressures (Pa gauge) it is ranged for at 4 and at 20 mA.
    3.6 to 21 mA is taken; beyond is a fault signal, not a pressure.

    >>> loop_pressure(current=0.008, low=0.0, high=400e3)
    100000.0
    """
    return low + (current - _ZERO_MA) / _SPAN_MA * _span(low, high)


def loop_current(pressure: float, low: float, high: float) -> float:
    """Current a good 4-20 mA transducer gives at a pressure.

    A, from pressure and range (Pa gauge). Compare with the meter in series with the loop while a
    gauge tells the pressure. InputError outside the range.

    >>> loop_current(pressure=100e3, low=0.0, high=400e3)
    0.008
    """
    return _ZERO_MA + _SPAN_MA * _share(pressure, low, high)


def _share(pressure: float, low: float, high: float) -> float:
    span = _span(low, high)
    if not low <= pressure <= high:
        raise InputError(
            f"pressure is {format_si(pressure, 'psig', 4)}",
            f"{format_si(low, 'psig', 4)} to {format_si(high, 'psig', 4)}, the transducer's range",
        )
    return (pressure - low) / span


def loop_check(
    current: float, low: float, high: float, open_below: float = 3.6e-3, least: float = 3.8e-3,
    most: float = 20.5e-3, short_above: float = 21e-3,
) -> SignalCheck:
    """Whether a 4-20 mA signal is good, at an end of its range, open or short.

    From the current (A) and range (Pa gauge). Below ``open_below`` the loop is open or the transducer
    says it failed; above ``short_above`` it is shorted or says so; from there to ``least`` and ``most``
    the transducer is at the end of its range: the pressure is beyond, or it drifted.

    >>> loop_check(current=0.0, low=0.0, high=400e3).verdict
    'open'
    """
    if not 0.0 <= open_below <= least < most <= short_above:
        raise InputError("the limits of the current do not rise", "open_below, least, most, short_above in order")
    if current < open_below:
        _span(low, high)
        return SignalCheck("open", None, (
            "wire off or broken in the loop", "no loop supply", "plus and minus exchanged", "transducer failed",
        ))
    if current > short_above:
        _span(low, high)
        return SignalCheck("short", None, ("wires shorted, or wet connector", "transducer failed"))
    pressure = low + (current - _ZERO_MA) / _SPAN_MA * _span(low, high)
    return _at_ends(pressure, current < least, current > most)


def _at_ends(pressure: float, below: bool, above: bool) -> SignalCheck:
    if below:
        causes = ("pressure below the range: a vacuum, or another range", "transducer drifted")
        return SignalCheck("below range", pressure, causes)
    if above:
        causes = ("pressure above the range, or another range", "transducer drifted")
        return SignalCheck("above range", pressure, causes)
    return SignalCheck("good", pressure, ())


def ratiometric_pressure(
    signal: float, supply: float, low: float, high: float, zero: float = 0.1, full: float = 0.9
) -> float:
    """Pressure a ratiometric transducer reports.

    Pa gauge, from signal and supply (V, both measured at the transducer) and the pressures (Pa gauge)
    it is ranged for at ``zero`` and ``full`` of its supply: 10 and 90 %, which is 0.5 and 4.5 V of
    5 V. InputError for a signal nearer to 0 V or to the supply than half of that: it is dead.

    >>> round(ratiometric_pressure(signal=2.5, supply=5.0, low=0.0, high=400e3), 6)
    200000.0
    """
    share = signal / supply
    _ends(zero, full)
    if not zero / 2.0 <= share <= (1.0 + full) / 2.0:
        raise InputError(
            f"signal is {format_si(signal, 'V', 3)} of {format_si(supply, 'V', 3)}: open, shorted or dead",
            f"{format_si(zero / 2.0 * supply, 'V', 3)} to {format_si((1.0 + full) / 2.0 * supply, 'V', 3)}",
        )
    return low + (share - zero) / (full - zero) * _span(low, high)


def _ends(zero: float, full: float) -> None:
    if not 0.0 < zero < full < 1.0:
        raise InputError(
            f"zero is {format_si(zero, '%', 3)}, full {format_si(full, '%', 3)} of the supply", "zero below full"
        )


def ratiometric_signal(
    pressure: float, supply: float, low: float, high: float, zero: float = 0.1, full: float = 0.9
) -> float:
    """Voltage a good ratiometric transducer gives at a pressure.

    V, from pressure and range (Pa gauge) and the supply (V) measured at the transducer. Compare with
    signal to common while a gauge tells the pressure. InputError outside the range.

    >>> ratiometric_signal(pressure=200e3, supply=5.0, low=0.0, high=400e3)
    2.5
    """
    _ends(zero, full)
    return supply * (zero + (full - zero) * _share(pressure, low, high))


def ratiometric_check(
    signal: float, supply: float, low: float, high: float, zero: float = 0.1, full: float = 0.9,
    least_supply: float = 4.5, most_supply: float = 5.5,
) -> SignalCheck:
    """Whether a ratiometric signal is good, at an end of its range or dead.

    From signal and supply (V) and range (Pa gauge). The supply comes first: outside ``least_supply`` to
    ``most_supply`` (5 V ± 0.5 V) it is ``bad supply``. Nearer to 0 V than half of ``zero`` the signal is
    ``stuck low``, nearer to the supply than half of what is left above ``full`` ``stuck high``; which
    of the two an open wire makes depends on the control. Within 1 % of the supply of 10 and 90 % is good.

    >>> ratiometric_check(signal=0.02, supply=5.0, low=0.0, high=400e3).verdict
    'stuck low'
    """
    _ends(zero, full)
    span = _span(low, high)
    if not least_supply <= supply <= most_supply:
        return SignalCheck("bad supply", None, (
            "control's supply overloaded: unplug its other transducers one by one", "wire off or broken",
            "control failed",
        ))
    share = signal / supply
    if share < zero / 2.0:
        return SignalCheck("stuck low", None, (
            "signal wire open, or shorted to common", "supply wire open at the transducer", "transducer failed",
        ))
    if share > (1.0 + full) / 2.0:
        return SignalCheck("stuck high", None, (
            "signal wire open, or shorted to supply", "common wire open", "transducer failed",
        ))
    pressure = low + (share - zero) / (full - zero) * span
    return _at_ends(pressure, share < zero - 0.01, share > full + 0.01)


def transducer_error(shown: float, actual: float, low: float, high: float) -> float:
    """How far off a transducer is, as a share of its span.

    (shown - actual) / (high - low), a ratio, of pressures in Pa gauge: what its pressure shows and what
    a gauge on the same port shows. Makers give accuracy in percent of span; 1 to 2 % is usual.

    >>> transducer_error(shown=108e3, actual=100e3, low=0.0, high=400e3)
    0.02
    """
    return (shown - actual) / _span(low, high)
