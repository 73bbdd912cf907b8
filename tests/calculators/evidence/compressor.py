"""Compressor ratings and efficiencies against a polynomial library, CoolProp, and the cylinder done step by step."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from math import cos, pi
from typing import Any

from faultkit.calculators.compressor import efficiency, rating
from faultkit.units import from_si, to_si
from tests.calculators.evidence_check import Check, Evidence

LIBRARY, DERIVATION, MEMORY = Evidence.REFERENCE_LIBRARY, Evidence.DERIVATION, Evidence.FROM_MEMORY
SET = "ten coefficients of a 3 ton compressor, component test of the open-source heat-pump model ACHP"
CENGEL = "Cengel and Boles, Thermodynamics, actual vapor-compression cycle, example 11-2 (from memory)"

MASS_FLOW = (
    217.3163128, 5.094492028, -0.593170311, 4.38e-2, -2.14e-2, 1.04e-2, 7.9e-5, -5.73e-5, 1.79e-4, -8.08e-5
)
POWER = (
    -561.3615705, -15.62601841, 46.92506685, -0.217949552, 0.435062616, -0.442400826, 2.25e-4, 2.37e-3, -3.32e-3, 2.5e-3
)
#: Powers of S and D behind the terms: 1, S, D, S², SD, D², S³, DS², SD², D³.
TERMS = ((0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2), (3, 0), (2, 1), (1, 2), (0, 3))
#: degF.
POINTS = ((45.0, 130.0), (42.53, 107.33), (20.0, 100.0), (30.0, 120.0), (50.0, 150.0))
Rating = Callable[..., float]


def square(coefficients: Iterable[float]) -> Any:
    """The coefficients as a matrix by powers of S and D."""
    import numpy as np

    found = np.zeros((4, 4))
    for c, (s, d) in zip(coefficients, TERMS, strict=True):
        found[s, d] = c
    return found


def against_numpy(rated: Rating, coefficients: tuple[float, ...], unit: str) -> Callable[[], Iterator[float]]:
    """Percent off numpy's polynomial in two variables."""
    def errors() -> Iterator[float]:
        from numpy.polynomial.polynomial import polyval2d

        for s, d in POINTS:
            found = from_si(rated(coefficients, to_si(s, "degF"), to_si(d, "degF")), unit)
            yield 100.0 * (found / float(polyval2d(s, d, square(coefficients))) - 1.0)

    return errors


def in_celsius(coefficients: tuple[float, ...], scale: float) -> tuple[float, ...]:
    """The same polynomial in °C, times ``scale``: each power of 1.8 t + 32 multiplied out by numpy."""
    from numpy.polynomial import polynomial as p

    found = dict.fromkeys(TERMS, 0.0)
    for c, (s, d) in zip(coefficients, TERMS, strict=True):
        for i, a in enumerate(p.polypow([32.0, 1.8], s)):
            for j, b in enumerate(p.polypow([32.0, 1.8], d)):
                found[i, j] += scale * c * float(a) * float(b)
    return tuple(found[term] for term in TERMS)


def units_agree(rated: Rating, coefficients: tuple[float, ...], scale: float) -> Callable[[], Iterator[float]]:
    """Percent between the coefficients and the same ones multiplied out for °C and metric units."""
    def errors() -> Iterator[float]:
        metric = in_celsius(coefficients, scale)
        for s, d in POINTS:
            at = (to_si(s, "degF"), to_si(d, "degF"))
            yield 100.0 * (rated(metric, *at, units="SI") / rated(coefficients, *at) - 1.0)

    return errors


def density(name: str, dew: float, gas: float) -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("D", "P", PropsSI("P", "T", dew, "Q", 1, name), "T", gas, name))


#: Name here and in CoolProp, K of suction dew point, return gas and rated return gas.
GASES = (
    ("R-134a", "R134a", 280.372, 302.594, 291.483), ("R-290", "R290", 266.483, 285.0, 291.483),
    ("R-404A", "R404A", 244.261, 277.594, 291.483),
)


