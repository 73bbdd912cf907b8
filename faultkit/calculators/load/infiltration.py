"""Warm air through an open door: heat, moisture, and how long a door stands open."""

from __future__ import annotations

from math import cbrt, sqrt

from faultkit.calculators.air.moist import air
from faultkit.calculators.air.terms import AIR_PRESSURE, DRY_BULB, HUMIDITY, SEA_LEVEL, moved
from faultkit.calculators.arguments import Argument, Direction
from faultkit.calculators.declare import Calculator
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "FLOW_FACTOR", "INFILTRATION_CALCULATORS", "PASSAGE", "WALK_IN", "door_infiltration", "door_moisture",
    "door_open_time_factor", "open_door_flow",
]

WALK_IN = (
    "Before you work in a walk-in try its inside release and let somebody know; frost and water make its floor slick."
)

#: Flow against full flow, more than 20 °F between the sides.
FLOW_FACTOR = 0.8
#: s for one passage.
PASSAGE = 15.0
_GRAVITY = 9.80665
_GOSNEY_OLAMA = 0.221
_SOURCE = (
    "Gosney and Olama, Proc. Institute of Refrigeration 72 (1975) 31-41, the doorway equation of ASHRAE "
    "Handbook, Refrigeration, refrigerated-facility loads"
)


def open_door_flow(
    door_area: float, door_height: float, warm_air: float, warm_humidity: float, cold_air: float, cold_humidity: float,
    atmosphere: float = SEA_LEVEL,
) -> float:
    """Air that changes places through a door standing open, by the difference of weight of warm and cold air.

    Takes m², m, K and ratio of the warm side, K and ratio of the cold side, Pa; gives kg/s of dry air each way, once
    the flow is full (some seconds after opening). No wind, no pressure of fans.

    >>> flow = open_door_flow(1.859, 2.033, 299.82, 0.5, 274.82, 0.9, 101325.0)  # 3 by 6.67 ft, 80 degF to 35 degF
    >>> round(flow * 7936.6)  # lb/h
    5386
    """
    warm, cold = air(warm_air, warm_humidity, atmosphere), air(cold_air, cold_humidity, atmosphere)
    if not warm.density < cold.density:
        raise InputError(
            f"warm_air {format_si(warm_air, 'degF')} is no lighter than cold_air {format_si(cold_air, 'degF')}",
            "a warm side lighter than the cold side",
        )
    lighter = warm.density / cold.density
    factor = sqrt(2.0 / (1.0 + cbrt(1.0 / lighter))) ** 3
    return _GOSNEY_OLAMA * door_area * cold.density * sqrt((1.0 - lighter) * _GRAVITY * door_height) * factor


def door_infiltration(
    door_area: float, door_height: float, warm_air: float, warm_humidity: float, cold_air: float, cold_humidity: float,
    open_time: float, flow_factor: float = FLOW_FACTOR, effectiveness: float = 0.0, atmosphere: float = SEA_LEVEL,
) -> float:
    """Heat that comes in through a door, sensible and latent, on average over the time it is counted for.

    Takes m², m, K and ratio of the warm side, K and ratio of the cold side, three ratios for its use, and Pa; gives
    W. The share of time it is open comes from door_open_time_factor. The flow factor is 80 % with more than
    20 °F between the sides, 110 % with less, 100 % while it just stands open. Strips keep about 90 % out, an air
    curtain 50 to 80 %.

    >>> door = dict(door_area=1.859, door_height=2.033, warm_air=299.82, warm_humidity=0.5, cold_air=274.82)
    >>> q = door_infiltration(**door, cold_humidity=0.9, open_time=0.05, flow_factor=0.8, effectiveness=0.0,
    ...                       atmosphere=101325.0)
    >>> round(q / 0.293071, -1)  # Btu/h, three minutes in each hour
    4020.0
    """
    flow = open_door_flow(door_area, door_height, warm_air, warm_humidity, cold_air, cold_humidity, atmosphere)
    warm, cold = air(warm_air, warm_humidity, atmosphere), air(cold_air, cold_humidity, atmosphere)
    if not warm.enthalpy > cold.enthalpy:
        raise InputError(
            f"air of {format_si(warm_air, 'degF')} with {format_si(warm_humidity, '%')} brings no heat into "
            f"{format_si(cold_air, 'degF')} with {format_si(cold_humidity, '%')}",
            "a warm side that holds more heat than the cold side",
        )
    return flow * (warm.enthalpy - cold.enthalpy) * open_time * flow_factor * (1.0 - effectiveness)


