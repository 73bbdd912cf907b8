"""The arguments, cautions and sections that the calculators of this subject share."""

from __future__ import annotations

from faultkit.calculators.arguments import Argument, Column, Direction, Log
from faultkit.units import Kind

__all__ = [
    "ACCURACY", "CEILING_K", "COLD_K", "FROM_HOT_K", "GAP", "HOUR", "HYGIENE", "LOCAL", "READINGS", "food_temperature",
    "limit",
]

HOUR = 3600.0
#: 41, 70 and 135 °F as the units table has them: a reading on the limit meets it.
COLD_K, CEILING_K, FROM_HOT_K = 278.15, 294.261111111, 330.372222222

LOCAL = (
    "model code of the FDA; the code in force is the local one, and what becomes of food is for the operator and the "
    "regulator to decide"
)
HYGIENE = (
    "Clean and sanitize the probe before and between foods; do not taste food to judge it. Keep doubtful food cold and "
    "marked until the operator or the regulator has decided."
)

READINGS = Log(
    "readings",
    (
        Column("time", Kind.TIME, "when", "h", rising=True),
        Column("temperature", Kind.TEMPERATURE, "inside the product", "degF"),
    ),
    "product temperature over time", least=2,
)
ACCURACY = Argument(
    "accuracy", (Kind.TEMPERATURE_DIFFERENCE,), None, "accuracy of the probe", valid=(0.0, 10.0), unit="delta_degF",
    default=0.0,
)
GAP = Argument(
    "longest_gap", (Kind.TIME,), None, "longest time between rows that is taken as known", valid=(1.0, 86_400.0),
    unit="min", default=1800.0,
)


def food_temperature(name: str, title: str, direction: Direction | None, default: float | None = None) -> Argument:
    """A temperature of food, or of the air around it."""
    return Argument(
        name, (Kind.TEMPERATURE,), direction, title, valid=(230.0, 400.0), unit="degF", default=default
    )


def limit(direction: Direction | None = None) -> Argument:
    """The cold-holding limit, 41 °F where none is given."""
    return food_temperature("limit", "cold-holding limit", direction, COLD_K)
