"""Declarations: starts, running time, time delays."""

from __future__ import annotations

from dataclasses import replace

from faultkit.calculators.arguments import Argument, Column, Direction, Log, Result
from faultkit.calculators.controls import cycling, cycling_model, timers
from faultkit.calculators.controls.declared_time import time_argument
from faultkit.calculators.controls.words import POWER_ON
from faultkit.calculators.declare import Calculator
from faultkit.units import Kind

__all__ = ["CYCLING"]

_UP, _DOWN = Direction.RISING, Direction.FALLING
_MIN, _H, _DAY = 60.0, 3600.0, 86_400.0
_DEFINITION = "follows from the definition"
_LIMITS = "a compressor maker's application guide: at most 12 starts an hour, runs of 2 min, rests of 3 min"
_MODEL = "NEMA DC 3 thermostat curve (from memory); the same curve stands in an open building energy simulation"

_RUNNING = "share of the time running"
_LOG = Log(
    "log", (Column("time", Kind.TIME, "time", "min", rising=True), Column("state", Kind.COUNT, "1 on, 0 off", "count")),
    "on and off: each row holds until the next",
)
_EXAMPLE = {"log": "time (min), state\n0, off\n4, on\n6, off\n9, on\n11, off\n14, on\n16, off\n20, off\n"}


def _starts(name: str, title: str, direction: Direction | None = None, default: float | None = None) -> Argument:
    return Argument(
        name, (Kind.FREQUENCY,), direction, title, valid=(0.1 / _H, 120.0 / _H), unit="per_h", default=default
    )


def _share(
    name: str, title: str, direction: Direction | None, low: float = 0.0, high: float = 1.0,
    default: float | None = None,
) -> Argument:
    return Argument(name, (Kind.RATIO,), direction, title, valid=(low, high), unit="%", default=default)


_MOST = _starts("most_starts", "most starts an hour allowed", None, 12.0 / _H)
_LEAST_RUN = time_argument("least_run", "shortest run allowed", None, high=_H, default=2 * _MIN)
_NMAX = _starts("most_starts", "starts an hour when running half the time", _UP)
_TOLERANCE = _share("tolerance", "how far the relay may be off, either way", None, 0.0, 0.5, 0.1)


def _time(name: str, title: str, unit: str = "min") -> Result:
    return Result(name, Kind.TIME, title, unit)


