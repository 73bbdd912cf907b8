"""The calculators of this folder."""

from __future__ import annotations

from faultkit.calculators.arguments import ATMOSPHERE, Argument, Column, Direction, Result, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import circuit, facts
from faultkit.calculators.refrigerants.saturation import REFRIGERANT
from faultkit.units import Kind

__all__ = ["REFRIGERANTS"]

_UP, _DOWN = Direction.RISING, Direction.FALLING
_FITS = "saturation fitted to CoolProp's equations of state (errors in EVIDENCE.md)"
_GAUGES = (
    "Gauges and hoses on a live circuit: gloves and glasses, certified persons only; mind fans that start by "
    "themselves and hot discharge lines; local codes and licensed practice rule."
)
_HIGHEST_PA = 1.0e7


def _temperature(name: str, title: str, direction: Direction | None = _UP) -> Argument:
    return Argument(name, (Kind.TEMPERATURE,), direction, title, valid=(150.0, 500.0), unit="degF")


def _pressure(name: str, title: str, direction: Direction | None = _UP) -> Argument:
    # A full vacuum has no saturation temperature: the fits say where they begin.
    return Argument(
        name, (Kind.ABSOLUTE_PRESSURE,), direction, title, valid=(1.0, _HIGHEST_PA), unit="psig"
    )


_POINT = Word("point", ("dew", "bubble", "mean"), "point of the glide that counts as saturation", default="dew")
_AIR = Argument(
    ATMOSPHERE, (Kind.ABSOLUTE_PRESSURE,), None, "air pressure outside", valid=(60e3, 110e3), unit="psia",
    default=101_325.0,
)


