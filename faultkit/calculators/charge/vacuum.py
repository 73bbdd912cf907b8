"""Vacuum: its units, and what water does under it."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.air.moist import saturation, saturation_temperature
from faultkit.calculators.arguments import ATMOSPHERE, Argument, Direction, Result
from faultkit.calculators.charge.terms import VACUUM
from faultkit.calculators.declare import Calculator
from faultkit.units import Kind

__all__ = [
    "VACUUM_CALCULATORS", "VacuumReading", "WaterState", "vacuum_reading", "water_boiling_pressure",
    "water_boiling_temperature", "water_under_vacuum",
]

# Triple point of water.
_FREEZES_K, _FREEZES_PA = 273.16, 611.657
_WATER = "ASHRAE Handbook, Fundamentals (2021), ch. 1, saturation over water and ice"


@dataclass(frozen=True, slots=True)
class VacuumReading:
    """The same pressure, Pa absolute twice and Pa above the air outside, and its share of the air outside."""

    absolute: float
    depth: float
    torr: float
    share: float


@dataclass(frozen=True, slots=True)
class WaterState:
    """Words, Pa and K."""

    state: str
    boils_below: float
    boils_at: float


def vacuum_reading(pressure: float, atmosphere: float) -> VacuumReading:
    """One vacuum in the units of gauges: microns, inches of mercury below the air outside, mmHg.

    Takes Pa absolute (a gauge reading is raised by the air pressure of the site) and Pa of air.
    A compound gauge cannot show what matters: from 5000 to 500 microns it moves 0.18 inHg.

    >>> round(vacuum_reading(pressure=66.661, atmosphere=101325.0).depth / -3386.389, 2)  # 500 microns: inHg_vac
    29.9
    """
    return VacuumReading(pressure, pressure - atmosphere, pressure, pressure / atmosphere)


def water_boiling_temperature(pressure: float) -> float:
    """Temperature at which water boils at a pressure; ice below the triple point, which turns straight to vapor.

    Takes Pa absolute (1 micron to 15 psia), gives K. Water in a system boils off only where the system is
    warmer than this.

    >>> round((water_boiling_temperature(2733.1) - 255.372) * 1.8, 1)  # 20 500 microns: degF
    72.6
    """
    return saturation_temperature(pressure)


def water_boiling_pressure(temperature: float) -> float:
    """Pressure below which water boils, or ice turns to vapor, at a temperature.

    Takes K (-100 to 250 °F), gives Pa absolute: what a closed wet system settles at.

    >>> round(water_boiling_pressure(294.261) / 0.133322387)  # 70 degF: microns
    18787
    """
    return saturation(temperature)


def water_under_vacuum(pressure: float, temperature: float) -> WaterState:
    """What water inside a system does at this vacuum and temperature.

    Takes Pa absolute and K of the coldest place. Pulled down fast, water cools by its own boiling and
    freezes under insulation; ice gives off vapor only slowly: warm the place, break the vacuum with dry nitrogen.

    >>> water_under_vacuum(pressure=133.3, temperature=255.37).state  # 1000 microns, 0 degF
    'ice stays'
    """
    limit = saturation(temperature)
    if temperature < _FREEZES_K:
        state = "ice turns to vapor" if pressure < limit else "ice stays"
    elif pressure >= limit:
        state = "water stays"
    else:
        state = "water boils, and freezes as it cools" if pressure < _FREEZES_PA else "water boils"
    return WaterState(state, limit, saturation_temperature(pressure))


def _vacuum(direction: Direction | None, most: float = 110e3) -> Argument:
    return Argument(
        "pressure", (Kind.ABSOLUTE_PRESSURE,), direction, "vacuum", valid=(0.13, most), unit="micron"
    )


def _temperature(direction: Direction | None) -> Argument:
    return Argument(
        "temperature", (Kind.TEMPERATURE,), direction, "coldest place", valid=(200.0, 394.0), unit="degF"
    )


_AIR = Argument(
    ATMOSPHERE, (Kind.ABSOLUTE_PRESSURE,), None, "air pressure outside", valid=(60e3, 110e3), unit="psia",
    default=101_325.0,
)
_UP = Direction.RISING

#: The calculators of this file.
VACUUM_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "vacuum_reading", vacuum_reading, (_vacuum(None, 2e6), _AIR),
        result=(
            Result("absolute", Kind.ABSOLUTE_PRESSURE, "absolute", "micron"),
            Result("depth", Kind.GAUGE_PRESSURE, "below the air outside", "inHg_vac"),
            Result("torr", Kind.ABSOLUTE_PRESSURE, "absolute", "mmHg_abs"),
            Result("share", Kind.RATIO, "of the air outside", "%"),
        ),
        source="definition of the micron, 0.001 mmHg", caution=VACUUM, example={"pressure": "500 micron ± 10 %"},
    ),
    Calculator(
        "water_boiling_temperature", water_boiling_temperature, (_vacuum(_UP),), result=Kind.TEMPERATURE, unit="degF",
        source=_WATER, example={"pressure": "20500 micron"},
    ),
    Calculator(
        "water_boiling_pressure", water_boiling_pressure, (_temperature(_UP),), result=Kind.ABSOLUTE_PRESSURE,
        unit="micron", source=_WATER, example={"temperature": "70 degF ± 2 delta_degF"},
    ),
    Calculator(
        "water_under_vacuum", water_under_vacuum, (_vacuum(None), _temperature(None)),
        result=(
            Result("state", None, "water inside"),
            Result("boils_below", Kind.ABSOLUTE_PRESSURE, "boils below", "micron"),
            Result("boils_at", Kind.TEMPERATURE, "at this vacuum it boils at", "degF"),
        ),
        source=_WATER, caution=VACUUM, example={"pressure": "1500 micron ± 10 %", "temperature": "0 degF"},
    ),
)
