"""What the pull-down calculators take and give."""

from __future__ import annotations

from faultkit.calculators.arguments import Argument, Column, Log, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.load.infiltration import WALK_IN
from faultkit.calculators.load.pulldown import (
    ACCURACY,
    CONFIDENCE,
    WITHIN,
    pull_down,
    pull_down_settles_at,
    pull_down_time_constant,
    pull_down_time_left,
)
from faultkit.units import Kind

__all__ = ["PULL_DOWN_CALCULATORS"]

_SOURCE = (
    "Newton's law of cooling, fitted by variable projection (Golub and Pereyra, SIAM J. Numer. Anal. 10, 1973); bounds "
    "by profile likelihood (Bates and Watts, Nonlinear Regression Analysis, 1988), from memory"
)
_LOG = Log(
    "log",
    (
        Column("time", Kind.TIME, "time", "min", rising=True),
        Column("temperature", Kind.TEMPERATURE, "temperature", "degF"),
    ),
    "readings of one undisturbed pull-down, oldest first",
)
_SET_POINT = Argument(
    "set_point", (Kind.TEMPERATURE,), None, "temperature wanted", valid=(223.15, 323.15), unit="degF"
)
_WITHIN = Argument("within", (Kind.TIME,), None, "time it may take", valid=(0.0, 3e6), unit="h", default=WITHIN)
_ACCURACY = Argument(
    "accuracy", (Kind.TEMPERATURE_DIFFERENCE,), None, "how far the probe may be off",
    valid=(0.0, 10.0), unit="delta_degF", default=ACCURACY,
)
_CONFIDENCE = Argument(
    "confidence", (Kind.RATIO,), None, "how sure the bounds are to be", valid=(0.5, 0.999), unit="%", default=CONFIDENCE
)
_EXAMPLE = "time (min), temperature (degF)\n" + "\n".join(
    f"{minute}, {reading}" for minute, reading in (
        (0, 68.2), (15, 61.9), (30, 56.7), (45, 52.6), (60, 49.1), (75, 46.4), (90, 44.1), (105, 42.3), (120, 40.8)
    )
)


def _degrees(name: str, title: str) -> Result:
    return Result(name, Kind.TEMPERATURE, title, "degF")


def _hours(name: str, title: str) -> Result:
    return Result(name, Kind.TIME, title, "h")


#: The calculators of ``pulldown.py``.
PULL_DOWN_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "pull_down", pull_down, (_LOG, _SET_POINT, _WITHIN, _ACCURACY, _CONFIDENCE),
        result=(
            Result("verdict", None, "the set point"),
            Result("because", None, "because"),
            _degrees("settles_at", "settles at, best estimate"),
            _degrees("settle_low", "settles at, lowest"), _degrees("settle_high", "settles at, highest"),
            _hours("time_left", "time to the set point, best estimate"),
            _hours("time_left_low", "time to the set point, shortest"),
            _hours("time_left_high", "time to the set point, longest"),
            _hours("time_constant", "time constant, best estimate"),
            _hours("time_constant_low", "time constant, shortest"),
            _hours("time_constant_high", "time constant, longest"),
            _degrees("coldest", "coldest it can be when the time is over"),
            Result("scatter", Kind.TEMPERATURE_DIFFERENCE, "scatter of the readings about the curve", "delta_degF"),
        ),
        source=_SOURCE, caution=WALK_IN,
        example={"log": _EXAMPLE, "set_point": "38 degF", "accuracy": "0.5 delta_degF"},
    ),
    Calculator(
        "pull_down_settles_at", pull_down_settles_at, (_LOG,),
        result=Kind.TEMPERATURE, unit="degF", source=_SOURCE, caution=WALK_IN, example={"log": _EXAMPLE},
    ),
    Calculator(
        "pull_down_time_constant", pull_down_time_constant, (_LOG,),
        result=Kind.TIME, unit="h", source=_SOURCE, caution=WALK_IN, example={"log": _EXAMPLE},
    ),
    Calculator(
        "pull_down_time_left", pull_down_time_left, (_LOG, _SET_POINT),
        result=Kind.TIME, unit="h", source=_SOURCE, caution=WALK_IN, example={"log": _EXAMPLE, "set_point": "38 degF"},
    ),
)
