"""Declarations: low-pressure controls."""

from __future__ import annotations

from faultkit.calculators.arguments import ATMOSPHERE, Argument, Direction, Result, Word
from faultkit.calculators.controls import low_pressure, settings
from faultkit.calculators.controls.conflicts import JOBS
from faultkit.calculators.controls.words import PRESSURE_ON
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT
from faultkit.units import Kind

__all__ = ["LOW_PRESSURE", "air_argument", "gauge_argument", "psi_argument", "td_argument", "temperature_argument"]

_UP, _DOWN = Direction.RISING, Direction.FALLING
_PSI = 6894.757293168362
_FITS = "saturation fitted to CoolProp's equations of state"
_RULE = (
    "trade-press article on low-pressure controls (R-134a cooler: 33 psig = 38 degF, 15 psig = 15 degF); "
    "margins common practice, no source; " + _FITS
)


def temperature_argument(
    name: str, title: str, direction: Direction | None, low: float = 216.5, high: float = 300.0,
    default: float | None = None,
) -> Argument:
    """A temperature, shown in degF; ``low`` and ``high`` in K."""
    return Argument(name, (Kind.TEMPERATURE,), direction, title, valid=(low, high), unit="degF", default=default)


def td_argument(direction: Direction | None, default: float | None = None) -> Argument:
    """TD of an evaporator coil."""
    return Argument(
        "temperature_difference", (Kind.TEMPERATURE_DIFFERENCE,), direction, "TD: box air less coil temperature",
        valid=(1.0, 30.0), unit="delta_degF", default=default,
    )


def gauge_argument(
    name: str, title: str, direction: Direction | None = None, high: float = 6.5e6, default: float | None = None,
    low: float = -100e3, *, optional: bool = False,
) -> Argument:
    """A gauge pressure, shown in psig; ``low`` and ``high`` in Pa."""
    return Argument(
        name, (Kind.GAUGE_PRESSURE,), direction, title, valid=(low, high), unit="psig", default=default,
        optional=optional,
    )


def psi_argument(
    name: str, title: str, default: float | None, direction: Direction | None = None, low: float = 0.0,
    high: float = 1.5e6, *, optional: bool = False,
) -> Argument:
    """A pressure difference, shown in psi; ``default`` in psi, the rest in Pa."""
    return Argument(
        name, (Kind.PRESSURE_DIFFERENCE,), direction, title, valid=(low, high), unit="psi",
        default=None if default is None else default * _PSI, optional=optional,
    )


def air_argument(direction: Direction | None = None) -> Argument:
    """Air pressure of the site."""
    return Argument(
        ATMOSPHERE, (Kind.ABSOLUTE_PRESSURE,), direction, "air pressure outside", valid=(60e3, 110e3), unit="psia",
        default=101_325.0,
    )


def _absolute(name: str, title: str, direction: Direction) -> Argument:
    return Argument(name, (Kind.ABSOLUTE_PRESSURE,), direction, title, valid=(1e3, 7e6), unit="psig")


_JOB = Word("job", JOBS, "what the control is there for", read=low_pressure.job_name)
_DROP = psi_argument("suction_line_drop", "pressure drop from coil to control, running", 0.0, high=2e5)
_DUTY = (
    temperature_argument("restart_temperature", "box temperature it must restart at", None),
    temperature_argument("ambient_temperature", "coldest air at the condensing unit", None, high=310.0),
)
_WANTED = (
    psi_argument("differential", "differential wanted; worked out where none is", None, low=1.0, optional=True),
    gauge_argument("pumped_down", "cut-out wanted of a pump-down", default=5.0 * _PSI, high=1e6),
)
_LIMITS = (
    _DROP,
    psi_argument("margin", "clearance of a setting from the pressure it must clear", 2.0, high=2e5),
    psi_argument("least_differential", "smallest differential that does not short-cycle", 5.0, high=5e5),
    gauge_argument("lowest_cut_out", "lowest cut-out allowed", default=0.0, high=1e6),
    temperature_argument(
        "frost_clear_temperature", "coil temperature that clears frost in the off cycle", None, low=273.15,
        high=285.0, default=275.3722222222222,
    ),
    air_argument(),
)
_BOX = (temperature_argument("box_temperature", "lowest box temperature wanted", None), td_argument(None))
_RESULTS = (
    Result("cut_in", Kind.GAUGE_PRESSURE, "cut-in", "psig"),
    Result("cut_out", Kind.GAUGE_PRESSURE, "cut-out", "psig"),
    Result("differential", Kind.PRESSURE_DIFFERENCE, "differential", "psi"),
    Result("coil_at_cut_in", Kind.TEMPERATURE, "coil at the cut-in, at rest", "degF"),
    Result("coil_at_cut_out", Kind.TEMPERATURE, "coil at the cut-out, running", "degF"),
    Result("box_at_cut_out", Kind.TEMPERATURE, "box when a temperature control cuts out", "degF"),
    Result("winter_limit", Kind.GAUGE_PRESSURE, "pressure at rest in the coldest weather", "psig"),
    Result("restart_limit", Kind.GAUGE_PRESSURE, "pressure at rest at the restart temperature", "psig"),
    Result("running_limit", Kind.GAUGE_PRESSURE, "running pressure at the lowest coil temperature", "psig"),
    Result("verdict", None, "conflicts by name"),
    Result("conflicts", None, "conflicts with numbers"),
)


