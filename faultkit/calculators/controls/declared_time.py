"""Declarations: defrost and its clock."""

from __future__ import annotations

from faultkit.calculators.arguments import Argument, Column, Direction, Log, Result, Word
from faultkit.calculators.controls import clock, defrost
from faultkit.calculators.controls.declared_low import temperature_argument
from faultkit.calculators.controls.words import POWER_ON
from faultkit.calculators.declare import Calculator
from faultkit.units import Kind

__all__ = ["DEFROST", "time_argument"]

_UP, _DOWN = Direction.RISING, Direction.FALLING
_MIN, _H, _DAY = 60.0, 3600.0, 86_400.0
_DEFINITION = "follows from the definition"
_MELTS = "ice melts at 32 degF; 36 degF common practice, no source"
_PRACTICE = "common practice, no source"
_USUAL = (
    "makers' freezer manuals: coil 50 degF ends defrost, fans start at 25 degF, fail-safe 35 to 55 min; the rest "
    "common practice, no source"
)
_HOT = (
    " Heaters are hot and live, and come on by the clock: lock out before touching coil or drain pan; a heater that "
    "does not end is a fire hazard."
)
_CLOCK = POWER_ON + _HOT


def time_argument(
    name: str, title: str, direction: Direction | None = None, low: float = 0.0, high: float = _DAY,
    default: float | None = None, unit: str = "min",
) -> Argument:
    """A length of time; ``low``, ``high``, ``default`` in s."""
    return Argument(name, (Kind.TIME,), direction, title, valid=(low, high), unit=unit, default=default)


def _ratio(name: str, title: str, direction: Direction | None, low: float, high: float, default: float) -> Argument:
    return Argument(name, (Kind.RATIO,), direction, title, valid=(low, high), unit="%", default=default)


def _count(name: str, title: str, low: float, high: float, default: float | None = None) -> Argument:
    return Argument(name, (Kind.COUNT,), None, title, valid=(low, high), unit="count", default=default)


def _coil(name: str, title: str, default: float | None = None, direction: Direction | None = None) -> Argument:
    return temperature_argument(name, title, direction, low=216.5, high=320.0, default=default)


def _time_of_day(name: str, title: str) -> Word:
    # Any time of day is taken: those named only show how it is written.
    return Word(name, ("06:00", "14:05", "2:05 PM"), f"{title}: any time of day", read=clock.clock_text, free=True)


_PER_DAY = Argument("defrosts", (Kind.COUNT,), _UP, "defrosts a day", valid=(0.0, 24.0), unit="count")
_LENGTH = time_argument("length", "heat of one defrost", _UP, high=4 * _H)
_POWER = Argument("heater_power", (Kind.POWER,), _UP, "heaters, all together", valid=(0.0, 2e5), unit="W")
_AFTER = (
    time_argument("drip_time", "dripping after the heat", _UP, high=_H, default=2 * _MIN),
    time_argument("fan_delay", "compressor on, fans still off", _UP, high=_H, default=3 * _MIN),
    time_argument("pump_down", "pump-down before the heat", _UP, high=_H, default=0.0),
)
_STARTS = Word(
    "starts", ("02:00 08:00 14:00 20:00", "06:00 18:00", "03:00"),
    "starts as set on the dial: any times of day, apart by spaces", read=clock.starts_text, free=True,
)
_SHOWN, _TRUE = _time_of_day("shown", "on the clock's dial now"), _time_of_day("true", "true time now")
_DIAL = Word("dial", clock.DIALS, "how far the dial goes round", default=clock.DIALS[0])
_SERVICE = (_time_of_day("service_start", "service begins"), _time_of_day("service_end", "service ends"))
_LOG = Log(
    "log",
    (Column("start", Kind.TIME, "defrost begins", "min", rising=True), Column("length", Kind.TIME, "heat", "min")),
    "defrosts", least=1,
)
_FAIL_SAFE = time_argument("fail_safe", "fail-safe time set", None, low=_MIN, high=4 * _H)
_TOLERANCE = time_argument("tolerance", "lengths as close as this count as equal", None, high=600.0, default=60.0)
_CLEAR = temperature_argument(
    "frost_clear_temperature", "air that clears frost in the off cycle", None, low=273.15, high=285.0,
    default=275.3722222222222,
)
_WORDS = (Result("verdict", None, "conflicts by name"), Result("conflicts", None, "conflicts with numbers"))
_EXAMPLE_DAY = {"defrosts": "4 count", "length": "40 min", "heater_power": "2 kW"}
_EXAMPLE_TIMES = {
    "starts": "02:00 08:00 14:00 20:00", "shown": "08:00", "true": "11:00", "length": "40 min",
    "service_start": "11:00", "service_end": "14:00",
}
_EXAMPLE_LOG = "start (h), length (min)\n0, 45\n6, 45\n12, 45\n18, 45\n"


def _hours(name: str, title: str) -> Result:
    return Result(name, Kind.TIME, title, "h")


