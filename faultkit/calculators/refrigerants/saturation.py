"""Saturation of a refrigerant from the shipped fits: no library is loaded, half a microsecond a value."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from math import exp, log

from faultkit.calculators.arguments import Word
from faultkit.calculators.refrigerants.fits import FITS, Fit
from faultkit.calculators.refrigerants.table import IDENTITIES
from faultkit.problems import InputError, did_you_mean
from faultkit.units import format_si

__all__ = ["REFRIGERANT", "Refrigerant", "refrigerant", "refrigerant_name"]

Curve = Callable[[float], float]

_SPELLING = re.compile(r"(?:r|hfc|hcfc|hc|hfo|co)?[\s_-]*(\d{2,4}[a-z]?(?:\([ez]\))?)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Refrigerant:
    """A refrigerant with its saturation curves, in SI.

    ``dew_pressure`` and ``bubble_pressure`` take K and give Pa absolute;
    ``dew_temperature`` and ``bubble_temperature`` the other way; ``liquid_density``
    (at the bubble point) and ``vapor_density`` (at the dew point) take K and give
    kg/m³; ``latent_heat`` takes the bubble temperature (K) and gives the J/kg from
    bubble to dew point at that pressure. Outside the fit's range each raises
    InputError naming the range. Largest errors against CoolProp are listed in
    EVIDENCE.md.

    >>> r = refrigerant("R-134a")
    >>> p = r.dew_pressure(269.26)                 # 25 degF
    >>> round((p - 101325.0) / 6894.757, 1)        # psig
    22.1
    >>> round(r.dew_temperature(p), 2)
    269.26
    """

    name: str
    safety_class: str
    caution: str
    composition: tuple[tuple[str, float], ...]
    coolprop: str
    dew_pressure: Curve
    bubble_pressure: Curve
    dew_temperature: Curve
    bubble_temperature: Curve
    liquid_density: Curve
    vapor_density: Curve
    latent_heat: Curve

    @property
    def blend(self) -> bool:
        """Whether it is a mixture."""
        return len(self.composition) > 1

    @property
    def temperatures(self) -> tuple[float, float]:
        """Lowest and highest saturation temperature (K) of the fits."""
        low, high = FITS[self.name]["dew_pressure"][:2]
        return low, high

    @property
    def pressures(self) -> tuple[float, float]:
        """Lowest and highest pressure (Pa absolute) that has both a dew and a bubble temperature."""
        dew, bubble = FITS[self.name]["dew_temperature"], FITS[self.name]["bubble_temperature"]
        return max(dew[0], bubble[0]), min(dew[1], bubble[1])


def refrigerant(name: str) -> Refrigerant:
    """The refrigerant of that name, however it is spelt: ``R-404A``, ``r404a``, ``404A``.

    Raises InputError with the nearest names for one that is not known.
    """
    return _built(refrigerant_name(name))


def refrigerant_name(text: str) -> str:
    """The name in the list of a refrigerant however spelt; InputError with the nearest names for one not known."""
    if text in IDENTITIES:
        return text
    found = _SPELLING.fullmatch(text.strip())
    number = found.group(1).lower() if found else text.strip().lower()
    for name in IDENTITIES:
        if name[2:].lower() == number:
            return name
    # Numbers that look alike are other substances: only an unfinished one is worth a guess.
    begun = [name for name in IDENTITIES if number and name[2:].lower().startswith(number)]
    wanted = did_you_mean(begun[0], begun) if begun else "one of " + ", ".join(IDENTITIES)
    raise InputError(f"refrigerant '{text}' is not known", wanted)


#: The argument that says which refrigerant is meant.
REFRIGERANT = Word("refrigerant", tuple(IDENTITIES), "refrigerant in the circuit", read=refrigerant_name)


@cache
def _built(name: str) -> Refrigerant:
    identity, fits = IDENTITIES[name], FITS[name]
    return Refrigerant(
        name, identity.safety_class, identity.caution, identity.composition, identity.coolprop,
        dew_pressure=_pressure(name, "dew", fits["dew_pressure"]),
        bubble_pressure=_pressure(name, "bubble", fits["bubble_pressure"]),
        dew_temperature=_temperature(name, "dew", fits["dew_temperature"]),
        bubble_temperature=_temperature(name, "bubble", fits["bubble_temperature"]),
        liquid_density=_of_temperature(name, "liquid density", fits["liquid_density"]),
        vapor_density=_pressure(name, "vapor density", fits["vapor_density"]),
        latent_heat=_of_temperature(name, "latent heat", fits["latent_heat"]),
    )


# The coefficients are written out because a loop over them costs three times as much.


def _pressure(name: str, curve: str, fit: Fit) -> Curve:
    """Exponential of the polynomial, of a temperature (K)."""
    low, high, centre, scale, (a, b, c, d, e, f, g, h, i, j) = fit

    def value(temperature: float) -> float:
        if not low <= temperature <= high:
            raise _too_far(name, curve, temperature, low, high)
        x = (temperature - centre) * scale
        return exp(a + x * (b + x * (c + x * (d + x * (e + x * (f + x * (g + x * (h + x * (i + x * j)))))))))

    return value


def _of_temperature(name: str, curve: str, fit: Fit) -> Curve:
    """The polynomial itself, of a temperature (K)."""
    low, high, centre, scale, (a, b, c, d, e, f, g, h, i, j) = fit

    def value(temperature: float) -> float:
        if not low <= temperature <= high:
            raise _too_far(name, curve, temperature, low, high)
        x = (temperature - centre) * scale
        return a + x * (b + x * (c + x * (d + x * (e + x * (f + x * (g + x * (h + x * (i + x * j))))))))

    return value


def _temperature(name: str, curve: str, fit: Fit) -> Curve:
    """The polynomial, of the logarithm of a pressure (Pa)."""
    low, high, centre, scale, (a, b, c, d, e, f, g, h, i, j) = fit

    def value(pressure: float) -> float:
        if not low <= pressure <= high:
            raise InputError(
                f"{name} at {_pressures(pressure)} has no {curve} temperature here",
                f"{_pressures(low)} to {_pressures(high)}",
            )
        x = (log(pressure) - centre) * scale
        return a + x * (b + x * (c + x * (d + x * (e + x * (f + x * (g + x * (h + x * (i + x * j))))))))

    return value


def _too_far(name: str, curve: str, temperature: float, low: float, high: float) -> InputError:
    what = curve if " " in curve else f"{curve} pressure"
    return InputError(
        f"{name} at {_temperatures(temperature)} has no {what} here",
        f"{_temperatures(low)} to {_temperatures(high)}",
    )


def _temperatures(value: float) -> str:
    return f"{format_si(value, 'degF')} ({format_si(value, 'degC')})"


def _pressures(value: float) -> str:
    return f"{format_si(value, 'psia')} ({format_si(value, 'kPa_abs')})"
