"""Gauge and absolute pressure, and the atmosphere between them."""

from __future__ import annotations

from math import isfinite

from faultkit.units.kinds import Kind, UnitError, described

__all__ = ["atmosphere", "convert_pressure"]

# U.S. Standard Atmosphere, 1976, layer 0. Its gas constant is the one of that standard.
_SEA_LEVEL_PA = 101_325.0
_SEA_LEVEL_K = 288.15
_LAPSE_K_PER_M = 0.0065
_EXPONENT = 9.80665 * 28.9644 / (8314.32 * _LAPSE_K_PER_M)
_EARTH_RADIUS_M = 6_356_766.0
_LOWEST_M, _HIGHEST_M = -5_000.0, 11_000.0

_PRESSURES = (Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE)


def atmosphere(altitude_m: float) -> float:
    """Pa of the U.S. Standard Atmosphere 1976 at a height of -5000 to 11000 m above sea level (geometric)."""
    if not _LOWEST_M <= altitude_m <= _HIGHEST_M:
        raise UnitError(
            f"altitude {altitude_m:g} m is outside the standard atmosphere used here",
            f"{_LOWEST_M:.0f} m to {_HIGHEST_M:.0f} m",
        )
    geopotential = _EARTH_RADIUS_M * altitude_m / (_EARTH_RADIUS_M + altitude_m)
    return float(_SEA_LEVEL_PA * (1.0 - _LAPSE_K_PER_M * geopotential / _SEA_LEVEL_K) ** _EXPONENT)


def convert_pressure(value_si: float, from_kind: Kind, to_kind: Kind, atmosphere_pa: float) -> float:
    """Pa of ``value_si`` as ``to_kind``, with ``atmosphere_pa`` outside the system.

    Between gauge and absolute only: a pressure difference has no zero to shift, so it is
    an error here, as is any other kind. A gauge reading below full vacuum comes out negative.
    """
    if from_kind is to_kind and from_kind in (*_PRESSURES, Kind.PRESSURE_DIFFERENCE):
        return value_si
    for kind in (from_kind, to_kind):
        if kind not in _PRESSURES:
            what = f"{described(kind)} cannot be turned into another pressure"
            raise UnitError(what, "say psig (gauge) or psia (absolute)")
    if not (isfinite(atmosphere_pa) and atmosphere_pa > 0.0):
        raise UnitError(f"atmosphere {atmosphere_pa:g} Pa", "a pressure above 0 Pa")
    return value_si + atmosphere_pa if to_kind is Kind.ABSOLUTE_PRESSURE else value_si - atmosphere_pa