def corrected() -> Iterator[float]:
    """kg/s off the correction by specific volumes as the model's documentation writes it."""
    for _, name, dew, gas, rated in GASES:
        volume, rated_volume = 1.0 / density(name, dew, gas), 1.0 / density(name, dew, rated)
        told = 0.05 * (1.0 + 0.75 * (rated_volume / volume - 1.0))
        yield efficiency.suction_density_correction(0.05, 1.0 / volume, 1.0 / rated_volume) - told


def gas_factors() -> Iterator[float]:
    for ours, name, dew, gas, rated in GASES:
        told = 1.0 + 0.75 * (density(name, dew, gas) / density(name, dew, rated) - 1.0)
        yield 100.0 * (efficiency.return_gas_factor(ours, dew, gas, rated) - told)


def swept(bore: float, stroke: float, cylinders: int, rpm: float) -> float:
    """m³/s drawn in by pistons on cranks, each followed through ten turns."""
    steps, turns = 100_000, 10
    area, total = pi / 4.0 * bore * bore, 0.0
    before = 0.0
    for i in range(1, steps + 1):
        place = stroke / 2.0 * (1.0 - cos(2.0 * pi * turns * i / steps))
        total += max(0.0, place - before) * area
        before = place
    return total * cylinders * rpm / 60.0 / turns


def drawn_in(ratio: float, clearance: float, exponent: float) -> float:
    """Share of the stroke that draws in gas, the gas in the clearance expanding step by step behind the piston."""
    pressure, volume, step = ratio, clearance, 1e-5
    while pressure > 1.0:
        pressure -= exponent * pressure / volume * step
        volume += step
    return 1.0 + clearance - volume


def efficiencies() -> Iterator[float]:
    """Points off CoolProp's enthalpy by pressure and entropy, two refrigerants."""
    from CoolProp.CoolProp import PropsSI

    for ours, name, p1, t1, p2, t2 in (
        ("R-134a", "R134a", 2.3e5, 283.0, 1.1e6, 335.0), ("R-290", "R290", 2.5e5, 280.0, 1.4e6, 355.0),
    ):
        entropy, inlet = PropsSI("S", "P", p1, "T", t1, name), PropsSI("H", "P", p1, "T", t1, name)
        ideal = PropsSI("H", "P", p2, "S", entropy, name) - inlet
        real = PropsSI("H", "P", p2, "T", t2, name) - inlet
        yield 100.0 * (efficiency.isentropic_efficiency(ours, p1, t1, p2, t2) - ideal / real)
        overall = efficiency.overall_isentropic_efficiency(ours, p1, t1, p2, 0.02, 0.03 * real)
        yield 100.0 * (overall - ideal / real / 1.5)


def currents() -> Iterator[float]:
    """A motor of constant power and power factor draws the rated current at any voltage: no deviation to be seen."""
    rated, volts = 7.55, 230.0
    for now in (200.0, 218.0, 240.0, 250.0):
        drawn = 230.0 * rated * 0.85 / (now * 0.85)
        yield 100.0 * (efficiency.compressor_current_ratio(drawn, rated, now, volts) - 1.0)
        yield 100.0 * (efficiency.compressor_current_ratio(0.8 * drawn, rated, now, volts) - 0.8)