#: Starts, running time, time delays.
CYCLING: tuple[Calculator, ...] = (
    Calculator(
        "cycling_log", cycling.cycling_log,
        (_LOG, _MOST, _LEAST_RUN, time_argument("least_off", "shortest rest allowed", high=_H, default=3 * _MIN)),
        result=(
            Result("starts", Kind.COUNT, "starts seen", "count"),
            Result("whole_cycles", Kind.COUNT, "whole cycles", "count"),
            Result("starts_per_hour", Kind.FREQUENCY, "starts an hour", "per_h"),
            Result("busiest_hour", Kind.COUNT, "starts in the busiest hour", "count"),
            Result("run_fraction", Kind.RATIO, _RUNNING, "%"),
            _time("shortest_run", "shortest run"), _time("mean_run", "mean run"),
            _time("longest_run", "longest run, at least"), _time("shortest_off", "shortest rest"),
            _time("mean_off", "mean rest"), _time("longest_off", "longest rest, at least"),
            Result("verdict", None, "the cycling"), Result("conflicts", None, "conflicts with numbers"),
        ),
        source=_LIMITS, example=_EXAMPLE,
    ),
    Calculator(
        "starts_per_hour", cycling.starts_per_hour, (_LOG,), result=Kind.FREQUENCY, unit="per_h", source=_DEFINITION,
        example=_EXAMPLE,
    ),
    Calculator(
        "run_fraction", cycling.run_fraction, (_LOG,), result=Kind.RATIO, unit="%", source=_DEFINITION,
        example=_EXAMPLE,
    ),
    Calculator(
        "shortest_run", cycling.shortest_run, (_LOG,), result=Kind.TIME, unit="min", source=_DEFINITION,
        example=_EXAMPLE,
    ),
    Calculator(
        "shortest_off", cycling.shortest_off, (_LOG,), result=Kind.TIME, unit="min", source=_DEFINITION,
        example=_EXAMPLE,
    ),
    Calculator(
        "cycling_rate", cycling_model.cycling_rate, (_share("run_fraction", _RUNNING, None), _NMAX),
        result=Kind.FREQUENCY, unit="per_h", source=_MODEL, example={"run_fraction": "25 %", "most_starts": "6 per_h"},
    ),
    Calculator(
        "most_cycling_rate", cycling_model.most_cycling_rate,
        (_starts("starts", "starts an hour seen", _UP), _share("run_fraction", _RUNNING, None, 0.02, 0.98)),
        result=Kind.FREQUENCY, unit="per_h", source=_MODEL, example={"starts": "4.5 per_h", "run_fraction": "75 %"},
    ),
    Calculator(
        "cycling_comparison", cycling_model.cycling_comparison,
        (
            _LOG, replace(_NMAX, direction=None),
            _share("most_ratio", "how far off the model is still as the model", None, 1.0, 10.0, 1.5),
        ),
        result=(
            Result("measured", Kind.FREQUENCY, "starts an hour", "per_h"),
            Result("modelled", Kind.FREQUENCY, "starts an hour by the model", "per_h"),
            Result("run_fraction", Kind.RATIO, _RUNNING, "%"),
            Result("ratio", Kind.RATIO, "measured over modelled", "%"), Result("verdict", None, "verdict"),
        ),
        source=_MODEL + "; 150 % common practice, no source", example={**_EXAMPLE, "most_starts": "6 per_h"},
    ),
    Calculator(
        "run_hours_per_day", cycling_model.run_hours_per_day, (_share("run_fraction", _RUNNING, _UP),),
        result=Kind.TIME, unit="h", source=_DEFINITION, example={"run_fraction": "67 %"},
    ),
    Calculator(
        "run_fraction_by_meter", cycling_model.run_fraction_by_meter,
        (
            time_argument("meter_first", "hour meter, first reading", _DOWN, high=1e9, unit="h"),
            time_argument("meter_last", "hour meter, last reading", _UP, high=1e9, unit="h"),
            time_argument("elapsed", "time between the readings", _DOWN, low=_MIN, high=4e8, unit="h"),
        ),
        result=Kind.RATIO, unit="%", source=_DEFINITION,
        example={"meter_first": "4100 h", "meter_last": "4212 h", "elapsed": "168 h"},
    ),
    Calculator(
        "run_hours_check", cycling_model.run_hours_check,
        (
            _share("run_fraction", _RUNNING, None),
            time_argument("least_design", "running time a day sized for, at least", default=16 * _H, unit="h"),
            time_argument("most_design", "running time a day sized for, at most", default=18 * _H, unit="h"),
            _share("endless", "from this share on it never stops", None, 0.5, 1.0, 0.98),
        ),
        result=(_time("run_time", "running time a day", "h"), Result("verdict", None, "against design")),
        source="common practice, no source", example={"run_fraction": "92 %"},
    ),
    Calculator(
        "anti_short_cycle_time", timers.anti_short_cycle_time,
        (
            time_argument("equalizing_time", "time for the pressures to level", _UP, high=_H, default=3 * _MIN),
            replace(_MOST, direction=_DOWN), replace(_LEAST_RUN, direction=_DOWN),
        ),
        result=Kind.TIME, unit="min", source=_LIMITS, caution=POWER_ON, example={"equalizing_time": "5 min"},
    ),
    Calculator(
        "starts_limit_by_delay", timers.starts_limit_by_delay,
        (
            time_argument("delay", "off delay set", _DOWN, low=1.0, high=_H),
            time_argument("least_run", "shortest run the fault allows", _DOWN, high=_H, default=0.0),
        ),
        result=Kind.FREQUENCY, unit="per_h", source=_DEFINITION, example={"delay": "3 min", "least_run": "2 min"},
    ),
    Calculator(
        "delay_relay_check", timers.delay_relay_check,
        (
            time_argument("set_delay", "delay set", low=1.0), _TOLERANCE,
            time_argument("least", "shortest delay wanted", default=3 * _MIN),
            time_argument("most", "longest delay wanted", default=10 * _MIN),
        ),
        result=(
            _time("shortest", "shortest delay"), _time("longest", "longest delay"),
            Result("verdict", None, "conflicts by name"), Result("conflicts", None, "conflicts with numbers"),
        ),
        source="common practice, no source", caution=POWER_ON, example={"set_delay": "3 min", "tolerance": "20 %"},
    ),
    Calculator(
        "next_restart_delay", timers.next_restart_delay,
        (
            time_argument("delay", "delay of the unit before", _UP, high=_H), replace(_TOLERANCE, direction=_UP),
            time_argument("start_time", "starting current lasts", _UP, high=60.0, default=2.0, unit="s"),
        ),
        result=Kind.TIME, unit="s", source=_DEFINITION, caution=POWER_ON, example={"delay": "60 s"},
    ),
    Calculator(
        "last_restart_time", timers.last_restart_time,
        (
            Argument("units", (Kind.COUNT,), _UP, "units that restart", valid=(1.0, 50.0), unit="count"),
            time_argument("first_delay", "delay of the first unit", _UP, high=_H), replace(_TOLERANCE, direction=_UP),
            time_argument("start_time", "starting current lasts", _UP, high=60.0, default=2.0, unit="s"),
        ),
        result=Kind.TIME, unit="s", source=_DEFINITION, caution=POWER_ON,
        example={"units": "3 count", "first_delay": "60 s"},
    ),
)
