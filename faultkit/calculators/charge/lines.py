"""What refrigerant piping holds: ACR copper tube by size and length."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from faultkit.calculators.arguments import Direction, Word
from faultkit.calculators.charge.balance import bore_volume, vapor_density_at
from faultkit.calculators.charge.terms import HANDLING, length, pressure, temperature
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT
from faultkit.calculators.refrigerants import refrigerant as find
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind

__all__ = ["BORES", "LINES", "TUBE", "liquid_line_charge", "tube_bore", "tube_name", "vapor_line_charge"]

_INCH = 0.0254
#: Inside diameter in inches by outside diameter: annealed, then drawn. ASTM B280; 1 5/8 and larger are the
#: walls of type L of ASTM B88, which it shares.
BORES: Mapping[str, tuple[float, float]] = MappingProxyType({
    "1/8": (0.065, 0.065), "3/16": (0.128, 0.128), "1/4": (0.190, 0.190), "5/16": (0.248, 0.248),
    "3/8": (0.311, 0.315), "1/2": (0.436, 0.430), "5/8": (0.555, 0.545), "3/4": (0.680, 0.666),
    "7/8": (0.785, 0.785), "1 1/8": (1.025, 1.025), "1 3/8": (1.265, 1.265), "1 5/8": (1.505, 1.505),
    "2 1/8": (1.985, 1.985), "2 5/8": (2.465, 2.465), "3 1/8": (2.945, 2.945), "3 5/8": (3.425, 3.425),
})


def tube_name(text: str) -> str:
    """The size meant by a spelling: ``1-1/8 in`` is ``1 1/8``. InputError with the nearest sizes for none."""
    bare = re.sub(r"(?:\"|''|inch(?:es)?|in\.?|OD)\s*", "", text, flags=re.IGNORECASE)
    name = re.sub(r"[\s_-]+", " ", bare).strip()
    if name in BORES:
        return name
    raise InputError(f"'tube' is '{text}'", did_you_mean(name, BORES))


def tube_bore(tube: str, temper: str) -> float:
    """Inside diameter of ACR copper tube, named by its outside diameter.

    Takes the size in inches and ``drawn`` (hard lengths) or ``annealed`` (soft coils), gives m.

    >>> round(tube_bore("3/8", "drawn") / 0.0254, 3)  # in
    0.315
    """
    annealed, drawn = BORES[tube_name(tube)]
    return (annealed if temper == "annealed" else drawn) * _INCH


def liquid_line_charge(tube: str, length: float, temperature: float, refrigerant: str, temper: str) -> float:
    """Liquid refrigerant in a copper liquid line.

    Takes the size in inches, m and K (saturated liquid; subcooling of 10 °F adds about 2 %), gives kg. Added
    to a unit's own charge where the field piping is longer than what came charged.

    >>> round(liquid_line_charge("3/8", 30.48, 310.928, "R-404A", "drawn") / 0.45359237, 1)  # 100 ft, 100 degF: lb
    3.3
    """
    return bore_volume(tube_bore(tube, temper), length) * find(refrigerant).liquid_density(temperature)


def vapor_line_charge(
    tube: str, length: float, pressure: float, temperature: float, refrigerant: str, temper: str
) -> float:
    """Refrigerant vapor in a copper suction or hot-gas line.

    Takes the size in inches, m, Pa absolute and K at or above the dew point, gives kg: little beside the
    liquid line. Equation of state by CoolProp.

    >>> kg = vapor_line_charge("7/8", 30.48, 478_000.0, 277.6, "R-404A", "drawn")  # 100 ft, 55 psig, 40 degF
    >>> round(kg / 0.45359237, 1)
    0.5
    """
    return bore_volume(tube_bore(tube, temper), length) * vapor_density_at(refrigerant, pressure, temperature)


#: The argument that says which tube is meant.
TUBE = Word("tube", tuple(BORES), "outside diameter, in", read=tube_name)
_TEMPER = Word("temper", ("drawn", "annealed"), "hard lengths or soft coils", default="drawn")
_UP, _DOWN = Direction.RISING, Direction.FALLING
_SOURCE = (
    "bores of ASTM B280 to 1 3/8 in (a printed table seen; larger from memory, walls as ASTM B88 type L, seen); "
)

#: The calculators of this file.
LINES: tuple[Calculator, ...] = (
    Calculator(
        "tube_bore", tube_bore, (TUBE, _TEMPER), result=Kind.LENGTH, unit="in", source=_SOURCE.rstrip("; "),
        example={"tube": "3/8", "temper": "drawn"},
    ),
    Calculator(
        "liquid_line_charge", liquid_line_charge,
        (TUBE, length("length", "length of the line", _UP), temperature("temperature", "liquid", _DOWN), REFRIGERANT,
         _TEMPER),
        result=Kind.MASS, unit="lb", source=_SOURCE + "liquid density fitted to CoolProp's equations of state",
        caution=HANDLING,
        example={"tube": "3/8", "length": "60 ft", "temperature": "100 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "vapor_line_charge", vapor_line_charge,
        (
            TUBE, length("length", "length of the line", _UP), pressure("pressure", "pressure in it", _UP),
            temperature("temperature", "vapor", _DOWN), REFRIGERANT, _TEMPER,
        ),
        result=Kind.MASS, unit="oz", source=_SOURCE + "CoolProp's equations of state", caution=HANDLING,
        example={
            "tube": "7/8", "length": "60 ft", "pressure": "55 psig", "temperature": "40 degF", "refrigerant": "R-404A",
        },
    ),
)