CHECKS = (
    Check(
        "compressor_mass_flow", "5 points", SET + "; numpy polyval2d", LIBRARY, "%", 1e-6,
        against_numpy(rating.compressor_mass_flow, MASS_FLOW, "lb_per_h"),
    ),
    Check(
        "compressor_mass_flow", "the same polynomial multiplied out for °C and kg/h, 5 points", SET + "; numpy polypow",
        DERIVATION, "%", 1e-5, units_agree(rating.compressor_mass_flow, MASS_FLOW, 0.45359237),
    ),
    Check(
        "compressor_power", "5 points", SET + "; numpy polyval2d", LIBRARY, "%", 1e-6,
        against_numpy(rating.compressor_power, POWER, "W"),
    ),
    Check(
        "compressor_capacity", "the mass flow set times 70 Btu/lb, 5 points", SET + "; numpy polyval2d", LIBRARY, "%",
        1e-6,
        against_numpy(rating.compressor_capacity, tuple(70.0 * c for c in MASS_FLOW), "Btu_per_h"),
    ),
    Check(
        "compressor_capacity", "the same polynomial multiplied out for °C and W, 5 points", SET + "; numpy polypow",
        DERIVATION, "%", 1e-5,
        units_agree(rating.compressor_capacity, tuple(70.0 * c for c in MASS_FLOW), 1055.05585262 / 3600.0),
    ),
    Check(
        "compressor_current", "the power set over 200 V, 5 points", SET + "; numpy polyval2d", LIBRARY, "%", 1e-6,
        against_numpy(rating.compressor_current, tuple(c / 200.0 for c in POWER), "A"),
    ),
    Check(
        "suction_density_correction", "by specific volumes, 3 refrigerants",
        "Rice and Dabiri as in the documentation of ACHP; CoolProp", LIBRARY, "kg/s", 1e-9, corrected,
    ),
    Check("return_gas_factor", "3 refrigerants", "CoolProp, PropsSI", LIBRARY, "points", 0.02, gas_factors),
    Check(
        "compressor_displacement", "pistons followed through ten turns, 2 machines", "crank motion step by step",
        DERIVATION, "%", 0.01,
        lambda: (
            100.0 * (efficiency.compressor_displacement(b, s, n, to_si(rpm, "rpm")) / swept(b, s, n, rpm) - 1.0)
            for b, s, n, rpm in ((0.08, 0.06, 1, 1450.0), (0.05, 0.038, 4, 1725.0))
        ),
    ),
    Check(
        "volumetric_efficiency", "flow of pistons that lose a fifth of each stroke", "crank motion step by step",
        DERIVATION, "points", 0.01,
        lambda: [
            100.0 * efficiency.volumetric_efficiency(
                0.8 * 17.0 * swept(0.05, 0.038, 4, 1725.0), pi / 4 * 0.05**2 * 0.038 * 4 * 28.75, 17.0
            ) - 80.0
        ],
    ),
    Check(
        "clearance_volumetric_efficiency", "gas expanding behind the piston, 4 cases",
        "polytropic expansion step by step", DERIVATION, "points", 0.05,
        lambda: (
            100.0 * (efficiency.clearance_volumetric_efficiency(r, c, n) - drawn_in(r, c, n))
            for r, c, n in ((3.0, 0.04, 1.1), (8.69, 0.04, 1.1), (8.69, 0.06, 1.3), (5.0, 0.1, 1.15))
        ),
    ),
    Check(
        "isentropic_efficiency", "R-134a, 0.14 MPa and -10 °C to 0.8 MPa and 50 °C: 93.9 %", CENGEL, MEMORY, "points",
        0.3,
        lambda: [100.0 * efficiency.isentropic_efficiency("R-134a", 0.14e6, 263.15, 0.8e6, 323.15) - 93.9],
    ),
    Check(
        "isentropic_efficiency", "two refrigerants, with overall_isentropic_efficiency", "CoolProp, PropsSI by entropy",
        LIBRARY, "points", 0.01, efficiencies,
    ),
    Check(
        "overall_isentropic_efficiency", "the same with 0.05 kg/s and 2.02 kW", CENGEL, MEMORY, "points", 0.5,
        lambda: [
            100.0 * efficiency.overall_isentropic_efficiency("R-134a", 0.14e6, 263.15, 0.8e6, 0.05, 2020.0) - 93.7
        ],
    ),
    Check(
        "compressor_current_ratio", "sound and a fifth low at 4 voltages", "power balance of a motor", DERIVATION,
        "points", 1e-9, currents,
    ),
)
