"""Cooling and warming of one lump: temperature after a time, time to a temperature, and the time constant."""

from __future__ import annotations

from math import exp, log

from faultkit.calculators.arguments import Argument, Direction
from faultkit.calculators.declare import Calculator
from faultkit.calculators.load.infiltration import WALK_IN
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "COOLING_CALCULATORS", "product_time_constant", "pull_down_rate", "pull_down_time", "temperature_after",
    "time_constant_of_two_readings", "warm_up_time",
]

_HOUR = 3600.0
_LUMPED = "Newton's law of cooling for a body of one temperature"


def pull_down_rate(first: float, second: float, elapsed: float) -> float:
    """Fall of the temperature in one hour, from two readings.

    Takes K, K and s between them; gives K an hour, below zero where it rises. The rate falls off as the box
    gets colder: compare it at the same temperature.

    >>> round(pull_down_rate(first=294.26, second=291.48, elapsed=1200.0) * 1.8, 1)  # 70 to 65 degF in 20 min
    15.0
    """
    return (first - second) / elapsed * _HOUR


def temperature_after(start: float, settles_at: float, time_constant: float, elapsed: float) -> float:
    """Temperature after a time of cooling or warming toward the temperature it settles at.

    Takes K, K, s, s; gives K. For one lump of product or a box with the doors shut; the middle of a thick
    piece lags behind.

    >>> round((temperature_after(275.37, 297.04, 36000.0, 14400.0) - 255.372) * 1.8, 1)  # 36 degF pan in 75 degF: 4 h
    48.9
    """
    return settles_at + (start - settles_at) * exp(-elapsed / time_constant)


def pull_down_time(start: float, set_point: float, settles_at: float, time_constant: float) -> float:
    """Time to come down from one temperature to another, with a known time constant.

    Takes K, K, K (below the set point) and s; gives s.

    >>> round(pull_down_time(294.26, 278.15, 274.82, 10800.0) / 3600, 2)  # 70 to 41 degF, settles at 35 degF, 3 h
    5.29
    """
    if not settles_at < set_point <= start:
        raise InputError(
            f"set_point {format_si(set_point, 'degF')} is not between {format_si(settles_at, 'degF')}, where it "
            f"settles, and {format_si(start, 'degF')}, where it starts",
            "a set point it reaches",
        )
    return time_constant * log((start - settles_at) / (set_point - settles_at))


def time_constant_of_two_readings(first: float, second: float, settles_at: float, elapsed: float) -> float:
    """Time constant from two readings and the temperature it settles at.

    Takes K, K, K and s between the readings, which both stand on one side of where it settles, the second nearer;
    gives s. For more than two readings pull_down fits all three constants.

    >>> round(time_constant_of_two_readings(294.26, 278.15, 274.82, 19044.0) / 3600, 1)  # h
    3.0
    """
    start, end = first - settles_at, second - settles_at
    if not (start > end > 0.0 or start < end < 0.0):
        raise InputError(
            f"readings {format_si(first, 'degF')} and {format_si(second, 'degF')} do not come nearer to "
            f"{format_si(settles_at, 'degF')} from one side",
            "a second reading between the first and where it settles",
        )
    return elapsed / log(start / end)


def product_time_constant(mass: float, specific_heat: float, area: float, heat_transfer: float) -> float:
    """Time constant of product that takes or gives heat through its surface.

    Takes kg, J/(kg·K), m² and W/(m²·K); gives s. Still air moves 5 to 8 W/(m²·K) (1 to 1.5 Btu/(h·ft²·°F)), fans
    15 to 25. Only for product without ice, and thin enough to be of one temperature.

    >>> round(product_time_constant(2.0, 3600.0, 0.08, 7.0) / 3600, 1)  # a 4.4 lb pan, open to the room: h
    3.6
    """
    return mass * specific_heat / (area * heat_transfer)


def warm_up_time(start: float, limit: float, room: float, time_constant: float) -> float:
    """Time until cold product has warmed to a limit, in a room or a box that has stopped.

    Takes K, K, K (above the limit) and s; gives s, 0 where it is over the limit already.

    >>> round(warm_up_time(275.37, 278.15, 297.04, 36000.0) / 3600, 2)  # 36 to 41 degF in a room of 75 degF, 10 h
    1.37
    """
    if start >= limit:
        return 0.0
    if not limit < room:
        raise InputError(
            f"limit {format_si(limit, 'degF')} is not below the room {format_si(room, 'degF')}: it is never passed",
            "a room warmer than the limit",
        )
    return time_constant * log((room - start) / (room - limit))


