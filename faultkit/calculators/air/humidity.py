"""Humidity of air: dew point, wet bulb, humidity ratio, enthalpy, density, and back."""

from __future__ import annotations

from faultkit.calculators.air.moist import air, saturation, saturation_temperature, wet_bulb_ratio, wet_bulb_solved
from faultkit.calculators.air.terms import AIR_PRESSURE, ASHRAE, CAUTION_FANS, DRY_BULB, HUMIDITY, SEA_LEVEL, moved
from faultkit.calculators.arguments import Argument, Direction
from faultkit.calculators.declare import Calculator
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "HUMIDITY_CALCULATORS", "dew_point", "dry_air_density", "humidity_ratio", "moist_air_density",
    "moist_air_enthalpy", "relative_humidity_from_dew_point", "relative_humidity_from_wet_bulb",
    "water_vapor_pressure", "wet_bulb",
]

_ICE_K = 273.15
# Two thermometers of ±1 K side by side in saturated air may read this far the wrong way round.
_CROSSED_K = 2.0
_EPSILON = 0.621945


def water_vapor_pressure(temperature: float) -> float:
    """Saturation pressure of water vapor: over ice below the triple point (32.02 °F), over water above it.

    Takes K, -40 to 212 °F, and gives Pa absolute. What air can hold at most, and what a
    vacuum gauge sees while water is left in a circuit.

    >>> round(water_vapor_pressure(temperature=298.15), 1)  # 77 degF: 0.4597 psia
    3169.2
    """
    return saturation(temperature)


def dew_point(dry_bulb: float, relative_humidity: float) -> float:
    """Dew point of air, below 32 °F its frost point.

    Takes K (-40 to 140 °F) and a ratio (1 to 100 %), gives K. A surface colder than this
    sweats, or frosts. Below freezing the humidity counts against ice, as in the ASHRAE tables; a
    meter that counts against undercooled water shows less.

    >>> round((dew_point(dry_bulb=297.04, relative_humidity=0.5) - 255.372) * 1.8, 1)  # 75 degF, 50 %: 55.1 degF
    55.1
    """
    return saturation_temperature(air(dry_bulb, relative_humidity, 1e6).vapor_pressure)


def relative_humidity_from_dew_point(dry_bulb: float, dew_point: float) -> float:
    """Relative humidity of air from its temperature and its dew (frost) point.

    Takes K, dry bulb -40 to 140 °F, and gives a ratio. A dew point up to 3.6 °F above the dry
    bulb is instrument error in saturated air and gives 100 %; further above is an error.

    >>> round(relative_humidity_from_dew_point(dry_bulb=297.04, dew_point=285.99), 3)  # 75 degF, 55.1 degF
    0.5
    """
    _not_crossed(dry_bulb, dew_point, "dew point")
    return min(1.0, saturation(dew_point) / saturation(dry_bulb))


def relative_humidity_from_wet_bulb(dry_bulb: float, wet_bulb: float, atmosphere: float = SEA_LEVEL) -> float:
    """Relative humidity of air from dry bulb and wet bulb.

    Takes K (dry bulb to 140 °F, wet bulb 32 °F and up: below it the wick ices and the reading
    means two things) and the air pressure (Pa), gives a ratio. The wet bulb of a sling or a fan-blown
    wick, with air of 600 ft/min or more over it.

    >>> round(relative_humidity_from_wet_bulb(dry_bulb=310.93, wet_bulb=291.48, atmosphere=101325.0), 3)  # 100/65 degF
    0.128
    """
    _not_crossed(dry_bulb, wet_bulb, "wet bulb")
    ratio = wet_bulb_ratio(dry_bulb, min(wet_bulb, dry_bulb), atmosphere, iced=False)
    if ratio <= 0.0:
        raise InputError(
            f"no air of {format_si(dry_bulb, 'degF')} shows a wet bulb as low as {format_si(wet_bulb, 'degF')}",
            "a wet bulb nearer to the dry bulb: is the wick wet?",
        )
    return min(1.0, atmosphere * ratio / (_EPSILON + ratio) / saturation(dry_bulb))


def wet_bulb(dry_bulb: float, relative_humidity: float, atmosphere: float = SEA_LEVEL) -> float:
    """Thermodynamic wet bulb of air; below freezing that of an iced wick.

    Takes K (-40 to 140 °F), a ratio (1 to 100 %) and the air pressure (Pa), gives K. Where the wick can
    be either wet or iced it is taken as wet.

    >>> round((wet_bulb(310.93, 0.1283, 101325.0) - 255.372) * 1.8, 1)  # 100 degF, 12.8 %: 65 degF
    65.0
    """
    return wet_bulb_solved(air(dry_bulb, relative_humidity, atmosphere), atmosphere)


def humidity_ratio(dry_bulb: float, relative_humidity: float, atmosphere: float = SEA_LEVEL) -> float:
    """Water in the air by weight of dry air (1 % is 70 grains a pound).

    Takes K (-40 to 140 °F), a ratio (1 to 100 %) and the air pressure (Pa), gives kg of vapor
    by kg of dry air. Reads 0.4 to 0.7 % low: vapor and air are taken as perfect gases.

    >>> round(humidity_ratio(dry_bulb=297.04, relative_humidity=0.5, atmosphere=101325.0), 5)  # 75 degF, 50 %
    0.00924
    """
    return air(dry_bulb, relative_humidity, atmosphere).humidity_ratio


