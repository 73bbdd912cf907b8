"""What is known of a refrigerant, and its pressure-temperature table."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from faultkit.calculators.refrigerants.saturation import refrigerant as find
from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = ["Facts", "PressureTable", "pressure_table", "refrigerant_facts"]

_MOST_ROWS = 1000
_ATMOSPHERE = 101_325.0


@dataclass(frozen=True, slots=True)
class Facts:
    """A refrigerant: temperatures in K, ``coldest`` and ``hottest`` the range of its fits, glide in K."""

    safety_class: str
    composition: str
    caution: str
    boils_at: float
    dew_at: float
    glide: float
    coldest: float
    hottest: float


def refrigerant_facts(refrigerant: str) -> Facts:
    """Safety class, composition, boiling range at sea level and the range of the fits of a refrigerant.

    >>> refrigerant_facts("R-290").safety_class
    'A3'
    """
    fluid = find(refrigerant)
    shares = ", ".join(f"{part} {share * 100:g} %" for part, share in fluid.composition)
    bubble, dew = fluid.bubble_temperature(_ATMOSPHERE), fluid.dew_temperature(_ATMOSPHERE)
    low, high = fluid.temperatures
    caution = fluid.caution or "keep within local codes; certified persons only open the circuit"
    return Facts(
        fluid.safety_class, shares if fluid.blend else "pure", caution,
        bubble, dew if fluid.blend else bubble, dew - bubble if fluid.blend else 0.0, low, high,
    )


@dataclass(frozen=True, slots=True)
class PressureTable:
    """Rows of temperature (K), bubble and dew pressure (Pa above the air outside)."""

    rows: tuple[tuple[float, float, float], ...]


def pressure_table(
    refrigerant: str, coldest: float, hottest: float, step: float = 5.0 / 1.8, atmosphere: float = _ATMOSPHERE
) -> PressureTable:
    """Pressure-temperature table: gauge pressures of bubble and dew point.

    Takes K, the step as a difference (K) and the air pressure (Pa); at most 1000 rows.
    A vacuum is negative.

    >>> table = pressure_table("R-134a", 244.2611, 255.3722, 5.5556)  # -20 to 0 degF by 10
    >>> [round(dew / 6894.757, 1) for _, _, dew in table.rows]
    [-1.8, 1.9, 6.5]
    """
    fluid = find(refrigerant)
    if hottest < coldest:
        raise InputError(
            f"the table ends at {format_si(hottest, 'degF')}, below its beginning {format_si(coldest, 'degF')}",
            "hottest at or above coldest",
        )
    # A whole number of steps is met although a step in degF is no whole number of K.
    steps = ceil((hottest - coldest) / step - 1e-6)
    if steps >= _MOST_ROWS:
        raise InputError(f"the table would have {steps + 1} rows", f"at most {_MOST_ROWS}: a longer step")
    at = [min(coldest + i * step, hottest) for i in range(steps + 1)]
    return PressureTable(tuple(
        (t, fluid.bubble_pressure(t) - atmosphere, fluid.dew_pressure(t) - atmosphere) for t in at
    ))
