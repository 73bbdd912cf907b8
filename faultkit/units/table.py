"""The closed table of unit names used in the trade. SI value = number * scale + offset.

Scales are the float nearest to the exact definition; tests/units/test_table.py works them
out again from the definitions and compares them with a units library.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.units.kinds import Kind

__all__ = ["ALIASES", "FOLDED", "REFUSED", "UNITS", "Unit", "sibling"]


@dataclass(frozen=True, slots=True)
class Unit:
    """A linear unit. ``family`` joins the forms of one unit: psi, psig, psia; degF, delta_degF."""

    name: str
    kind: Kind
    scale: float
    offset: float = 0.0
    family: str = ""

    def to_si(self, value: float) -> float:
        """The SI value of ``value`` in this unit."""
        if self.offset:
            # To the nanokelvin, so that 5 degC and 41 degF, both written in a file, are equal:
            # a value on a cut belongs to the band above whatever unit it was read in.
            return round(value * self.scale + self.offset, 9)
        return value * self.scale

    def from_si(self, value_si: float) -> float:
        """The number in this unit of an SI value."""
        if self.offset:
            return round((value_si - self.offset) / self.scale, 8)
        return value_si / self.scale


def _plain(kind: Kind, **scales: float) -> list[Unit]:
    return [Unit(name, kind, scale, 0.0, name) for name, scale in scales.items()]


def _temperature(name: str, scale: float, offset: float) -> list[Unit]:
    return [
        Unit(name, Kind.TEMPERATURE, scale, offset, name),
        Unit(f"delta_{name}", Kind.TEMPERATURE_DIFFERENCE, scale, 0.0, name),
    ]


def _pressure(name: str, scale: float, gauge: str = "", absolute: str = "") -> list[Unit]:
    return [
        Unit(gauge or f"{name}_gauge", Kind.GAUGE_PRESSURE, scale, 0.0, name),
        Unit(absolute or f"{name}_abs", Kind.ABSOLUTE_PRESSURE, scale, 0.0, name),
        Unit(name, Kind.PRESSURE_DIFFERENCE, scale, 0.0, name),
    ]


# Columns of mercury and water are the conventional ones (13 595.1 and 1000 kg/m³, standard
# gravity); a micron is a thousandth of a millimetre of mercury, absolute; Btu is the
# International Table one; gallon and fluid ounce are US liquid.
_ROWS: tuple[Unit, ...] = (
    *_temperature("degF", 0.5555555555555556, 255.37222222222223),
    *_temperature("degC", 1.0, 273.15),
    *_temperature("K", 1.0, 0.0),
    *_pressure("psi", 6894.757293168362, "psig", "psia"),
    *_pressure("kPa", 1e3),
    *_pressure("bar", 1e5),
    *_pressure("Pa", 1.0),
    *_pressure("mbar", 1e2),
    *_pressure("MPa", 1e6),
    *_pressure("inH2O", 249.08891),
    # Read as a vacuum: a positive number below the atmosphere.
    Unit("inHg_vac", Kind.GAUGE_PRESSURE, -3386.388640341, 0.0, "inHg"),
    Unit("inHg_abs", Kind.ABSOLUTE_PRESSURE, 3386.388640341, 0.0, "inHg"),
    Unit("inHg", Kind.PRESSURE_DIFFERENCE, 3386.388640341, 0.0, "inHg"),
    *_pressure("mmHg", 133.322387415),
    Unit("micron", Kind.ABSOLUTE_PRESSURE, 0.133322387415, 0.0, "micron"),
    Unit("delta_micron", Kind.PRESSURE_DIFFERENCE, 0.133322387415, 0.0, "micron"),
    *_plain(Kind.VOLTAGE, V=1.0, mV=1e-3, kV=1e3),
    *_plain(Kind.CURRENT, A=1.0, mA=1e-3, uA=1e-6),
    *_plain(Kind.RESISTANCE, ohm=1.0, kohm=1e3, Mohm=1e6),
    *_plain(
        Kind.POWER, W=1.0, kW=1e3, Btu_per_h=0.2930710701722222, kBtu_per_h=293.0710701722222,
        ton_refrigeration=3516.8528420666667, hp=745.6998715822702,
    ),
    *_plain(Kind.ENERGY, J=1.0, kJ=1e3, Wh=3600.0, kWh=3.6e6, Btu=1055.05585262),
    *_plain(Kind.CAPACITANCE, uF=1e-6, nF=1e-9),
    *_plain(Kind.TIME, s=1.0, ms=1e-3, min=60.0, h=3600.0, days=86400.0),
    *_plain(Kind.FREQUENCY, Hz=1.0, kHz=1e3, per_h=0.0002777777777777778, per_day=1.1574074074074073e-05),
    *_plain(Kind.ROTATION, rpm=0.10471975511965977, rad_per_s=1.0),
    *_plain(Kind.ANGLE, deg=0.017453292519943295, rad=1.0),
    *_plain(Kind.MASS, lb=0.45359237, oz=0.028349523125, kg=1.0, g=1e-3),
    *_plain(
        Kind.MASS_FLOW, lb_per_h=0.00012599788055555556, lb_per_min=0.007559872833333333,
        kg_per_h=0.0002777777777777778, kg_per_s=1.0, g_per_s=1e-3,
    ),
    *_plain(Kind.LENGTH, ft=0.3048, m=1.0, cm=1e-2, mm=1e-3, km=1e3, um=1e-6),
    Unit("in", Kind.LENGTH, 0.0254, 0.0, "in"),
    *_plain(Kind.AREA, ft2=0.09290304, in2=0.00064516, m2=1.0),
    *_plain(
        Kind.VOLUME, gal=0.003785411784, fl_oz=2.95735295625e-05, ft3=0.028316846592,
        in3=1.6387064e-05, L=1e-3, mL=1e-6, m3=1.0,
    ),
    *_plain(Kind.SPEED, ft_per_min=0.00508, m_per_s=1.0, mph=0.44704),
    *_plain(
        Kind.VOLUME_FLOW, cfm=0.0004719474432, gpm=6.30901964e-05, L_per_s=1e-3,
        L_per_min=1.6666666666666667e-05, m3_per_h=0.0002777777777777778,
    ),
    *_plain(Kind.DENSITY, lb_per_ft3=16.018463373960138, kg_per_m3=1.0, kg_per_L=1e3),
    *_plain(Kind.SPECIFIC_ENERGY, Btu_per_lb=2326.0, kJ_per_kg=1e3, J_per_kg=1.0),
    *_plain(Kind.SPECIFIC_HEAT, Btu_per_lb_degF=4186.8, kJ_per_kg_K=1e3, J_per_kg_K=1.0),
    *_plain(Kind.HEAT_TRANSFER, Btu_per_h_ft2_degF=5.678263341113488, W_per_m2_K=1.0),
    Unit("%", Kind.RATIO, 1e-2, 0.0, "%"),
    *_plain(Kind.RATIO, points=1e-2, ppm=1e-6),
    *_plain(Kind.COUNT, count=1.0),
)

UNITS: Mapping[str, Unit] = MappingProxyType({unit.name: unit for unit in _ROWS})

# Spellings in their NFKC form: ℉ is met as °F, ft³ as ft3, the micro sign as the Greek letter.
_SPELLINGS = {
    "degF": "°F deg_F degrees_F", "degC": "°C deg_C degrees_C celsius",
    "K": "kelvin",
    "delta_degF": "Δ°F ∆°F ΔdegF ∆degF delta_F", "delta_degC": "Δ°C ∆°C ΔdegC ∆degC delta_C",
    "kPa_gauge": "kPag kPa(g)", "kPa_abs": "kPaa kPa(a)",
    "bar_gauge": "barg bar(g)", "bar_abs": "bara bar(a)",
    "Pa_gauge": "Pa(g)", "Pa_abs": "Pa(a)",
    "psig": "psi_gauge psi(g)", "psia": "psi_abs psi(a)", "psi": "psid",
    "inH2O": "inWC inWG", "inHg_vac": "inHgv", "micron": "microns micronHg",
    "V": "v volt volts VAC VDC Vac Vdc", "mV": "millivolt millivolts", "kV": "kilovolt kilovolts",
    "A": "a amp amps ampere amperes", "mA": "milliamp milliamps", "uA": "μA microamp microamps",
    "ohm": "Ω ohms", "kohm": "kΩ kohms kiloohm kiloohms", "Mohm": "MΩ Mohms megohm megohms",
    "W": "w watt watts", "kW": "kw KW kilowatt kilowatts", "Btu_per_h": "BTUH Btu/h Btu/hr",
    "kBtu_per_h": "MBH kBtu/h kBtu/hr", "hp": "HP horsepower",
    "kWh": "kilowatt_hours", "uF": "μF uf UF MFD microfarad microfarads",
    "s": "sec secs second seconds", "min": "mins minute minutes", "h": "hr hrs hour hours",
    "days": "d day", "Hz": "hz HZ hertz", "rpm": "rev/min",
    "lb": "lbs pound pounds", "oz": "ounce ounces", "kg": "kilogram kilograms", "g": "gram grams",
    "lb_per_h": "lb/h lb/hr", "lb_per_min": "lb/min",
    "kg_per_h": "kg/h", "kg_per_s": "kg/s", "g_per_s": "g/s",
    "ft": "foot feet", "in": "inch inches", "m": "meter meters metre metres", "um": "μm",
    "ft2": "sqft ft^2", "in2": "in^2", "m2": "m^2", "ft3": "ft^3 cuft", "m3": "m^3",
    "in3": "in^3", "gal": "gallon gallons", "L": "l liter liters litre litres", "mL": "ml",
    "ft_per_min": "fpm ft/min", "m_per_s": "m/s",
    "cfm": "ft3/min", "gpm": "gal/min", "L_per_s": "L/s l/s", "L_per_min": "L/min l/min",
    "m3_per_h": "m3/h", "lb_per_ft3": "lb/ft3", "kg_per_m3": "kg/m3", "kg_per_L": "kg/L",
    "Btu_per_lb": "Btu/lb", "kJ_per_kg": "kJ/kg", "J_per_kg": "J/kg", "per_h": "/h 1/h", "per_day": "/day 1/day",
    "%": "percent pct %RH", "points": "point percentage_points",
    "count": "counts pieces", "deg": "angle_degrees",
}
ALIASES: Mapping[str, str] = MappingProxyType({a: n for n, text in _SPELLINGS.items() for a in text.split()})

# Words that name a different unit to another reader; never guessed.
REFUSED: Mapping[str, str] = MappingProxyType({
    **dict.fromkeys(("F", "f"), "write 'degF' for a temperature or 'delta_degF' for a difference"),
    **dict.fromkeys(("C", "c"), "write 'degC' for a temperature or 'delta_degC' for a difference"),
    **dict.fromkeys(
        ("°", "degree", "degrees"),
        "write 'degF' or 'degC' for a temperature, 'delta_degF' or 'delta_degC' for a difference, "
        "'deg' for an angle",
    ),
    **dict.fromkeys(("ton", "tons"), "write 'ton_refrigeration' for cooling power or 'lb' for a weight"),
    **dict.fromkeys(("vac", "vacuum"), "write 'inHg_vac' or 'micron' for a vacuum, 'V' for a voltage"),
    **dict.fromkeys(("mohm", "mohms"), "write 'Mohm' for a megohm or '0.001 ohm' for a milliohm"),
})


def _folded() -> dict[str, str]:
    found: dict[str, set[str]] = {}
    for spelling, name in (*((n, n) for n in UNITS), *ALIASES.items()):
        # Letters m and M are prefixes a billion apart; two letters or fewer say too little.
        if len(spelling) > 2 and spelling[:3].lower() not in ("mpa", "mba", "moh"):
            found.setdefault(spelling.lower(), set()).add(name)
    return {low: names.pop() for low, names in found.items() if len(names) == 1 and low not in REFUSED}


FOLDED: Mapping[str, str] = MappingProxyType(_folded())


def sibling(unit: Unit, kind: Kind) -> Unit | None:
    """The form of the same unit that has ``kind``: psig for psi and GAUGE_PRESSURE."""
    if not unit.family:
        return None
    return next((u for u in UNITS.values() if u.family == unit.family and u.kind is kind), None)
