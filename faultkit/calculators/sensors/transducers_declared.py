"""The declarations of the pressure transducer calculators."""

from __future__ import annotations

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.sensors.transducers import (
    loop_check,
    loop_current,
    loop_pressure,
    ratiometric_check,
    ratiometric_pressure,
    ratiometric_signal,
    transducer_error,
)
from faultkit.units import Kind

__all__ = ["TRANSDUCERS"]

_GAUGE = (-101_325.0, 20_684_271.88)  # 3000 psig


def _pressure(name: str, title: str, direction: Direction | None) -> Argument:
    return Argument(name, (Kind.GAUGE_PRESSURE,), direction, title, valid=_GAUGE, unit="psig")


def _range(direction: Direction | None) -> tuple[Argument, Argument]:
    return (
        _pressure("low", "pressure at the low end of its range", direction),
        _pressure("high", "pressure at the high end of its range", direction),
    )


def _current(name: str, title: str, direction: Direction | None, default: float | None = None,
             valid: tuple[float, float] = (0.0, 0.1)) -> Argument:
    return Argument(name, (Kind.CURRENT,), direction, title, valid=valid, unit="mA", default=default)


def _volts(name: str, title: str, direction: Direction | None, valid: tuple[float, float],
           default: float | None = None) -> Argument:
    return Argument(name, (Kind.VOLTAGE,), direction, title, valid=valid, unit="V", default=default)


def _shares(direction: Direction | None) -> tuple[Argument, Argument]:
    return (
        Argument("zero", (Kind.RATIO,), direction, "share of supply at the low end", valid=(0.01, 0.5), unit="%",
                 default=0.1),
        Argument("full", (Kind.RATIO,), direction, "share of supply at the high end", valid=(0.5, 0.99), unit="%",
                 default=0.9),
    )


_CHECK_RESULTS = (
    Result("verdict", None, "state of the signal"),
    Result("pressure", Kind.GAUGE_PRESSURE, "pressure it reports", "psig"),
    Result("causes", None, "what to look for"),
)
_EITHER = Direction.EITHER
_SUPPLY = (1.0, 30.0)
_LOOP = "4-20 mA current loop (IEC 60381-1, from memory)"
_NE43 = f"{_LOOP}; limits of NAMUR NE 43, as published by others"
_RATIO = "common practice, no source: signal from 10 to 90 % of a 5 V supply, in proportion to it"
_MIND = (
    "Measure signals without opening the refrigerant circuit; other terminals of the control can be at line voltage. "
    "Change a transducer only as local codes and its port allow: it may be under refrigerant pressure."
)

#: The calculators of this file.
TRANSDUCERS: tuple[Calculator, ...] = (
    Calculator(
        "loop_pressure", loop_pressure,
        (_current("current", "loop current", Direction.RISING, valid=(3.6e-3, 21e-3)), *_range(_EITHER)),
        result=Kind.GAUGE_PRESSURE, unit="psig", source=_LOOP, caution=_MIND,
        example={"current": "9.6 mA ± 0.05 mA", "low": "0 psig", "high": "500 psig"},
    ),
    Calculator(
        "loop_current", loop_current,
        (_pressure("pressure", "pressure by a gauge", Direction.RISING), *_range(Direction.FALLING)),
        result=Kind.CURRENT, unit="mA", source=_LOOP, caution=_MIND,
        example={"pressure": "175 psig ± 1 %", "low": "0 psig", "high": "500 psig"},
    ),
    Calculator(
        "loop_check", loop_check,
        (
            _current("current", "loop current", None), *_range(None),
            _current("open_below", "below it the loop is open", None, 3.6e-3),
            _current("least", "below it the pressure is below the range", None, 3.8e-3),
            _current("most", "above it the pressure is above the range", None, 20.5e-3),
            _current("short_above", "above it the loop is shorted", None, 21e-3),
        ),
        result=_CHECK_RESULTS, source=_NE43, caution=_MIND,
        example={"current": "3.7 mA", "low": "0 psig", "high": "500 psig"},
    ),
    Calculator(
        "ratiometric_pressure", ratiometric_pressure,
        (
            _volts("signal", "signal to common", Direction.RISING, (0.0, 30.0)),
            _volts("supply", "supply to common", Direction.FALLING, _SUPPLY), *_range(_EITHER), *_shares(_EITHER),
        ),
        result=Kind.GAUGE_PRESSURE, unit="psig", source=_RATIO, caution=_MIND,
        example={"signal": "2.0 V ± 0.02 V", "supply": "4.98 V ± 0.02 V", "low": "0 psig", "high": "400 psig"},
    ),
    Calculator(
        "ratiometric_signal", ratiometric_signal,
        (
            _pressure("pressure", "pressure by a gauge", Direction.RISING),
            _volts("supply", "supply to common", Direction.RISING, _SUPPLY), *_range(Direction.FALLING),
            *_shares(Direction.RISING),
        ),
        result=Kind.VOLTAGE, unit="V", source=_RATIO, caution=_MIND,
        example={"pressure": "150 psig", "supply": "5.02 V", "low": "0 psig", "high": "400 psig"},
    ),
    Calculator(
        "ratiometric_check", ratiometric_check,
        (
            _volts("signal", "signal to common", None, (0.0, 30.0)),
            _volts("supply", "supply to common", None, (0.0, 30.0)), *_range(None), *_shares(None),
            _volts("least_supply", "lowest good supply", None, _SUPPLY, 4.5),
            _volts("most_supply", "highest good supply", None, _SUPPLY, 5.5),
        ),
        result=_CHECK_RESULTS, source=_RATIO, caution=_MIND,
        example={"signal": "4.97 V", "supply": "5.0 V", "low": "0 psig", "high": "400 psig"},
    ),
    Calculator(
        "transducer_error", transducer_error,
        (
            _pressure("shown", "pressure it shows", Direction.RISING),
            _pressure("actual", "pressure by a gauge on the same port", Direction.FALLING), *_range(_EITHER),
        ),
        result=Kind.RATIO, unit="%", source="follows from the definition", caution=_MIND,
        example={"shown": "208 psig", "actual": "200 psig ± 1 %", "low": "0 psig", "high": "500 psig"},
    ),
)