def _several(name: str, arguments: tuple[Argument | Word, ...], example: dict[str, str]) -> Calculator:
    return Calculator(
        name, getattr(low_pressure, name), (REFRIGERANT, _JOB, *arguments), result=_RESULTS, source=_RULE,
        caution=PRESSURE_ON, example=example,
    )


#: Low-pressure controls.
LOW_PRESSURE: tuple[Calculator, ...] = (
    _several("low_pressure_settings", (*_BOX, *_DUTY, *_WANTED, *_LIMITS), {
        "refrigerant": "R-134a", "job": "temperature control", "box_temperature": "35 degF",
        "temperature_difference": "20 delta_degF", "restart_temperature": "38 degF", "ambient_temperature": "50 degF",
    }),
    _several(
        "low_pressure_settings_by_coil",
        (
            temperature_argument("evaporating_temperature", "lowest coil temperature wanted", None),
            *_DUTY, *_WANTED, *_LIMITS,
        ),
        {
            "refrigerant": "R-404A", "job": "pump-down freezer", "evaporating_temperature": "-20 degF",
            "restart_temperature": "-10 degF", "ambient_temperature": "-20 degF",
        },
    ),
    _several(
        "low_pressure_check",
        (
            gauge_argument("cut_in", "cut-in as set"), gauge_argument("cut_out", "cut-out as set"),
            *_BOX, *_DUTY, *_LIMITS,
        ),
        {
            "refrigerant": "R-404A", "job": "pump-down", "cut_in": "30 psig", "cut_out": "10 psig",
            "box_temperature": "35 degF", "temperature_difference": "10 delta_degF",
            "restart_temperature": "38 degF", "ambient_temperature": "-20 degF",
        },
    ),
    _several(
        "low_pressure_check_by_differential",
        (
            gauge_argument("cut_in", "cut-in as set"),
            psi_argument("differential", "differential scale as set", None, low=1.0), *_BOX, *_DUTY, *_LIMITS,
        ),
        {
            "refrigerant": "R-134a", "job": "temperature control", "cut_in": "30 psig", "differential": "20 psi",
            "box_temperature": "35 degF", "temperature_difference": "20 delta_degF",
            "restart_temperature": "38 degF", "ambient_temperature": "50 degF",
        },
    ),
    Calculator(
        "low_pressure_cut_in", settings.low_pressure_cut_in,
        (
            temperature_argument("restart_temperature", "box temperature it must restart at", _UP), REFRIGERANT,
            air_argument(_DOWN),
        ),
        result=Kind.GAUGE_PRESSURE, unit="psig", source=_RULE, caution=PRESSURE_ON,
        example={"restart_temperature": "38 degF", "refrigerant": "R-134a"},
    ),
    Calculator(
        "low_pressure_cut_out", settings.low_pressure_cut_out,
        (
            temperature_argument("box_temperature", "lowest box temperature wanted", _UP), td_argument(_DOWN),
            REFRIGERANT, psi_argument("suction_line_drop", _DROP.title, 0.0, _DOWN, high=2e5), air_argument(_DOWN),
        ),
        result=Kind.GAUGE_PRESSURE, unit="psig", source=_RULE, caution=PRESSURE_ON,
        example={"box_temperature": "35 degF", "temperature_difference": "20 delta_degF", "refrigerant": "R-134a"},
    ),
    Calculator(
        "setting_saturation_temperature", settings.setting_saturation_temperature,
        (_absolute("setting", "setting of the control", _UP), REFRIGERANT),
        result=Kind.TEMPERATURE, unit="degF", source=_FITS, caution=PRESSURE_ON,
        example={"setting": "15 psig", "refrigerant": "R-134a"},
    ),
    Calculator(
        "cut_in_winter_margin", settings.cut_in_winter_margin,
        (
            _absolute("cut_in", "cut-in as set", _DOWN),
            temperature_argument("ambient_temperature", "coldest air at the condensing unit", _UP, high=310.0),
            REFRIGERANT,
        ),
        result=Kind.PRESSURE_DIFFERENCE, unit="psi", source="common practice, no source; " + _FITS, caution=PRESSURE_ON,
        example={"cut_in": "20 psig", "ambient_temperature": "0 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "pressure_differential", settings.pressure_differential,
        (_absolute("cut_in", "cut-in", _UP), _absolute("cut_out", "cut-out", _DOWN)),
        result=Kind.PRESSURE_DIFFERENCE, unit="psi", source="follows from the definition",
        example={"cut_in": "33 psig", "cut_out": "15 psig"},
    ),
    Calculator(
        "cut_out_from_differential", settings.cut_out_from_differential,
        (
            gauge_argument("cut_in", "cut-in scale", _UP),
            psi_argument("differential", "differential scale", None, _DOWN, high=9e5),
        ),
        result=Kind.GAUGE_PRESSURE, unit="psig", source="follows from the definition",
        example={"cut_in": "30 psig", "differential": "20 psi"},
    ),
    Calculator(
        "box_temperature_at_cut_out", settings.box_temperature_at_cut_out,
        (
            _absolute("cut_out", "cut-out as set", _UP), td_argument(_UP), REFRIGERANT,
            psi_argument("suction_line_drop", _DROP.title, 0.0, _UP, high=2e5),
        ),
        result=Kind.TEMPERATURE, unit="degF", source=_RULE, caution=PRESSURE_ON,
        example={"cut_out": "15 psig", "temperature_difference": "20 delta_degF", "refrigerant": "R-134a"},
    ),
)
