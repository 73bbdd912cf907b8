"""What a coil takes out of the air: total, sensible and latent capacity, water or frost, sensible heat ratio."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.air.moist import Air, air, condensation_heat
from faultkit.calculators.air.terms import AIR_PRESSURE, ASHRAE, CAUTION_FANS, DRY_BULB, HUMIDITY, SEA_LEVEL, moved
from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.problems import InputError, Problem
from faultkit.units import Kind, format_si

__all__ = [
    "COIL_CALCULATORS", "CoilCapacity", "coil_capacity", "coil_moisture_removed", "coil_sensible_capacity",
    "coil_sensible_heat_ratio", "coil_total_capacity",
]

# Two hygrometers of ±3 points see more water in drier air than this only by their error.
_GAINED = 0.02


@dataclass(frozen=True, slots=True)
class CoilCapacity:
    """W, W, W, ratio, kg/s of water or frost."""

    total: float
    sensible: float
    latent: float
    sensible_heat_ratio: float
    water: float


def coil_capacity(
    airflow: float, air_in: float, humidity_in: float, air_out: float, humidity_out: float,
    atmosphere: float = SEA_LEVEL,
) -> CoilCapacity:
    """Capacity of a cooling coil from the air that enters and leaves it.

    Takes m³/s of entering air, K and ratios of entering and leaving air, Pa. Total is what the
    refrigerant takes up, the heat of condensing and below freezing of frosting included; sensible is what
    cools the air. Without the fan motor: measure the air out before the fan, or add its watts.

    >>> c = coil_capacity(5.0, 303.15, 0.5, 283.15, 1.0, 101325.0)  # 86 degF, 50 % to saturated 50 degF, 10600 cfm
    >>> round(c.total / 1000), round(c.sensible_heat_ratio, 2)
    (198, 0.59)
    """
    before, after, flow = _states(airflow, air_in, humidity_in, air_out, humidity_out, atmosphere)
    # Air that seems to have gained water has only been read so: it went through dry.
    water = flow * max(0.0, before.humidity_ratio - after.humidity_ratio)
    sensible = flow * before.heat_capacity * (before.temperature - after.temperature)
    latent = water * condensation_heat(after.temperature)
    return CoilCapacity(sensible + latent, sensible, latent, sensible / (sensible + latent), water)


def coil_total_capacity(
    airflow: float, air_in: float, humidity_in: float, air_out: float, humidity_out: float,
    atmosphere: float = SEA_LEVEL,
) -> float:
    """Total capacity of a cooling coil, sensible and latent, from the air that enters and leaves it.

    Takes m³/s of entering air, K and ratios of entering and leaving air, Pa; gives W.

    >>> round(coil_total_capacity(5.0, 303.15, 0.5, 283.15, 1.0, 101325.0) / 1000)  # kW
    198
    """
    return coil_capacity(airflow, air_in, humidity_in, air_out, humidity_out, atmosphere).total


def coil_sensible_capacity(
    airflow: float, air_in: float, humidity_in: float, air_out: float, atmosphere: float = SEA_LEVEL
) -> float:
    """Sensible capacity of a cooling coil from the temperatures that enter and leave it.

    Takes m³/s of entering air, K and ratio of the entering air, K of the leaving air, Pa; gives W.

    >>> round(coil_sensible_capacity(5.0, 303.15, 0.5, 283.15, 101325.0) / 1000)  # kW
    118
    """
    before = air(air_in, humidity_in, atmosphere)
    _cooled(air_in, air_out)
    return airflow / before.volume * before.heat_capacity * (air_in - air_out)


def coil_sensible_heat_ratio(
    air_in: float, humidity_in: float, air_out: float, humidity_out: float, atmosphere: float = SEA_LEVEL
) -> float:
    """Share of a coil's capacity that cools the air; the rest takes water out of it.

    Takes K and ratios of entering and leaving air, Pa; gives a ratio, 1 for a dry coil. A low one in a
    cooler means wet air coming in: a door, a gasket, hot wet product.

    >>> round(coil_sensible_heat_ratio(275.37, 0.85, 270.93, 0.95, 101325.0), 2)  # 36 degF to 28 degF
    0.67
    """
    return coil_capacity(1.0, air_in, humidity_in, air_out, humidity_out, atmosphere).sensible_heat_ratio


def coil_moisture_removed(
    airflow: float, air_in: float, humidity_in: float, air_out: float, humidity_out: float,
    atmosphere: float = SEA_LEVEL,
) -> float:
    """Water or frost that a coil takes out of the air in a time.

    Takes m³/s of entering air, K and ratios of entering and leaving air, Pa; gives kg/s. Below
    32 °F coil it is the frost that the next defrost has to melt.

    >>> round(coil_moisture_removed(5.0, 303.15, 0.5, 283.15, 1.0, 101325.0) * 1000)  # g/s
    32
    """
    return coil_capacity(airflow, air_in, humidity_in, air_out, humidity_out, atmosphere).water


def _states(
    airflow: float, air_in: float, humidity_in: float, air_out: float, humidity_out: float, atmosphere: float
) -> tuple[Air, Air, float]:
    """Entering and leaving air, and kg/s of dry air."""
    before, after = air(air_in, humidity_in, atmosphere), air(air_out, humidity_out, atmosphere)
    problems: list[Problem] = []
    try:
        _cooled(air_in, air_out)
    except InputError as fault:
        problems += fault.problems
    if after.humidity_ratio > before.humidity_ratio * (1.0 + _GAINED) + 1e-4:
        problems.append(Problem(
            f"the leaving air holds more water ({after.humidity_ratio:.2%} of its weight) than the entering air "
            f"({before.humidity_ratio:.2%})",
            "a drier leaving air: were the two hygrometers compared side by side?",
        ))
    if problems:
        raise InputError(problems)
    return before, after, airflow / before.volume


def _cooled(air_in: float, air_out: float) -> None:
    if not air_out < air_in:
        raise InputError(
            f"air_out {format_si(air_out, 'degF')} is not below air_in {format_si(air_in, 'degF')}", "a coil that cools"
        )


_FLOW = Argument(
    "airflow", (Kind.VOLUME_FLOW,), Direction.RISING, "flow of the entering air", valid=(1e-4, 200.0), unit="cfm"
)
_IN = (
    moved(DRY_BULB, None, "air_in", "entering air"),
    moved(HUMIDITY, None, "humidity_in", "humidity of the entering air"),
)
_OUT = (
    moved(DRY_BULB, None, "air_out", "leaving air"),
    moved(HUMIDITY, None, "humidity_out", "humidity of the leaving air"),
)
_PRESSURE = moved(AIR_PRESSURE, None)
_COIL = (_FLOW, *_IN, *_OUT, _PRESSURE)
_SOURCE = f"energy balance of the air with its condensate, {ASHRAE}, equations 42 and 43"
_STATES = {"air_in": "36 degF", "humidity_in": "85 %", "air_out": "28 degF", "humidity_out": "95 %"}
_EXAMPLE = {"airflow": "620 cfm ± 10 %", **_STATES}

#: The calculators of this file.
COIL_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "coil_capacity", coil_capacity, _COIL,
        result=(
            Result("total", Kind.POWER, "taken up by the coil", "Btu_per_h"),
            Result("sensible", Kind.POWER, "cools the air", "Btu_per_h"),
            Result("latent", Kind.POWER, "takes water out of it", "Btu_per_h"),
            Result("sensible_heat_ratio", Kind.RATIO, "sensible share", "%"),
            Result("water", Kind.MASS_FLOW, "water or frost", "lb_per_h"),
        ),
        source=_SOURCE, caution=CAUTION_FANS, example=_EXAMPLE,
    ),
    Calculator(
        "coil_total_capacity", coil_total_capacity, _COIL,
        result=Kind.POWER, unit="Btu_per_h", source=_SOURCE, caution=CAUTION_FANS, example=_EXAMPLE,
    ),
    Calculator(
        "coil_sensible_capacity", coil_sensible_capacity,
        (
            _FLOW, moved(_IN[0], Direction.RISING), moved(_IN[1], Direction.RISING),
            moved(_OUT[0], Direction.FALLING), moved(_PRESSURE, Direction.RISING),
        ),
        result=Kind.POWER, unit="Btu_per_h", source=f"energy balance of moist air; {ASHRAE}", caution=CAUTION_FANS,
        example={"airflow": "620 cfm ± 10 %", "air_in": "36 degF", "humidity_in": "85 %", "air_out": "28 degF"},
    ),
    Calculator(
        "coil_sensible_heat_ratio", coil_sensible_heat_ratio, (*_IN, *_OUT, _PRESSURE),
        result=Kind.RATIO, unit="%", source=_SOURCE, caution=CAUTION_FANS, example=_STATES,
    ),
    Calculator(
        "coil_moisture_removed", coil_moisture_removed, _COIL,
        result=Kind.MASS_FLOW, unit="lb_per_h", source=_SOURCE, caution=CAUTION_FANS, example=_EXAMPLE,
    ),
)
