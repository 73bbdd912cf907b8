"""Ratings of compressors by the ten coefficients of AHRI 540: mass flow, power, capacity, current."""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import isfinite

from faultkit.problems import InputError, Problem
from faultkit.units import format_si, to_si

__all__ = [
    "HIGHEST_DISCHARGE", "HIGHEST_SUCTION", "IP", "LOWEST_DISCHARGE", "LOWEST_SUCTION", "SI", "TERMS",
    "compressor_capacity", "compressor_current", "compressor_mass_flow", "compressor_power", "read_coefficients",
]

#: Number of coefficients.
TERMS = 10
#: The two systems of units that coefficients are published in.
IP, SI = "I-P", "SI"
#: K, where ratings are published at all; a rating's own envelope is narrower.
LOWEST_SUCTION, HIGHEST_SUCTION = 222.038888889, 294.261111111
LOWEST_DISCHARGE, HIGHEST_DISCHARGE = 277.594444444, 349.816666667

_WANTED = "ten numbers, C1 to C10, apart by spaces or commas"
#: Ten numbers, C1 first, or a text of them.
Coefficients = str | Sequence[float]


def read_coefficients(text: str) -> str:
    """Ten numbers apart by spaces, commas, semicolons or lines, as a text; InputError for anything else."""
    return " ".join(map(repr, _numbers(text)))


def _numbers(given: Coefficients) -> list[float]:
    try:
        parts = re.split(r"[\s,;]+", given.strip()) if isinstance(given, str) else given
        numbers = [float(part) for part in parts]
    except ValueError as error:
        raise InputError(f"coefficients: {error}", _WANTED) from None
    if len(numbers) != TERMS or not all(isfinite(x) for x in numbers):
        raise InputError(f"coefficients has {sum(map(isfinite, numbers))} numbers", _WANTED)
    return numbers


def compressor_mass_flow(
    coefficients: Coefficients, suction: float, discharge: float, units: str = IP,
    lowest_suction: float = LOWEST_SUCTION, highest_suction: float = HIGHEST_SUCTION,
    lowest_discharge: float = LOWEST_DISCHARGE, highest_discharge: float = HIGHEST_DISCHARGE,
) -> float:
    """Mass flow that a compressor is rated for at these saturation temperatures.

    Takes the ten published coefficients C1 to C10, suction and discharge dew temperature (K), the units of the
    publication (I-P: °F and lb/h, SI: °C and kg/h) and the envelope it is published for (K); gives kg/s at the return
    gas the rating names. Outside the envelope the polynomial means nothing.

    >>> m = (217.3163128, 5.094492028, -0.593170311, 4.38e-2, -2.14e-2, 1.04e-2, 7.9e-5, -5.73e-5, 1.79e-4, -8.08e-5)
    >>> round(compressor_mass_flow(m, 280.372, 327.594) * 7936.64, 1)  # 45/130 degF: lb/h
    459.4
    """
    envelope = (lowest_suction, highest_suction, lowest_discharge, highest_discharge)
    value = _rated("mass flow", coefficients, suction, discharge, units, envelope)
    return to_si(value, "lb_per_h" if units == IP else "kg_per_h")


def compressor_power(
    coefficients: Coefficients, suction: float, discharge: float, units: str = IP,
    lowest_suction: float = LOWEST_SUCTION, highest_suction: float = HIGHEST_SUCTION,
    lowest_discharge: float = LOWEST_DISCHARGE, highest_discharge: float = HIGHEST_DISCHARGE,
) -> float:
    """Power input that a compressor is rated for at these saturation temperatures.

    Takes what compressor_mass_flow takes, with the coefficients of the power (W in both systems of units); gives W.

    >>> p = (-561.3615705, -15.62601841, 46.92506685, -0.217949552, 0.435062616, -0.442400826, 2.25e-4, 2.37e-3,
    ...      -3.32e-3, 2.5e-3)
    >>> round(compressor_power(p, 280.372, 327.594))  # 45/130 degF: W
    3075
    """
    envelope = (lowest_suction, highest_suction, lowest_discharge, highest_discharge)
    return _rated("power", coefficients, suction, discharge, units, envelope)


