"""The committed table against the definitions of the units and against pint."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.units import UNITS, Kind, from_si, to_si

LB, G, INCH, FOOT = Fraction("0.45359237"), Fraction("9.80665"), Fraction("0.0254"), Fraction("0.3048")
GALLON, BTU = 231 * INCH**3, Fraction("1055.05585262")
MMHG, INH2O = Fraction("13.5951") * G, 1000 * G * INCH
PSI, HOUR, MINUTE = LB * G / INCH**2, 3600, 60

# Exact definitions: international yard and pound (1959), conventional columns of mercury and water,
# US gallon of 231 cubic inches, International Table Btu.
DEFINITIONS = {
    "degF": Fraction(5, 9),
    "psi": PSI,
    "psig": PSI,
    "psia": PSI,
    "inHg": MMHG * Fraction("25.4"),
    "inHg_vac": -MMHG * Fraction("25.4"),
    "inHg_abs": MMHG * Fraction("25.4"),
    "mmHg": MMHG,
    "inH2O": INH2O,
    "micron": MMHG / 1000,
    "delta_micron": MMHG / 1000,
    "Btu_per_h": BTU / HOUR,
    "kBtu_per_h": 1000 * BTU / HOUR,
    "ton_refrigeration": 12000 * BTU / HOUR,
    "hp": 550 * FOOT * LB * G,
    "lb": LB,
    "oz": LB / 16,
    "lb_per_h": LB / HOUR,
    "lb_per_min": LB / MINUTE,
    "kg_per_h": Fraction(1, HOUR),
    "ft": FOOT,
    "in": INCH,
    "ft2": FOOT**2,
    "in2": INCH**2,
    "gal": GALLON,
    "fl_oz": GALLON / 128,
    "ft3": FOOT**3,
    "in3": INCH**3,
    "ft_per_min": FOOT / MINUTE,
    "mph": 5280 * FOOT / HOUR,
    "cfm": FOOT**3 / MINUTE,
    "gpm": GALLON / MINUTE,
    "L_per_min": Fraction(1, 60000),
    "m3_per_h": Fraction(1, HOUR),
    "Wh": Fraction(HOUR),
    "days": Fraction(86400),
    "per_h": Fraction(1, HOUR),
    "per_day": Fraction(1, 24 * HOUR),
    "lb_per_ft3": LB / FOOT**3,
    "Btu_per_lb": BTU / LB,
    "Btu_per_lb_degF": BTU / LB * Fraction(9, 5),
    "Btu_per_h_ft2_degF": BTU / HOUR / FOOT**2 * Fraction(9, 5),
}

# Our name → pint's, where they differ. pint's own Btu is the ISO one, so the International Table
# one is named; its ton of refrigeration rests on the ISO Btu and is written out here.
PINT = {
    "K": "kelvin",
    "delta_K": "kelvin",
    "psig": "psi",
    "psia": "psi",
    "inHg_vac": "inHg",
    "inHg_abs": "inHg",
    "micron": "millitorr",
    "delta_micron": "millitorr",
    "Btu_per_h": "international_british_thermal_unit/hour",
    "kBtu_per_h": "1000*international_british_thermal_unit/hour",
    "ton_refrigeration": "12000*international_british_thermal_unit/hour",
    "Btu": "international_british_thermal_unit",
    "Mohm": "megaohm",
    "Wh": "watt_hour",
    "kWh": "kilowatt_hour",
    "min": "minute",
    "h": "hour",
    "days": "day",
    "rad_per_s": "radian/second",
    "deg": "degree",
    "lb_per_h": "pound/hour",
    "lb_per_min": "pound/minute",
    "kg_per_h": "kg/hour",
    "kg_per_s": "kg/second",
    "g_per_s": "g/second",
    "ft2": "foot**2",
    "in2": "inch**2",
    "m2": "meter**2",
    "ft3": "foot**3",
    "in3": "inch**3",
    "m3": "meter**3",
    "gal": "gallon",
    "fl_oz": "fluid_ounce",
    "ft_per_min": "foot/minute",
    "m_per_s": "meter/second",
    "mph": "mile/hour",
    "cfm": "foot**3/minute",
    "gpm": "gallon/minute",
    "L_per_s": "liter/second",
    "L_per_min": "liter/minute",
    "m3_per_h": "meter**3/hour",
    "%": "percent",
    "points": "percent",
    "per_h": "hour**-1",
    "per_day": "day**-1",
    "lb_per_ft3": "pound/foot**3",
    "kg_per_m3": "kg/meter**3",
    "kg_per_L": "kg/liter",
    "Btu_per_lb": "international_british_thermal_unit/pound",
    "kJ_per_kg": "kJ/kg",
    "J_per_kg": "J/kg",
    "Btu_per_lb_degF": "international_british_thermal_unit/pound/delta_degF",
    "kJ_per_kg_K": "kJ/kg/kelvin",
    "J_per_kg_K": "J/kg/kelvin",
    "Btu_per_h_ft2_degF": "international_british_thermal_unit/hour/foot**2/delta_degF",
    "W_per_m2_K": "watt/meter**2/kelvin",
    "in": "inch",
    "g": "gram",
    "m": "meter",
}
SI_UNIT = {
    Kind.TEMPERATURE: "kelvin",
    Kind.TEMPERATURE_DIFFERENCE: "kelvin",
    Kind.GAUGE_PRESSURE: "pascal",
    Kind.ABSOLUTE_PRESSURE: "pascal",
    Kind.PRESSURE_DIFFERENCE: "pascal",
    Kind.VOLTAGE: "volt",
    Kind.CURRENT: "ampere",
    Kind.RESISTANCE: "ohm",
    Kind.POWER: "watt",
    Kind.ENERGY: "joule",
    Kind.CAPACITANCE: "farad",
    Kind.TIME: "second",
    Kind.FREQUENCY: "hertz",
    Kind.ROTATION: "radian/second",
    Kind.ANGLE: "radian",
    Kind.MASS: "kilogram",
    Kind.MASS_FLOW: "kilogram/second",
    Kind.LENGTH: "meter",
    Kind.AREA: "meter**2",
    Kind.VOLUME: "meter**3",
    Kind.SPEED: "meter/second",
    Kind.VOLUME_FLOW: "meter**3/second",
    Kind.DENSITY: "kilogram/meter**3",
    Kind.SPECIFIC_ENERGY: "joule/kilogram",
    Kind.SPECIFIC_HEAT: "joule/kilogram/kelvin",
    Kind.HEAT_TRANSFER: "watt/meter**2/kelvin",
    Kind.RATIO: "dimensionless",
    Kind.COUNT: "count",
}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[Any]:
    return pint.UnitRegistry()


@pytest.mark.parametrize("name", DEFINITIONS)
def test_scale_is_the_float_nearest_the_definition(name: str) -> None:
    assert UNITS[name].scale == float(DEFINITIONS[name])


def test_fahrenheit_offset_and_turns() -> None:
    assert UNITS["degF"].offset == float(Fraction("459.67") * 5 / 9)
    assert UNITS["rpm"].scale == math.pi / 30
    assert UNITS["deg"].scale == math.pi / 180


@pytest.mark.parametrize("name", UNITS)
@pytest.mark.parametrize("value", [-40.0, 0.0, 1.0, 212.0, 1234.5])
def test_every_unit_agrees_with_pint(registry: pint.UnitRegistry[Any], name: str, value: float) -> None:
    unit = UNITS[name]
    other = PINT.get(name, name.removesuffix("_gauge").removesuffix("_abs"))
    # A micron here is the conventional column of mercury, 1.4e-7 below pint's torr of 1/760 atmosphere.
    tolerance = 2e-7 if "micron" in name else 1e-12
    factor, _, other = other.rpartition("*") if other[0].isdigit() else ("1", "", other)
    theirs = registry.Quantity(value * float(factor), other).to(SI_UNIT[unit.kind]).magnitude
    sign = -1.0 if name == "inHg_vac" else 1.0
    assert unit.to_si(value) == pytest.approx(sign * theirs, rel=tolerance, abs=1e-9 * unit.scale * sign)


def test_every_kind_has_a_unit_equal_to_si_or_is_read_in_one() -> None:
    assert {u.kind for u in UNITS.values()} == set(Kind)
    assert set(SI_UNIT) == set(Kind)


# NIST Special Publication 811 (2008), Appendix B.8, factors to seven digits, from memory.
@pytest.mark.parametrize(
    ("name", "factor"),
    [
        ("psi", 6.894757e3),
        ("inHg", 3.386389e3),
        ("inH2O", 2.490889e2),
        ("mmHg", 1.333224e2),
        ("lb", 4.535924e-1),
        ("oz", 2.834952e-2),
        ("gal", 3.785412e-3),
        ("fl_oz", 2.957353e-5),
        ("ft3", 2.831685e-2),
        ("hp", 7.456999e2),
        ("Btu_per_h", 2.930711e-1),
        ("cfm", 4.719474e-4),
        ("gpm", 6.309020e-5),
        ("ft_per_min", 5.08e-3),
        ("rpm", 1.047198e-1),
        ("ton_refrigeration", 3.516853e3),
        ("Btu", 1.055056e3),
        ("lb_per_h", 1.259979e-4),
    ],
)
def test_factor_of_nist_sp_811(name: str, factor: float) -> None:
    assert float(f"{UNITS[name].scale:.6e}") == factor


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"), [(-40, -40), (0, -17.7777777778), (32, 0), (41, 5), (212, 100)]
)
def test_fahrenheit_meets_celsius(fahrenheit: float, celsius: float) -> None:
    assert to_si(fahrenheit, "degF") == pytest.approx(to_si(celsius, "degC"), abs=1e-9)


def test_a_temperature_written_in_either_scale_is_the_same_number() -> None:
    # A value on a cut belongs to the band above, so 5 degC must not fall below a cut at 41 degF.
    for tenths in range(-800, 2000):
        fahrenheit = float(Fraction(tenths, 10) * Fraction(9, 5) + 32)
        assert to_si(tenths / 10, "degC") == to_si(fahrenheit, "degF")


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6))
def test_round_trip(name: str, value: float) -> None:
    assert from_si(to_si(value, name), name) == pytest.approx(
        value, rel=1e-12, abs=1e-7 if UNITS[name].offset else 1e-290  # below that doubles have fewer digits
    )


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6), st.floats(1e-3, 1e3))
def test_larger_reading_is_larger_in_si_but_for_a_vacuum(name: str, value: float, step: float) -> None:
    below, above = to_si(value, name), to_si(value + step, name)
    assert (above < below) if name == "inHg_vac" else (above > below)