def _temperature(name: str, direction: Direction | None, title: str) -> Argument:
    return Argument(name, (Kind.TEMPERATURE,), direction, title, valid=(223.15, 373.15), unit="degF")


def _time(name: str, direction: Direction, title: str, unit: str = "h") -> Argument:
    return Argument(name, (Kind.TIME,), direction, title, valid=(1.0, 3e7), unit=unit)


_FIRST, _SECOND = "first reading", "second reading"
_TAU = "time in which it comes 63 % nearer"

#: The calculators of this file.
COOLING_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "pull_down_rate", pull_down_rate,
        (
            _temperature("first", Direction.RISING, _FIRST), _temperature("second", Direction.FALLING, _SECOND),
            _time("elapsed", Direction.EITHER, "time between them", "min"),
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source="follows from the definition", caution=WALK_IN,
        example={
            "first": "70 degF ± 0.5 delta_degF", "second": "65 degF ± 0.5 delta_degF", "elapsed": "20 min",
        },
    ),
    Calculator(
        "temperature_after", temperature_after,
        (
            _temperature("start", Direction.RISING, "temperature now"),
            _temperature("settles_at", Direction.RISING, "temperature it settles at"),
            _time("time_constant", Direction.EITHER, _TAU), _time("elapsed", Direction.EITHER, "time from now"),
        ),
        result=Kind.TEMPERATURE, unit="degF", source=_LUMPED,
        example={"start": "36 degF", "settles_at": "75 degF", "time_constant": "10 h ± 20 %", "elapsed": "4 h"},
    ),
    Calculator(
        "pull_down_time", pull_down_time,
        (
            _temperature("start", Direction.RISING, "temperature now"),
            _temperature("set_point", Direction.FALLING, "temperature wanted"),
            _temperature("settles_at", Direction.RISING, "temperature it settles at"),
            _time("time_constant", Direction.RISING, _TAU),
        ),
        result=Kind.TIME, unit="h", source=_LUMPED, caution=WALK_IN,
        example={
            "start": "70 degF", "set_point": "41 degF", "settles_at": "35 degF ± 1 delta_degF", "time_constant": "3 h",
        },
    ),
    Calculator(
        "time_constant_of_two_readings", time_constant_of_two_readings,
        (
            _temperature("first", Direction.EITHER, _FIRST), _temperature("second", Direction.EITHER, _SECOND),
            _temperature("settles_at", Direction.EITHER, "temperature it settles at"),
            _time("elapsed", Direction.RISING, "time between them", "min"),
        ),
        result=Kind.TIME, unit="h", source=_LUMPED,
        example={
            "first": "70 degF ± 0.5 delta_degF", "second": "52 degF ± 0.5 delta_degF", "settles_at": "35 degF",
            "elapsed": "120 min",
        },
    ),
    Calculator(
        "product_time_constant", product_time_constant,
        (
            Argument("mass", (Kind.MASS,), Direction.RISING, "product", valid=(1e-3, 1e5), unit="lb"),
            Argument(
                "specific_heat", (Kind.SPECIFIC_HEAT,), Direction.RISING, "specific heat",
                valid=(500.0, 4300.0), unit="Btu_per_lb_degF",
            ),
            Argument("area", (Kind.AREA,), Direction.FALLING, "surface", valid=(1e-4, 1e4), unit="ft2"),
            Argument(
                "heat_transfer", (Kind.HEAT_TRANSFER,), Direction.FALLING, "film coefficient",
                valid=(0.5, 500.0), unit="Btu_per_h_ft2_degF",
            ),
        ),
        result=Kind.TIME, unit="h", source=_LUMPED,
        example={
            "mass": "4.4 lb", "specific_heat": "0.86 Btu_per_lb_degF", "area": "0.86 ft2",
            "heat_transfer": "1.2 Btu_per_h_ft2_degF ± 20 %",
        },
    ),
    Calculator(
        "warm_up_time", warm_up_time,
        (
            _temperature("start", Direction.FALLING, "temperature of the product"),
            _temperature("limit", Direction.RISING, "temperature it must not pass"),
            _temperature("room", Direction.FALLING, "air around it"), _time("time_constant", Direction.RISING, _TAU),
        ),
        result=Kind.TIME, unit="h", source=_LUMPED,
        example={
            "start": "36 degF ± 1 delta_degF", "limit": "41 degF", "room": "75 degF", "time_constant": "10 h ± 20 %",
        },
    ),
)