def moist_air_enthalpy(dry_bulb: float, relative_humidity: float, atmosphere: float = SEA_LEVEL) -> float:
    """Heat content of air by weight of its dry air, counted from dry air and liquid water at 32 °F.

    Takes K (-40 to 140 °F), a ratio (1 to 100 %) and the air pressure (Pa), gives J/kg. Charts in
    Btu/lb count dry air from 0 °F and read about 7.7 Btu/lb more: use differences of two values from here.

    >>> round(moist_air_enthalpy(dry_bulb=313.15, relative_humidity=0.14, atmosphere=101325.0) / 1000, 1)  # kJ/kg
    56.7
    """
    return air(dry_bulb, relative_humidity, atmosphere).enthalpy


def moist_air_density(dry_bulb: float, relative_humidity: float, atmosphere: float = SEA_LEVEL) -> float:
    """Density of moist air, vapor included.

    Takes K (-40 to 140 °F), a ratio (1 to 100 %) and the air pressure (Pa), gives kg/m³. What moves
    through an open door, and what a fan moves by the pound.

    >>> round(moist_air_density(dry_bulb=294.26, relative_humidity=0.5, atmosphere=101325.0), 3)  # 70 degF
    1.194
    """
    return air(dry_bulb, relative_humidity, atmosphere).density


def dry_air_density(dry_bulb: float, relative_humidity: float, atmosphere: float = SEA_LEVEL) -> float:
    """Weight of the dry air in a volume of moist air: one over the specific volume of the charts.

    Takes K (-40 to 140 °F), a ratio (1 to 100 %) and the air pressure (Pa), gives kg/m³. Turns an airflow into
    the pounds that enthalpy and humidity ratio are counted by.

    >>> round(1 / dry_air_density(dry_bulb=303.15, relative_humidity=0.5, atmosphere=101325.0), 3)  # m3/kg
    0.877
    """
    return 1.0 / air(dry_bulb, relative_humidity, atmosphere).volume


def _not_crossed(dry_bulb: float, other: float, name: str) -> None:
    if other > dry_bulb + _CROSSED_K:
        raise InputError(
            f"{name} {format_si(other, 'degF')} is above the dry bulb {format_si(dry_bulb, 'degF')}",
            f"a {name} no higher than the dry bulb",
        )


_WET_BULB = Argument(
    "wet_bulb", (Kind.TEMPERATURE,), Direction.RISING, "reading of the wet bulb", valid=(_ICE_K, 333.15), unit="degF"
)
_DEW_POINT = Argument(
    "dew_point", (Kind.TEMPERATURE,), Direction.RISING, "dew or frost point", valid=(193.15, 333.15), unit="degF"
)
_STATE = {"dry_bulb": "75 degF ± 1 delta_degF", "relative_humidity": "55 % ± 3 points"}
_SINKING = (moved(DRY_BULB, Direction.FALLING), moved(HUMIDITY, Direction.FALLING))

#: The calculators of this file.
HUMIDITY_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "water_vapor_pressure", water_vapor_pressure,
        (Argument(
            "temperature", (Kind.TEMPERATURE,), Direction.RISING, "temperature of the water or ice",
            valid=(233.15, 373.15), unit="degF",
        ),),
        result=Kind.ABSOLUTE_PRESSURE, unit="psia",
        source="Hyland and Wexler, ASHRAE Transactions 89(2A), 1983, as equations 5 and 6 of ASHRAE Fundamentals ch. 1",
        example={"temperature": "72 degF"},
    ),
    Calculator(
        "dew_point", dew_point, (DRY_BULB, HUMIDITY), result=Kind.TEMPERATURE, unit="degF", source=ASHRAE,
        example=_STATE,
    ),
    Calculator(
        "relative_humidity_from_dew_point", relative_humidity_from_dew_point,
        (moved(DRY_BULB, Direction.FALLING), _DEW_POINT),
        result=Kind.RATIO, unit="%", source=ASHRAE, example={"dry_bulb": "75 degF", "dew_point": "57.8 degF"},
    ),
    Calculator(
        "relative_humidity_from_wet_bulb", relative_humidity_from_wet_bulb,
        (moved(DRY_BULB, Direction.FALLING), _WET_BULB, AIR_PRESSURE),
        result=Kind.RATIO, unit="%", source=ASHRAE, caution=CAUTION_FANS,
        example={"dry_bulb": "75.2 degF ± 0.5 delta_degF", "wet_bulb": "64.4 degF ± 0.5 delta_degF"},
    ),
    Calculator(
        "wet_bulb", wet_bulb, (DRY_BULB, HUMIDITY, moved(AIR_PRESSURE, Direction.RISING)),
        result=Kind.TEMPERATURE, unit="degF", source=ASHRAE, example=_STATE,
    ),
    Calculator(
        "humidity_ratio", humidity_ratio, (DRY_BULB, HUMIDITY, AIR_PRESSURE),
        result=Kind.RATIO, unit="%", source=ASHRAE, example=_STATE,
    ),
    Calculator(
        "moist_air_enthalpy", moist_air_enthalpy, (DRY_BULB, HUMIDITY, AIR_PRESSURE),
        result=Kind.SPECIFIC_ENERGY, unit="Btu_per_lb", source=ASHRAE, example=_STATE,
    ),
    Calculator(
        "moist_air_density", moist_air_density, (*_SINKING, moved(AIR_PRESSURE, Direction.RISING)),
        result=Kind.DENSITY, unit="lb_per_ft3", source=ASHRAE, example=_STATE,
    ),
    Calculator(
        "dry_air_density", dry_air_density, (*_SINKING, moved(AIR_PRESSURE, Direction.RISING)),
        result=Kind.DENSITY, unit="lb_per_ft3", source=ASHRAE, example=_STATE,
    ),
)