def door_moisture(
    door_area: float, door_height: float, warm_air: float, warm_humidity: float, cold_air: float, cold_humidity: float,
    open_time: float, flow_factor: float = FLOW_FACTOR, effectiveness: float = 0.0, atmosphere: float = SEA_LEVEL,
) -> float:
    """Water that a door brings in: what the coil has to freeze or drain, on average.

    Takes the same as door_infiltration; gives kg/s.

    >>> door = dict(door_area=1.859, door_height=2.033, warm_air=299.82, warm_humidity=0.5, cold_air=255.37)
    >>> frost = door_moisture(**door, cold_humidity=0.8, open_time=0.05, flow_factor=0.8, effectiveness=0.0,
    ...                       atmosphere=101325.0)
    >>> round(frost * 7936.6, 1)  # lb/h of frost in a freezer of 0 degF
    3.1
    """
    flow = open_door_flow(door_area, door_height, warm_air, warm_humidity, cold_air, cold_humidity, atmosphere)
    warm, cold = air(warm_air, warm_humidity, atmosphere), air(cold_air, cold_humidity, atmosphere)
    gained = max(0.0, warm.humidity_ratio - cold.humidity_ratio)
    return flow * gained * open_time * flow_factor * (1.0 - effectiveness)


def door_open_time_factor(
    passages: float, period: float, time_each: float = PASSAGE, standing_open: float = 0.0
) -> float:
    """Share of the time that a door is open: passages times the time each takes, and the time it just stands open.

    Takes a count, s counted over, s from opening to closing, s standing open besides; gives a ratio.
    A hinged door takes 10 to 25 s a passage.

    >>> door_open_time_factor(passages=20, period=28800.0, time_each=15.0, standing_open=600.0)  # in a shift of 8 h
    0.03125
    """
    share = (passages * time_each + standing_open) / period
    if share > 1.0:
        raise InputError(
            f"{passages:g} passages of {format_si(time_each, 's')} and {format_si(standing_open, 'min')} standing open "
            f"are longer than {format_si(period, 'h')}",
            "times that fit into the period",
        )
    return share


_DOOR = (
    Argument("door_area", (Kind.AREA,), Direction.RISING, "opening of the door", valid=(0.05, 60.0), unit="ft2"),
    Argument("door_height", (Kind.LENGTH,), Direction.RISING, "height of the opening", valid=(0.1, 12.0), unit="ft"),
    moved(DRY_BULB, Direction.RISING, "warm_air", "air on the warm side"),
    moved(HUMIDITY, Direction.RISING, "warm_humidity", "humidity on the warm side"),
    moved(DRY_BULB, Direction.FALLING, "cold_air", "air on the cold side"),
    moved(HUMIDITY, Direction.FALLING, "cold_humidity", "humidity on the cold side"),
)
_USE = (
    Argument("open_time", (Kind.RATIO,), Direction.RISING, "share of the time it is open", valid=(0.0, 1.0), unit="%"),
    Argument(
        "flow_factor", (Kind.RATIO,), Direction.RISING, "flow against full flow",
        valid=(0.1, 1.5), unit="%", default=FLOW_FACTOR,
    ),
    Argument(
        "effectiveness", (Kind.RATIO,), Direction.FALLING, "share a curtain or vestibule keeps out",
        valid=(0.0, 1.0), unit="%", default=0.0,
    ),
)
_EXAMPLE = {
    "door_area": "20 ft2", "door_height": "6.67 ft", "warm_air": "80 degF ± 2 delta_degF",
    "warm_humidity": "50 % ± 5 points", "cold_air": "35 degF ± 1 delta_degF", "cold_humidity": "90 %",
}
_EXAMPLE_USE = {**_EXAMPLE, "open_time": "5 % ± 1 points"}

#: The calculators of this file.
INFILTRATION_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "open_door_flow", open_door_flow, (*_DOOR, moved(AIR_PRESSURE, None)),
        result=Kind.MASS_FLOW, unit="lb_per_h", source=_SOURCE, caution=WALK_IN, example=_EXAMPLE,
    ),
    Calculator(
        "door_infiltration", door_infiltration, (*_DOOR, *_USE, moved(AIR_PRESSURE, None)),
        result=Kind.POWER, unit="Btu_per_h", source=_SOURCE, caution=WALK_IN, example=_EXAMPLE_USE,
    ),
    Calculator(
        "door_moisture", door_moisture, (*_DOOR, *_USE, moved(AIR_PRESSURE, None)),
        result=Kind.MASS_FLOW, unit="lb_per_h", source=_SOURCE, caution=WALK_IN, example=_EXAMPLE_USE,
    ),
    Calculator(
        "door_open_time_factor", door_open_time_factor,
        (
            Argument("passages", (Kind.COUNT,), Direction.RISING, "times through the door", valid=(0.0, 1e5)),
            Argument("period", (Kind.TIME,), Direction.FALLING, "counted over", valid=(60.0, 1e7), unit="h"),
            Argument(
                "time_each", (Kind.TIME,), Direction.RISING, "opening to closing", valid=(0.0, 3600.0), unit="s",
                default=PASSAGE,
            ),
            Argument(
                "standing_open", (Kind.TIME,), Direction.RISING, "time it just stands open", valid=(0.0, 1e6),
                unit="min", default=0.0,
            ),
        ),
        result=Kind.RATIO, unit="%", source="ASHRAE Handbook, Refrigeration, refrigerated-facility loads (from memory)",
        example={"passages": "20 count ± 5 count", "standing_open": "10 min", "period": "8 h"},
    ),
)
