"""Copper wire: resistance and reactance by size, from the tables of the electrical code."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt
from types import MappingProxyType

from faultkit.calculators.arguments import Argument, Direction, Interval, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import LOCKED_OUT, RISING, share, temperature
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind, format_si

__all__ = [
    "CONDUIT", "HOT_WIRE", "ROOM", "STRANDING", "WIRE", "WIRES", "length", "loop_resistance", "read_wire",
    "wire_impedance", "wire_resistance",
]

_KFT = 304.8
HOT_WIRE, ROOM = 348.15, 293.15
#: Rise of copper's resistance for each kelvin, of its value at 75 degC.
_ALPHA = 0.00323


@dataclass(frozen=True, slots=True)
class _Wire:
    """Ohms for 1000 ft of one wire: dc at 75 degC solid and stranded, ac by conduit, reactance by conduit."""

    solid: float | None
    stranded: float
    ac: Mapping[str, float] | None = None
    reactance: Mapping[str, float] | None = None


_CONDUITS = ("nonmetallic", "aluminum", "steel")


def _wire(
    solid: float | None, stranded: float, reactance: tuple[float, float], ac: tuple[float, float, float]
) -> _Wire:
    x, x_steel = reactance
    return _Wire(
        solid, stranded, MappingProxyType(dict(zip(_CONDUITS, ac, strict=True))),
        MappingProxyType(dict(zip(_CONDUITS, (x, x, x_steel), strict=True))),
    )


_WIRES: Mapping[str, _Wire] = MappingProxyType({
    "18": _Wire(7.77, 7.95),
    "16": _Wire(4.89, 4.99),
    "14": _wire(3.07, 3.14, (0.058, 0.073), (3.1, 3.1, 3.1)),
    "12": _wire(1.93, 1.98, (0.054, 0.068), (2.0, 2.0, 2.0)),
    "10": _wire(1.21, 1.24, (0.050, 0.063), (1.2, 1.2, 1.2)),
    "8": _wire(0.764, 0.778, (0.052, 0.065), (0.78, 0.78, 0.78)),
    "6": _wire(None, 0.491, (0.051, 0.064), (0.49, 0.49, 0.49)),
    "4": _wire(None, 0.308, (0.048, 0.060), (0.31, 0.31, 0.31)),
    "3": _wire(None, 0.245, (0.047, 0.059), (0.25, 0.25, 0.25)),
    "2": _wire(None, 0.194, (0.045, 0.057), (0.19, 0.20, 0.20)),
    "1": _wire(None, 0.154, (0.046, 0.057), (0.15, 0.16, 0.16)),
    "1/0": _wire(None, 0.122, (0.044, 0.055), (0.12, 0.13, 0.12)),
    "2/0": _wire(None, 0.0967, (0.043, 0.054), (0.10, 0.10, 0.10)),
    "3/0": _wire(None, 0.0766, (0.042, 0.052), (0.077, 0.082, 0.079)),
    "4/0": _wire(None, 0.0608, (0.041, 0.051), (0.062, 0.067, 0.063)),
})


def read_wire(text: str) -> str:
    """The wire size a text means: ``#12``, ``12 AWG``, ``AWG 12``, ``1/0``. InputError for one not in the tables."""
    size = re.sub(r"awg|gauge|ga\.?|#|no\.?", "", text, flags=re.IGNORECASE).strip()
    if size not in _WIRES:
        raise InputError(f"'{text}' is no wire size of the tables", did_you_mean(size, list(_WIRES)))
    return size


def _copper(conductor_temperature: float) -> float:
    """Resistance at a temperature (K) by that at 75 degC."""
    return 1.0 + _ALPHA * (conductor_temperature - HOT_WIRE)


def wire_resistance(
    wire: str, length: float, stranding: str = "stranded", conductor_temperature: float = HOT_WIRE
) -> float:
    """Resistance of one copper wire (ohm), for direct current.

    By size and length (m, one way), uncoated, at the conductor's temperature (K, by default the 75 degC
    of the table). Solid wire is listed to 8 AWG.

    >>> round(wire_resistance("12", 304.8), 3)  # 1000 ft
    1.98
    """
    found = _WIRES[read_wire(wire)]
    ohms = found.solid if stranding == "solid" else found.stranded
    if stranding not in _STRANDINGS:
        raise InputError(f"'stranding' is '{stranding}'", did_you_mean(stranding, _STRANDINGS))
    if ohms is None:
        raise InputError(f"solid wire of {wire} AWG is not in the table", "stranded, or 18 to 8 AWG")
    return ohms * length / _KFT * _copper(conductor_temperature)