#: Defrost and its clock.
DEFROST: tuple[Calculator, ...] = (
    Calculator(
        "defrost_day", defrost.defrost_day,
        (
            _PER_DAY, _LENGTH, _POWER, *_AFTER,
            time_argument("design_run_time", "running time a day it was sized for", default=18 * _H, unit="h"),
        ),
        result=(
            _hours("heater_time", "heater time a day"), Result("energy", Kind.ENERGY, "heater energy a day", "kWh"),
            _hours("off_time", "time a day not refrigerating"),
            Result("share", Kind.RATIO, "share of the day not refrigerating", "%"), *_WORDS,
        ),
        source=_DEFINITION + "; times after the heat and 18 h common practice, no source", caution=_CLOCK,
        example=_EXAMPLE_DAY,
    ),
    Calculator(
        "defrost_heater_time", defrost.defrost_heater_time, (_PER_DAY, _LENGTH), result=Kind.TIME, unit="h",
        source=_DEFINITION, example={"defrosts": "4 count", "length": "30 min"},
    ),
    Calculator(
        "defrost_energy", defrost.defrost_energy, (_PER_DAY, _LENGTH, _POWER), result=Kind.ENERGY, unit="kWh",
        source=_DEFINITION, example=_EXAMPLE_DAY,
    ),
    Calculator(
        "share_not_refrigerating", defrost.share_not_refrigerating, (_PER_DAY, _LENGTH, *_AFTER), result=Kind.RATIO,
        unit="%", source=_DEFINITION, example={"defrosts": "4 count", "length": "30 min"},
    ),
    Calculator(
        "longest_time_between_defrosts", clock.longest_time_between_defrosts,
        (_STARTS, time_argument("length", "heat of one defrost", _DOWN, high=4 * _H)), result=Kind.TIME, unit="h",
        source=_DEFINITION, example={"starts": "02:00 08:00 14:00", "length": "30 min"},
    ),
    Calculator(
        "defrosts_needed", defrost.defrosts_needed,
        (
            Argument("frost_rate", (Kind.MASS_FLOW,), _UP, "frost gathered", valid=(0.0, 0.1), unit="lb_per_h"),
            Argument("frost_limit", (Kind.MASS,), _DOWN, "frost the coil may carry", valid=(1e-3, 1e3), unit="lb"),
        ),
        result=Kind.FREQUENCY, unit="per_day", source=_DEFINITION,
        example={"frost_rate": "1 lb_per_h", "frost_limit": "6 lb"},
    ),
    Calculator(
        "frost_melt_time", defrost.frost_melt_time,
        (
            Argument("frost_mass", (Kind.MASS,), _UP, "frost on the coil", valid=(0.0, 1e3), unit="lb"),
            _coil("coil_temperature", "coil when the heat comes on", direction=_DOWN),
            Argument("heater_power", (Kind.POWER,), _DOWN, "heaters, all together", valid=(10.0, 2e5), unit="W"),
            _ratio("share_to_frost", "share of the heat that reaches the frost", _DOWN, 0.05, 1.0, 0.5),
        ),
        result=Kind.TIME, unit="min", caution=_HOT.strip(),
        source="heat of melting and specific heat of ice (ASHRAE Fundamentals, from memory); the 50 % common practice",
        example={"frost_mass": "3 lb", "coil_temperature": "-10 degF", "heater_power": "2 kW"},
    ),
    Calculator(
        "defrost_settings_check", defrost.defrost_settings_check,
        (
            _coil("evaporating_temperature", "coil while it refrigerates"),
            _coil("termination_temperature", "coil at which defrost ends"),
            _coil("fan_delay_temperature", "coil at which the fans start"), _FAIL_SAFE,
            time_argument("drip_time", "dripping after the heat", None, high=_H),
            _coil("least_termination", "lowest termination usual", 280.3722222222222),
            _coil("most_termination", "highest termination usual", 294.2611111111111),
            _coil("most_fan_delay", "warmest coil at which fans may start", 272.0388888888889),
            time_argument("least_fail_safe", "shortest fail-safe usual", default=20 * _MIN),
            time_argument("most_fail_safe", "longest fail-safe usual", default=60 * _MIN),
            time_argument("least_drip", "shortest drip time usual", default=1 * _MIN),
            time_argument("most_drip", "longest drip time usual", default=10 * _MIN),
        ),
        result=_WORDS, source=_USUAL, caution=_CLOCK,
        example={
            "evaporating_temperature": "-20 degF", "termination_temperature": "50 degF",
            "fan_delay_temperature": "25 degF", "fail_safe": "45 min", "drip_time": "2 min",
        },
    ),
    Calculator(
        "defrost_ending", defrost.defrost_ending,
        (
            _LOG, _FAIL_SAFE, _TOLERANCE,
            time_argument("least_length", "shorter than this is cut short", default=5 * _MIN),
            _count("least_count", "defrosts a verdict needs", 1.0, 100.0, 3.0),
        ),
        result=(
            Result("count", Kind.COUNT, "defrosts", "count"),
            Result("by_fail_safe", Kind.COUNT, "ended by the fail-safe", "count"),
            Result("share", Kind.RATIO, "share ended by the fail-safe", "%"),
            Result("shortest", Kind.TIME, "shortest", "min"), Result("longest", Kind.TIME, "longest", "min"),
            Result("verdict", None, "how they ended"),
        ),
        source=_PRACTICE, caution=_CLOCK, example={"log": _EXAMPLE_LOG, "fail_safe": "45 min"},
    ),
    Calculator(
        "fail_safe_share", defrost.fail_safe_share, (_LOG, _FAIL_SAFE, _TOLERANCE), result=Kind.RATIO, unit="%",
        source=_DEFINITION, example={"log": _EXAMPLE_LOG, "fail_safe": "45 min"},
    ),
    Calculator(
        "off_cycle_defrost_margin", defrost.off_cycle_defrost_margin,
        (
            _coil("air_temperature", "air returning to the coil", direction=_UP),
            temperature_argument(_CLEAR.name, _CLEAR.title, _DOWN, 273.15, 285.0, _CLEAR.default),
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_MELTS,
        example={"air_temperature": "38 degF"},
    ),
    Calculator(
        "off_cycle_defrost_check", defrost.off_cycle_defrost_check,
        (
            _coil("air_temperature", "air returning to the coil"),
            _coil("evaporating_temperature", "coil while it refrigerates"), _CLEAR,
        ),
        result=(
            Result("margin", Kind.TEMPERATURE_DIFFERENCE, "air above what clears frost", "delta_degF"),
            Result("verdict", None, "whether it can"),
        ),
        source=_MELTS,
        example={"air_temperature": "33 degF", "evaporating_temperature": "23 degF"},
    ),
    Calculator(
        "clock_error", clock.clock_error,
        (
            _SHOWN, _TRUE, _DIAL,
            time_argument("tolerance", "within this the clock is right", default=10 * _MIN, high=_H),
        ),
        result=(
            _hours("error", "how far off"), Result("direction", None, "which way"),
            Result("likely", None, "what that looks like"),
        ),
        source=_PRACTICE, caution=_CLOCK, example={"shown": "13:30", "true": "4:00 PM"},
    ),
    Calculator(
        "clock_error_size", clock.clock_error_size, (_SHOWN, _TRUE, _DIAL), result=Kind.TIME, unit="h",
        source=_DEFINITION, example={"shown": "13:30", "true": "16:00"},
    ),
    Calculator(
        "clock_drift", clock.clock_drift,
        (
            _time_of_day("shown_first", "dial at the first look"), _time_of_day("true_first", "true time then"),
            _time_of_day("shown_last", "dial at the last look"), _time_of_day("true_last", "true time then"),
            _count("days", "dates between the looks", 0.0, 60.0), _DIAL,
            time_argument("tolerance", "within this a cause fits", default=5 * _MIN, high=_H),
        ),
        result=(
            _hours("change", "change of the error"), _hours("per_day", "change a day"),
            Result("direction", None, "which way"), Result("fits", None, "what fits"), Result("note", None, "note"),
        ),
        source="a synchronous motor turns with the supply: 5/6 and 6/5 of right on the wrong frequency", caution=_CLOCK,
        example={
            "shown_first": "08:00", "true_first": "08:00", "shown_last": "04:00", "true_last": "08:00",
            "days": "1 count",
        },
    ),
    Calculator(
        "synchronous_clock_rate", clock.synchronous_clock_rate,
        (
            Argument("clock_frequency", (Kind.FREQUENCY,), _DOWN, "clock's label", valid=(40.0, 70.0), unit="Hz"),
            Argument("supply_frequency", (Kind.FREQUENCY,), _UP, "supply", valid=(0.0, 70.0), unit="Hz"),
        ),
        result=Kind.RATIO, unit="%", source="a synchronous motor turns with the supply",
        example={"clock_frequency": "60 Hz", "supply_frequency": "50 Hz"},
    ),
    Calculator(
        "defrost_times", clock.defrost_times, (_STARTS, _SHOWN, _TRUE, _LENGTH, *_SERVICE),
        result=(
            Result("rows", None, "defrosts", columns=(
                Column("dial", Kind.TIME, "on the dial", "h"), Column("true", Kind.TIME, "truly", "h"),
                Column("in_service", Kind.COUNT, "in service", "count"),
            )),
            Result("in_service", Kind.COUNT, "in service hours", "count"), Result("told", None, "in words"),
        ),
        source=_DEFINITION, caution=_CLOCK, example=_EXAMPLE_TIMES,
    ),
    Calculator(
        "defrosts_in_service", clock.defrosts_in_service, (_STARTS, _SHOWN, _TRUE, _LENGTH, *_SERVICE),
        result=Kind.COUNT, unit="count", source=_DEFINITION, example=_EXAMPLE_TIMES,
    ),
)