#: Refrigerant properties and what follows from gauge and thermometer.
REFRIGERANTS: tuple[Calculator, ...] = (
    Calculator(
        "dew_pressure", circuit.dew_pressure, (_temperature("temperature", "saturation temperature"), REFRIGERANT),
        result=Kind.ABSOLUTE_PRESSURE, unit="psig", source=_FITS,
        example={"temperature": "25 degF", "refrigerant": "R-134a"},
    ),
    Calculator(
        "bubble_pressure", circuit.bubble_pressure,
        (_temperature("temperature", "saturation temperature"), REFRIGERANT),
        result=Kind.ABSOLUTE_PRESSURE, unit="psig", source=_FITS,
        example={"temperature": "105 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "dew_temperature", circuit.dew_temperature, (_pressure("pressure", "pressure"), REFRIGERANT),
        result=Kind.TEMPERATURE, unit="degF", source=_FITS, caution=_GAUGES,
        example={"pressure": "33 psig", "refrigerant": "R-134a"},
    ),
    Calculator(
        "bubble_temperature", circuit.bubble_temperature, (_pressure("pressure", "pressure"), REFRIGERANT),
        result=Kind.TEMPERATURE, unit="degF", source=_FITS, caution=_GAUGES,
        example={"pressure": "254 psig", "refrigerant": "R-404A"},
    ),
    Calculator(
        "glide", circuit.glide, (_pressure("pressure", "pressure", None), REFRIGERANT),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_FITS,
        example={"pressure": "44 psig", "refrigerant": "R-448A"},
    ),
    Calculator(
        "superheat", circuit.superheat,
        (
            _pressure("suction_pressure", "pressure where the pipe is measured", _DOWN),
            _temperature("line_temperature", "pipe, insulated from the air"), REFRIGERANT,
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", caution=_GAUGES,
        source="follows from the definition; " + _FITS,
        example={
            "suction_pressure": "22.1 psig ± 0.5 psi", "line_temperature": "35 degF ± 1 delta_degF",
            "refrigerant": "R-134a",
        },
    ),
    Calculator(
        "subcooling", circuit.subcooling,
        (
            _pressure("liquid_pressure", "pressure where the pipe is measured"),
            _temperature("line_temperature", "pipe, insulated from the air", _DOWN), REFRIGERANT,
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", caution=_GAUGES,
        source="follows from the definition; " + _FITS,
        example={
            "liquid_pressure": "254 psig ± 2 psi", "line_temperature": "95 degF ± 1 delta_degF",
            "refrigerant": "R-404A",
        },
    ),
    Calculator(
        "subcooling_lost", circuit.subcooling_lost,
        (
            Argument(
                "pressure_drop", (Kind.PRESSURE_DIFFERENCE,), _UP, "drop along the line", valid=(0.0, 2e6), unit="psi"
            ),
            _pressure("liquid_pressure", "pressure before the drop", None), REFRIGERANT,
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source="follows from the definition; " + _FITS,
        example={"pressure_drop": "10 psi", "liquid_pressure": "254 psig", "refrigerant": "R-404A"},
    ),
    Calculator(
        "compression_ratio", circuit.compression_ratio,
        (_pressure("discharge_pressure", "discharge"), _pressure("suction_pressure", "suction", _DOWN)),
        result=Kind.COUNT, source="follows from the definition", caution=_GAUGES,
        example={"discharge_pressure": "252 psig", "suction_pressure": "16 psig"},
    ),
    Calculator(
        "evaporator_temperature_difference", circuit.evaporator_temperature_difference,
        (
            _temperature("air_temperature", "air entering the coil"),
            _pressure("suction_pressure", "pressure at the coil's outlet", _DOWN), REFRIGERANT, _POINT,
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", caution=_GAUGES,
        source="dew point as in AHRI Standard 420 (from memory); " + _FITS,
        example={"air_temperature": "35 degF", "suction_pressure": "62 psig", "refrigerant": "R-404A"},
    ),
    Calculator(
        "condenser_split", circuit.condenser_split,
        (
            _pressure("discharge_pressure", "pressure at the condenser"),
            _temperature("air_temperature", "air entering the condenser", _DOWN), REFRIGERANT, _POINT,
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", caution=_GAUGES,
        source="dew point as in AHRI Standard 460 (from memory); " + _FITS,
        example={"discharge_pressure": "252 psig", "air_temperature": "85 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "non_condensable_pressure", circuit.non_condensable_pressure,
        (
            _pressure("rest_pressure", "head pressure, unit at rest"),
            _temperature("coil_temperature", "condenser, come to its surroundings", _DOWN), REFRIGERANT,
        ),
        result=Kind.PRESSURE_DIFFERENCE, unit="psi", caution=_GAUGES,
        source="Dalton's law of partial pressures; " + _FITS,
        example={"rest_pressure": "92 psig", "coil_temperature": "75 degF", "refrigerant": "R-134a"},
    ),
    Calculator(
        "liquid_density", circuit.liquid_density, (_temperature("temperature", "liquid", _DOWN), REFRIGERANT),
        result=Kind.DENSITY, unit="lb_per_ft3", source=_FITS,
        example={"temperature": "77 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "vapor_density", circuit.vapor_density, (_temperature("temperature", "saturated vapor"), REFRIGERANT),
        result=Kind.DENSITY, unit="lb_per_ft3", source=_FITS,
        example={"temperature": "20 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "latent_heat", circuit.latent_heat, (_temperature("temperature", "bubble point", _DOWN), REFRIGERANT),
        result=Kind.SPECIFIC_ENERGY, unit="Btu_per_lb", source=_FITS,
        example={"temperature": "20 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "liquid_column_pressure", circuit.liquid_column_pressure,
        (
            Argument("height", (Kind.LENGTH,), _UP, "height of the column", valid=(0.0, 100.0), unit="ft"),
            _temperature("temperature", "liquid", _DOWN), REFRIGERANT,
        ),
        result=Kind.PRESSURE_DIFFERENCE, unit="psi", source="hydrostatics; " + _FITS,
        example={"height": "20 ft", "temperature": "100 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "discharge_temperature", circuit.discharge_temperature,
        (
            _pressure("suction_pressure", "suction", _DOWN), _temperature("suction_temperature", "suction gas"),
            _pressure("discharge_pressure", "discharge"), REFRIGERANT,
            Argument(
                "efficiency", (Kind.RATIO,), _DOWN, "isentropic efficiency", valid=(0.2, 1.0), unit="%",
                default=0.65,
            ),
        ),
        result=Kind.TEMPERATURE, unit="degF", caution=_GAUGES,
        source="definition of isentropic efficiency, with CoolProp's equations of state; 65 % common practice",
        example={
            "suction_pressure": "16 psig", "suction_temperature": "40 degF", "discharge_pressure": "252 psig",
            "refrigerant": "R-404A", "efficiency": "65 %",
        },
    ),
    Calculator(
        "refrigerant_facts", facts.refrigerant_facts, (REFRIGERANT,),
        result=(
            Result("safety_class", None, "safety class"), Result("composition", None, "composition by mass"),
            Result("caution", None, "caution"),
            Result("boils_at", Kind.TEMPERATURE, "begins to boil at sea level", "degF"),
            Result("dew_at", Kind.TEMPERATURE, "has boiled away at sea level", "degF"),
            Result("glide", Kind.TEMPERATURE_DIFFERENCE, "glide at sea level", "delta_degF"),
            Result("coldest", Kind.TEMPERATURE, "fits begin", "degF"),
            Result("hottest", Kind.TEMPERATURE, "fits end", "degF"),
        ),
        source="ANSI/ASHRAE Standard 34 (from memory); " + _FITS, example={"refrigerant": "R-454C"},
    ),
    Calculator(
        "pressure_table", facts.pressure_table,
        (
            REFRIGERANT, _temperature("coldest", "first row", None), _temperature("hottest", "last row", None),
            Argument(
                "step", (Kind.TEMPERATURE_DIFFERENCE,), None, "between rows", valid=(0.01, 100.0), unit="delta_degF",
                default=5.0 / 1.8,
            ),
            _AIR,
        ),
        result=(Result("rows", None, "pressure-temperature table", columns=(
            Column("temperature", Kind.TEMPERATURE, "temperature", "degF"),
            Column("bubble", Kind.GAUGE_PRESSURE, "bubble point", "psig"),
            Column("dew", Kind.GAUGE_PRESSURE, "dew point", "psig"),
        )),),
        source=_FITS, example={"refrigerant": "R-404A", "coldest": "-40 degF", "hottest": "120 degF"},
    ),
)
