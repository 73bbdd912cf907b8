"""Airflow, capacity and temperature difference: any one of the three from the other two."""

from __future__ import annotations

from faultkit.calculators.air.moist import air
from faultkit.calculators.air.terms import AIR_PRESSURE, ASHRAE, CAUTION_FANS, DRY_BULB, HALF, SEA_LEVEL, moved
from faultkit.calculators.arguments import Argument, Direction
from faultkit.calculators.declare import Calculator
from faultkit.units import Kind

__all__ = ["AIRFLOW_CALCULATORS", "air_temperature_split", "airflow", "sensible_capacity"]


def airflow(
    capacity: float, temperature_difference: float, entering: float, relative_humidity: float = HALF,
    atmosphere: float = SEA_LEVEL,
) -> float:
    """Airflow over a coil or a heater from the heat it moves and the temperature difference of the air.

    Takes W of sensible heat, K of difference (1 °F and up), K, ratio and Pa of the air where the flow is
    counted, gives m³/s. With electric heat the watts are the capacity; over a condenser it is the heat
    rejected. At sea level and 70 °F this is Btu/h over 1.08 times the difference.

    >>> round(airflow(3516.85, 11.111, 294.26, 0.01, 101325.0) / 0.000471947)  # 12000 Btu/h, 20 degF, dry: cfm
    556
    """
    return capacity / (temperature_difference * _heat_of_a_volume(entering, relative_humidity, atmosphere))


def sensible_capacity(
    airflow: float, temperature_difference: float, entering: float, relative_humidity: float = HALF,
    atmosphere: float = SEA_LEVEL,
) -> float:
    """Sensible capacity from airflow and the temperature difference across the coil.

    Takes m³/s, K of difference, K, ratio and Pa of the air where the flow was measured, gives W. A
    wet or frosting coil moves latent heat besides.

    >>> round(sensible_capacity(0.471947, 11.111, 294.26, 0.01, 101325.0) / 0.293071, -2)  # 1000 cfm, 20 degF: Btu/h
    21600.0
    """
    return airflow * temperature_difference * _heat_of_a_volume(entering, relative_humidity, atmosphere)


def air_temperature_split(
    capacity: float, airflow: float, entering: float, relative_humidity: float = HALF,
    atmosphere: float = SEA_LEVEL,
) -> float:
    """Temperature difference that air takes on when this heat is put in or taken out.

    Takes W of sensible heat, m³/s, K, ratio and Pa of the air where the flow is counted, gives K. A
    split above it at the same capacity means less air: frost, dirt, a slow or stopped fan.

    >>> round(air_temperature_split(3516.85, 0.471947, 294.26, 0.01, 101325.0) * 1.8, 1)  # 12000 Btu/h, 1000 cfm
    11.1
    """
    return capacity / (airflow * _heat_of_a_volume(entering, relative_humidity, atmosphere))


def _heat_of_a_volume(temperature: float, relative_humidity: float, pressure: float) -> float:
    """J/(m³·K) of moist air."""
    state = air(temperature, relative_humidity, pressure)
    return state.heat_capacity / state.volume


_SPLIT = Argument(
    "temperature_difference", (Kind.TEMPERATURE_DIFFERENCE,), Direction.FALLING, "air in against air out",
    valid=(0.5, 80.0), unit="delta_degF",
)
_CAPACITY = Argument(
    "capacity", (Kind.POWER,), Direction.RISING, "sensible heat moved", valid=(1.0, 5e6), unit="Btu_per_h"
)
_FLOW = Argument("airflow", (Kind.VOLUME_FLOW,), Direction.RISING, "airflow", valid=(1e-4, 200.0), unit="cfm")
_ENTERING = moved(DRY_BULB, Direction.RISING, "entering", "air where the flow is counted")
_HALF = Argument(
    "relative_humidity", (Kind.RATIO,), None, "relative humidity of that air", valid=(0.01, 1.0),
    unit="%", default=HALF,
)
_SOURCE = f"energy balance of moist air; {ASHRAE}"


def _state(rising: Direction, falling: Direction) -> tuple[Argument, ...]:
    """Warm, moist, thin air: ``rising`` for a result that more volume makes larger."""
    return (moved(_ENTERING, rising), moved(_HALF, falling), moved(AIR_PRESSURE, falling))


#: The calculators of this file.
AIRFLOW_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "airflow", airflow, (_CAPACITY, _SPLIT, *_state(Direction.RISING, Direction.FALLING)),
        result=Kind.VOLUME_FLOW, unit="cfm", source=_SOURCE, caution=CAUTION_FANS,
        example={
            "capacity": "6000 Btu_per_h ± 5 %", "temperature_difference": "10 delta_degF ± 1 delta_degF",
            "entering": "36 degF",
        },
    ),
    Calculator(
        "sensible_capacity", sensible_capacity,
        (_FLOW, moved(_SPLIT, Direction.RISING), *_state(Direction.FALLING, Direction.RISING)),
        result=Kind.POWER, unit="Btu_per_h", source=_SOURCE, caution=CAUTION_FANS,
        example={
            "airflow": "620 cfm ± 10 %", "temperature_difference": "9 delta_degF ± 1 delta_degF", "entering": "36 degF",
        },
    ),
    Calculator(
        "air_temperature_split", air_temperature_split,
        (_CAPACITY, moved(_FLOW, Direction.FALLING), *_state(Direction.RISING, Direction.FALLING)),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_SOURCE,
        example={"capacity": "6000 Btu_per_h", "airflow": "620 cfm", "entering": "36 degF"},
    ),
)
