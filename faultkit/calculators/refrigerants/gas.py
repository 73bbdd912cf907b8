"""Superheated vapour, by CoolProp, which takes a second to load: only what no fit can give stands here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from faultkit.calculators.refrigerants.saturation import Refrigerant, refrigerant
from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = ["Vapor", "temperature_at_enthalpy", "temperature_at_entropy", "vapor"]

_HOTTEST_K = 500.0
_CLOSE_K = 1e-7


@dataclass(frozen=True, slots=True)
class Vapor:
    """Superheated vapour: kg/m³, J/kg, J/(kg·K). Enthalpy and entropy count from CoolProp's own zero."""

    density: float
    enthalpy: float
    entropy: float


def vapor(name: str, pressure: float, temperature: float) -> Vapor:
    """Vapour of a refrigerant at Pa absolute and K, at or above its dew point.

    Raises InputError below the dew point, and where the equation of state has no answer.
    """
    fluid = refrigerant(name)
    dew = fluid.dew_temperature(pressure)
    if temperature < dew:
        raise InputError(
            f"{fluid.name} at {format_si(temperature, 'degF')} and {format_si(pressure, 'psia')} is not all vapor",
            f"a temperature above its dew point, {format_si(dew, 'degF')}",
        )
    return _state(_equation(fluid), fluid, pressure, temperature)


def temperature_at_entropy(name: str, pressure: float, entropy: float) -> float:
    """K of vapour at Pa absolute with this entropy (J/(kg·K), from CoolProp's zero)."""
    return _solve(refrigerant(name), pressure, entropy, lambda v: v.entropy)


def temperature_at_enthalpy(name: str, pressure: float, enthalpy: float) -> float:
    """K of vapour at Pa absolute with this enthalpy (J/kg, from CoolProp's zero)."""
    return _solve(refrigerant(name), pressure, enthalpy, lambda v: v.enthalpy)


def _equation(fluid: Refrigerant) -> Any:
    """CoolProp's equation of state, held to the gas side. A new one each time: it is no thread's to share."""
    from CoolProp import CoolProp

    state = CoolProp.AbstractState("HEOS", fluid.coolprop)
    state.specify_phase(CoolProp.iphase_gas)
    return state


def _state(state: Any, fluid: Refrigerant, pressure: float, temperature: float) -> Vapor:
    from CoolProp import CoolProp

    try:
        state.update(CoolProp.PT_INPUTS, pressure, temperature)
    except ValueError as error:
        where = f"{format_si(temperature, 'degF')} and {format_si(pressure, 'psia')}"
        raise InputError(f"CoolProp has no vapor of {fluid.name} at {where}: {error}", "another state") from error
    return Vapor(state.rhomass(), state.hmass(), state.smass())


def _solve(fluid: Refrigerant, pressure: float, wanted: float, read: Callable[[Vapor], float]) -> float:
    """Bisection: entropy and enthalpy rise with temperature, and no other solver works for every mixture."""
    equation = _equation(fluid)
    low, high = fluid.dew_temperature(pressure), _HOTTEST_K
    coldest, hottest = (read(_state(equation, fluid, pressure, t)) for t in (low, high))
    if not coldest <= wanted <= hottest:
        raise InputError(
            f"no vapor of {fluid.name} at {format_si(pressure, 'psia')} is in that state",
            f"one between its dew point and {format_si(_HOTTEST_K, 'degF')}",
        )
    while high - low > _CLOSE_K:
        middle = (low + high) / 2.0
        if read(_state(equation, fluid, pressure, middle)) < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