def loop_resistance(
    wire: str, length: float, stranding: str = "stranded", conductor_temperature: float = ROOM
) -> float:
    """Resistance a run of copper wire should show out and back, joined at the far end (ohm).

    By size and length (m, one way), cold (68 degF by default). Read with power locked out and the
    far ends joined; subtract the meter's leads. Tenths of an ohm more: a joint or a damaged wire.

    >>> round(loop_resistance("12", 36.576), 3)  # 120 ft at 68 degF
    0.391
    """
    return 2.0 * wire_resistance(wire, length, stranding, conductor_temperature)


def wire_impedance(
    wire: str, length: float, power_factor: float = 0.85, conduit: str = "nonmetallic",
    conductor_temperature: float = HOT_WIRE,
) -> float:
    """Effective impedance of one copper wire in conduit at 60 Hz (ohm).

    What an ampere costs in volts, line to neutral, at a load's power factor: ac resistance times
    power factor plus reactance times the sine; 14 to 4/0 AWG, length (m) one way. Only the
    resistance is corrected for temperature (K). The table is printed to two digits.

    >>> round(wire_impedance("12", 304.8), 2)  # 1000 ft, power factor 0.85
    1.73
    """
    found = _WIRES[read_wire(wire)]
    if conduit not in _CONDUITS:
        raise InputError(f"'conduit' is '{conduit}'", did_you_mean(conduit, _CONDUITS))
    if found.ac is None or found.reactance is None:
        raise InputError(f"wire of {wire} AWG is not in the table of impedances", "14 to 4/0 AWG")
    sine = sqrt(max(0.0, 1.0 - power_factor * power_factor))
    ohms = found.ac[conduit] * _copper(conductor_temperature) * power_factor + found.reactance[conduit] * sine
    return ohms * length / _KFT


_STRANDINGS = ("stranded", "solid")
WIRE = Word("wire", tuple(_WIRES), "wire size, AWG", read=read_wire)
STRANDING = Word("stranding", _STRANDINGS, "stranded or solid", default="stranded")
CONDUIT = Word("conduit", _CONDUITS, "what the wires lie in", default="nonmetallic")
#: From a freezer's wall to the limit of common insulation.
_CONDUCTOR: Interval = (233.15, 378.15)
_TABLE_8 = (
    "National Electrical Code, chapter 9 table 8, uncoated copper, and its note on temperature (both seen reprinted)"
)
_TABLE_9 = "National Electrical Code, chapter 9 table 9 and its note 2 (seen reprinted)"


def length(direction: Direction | None) -> Argument:
    """How long the run is."""
    return Argument("length", (Kind.LENGTH,), direction, "length one way", valid=(0.0, 1500.0), unit="ft")


def conductor(direction: Direction | None, default: float = HOT_WIRE) -> Argument:
    """Temperature of the copper."""
    return temperature("conductor_temperature", "temperature of the copper", direction, _CONDUCTOR, default)


def shown_run(wire: str, metres: float) -> str:
    """A run in words, for messages."""
    return f"{format_si(metres, 'ft')} of {wire} AWG"


#: The calculators of this file.
WIRES: tuple[Calculator, ...] = (
    Calculator(
        "wire_resistance", wire_resistance, (WIRE, length(RISING), STRANDING, conductor(RISING)),
        result=Kind.RESISTANCE, unit="ohm", source=_TABLE_8, example={"wire": "12", "length": "120 ft ± 5 ft"},
    ),
    Calculator(
        "loop_resistance", loop_resistance, (WIRE, length(RISING), STRANDING, conductor(RISING, ROOM)),
        result=Kind.RESISTANCE, unit="ohm", source=_TABLE_8, caution=LOCKED_OUT,
        example={"wire": "12 AWG", "length": "120 ft ± 5 ft", "conductor_temperature": "50 degF ± 10 delta_degF"},
    ),
    Calculator(
        "wire_impedance", wire_impedance,
        (
            WIRE, length(RISING), share("power_factor", "power factor of the load", None, (0.1, 1.0), 0.85), CONDUIT,
            conductor(RISING),
        ),
        result=Kind.RESISTANCE, unit="ohm", source=_TABLE_9,
        example={"wire": "10", "length": "150 ft ± 5 ft", "conduit": "steel"},
    ),
)
