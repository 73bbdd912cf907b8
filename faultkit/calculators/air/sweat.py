"""Sweating doors and panels: how cold the outside gets, and at what humidity water forms on it."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.air.humidity import dew_point
from faultkit.calculators.air.moist import saturation
from faultkit.calculators.air.terms import BOX, CAUTION_FLOOR, FILM, HUMIDITY, ROOM, STILL_AIR, U_VALUE, moved
from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "SWEAT_CALCULATORS", "SweatingSurface", "outside_surface_temperature", "surface_dew_point_margin",
    "sweat_margin", "sweating_humidity", "sweating_surface",
]

_ICE_K = 273.15
_SOURCE = (
    "steady heat flow through the room's film and the whole panel; film: ASHRAE Handbook, Fundamentals (2021), "
    "ch. 26, table 10, still air on a vertical surface (R 0.68)"
)


@dataclass(frozen=True, slots=True)
class SweatingSurface:
    """K, K, K (below zero: sweats), ratio, ``dry``, ``sweats`` or ``frosts``."""

    surface: float
    dew_point: float
    margin: float
    sweats_above: float
    verdict: str


def outside_surface_temperature(room: float, box: float, u_value: float, film: float = STILL_AIR) -> float:
    """Outside surface temperature of a cold box's panel, door or glass.

    Takes K (-40 to 140 °F), U with both air films and the film coefficient of the room air
    (W/(m²·K), U the smaller), gives K. The film is 1.46 Btu/(h·ft²·°F) in still air; a fan blowing on
    the surface makes it 2 to 6 and the surface warmer, a cover or a corner makes it less. Frames,
    gaskets and worn insulation have a U of their own.

    >>> round((outside_surface_temperature(297.04, 275.37, 2.555, 8.29) - 255.372) * 1.8, 1)  # 75, 36 degF, U 0.45
    63.0
    """
    if not u_value < film:
        raise InputError(
            f"u_value {format_si(u_value, 'Btu_per_h_ft2_degF')} is not below "
            f"the film coefficient {format_si(film, 'Btu_per_h_ft2_degF')} that it includes",
            "a U with both air films, which is the smaller",
        )
    return room - u_value / film * (room - box)


def sweat_margin(room: float, box: float, u_value: float, relative_humidity: float, film: float = STILL_AIR) -> float:
    """How far the outside of a panel or door is above the dew point of the room; below zero it sweats.

    Takes K, a ratio for the humidity of the room (1 to 100 %) and W/(m²·K), gives K.

    >>> round(sweat_margin(297.04, 275.37, 2.555, 0.55, 8.29) * 1.8, 1)  # 75 degF room with 55 %: delta degF
    5.2
    """
    return outside_surface_temperature(room, box, u_value, film) - dew_point(room, relative_humidity)


def surface_dew_point_margin(surface: float, dry_bulb: float, relative_humidity: float) -> float:
    """How far a measured surface is above the dew point of the air around it; below zero it sweats.

    Takes K and a ratio (1 to 100 %), gives K. The surface by a contact probe or, on paint and tape
    and not on bare metal, by infrared.

    >>> round(surface_dew_point_margin(surface=288.71, dry_bulb=297.04, relative_humidity=0.6) * 1.8, 1)  # 60 degF
    -0.2
    """
    return surface - dew_point(dry_bulb, relative_humidity)


def sweating_humidity(room: float, box: float, u_value: float, film: float = STILL_AIR) -> float:
    """Humidity of the room at which a panel or door begins to sweat.

    Takes K, the box colder than the room, and W/(m²·K), gives a ratio. Below it the door is dry without heat.

    >>> round(sweating_humidity(room=297.04, box=275.37, u_value=2.555, film=8.29), 2)  # 75 degF, 36 degF, U 0.45
    0.66
    """
    if box > room:
        raise InputError(
            f"box {format_si(box, 'degF')} is warmer than the room {format_si(room, 'degF')}: its outside stays dry",
            "a box colder than the room",
        )
    return saturation(outside_surface_temperature(room, box, u_value, film)) / saturation(room)


def sweating_surface(
    room: float, box: float, u_value: float, relative_humidity: float, film: float = STILL_AIR
) -> SweatingSurface:
    """Does this door or panel sweat: surface, dew point, margin, and the humidity at which it begins.

    Takes K, the box colder than the room, a ratio (1 to 100 %) and W/(m²·K). A door that sweats
    although this says dry has less insulation than its U, wet insulation, or a dead heater wire.

    >>> s = sweating_surface(room=297.04, box=275.37, u_value=2.555, relative_humidity=0.55, film=8.29)
    >>> s.verdict, round(s.sweats_above, 2)
    ('dry', 0.66)
    """
    begins = sweating_humidity(room, box, u_value, film)
    surface = outside_surface_temperature(room, box, u_value, film)
    dew = dew_point(room, relative_humidity)
    wet = "frosts" if surface < _ICE_K else "sweats"
    return SweatingSurface(surface, dew, surface - dew, begins, "dry" if surface > dew else wet)


_PANEL = (moved(ROOM, None), BOX, U_VALUE)
_ROOM_HUMIDITY = moved(HUMIDITY, Direction.FALLING, title="relative humidity of the room")
_DOOR = {"room": "75 degF ± 1 delta_degF", "box": "36 degF ± 1 delta_degF", "u_value": "0.45 Btu_per_h_ft2_degF"}

#: The calculators of this file.
SWEAT_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "outside_surface_temperature", outside_surface_temperature, (ROOM, BOX, U_VALUE, FILM),
        result=Kind.TEMPERATURE, unit="degF", source=_SOURCE, example=_DOOR,
    ),
    Calculator(
        "sweat_margin", sweat_margin, (*_PANEL, _ROOM_HUMIDITY, FILM),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_SOURCE, caution=CAUTION_FLOOR,
        example={**_DOOR, "relative_humidity": "60 % ± 3 points"},
    ),
    Calculator(
        "surface_dew_point_margin", surface_dew_point_margin,
        (
            Argument(
                "surface", (Kind.TEMPERATURE,), Direction.RISING, "measured surface",
                valid=(193.15, 353.15), unit="degF",
            ),
            Argument(
                "dry_bulb", (Kind.TEMPERATURE,), Direction.FALLING, "air around it", valid=(233.15, 333.15), unit="degF"
            ),
            _ROOM_HUMIDITY,
        ),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source="follows from the definition",
        caution=CAUTION_FLOOR,
        example={
            "surface": "60 degF ± 2 delta_degF", "dry_bulb": "75 degF ± 1 delta_degF",
            "relative_humidity": "60 % ± 3 points",
        },
    ),
    Calculator(
        "sweating_humidity", sweating_humidity, (*_PANEL, FILM),
        result=Kind.RATIO, unit="%", source=_SOURCE, example=_DOOR,
    ),
    Calculator(
        "sweating_surface", sweating_surface, (*_PANEL, _ROOM_HUMIDITY, FILM),
        result=(
            Result("verdict", None, "the outside"),
            Result("surface", Kind.TEMPERATURE, "outside surface", "degF"),
            Result("dew_point", Kind.TEMPERATURE, "dew point of the room", "degF"),
            Result("margin", Kind.TEMPERATURE_DIFFERENCE, "surface above the dew point", "delta_degF"),
            Result("sweats_above", Kind.RATIO, "humidity of the room at which it begins", "%"),
        ),
        source=_SOURCE, caution=CAUTION_FLOOR, example={**_DOOR, "relative_humidity": "60 % ± 3 points"},
    ),
)
