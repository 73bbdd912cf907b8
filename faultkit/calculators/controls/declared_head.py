"""Declarations: controls of the high side."""

from __future__ import annotations

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.controls import head_pressure, settings
from faultkit.calculators.controls.declared_low import (
    air_argument,
    gauge_argument,
    psi_argument,
    temperature_argument,
)
from faultkit.calculators.controls.words import PRESSURE_ON
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT
from faultkit.units import Kind

__all__ = ["HEAD_PRESSURE"]

_UP, _DOWN = Direction.RISING, Direction.FALLING
_FITS = "saturation fitted to CoolProp's equations of state"
_RULE = "common practice, no source; " + _FITS
_CEILING = (
    "ASHRAE Standard 15 (from memory): a pressure-limiting device at most at the design pressure and 90 % of the "
    "relief setting; compressor limits at the dew point as in AHRI 540 (from memory); " + _FITS
)
_FLOODING = (
    " A flooding valve needs its extra charge and a receiver that holds it: an overfilled receiver can burst; never "
    "fill beyond its limit."
)


def _condensing(
    name: str, title: str, direction: Direction | None = None, default: float | None = None
) -> Argument:
    return temperature_argument(name, title, direction, low=250.0, high=361.0, default=default)


def _head(name: str, title: str, direction: Direction | None = None, *, optional: bool = False) -> Argument:
    return gauge_argument(name, title, direction, high=1e7, low=0.0, optional=optional)


_VALVE = _head("valve_setting", "setting of the flooding valve, where there is one", optional=True)
_CUT_OUT = _head("high_pressure_cut_out", "high-pressure cut-out, where there is one", optional=True)
_CLEARANCE = psi_argument("clearance", "room wanted below the high-pressure cut-out", 50.0)
_LEAST_CONDENSING = _condensing(
    "least_condensing_temperature", "lowest condensing temperature the expansion valve works with", None,
    294.2611111111111,
)
_LEAST_DIFFERENTIAL = psi_argument(
    "least_differential", "smallest differential that does not cycle the fan too often", 30.0
)
_RATED = _head("rated_pressure", "high side's marked pressure", _UP)
_SHARE = Argument(
    "share_of_relief", (Kind.RATIO,), _UP, "highest share of the relief pressure", valid=(0.5, 1.0), unit="%",
    default=0.9,
)
_WORDS = (
    Result("side", None, "side of the glide, and why"), Result("verdict", None, "conflicts by name"),
    Result("conflicts", None, "conflicts with numbers"),
)
_FAN = (
    Result("cut_in", Kind.GAUGE_PRESSURE, "fan on", "psig"),
    Result("cut_out", Kind.GAUGE_PRESSURE, "fan off", "psig"),
    Result("differential", Kind.PRESSURE_DIFFERENCE, "differential", "psi"),
    Result("on_temperature", Kind.TEMPERATURE, "condensing temperature, fan on", "degF"),
    Result("off_temperature", Kind.TEMPERATURE, "condensing temperature, fan off", "degF"), *_WORDS,
)
_FAN_LIMITS = (_VALVE, _CUT_OUT, _LEAST_DIFFERENTIAL, _LEAST_CONDENSING, _CLEARANCE, air_argument())