def compressor_capacity(
    coefficients: Coefficients, suction: float, discharge: float, units: str = IP,
    lowest_suction: float = LOWEST_SUCTION, highest_suction: float = HIGHEST_SUCTION,
    lowest_discharge: float = LOWEST_DISCHARGE, highest_discharge: float = HIGHEST_DISCHARGE,
) -> float:
    """Refrigerating capacity that a compressor is rated for at these saturation temperatures.

    Takes what compressor_mass_flow takes, with the coefficients of the capacity (I-P: Btu/h, SI: W); gives W at
    the return gas and subcooling the rating names.

    >>> c = [12000.0, 300.0, -60.0, *[0.0] * 7]
    >>> round(compressor_capacity(c, 266.483, 313.706) / 0.293071)  # 20/105 degF: Btu/h
    11700
    """
    envelope = (lowest_suction, highest_suction, lowest_discharge, highest_discharge)
    value = _rated("capacity", coefficients, suction, discharge, units, envelope)
    return to_si(value, "Btu_per_h" if units == IP else "W")


def compressor_current(
    coefficients: Coefficients, suction: float, discharge: float, units: str = IP,
    lowest_suction: float = LOWEST_SUCTION, highest_suction: float = HIGHEST_SUCTION,
    lowest_discharge: float = LOWEST_DISCHARGE, highest_discharge: float = HIGHEST_DISCHARGE,
) -> float:
    """Current that a compressor is rated for at these saturation temperatures and its rated voltage.

    Takes what compressor_mass_flow takes, with the coefficients of the current (A in both systems of units); gives A.

    >>> a = "4.0 0.02 0.03 0 0 0 0 0 0 0"
    >>> round(compressor_current(a, 266.483, 313.706), 2)  # 20/105 degF
    7.55
    """
    envelope = (lowest_suction, highest_suction, lowest_discharge, highest_discharge)
    return _rated("current", coefficients, suction, discharge, units, envelope)


def _rated(
    what: str, coefficients: Coefficients, suction: float, discharge: float, units: str,
    envelope: tuple[float, float, float, float],
) -> float:
    """The polynomial, in the units of the publication. InputError outside the envelope and where it is not above 0."""
    degree = "degF" if units == IP else "degC"
    problems: list[Problem] = []
    numbers: list[float] = []
    try:
        numbers = _numbers(coefficients)
    except InputError as fault:
        problems += fault.problems
    if units not in {IP, SI}:
        problems.append(Problem(f"units is '{units}'", f"{IP} or {SI}"))
    for name, value, low, high in (
        ("suction", suction, *envelope[:2]), ("discharge", discharge, *envelope[2:]),
    ):
        if not low <= value <= high:
            problems.append(Problem(
                f"{name} {format_si(value, degree)} is outside the envelope",
                f"{format_si(low, degree)} to {format_si(high, degree)}",
            ))
    if not suction < discharge:
        problems.append(Problem(
            f"suction {format_si(suction, degree)} is not below discharge {format_si(discharge, degree)}",
            "a suction dew temperature below that of the discharge",
        ))
    if problems:
        raise InputError(problems)
    value = _polynomial(numbers, _degrees(suction, units), _degrees(discharge, units))
    if not value > 0.0:
        raise InputError(
            f"the rated {what} at {format_si(suction, degree)} and {format_si(discharge, degree)} comes out as "
            f"{value:g}",
            "a point inside the published envelope, and coefficients of this quantity and these units",
        )
    return value


def _degrees(temperature: float, units: str) -> float:
    return temperature * 1.8 - 459.67 if units == IP else temperature - 273.15


def _polynomial(numbers: Sequence[float], s: float, d: float) -> float:
    """S and d in the order of AHRI 540: 1, S, D, S², SD, D², S³, DS², SD², D³."""
    terms = (1.0, s, d, s * s, s * d, d * d, s**3, d * s * s, s * d * d, d**3)
    return sum(c * term for c, term in zip(numbers, terms, strict=True))
