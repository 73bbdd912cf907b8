"""Units outside the table, looked up in pint when (and only when) one is met."""

from __future__ import annotations

import re
from functools import lru_cache
from math import isclose, isfinite
from typing import TYPE_CHECKING, Any

from faultkit.units.kinds import Kind, UnitError
from faultkit.units.table import Unit

if TYPE_CHECKING:
    from pint import UnitRegistry

__all__ = ["foreign_unit"]

# Names, products and small powers only: what pint evaluates stays small.
_NAME = r"[A-Za-zμΩ°Δ_][A-Za-zμΩ°Δ_0-9]*(?:(?:\*\*|\^)-?[1-6])?"
_EXPRESSION = re.compile(rf"{_NAME}(?:[*/]{_NAME}){{0,4}}")
_LONGEST = 40

# Base units of pint's result → kind. Pressures and temperatures are told apart below.
_KINDS: tuple[tuple[str, Kind], ...] = (
    ("pascal", Kind.PRESSURE_DIFFERENCE), ("volt", Kind.VOLTAGE), ("ampere", Kind.CURRENT),
    ("ohm", Kind.RESISTANCE), ("watt", Kind.POWER), ("joule", Kind.ENERGY), ("farad", Kind.CAPACITANCE),
    ("second", Kind.TIME), ("1/second", Kind.FREQUENCY), ("radian/second", Kind.ROTATION),
    ("radian", Kind.ANGLE), ("kilogram", Kind.MASS), ("kilogram/second", Kind.MASS_FLOW),
    ("meter", Kind.LENGTH), ("meter**2", Kind.AREA), ("meter**3", Kind.VOLUME),
    ("meter/second", Kind.SPEED), ("meter**3/second", Kind.VOLUME_FLOW),
    ("dimensionless", Kind.RATIO), ("count", Kind.COUNT), ("kelvin", Kind.TEMPERATURE),
)
_FORMS = (("_gauge", Kind.GAUGE_PRESSURE), ("_abs", Kind.ABSOLUTE_PRESSURE))


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[Any]:
    from pint import UnitRegistry

    return UnitRegistry()


@lru_cache(maxsize=1)
def _kinds() -> dict[str, Kind]:
    registry = _registry()
    return {str(registry.Quantity(1.0, text).to_base_units().units): kind for text, kind in _KINDS}


@lru_cache(maxsize=512)
def foreign_unit(text: str) -> Unit | None:
    """The unit pint knows under ``text``; None when it knows none or is not installed.

    ``_gauge`` and ``_abs`` behind a pressure unit say which pressure is meant:
    ``atm_abs``. UnitError for a unit pint knows that measures nothing this
    library has a kind for, or that is not linear (decibels).
    """
    for suffix, kind in _FORMS:
        if text.endswith(suffix):
            base = _found(text.removesuffix(suffix))
            if base is None or base.kind is not Kind.PRESSURE_DIFFERENCE:
                return None
            return Unit(text, kind, base.scale, 0.0, base.name)
    return _found(text)


def _found(text: str) -> Unit | None:
    if len(text) > _LONGEST or not _EXPRESSION.fullmatch(text):
        return None
    try:
        from pint import PintError

        registry = _registry()
    except ImportError:
        return None
    try:
        unit = registry.parse_units(text)
        at = [registry.Quantity(float(x), unit).to_base_units() for x in (0, 1, 2)]
    except (PintError, ArithmeticError, AttributeError, TypeError, ValueError):
        return None
    zero, one, two = (float(q.magnitude) for q in at)
    if not isfinite(zero + two) or not isclose(two - one, one - zero, rel_tol=1e-9):
        raise UnitError(f"unit '{text}' is not linear", "write the value in a plain unit, for example 'W'")
    kind = _kinds().get(str(at[1].units))
    if kind is None:
        raise UnitError(
            f"unit '{text}' measures nothing that is read here",
            "a unit of temperature, pressure, voltage, current, time or another kind in the units table",
        )
    if kind is Kind.TEMPERATURE and str(unit).startswith("delta_"):
        kind = Kind.TEMPERATURE_DIFFERENCE
    return Unit(text, kind, one - zero, zero, text)
