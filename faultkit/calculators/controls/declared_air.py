"""Declarations: thermostats and their probes."""

from __future__ import annotations

from dataclasses import replace

from faultkit.calculators.arguments import Argument, Direction, Result, Word
from faultkit.calculators.controls import thermostat
from faultkit.calculators.controls.declared_low import td_argument, temperature_argument
from faultkit.calculators.controls.words import POWER_ON
from faultkit.calculators.declare import Calculator
from faultkit.units import Kind

__all__ = ["THERMOSTATS", "spread_argument"]

_UP, _DOWN = Direction.RISING, Direction.FALLING
_PRACTICE = "common practice, no source"
_DEFINITION = "follows from the definition"
_MELTS = "ice melts at 32 degF; limits common practice, no source"


def spread_argument(
    name: str, title: str, direction: Direction | None, default: float | None, low: float = 0.0, high: float = 20.0
) -> Argument:
    """A temperature difference, shown in delta_degF; ``default`` in delta_degF, ``low`` and ``high`` in K."""
    return Argument(
        name, (Kind.TEMPERATURE_DIFFERENCE,), direction, title, valid=(low, high), unit="delta_degF",
        default=None if default is None else default / 1.8,
    )


def _air(name: str, title: str, direction: Direction | None = None, default: float | None = None) -> Argument:
    return temperature_argument(name, title, direction, low=230.0, high=300.0, default=default)


def _accuracy(direction: Direction | None = None) -> Argument:
    return spread_argument("probe_accuracy", "how far the probe may be off, either way", direction, 1.0, high=5.0)


def _position(direction: Direction | None = None, place: str = "product") -> Argument:
    return spread_argument(
        "position_offset", f"air at the probe less air at the {place}", direction, 0.0, low=-10.0, high=10.0
    )


def _frost(direction: Direction | None = None) -> Argument:
    return temperature_argument(
        "frost_clear_temperature", "temperature that clears frost in the off cycle", direction, low=273.15, high=285.0,
        default=275.3722222222222,
    )


_ERROR = spread_argument("probe_error", "probe reads so much too warm", None, 0.0, low=-20.0)
_ENTERED = spread_argument(
    "entered_offset", "offset entered in the controller, added to the reading", None, 0.0, low=-20.0
)
_PRODUCT = (
    _air("product_low", "coldest allowed at the product"), _air("product_high", "warmest allowed at the product")
)
_WORDS = (Result("verdict", None, "conflicts by name"), Result("conflicts", None, "conflicts with numbers"))


def _degf(name: str, title: str) -> Result:
    return Result(name, Kind.TEMPERATURE, title, "degF")


#: Thermostats and their probes.
THERMOSTATS: tuple[Calculator, ...] = (
    Calculator(
        "thermostat_check", thermostat.thermostat_check,
        (
            _air("cut_in", "air at which it starts"), _air("cut_out", "air at which it stops"),
            *_PRODUCT,
            Word("defrost", (thermostat.OFF_CYCLE, thermostat.HEATED), "how frost is melted", thermostat.OFF_CYCLE),
            _accuracy(), _position(), td_argument(None, 10.0 / 1.8),
            spread_argument("least_differential", "smallest differential wanted", None, 2.0),
            spread_argument("most_differential", "largest differential wanted", None, 8.0), _frost(),
        ),
        result=(
            _degf("coldest", "coldest air at the product"), _degf("warmest", "warmest air at the product"),
            Result("differential", Kind.TEMPERATURE_DIFFERENCE, "differential", "delta_degF"),
            _degf("coil", "coldest coil"), *_WORDS,
        ),
        source=_MELTS, caution=POWER_ON,
        example={"cut_in": "39 degF", "cut_out": "36 degF", "product_low": "33 degF", "product_high": "41 degF"},
    ),
    Calculator(
        "coil_thermostat_check", thermostat.coil_thermostat_check,
        (
            _air("cut_in", "coil at which it starts"), _air("cut_out", "coil at which it stops"), td_argument(None),
            *_PRODUCT, _accuracy(), _frost(),
        ),
        result=(_degf("box_at_cut_out", "box when it stops"), _degf("box_at_cut_in", "box when it starts"), *_WORDS),
        source="trade-press article on temperature controls in reach-ins; " + _MELTS, caution=POWER_ON,
        example={
            "cut_in": "38 degF", "cut_out": "25 degF", "temperature_difference": "10 delta_degF",
            "product_low": "33 degF", "product_high": "41 degF",
        },
    ),
    Calculator(
        "thermostat_warmest_air", thermostat.thermostat_warmest_air,
        (_air("cut_in", "air at which it starts", _UP), _accuracy(_UP), _position(_DOWN)),
        result=Kind.TEMPERATURE, unit="degF", source=_DEFINITION,
        example={"cut_in": "39 degF", "position_offset": "2 delta_degF"},
    ),
    Calculator(
        "thermostat_coldest_air", thermostat.thermostat_coldest_air,
        (_air("cut_out", "air at which it stops", _UP), _accuracy(_DOWN), _position(_DOWN)),
        result=Kind.TEMPERATURE, unit="degF", source=_DEFINITION,
        example={"cut_out": "35 degF", "position_offset": "2 delta_degF"},
    ),
    Calculator(
        "lowest_off_cycle_cut_in", thermostat.lowest_off_cycle_cut_in,
        (_frost(_UP), _accuracy(_UP), _position(_UP, "coil")),
        result=Kind.TEMPERATURE, unit="degF", source=_MELTS, example={"probe_accuracy": "1 delta_degF"},
    ),
    Calculator(
        "set_point_settings", thermostat.set_point_settings,
        (
            _air("set_point", "set point"), spread_argument("differential", "differential", None, None),
            Word("scheme", thermostat.SCHEMES, "where the differential lies", default="above"),
        ),
        result=(_degf("cut_in", "cut-in"), _degf("cut_out", "cut-out")), source=_DEFINITION,
        example={"set_point": "35 degF", "differential": "3 delta_degF"},
    ),
    Calculator(
        "true_set_point", thermostat.true_set_point,
        (
            _air("set_point", "set point", _UP), replace(_ERROR, direction=_DOWN), replace(_ENTERED, direction=_DOWN),
        ),
        result=Kind.TEMPERATURE, unit="degF", source=_DEFINITION,
        example={"set_point": "37 degF", "probe_error": "3 delta_degF"},
    ),
    Calculator(
        "probe_offset_to_enter", thermostat.probe_offset_to_enter,
        (
            _air("shown", "what the controller shows", _DOWN),
            _air("true", "reference thermometer beside the probe", _UP), replace(_ENTERED, direction=_UP),
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_DEFINITION,
        example={"shown": "35 degF", "true": "38 degF"},
    ),
    Calculator(
        "probe_offset_effect", thermostat.probe_offset_effect,
        (_air("set_point", "set point"), _ERROR, _ENTERED),
        result=(
            _degf("air", "air really held"),
            Result("error", Kind.TEMPERATURE_DIFFERENCE, "air less set point", "delta_degF"),
            Result("effect", None, "what it does"),
        ),
        source=_DEFINITION, example={"set_point": "37 degF", "entered_offset": "-2 delta_degF"},
    ),
)
