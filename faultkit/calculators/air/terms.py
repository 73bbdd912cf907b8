"""The arguments that the calculators of this subject share."""

from __future__ import annotations

from dataclasses import replace

from faultkit.calculators.arguments import ATMOSPHERE, Argument, Direction
from faultkit.units import Kind

__all__ = [
    "AIR_PRESSURE", "ASHRAE", "BOX", "CAUTION_FANS", "CAUTION_FLOOR", "DRY_BULB", "FILM", "HALF", "HUMIDITY", "ROOM",
    "SEA_LEVEL", "STILL_AIR", "U_VALUE", "moved",
]

#: Where the equations stand; the coefficients and the examples were seen in the 2021 text.
ASHRAE = "ASHRAE Handbook, Fundamentals (2021), ch. 1, perfect-gas relations"

CAUTION_FANS = (
    "Fans start without notice: keep hands, cords and sleeves out of guards, and lock the fan out before reaching in."
)
CAUTION_FLOOR = "Sweat and ice make floors slick; electric parts that have been dripped on are dead only after a test."

#: Standard air pressure, Pa.
SEA_LEVEL = 101_325.0
#: W/(m²·K), 1.46 Btu/(h·ft²·°F): still air on a vertical surface (R 0.68).
STILL_AIR = 8.29
#: Humidity taken where it hardly matters.
HALF = 0.5
_COLDEST, _HOTTEST = 233.15, 333.15


def moved(argument: Argument, direction: Direction | None, name: str = "", title: str = "") -> Argument:
    """The same argument where it moves the result another way, or under another name."""
    return replace(argument, direction=direction, name=name or argument.name, title=title or argument.title)


DRY_BULB = Argument(
    "dry_bulb", (Kind.TEMPERATURE,), Direction.RISING, "temperature of the air", valid=(_COLDEST, _HOTTEST), unit="degF"
)
HUMIDITY = Argument(
    "relative_humidity", (Kind.RATIO,), Direction.RISING, "relative humidity of the air", valid=(0.01, 1.0), unit="%"
)
AIR_PRESSURE = Argument(
    ATMOSPHERE, (Kind.ABSOLUTE_PRESSURE,), Direction.FALLING, "air pressure of the place",
    valid=(60e3, 110e3), unit="psia", default=SEA_LEVEL,
)
ROOM = Argument(
    "room", (Kind.TEMPERATURE,), Direction.RISING, "air around the box", valid=(_COLDEST, _HOTTEST), unit="degF"
)
BOX = Argument(
    "box", (Kind.TEMPERATURE,), Direction.RISING, "air in the box", valid=(_COLDEST, _HOTTEST), unit="degF"
)
U_VALUE = Argument(
    "u_value", (Kind.HEAT_TRANSFER,), Direction.EITHER, "U of the panel or door, its air films included",
    valid=(0.05, 8.0), unit="Btu_per_h_ft2_degF",
)
FILM = Argument(
    "film", (Kind.HEAT_TRANSFER,), Direction.EITHER, "film coefficient of the room air on the surface",
    valid=(1.0, 60.0), unit="Btu_per_h_ft2_degF", default=STILL_AIR,
)
