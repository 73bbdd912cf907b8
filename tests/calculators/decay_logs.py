"""Logs of decay tests made from physics: air through an orifice, water giving off vapor, both, in small steps."""

from __future__ import annotations

from faultkit.calculators.arguments import Rows
from faultkit.units import to_si

__all__ = ["decay_log", "water_pressure"]

_AIR_PA = 101_325.0


def water_pressure(kelvin: float) -> float:
    """Pa of water or ice by the Magnus formulas of the WMO guide: another formula than the calculator's."""
    from math import exp

    t = kelvin - 273.15
    if t >= 0.0:
        return 611.2 * exp(17.62 * t / (243.12 + t))
    return 611.2 * exp(22.46 * t / (272.62 + t))


def decay_log(
    *, minutes: tuple[float, ...], start: float = 50.0, leak: float = 0.0, wet: float = 0.0, level: float = 0.0,
    scatter: tuple[float, ...] = (),
) -> Rows:
    """Rows of s and Pa. ``leak``: Pa a minute of air while the inside is near vacuum, choked until half an atmosphere.

    ``wet``: share of the distance to ``level`` (Pa) given off in a minute. ``scatter``: by what
    share each reading is off, repeated as needed.
    """
    rows, water, air, now, step = [], 0.0, start, 0.0, 0.02
    for number, minute in enumerate(minutes):
        while now < minute - 1e-9:
            total = water + air
            # Choked flow does not depend on the pressure inside; past half the outside pressure it falls off.
            part = 1.0 if total < 0.5 * _AIR_PA else max(0.0, 2.0 - 2.0 * total / _AIR_PA) ** 0.5
            air += leak * part * step
            water += max(0.0, wet * (level - water - start)) * step
            now += step
        off = scatter[number % len(scatter)] if scatter else 0.0
        rows.append((to_si(minute, "min"), (water + air) * (1.0 + off)))
    return tuple(rows)