#: Controls of the high side.
HEAD_PRESSURE: tuple[Calculator, ...] = (
    Calculator(
        "head_pressure_setting", settings.head_pressure_setting,
        (_condensing("condensing_temperature", "condensing temperature wanted", _UP), REFRIGERANT, air_argument(_DOWN)),
        result=Kind.GAUGE_PRESSURE, unit="psig", source=_RULE, caution=PRESSURE_ON,
        example={"condensing_temperature": "90 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "high_pressure_ceiling", settings.high_pressure_ceiling,
        (
            _condensing("condensing_temperature", "highest condensing temperature the compressor may have", _UP),
            _RATED, _head("relief_pressure", "relief valve's marked pressure; where there is none, the rated one", _UP),
            REFRIGERANT, _SHARE, air_argument(_DOWN),
        ),
        result=Kind.GAUGE_PRESSURE, unit="psig", source=_CEILING, caution=PRESSURE_ON,
        example={
            "condensing_temperature": "140 degF", "rated_pressure": "450 psig", "relief_pressure": "450 psig",
            "refrigerant": "R-404A",
        },
    ),
    Calculator(
        "fan_cycling_settings", head_pressure.fan_cycling_settings,
        (
            REFRIGERANT, _condensing("on_temperature", "condensing temperature at which the fan starts"),
            _condensing("off_temperature", "condensing temperature at which the fan stops"), *_FAN_LIMITS,
        ),
        result=_FAN, source=_RULE, caution=PRESSURE_ON,
        example={"refrigerant": "R-404A", "on_temperature": "90 degF", "off_temperature": "70 degF"},
    ),
    Calculator(
        "fan_cycling_check", head_pressure.fan_cycling_check,
        (REFRIGERANT, _head("cut_in", "fan on, as set"), _head("cut_out", "fan off, as set"), *_FAN_LIMITS),
        result=_FAN, source=_RULE, caution=PRESSURE_ON,
        example={"refrigerant": "R-404A", "cut_in": "170 psig", "cut_out": "140 psig", "valve_setting": "180 psig"},
    ),
    Calculator(
        "fan_speed_settings", head_pressure.fan_speed_settings,
        (
            REFRIGERANT, _condensing("condensing_temperature", "lowest condensing temperature wanted"),
            psi_argument("band", "from start to full speed", 50.0, low=1e3), _VALVE, _CUT_OUT, _CLEARANCE,
            air_argument(),
        ),
        result=(
            Result("start", Kind.GAUGE_PRESSURE, "fan begins to turn", "psig"),
            Result("full_speed", Kind.GAUGE_PRESSURE, "full speed", "psig"),
            Result("full_speed_temperature", Kind.TEMPERATURE, "condensing temperature at full speed", "degF"), *_WORDS,
        ),
        source=_RULE, caution=PRESSURE_ON,
        example={"refrigerant": "R-134a", "condensing_temperature": "80 degF", "high_pressure_cut_out": "250 psig"},
    ),
    Calculator(
        "flooding_valve_check", head_pressure.flooding_valve_check,
        (
            REFRIGERANT, _head("setting", "setting of the valve"),
            temperature_argument("ambient_temperature", "coldest air at the condenser", None, high=310.0),
            _condensing("summer_condensing_temperature", "condensing temperature of a mild day", None, 308.15),
            _LEAST_CONDENSING, air_argument(),
        ),
        result=(Result("condensing_temperature", Kind.TEMPERATURE, "condensing temperature held", "degF"), *_WORDS),
        source=_RULE, caution=PRESSURE_ON + _FLOODING,
        example={"refrigerant": "R-404A", "setting": "180 psig", "ambient_temperature": "0 degF"},
    ),
    Calculator(
        "high_pressure_check", head_pressure.high_pressure_check,
        (
            REFRIGERANT, _head("cut_out", "high-pressure cut-out, as set"),
            _condensing("condensing_temperature", "highest condensing temperature the compressor may have"), _RATED,
            _head("relief_pressure", "relief valve's marked pressure; where there is none, the rated one"),
            _condensing("highest_normal_temperature", "condensing temperature of the hottest day, clean condenser"),
            _SHARE, psi_argument("clearance", "room wanted above normal head pressure", 30.0), air_argument(),
        ),
        result=(
            Result("ceiling", Kind.GAUGE_PRESSURE, "highest setting allowed", "psig"),
            Result("room", Kind.PRESSURE_DIFFERENCE, "ceiling less setting", "psi"),
            Result("condensing_temperature", Kind.TEMPERATURE, "condensing temperature at the setting", "degF"),
            *_WORDS,
        ),
        source=_CEILING, caution=PRESSURE_ON,
        example={
            "refrigerant": "R-404A", "cut_out": "395 psig", "condensing_temperature": "140 degF",
            "rated_pressure": "450 psig", "relief_pressure": "450 psig", "highest_normal_temperature": "120 degF",
        },
    ),
)
