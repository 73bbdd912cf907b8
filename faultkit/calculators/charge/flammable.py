"""Charge limits of flammable refrigerants, and what a charge makes of the air of a room."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.calculators.arguments import Direction, Result, Word
from faultkit.calculators.charge.terms import HANDLING, density, mass, moved, volume
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants.saturation import REFRIGERANT, refrigerant_name
from faultkit.problems import InputError
from faultkit.units import Kind

__all__ = [
    "FLAMMABLE", "FlammableCharge", "RoomCheck", "flammable_charge_check", "flammable_charge_limit",
    "lower_flammability_limit", "room_concentration", "room_concentration_check", "smallest_room",
]

#: kg/m³ of air, as the appliance standards count it.
_LFL: Mapping[str, float] = MappingProxyType({"R-290": 0.038, "R-600a": 0.043, "R-454C": 0.293})
_TIMES: Mapping[str, float] = MappingProxyType({"open": 13.0, "with doors": 8.0})
_CAP_KG, _EARLIER_KG = 1.2, 0.150
_LIMITS = (
    "UL 60335-2-89, 2nd edition (2021-10-27): 8 times LFL with doors, 13 times open, for propane 300 and 500 g by "
    "circuit (seen in the trade press); 150 g before, 40 CFR 82 subpart G (seen); cap of 1.2 kg from memory; what "
    "EPA lists for a use, and the nameplate, rule"
)


@dataclass(frozen=True, slots=True)
class FlammableCharge:
    """kg, ratio, words."""

    limit: float
    share: float
    verdict: str


@dataclass(frozen=True, slots=True)
class RoomCheck:
    """kg/m³, ratio, words."""

    concentration: float
    share: float
    verdict: str


def lower_flammability_limit(refrigerant: str) -> float:
    """Least refrigerant by volume of air that burns, kg/m³.

    InputError for a refrigerant that does not burn.

    >>> lower_flammability_limit("R-290")
    0.038
    """
    name = refrigerant_name(refrigerant)
    if name not in _LFL:
        raise InputError(f"{name} has no flammability limit here", "one of " + ", ".join(_LFL))
    return _LFL[name]


def flammable_charge_limit(refrigerant: str, cabinet: str) -> float:
    """Most flammable refrigerant in one circuit of a self-contained commercial cabinet.

    Takes the cabinet as ``open``, ``with doors`` or ``earlier listing`` (150 g, for one built to the older
    standards), gives kg. For new equipment made for that refrigerant only; in the field the charge is the
    nameplate's, weighed in, never more, and no unit is changed over to a flammable refrigerant.

    >>> round(flammable_charge_limit("R-290", "open"), 3), round(flammable_charge_limit("R-290", "with doors"), 3)
    (0.494, 0.304)
    """
    lfl = lower_flammability_limit(refrigerant)
    return _EARLIER_KG if cabinet == "earlier listing" else min(_TIMES[cabinet] * lfl, _CAP_KG)


def flammable_charge_check(charge: float, refrigerant: str, cabinet: str) -> FlammableCharge:
    """Is a circuit's charge of flammable refrigerant within the limit of its standard.

    Takes kg and words as ``flammable_charge_limit``.

    >>> flammable_charge_check(0.4, "R-290", "with doors").verdict
    'over the limit'
    """
    limit = flammable_charge_limit(refrigerant, cabinet)
    share = charge / limit
    return FlammableCharge(limit, share, "within the limit" if share <= 1.0 + 1e-9 else "over the limit")


def room_concentration(charge: float, room_volume: float) -> float:
    """Refrigerant by volume of a closed room if all of a charge leaks into it, evenly mixed.

    Takes kg and m³, gives kg/m³. It is heavier than air: near the floor and in pits there is more.

    >>> round(room_concentration(charge=5.443, room_volume=33.98), 3)  # 12 lb, 1200 ft³
    0.16
    """
    return charge / room_volume


def smallest_room(charge: float, limit: float) -> float:
    """Smallest closed room in which a leaked charge stays within a limit.

    Takes kg and kg/m³: the refrigerant concentration limit of the code in force, from its table. Gives m³.

    >>> round(smallest_room(charge=5.443, limit=0.21) / 0.0283168)  # 12 lb of R-134a: ft³
    915
    """
    return charge / limit


def room_concentration_check(charge: float, room_volume: float, limit: float) -> RoomCheck:
    """Would a whole charge leaked into a closed room exceed a concentration limit.

    Takes kg, m³ and kg/m³: the refrigerant concentration limit (toxicity, oxygen) or a quarter of the
    lower flammability limit, from the code in force; 13 lb by 1000 ft³ is 0.21 kg/m³.

    >>> room_concentration_check(charge=9.07, room_volume=33.98, limit=0.21).verdict
    'over the limit'
    """
    concentration = room_concentration(charge, room_volume)
    share = concentration / limit
    return RoomCheck(concentration, share, "within the limit" if share <= 1.0 + 1e-9 else "over the limit")


_UP, _DOWN = Direction.RISING, Direction.FALLING
_CHARGE = mass("charge", "charge of one circuit", _UP)
_ROOM = volume("room_volume", "closed room", _DOWN)
_LIMIT = density("limit", "concentration limit of the code in force", _DOWN)
_CABINET = Word(
    "cabinet", ("with doors", "open", "earlier listing"), "how it is built and listed", default="with doors"
)
_FLAMMABLE = "common practice, no source: the limit itself is the code's"

#: The calculators of this file.
FLAMMABLE: tuple[Calculator, ...] = (
    Calculator(
        "lower_flammability_limit", lower_flammability_limit, (REFRIGERANT,), result=Kind.DENSITY, unit="kg_per_m3",
        source="IEC 60335-2-89 and ISO 5149 (from memory)", caution=HANDLING, example={"refrigerant": "R-290"},
    ),
    Calculator(
        "flammable_charge_limit", flammable_charge_limit, (REFRIGERANT, _CABINET), result=Kind.MASS, unit="g",
        source=_LIMITS, caution=HANDLING, example={"refrigerant": "R-290", "cabinet": "open"},
    ),
    Calculator(
        "flammable_charge_check", flammable_charge_check, (moved(_CHARGE, None), REFRIGERANT, _CABINET),
        result=(
            Result("limit", Kind.MASS, "limit of one circuit", "g"), Result("share", Kind.RATIO, "of the limit", "%"),
            Result("verdict", None, "verdict"),
        ),
        source=_LIMITS, caution=HANDLING, example={"charge": "150 g ± 2 g", "refrigerant": "R-290"},
    ),
    Calculator(
        "room_concentration", room_concentration, (_CHARGE, _ROOM), result=Kind.DENSITY, unit="kg_per_m3",
        source="follows from the definition", caution=HANDLING,
        example={"charge": "12 lb", "room_volume": "1200 ft3"},
    ),
    Calculator(
        "smallest_room", smallest_room, (_CHARGE, _LIMIT), result=Kind.VOLUME, unit="ft3", source=_FLAMMABLE,
        caution=HANDLING, example={"charge": "12 lb", "limit": "0.21 kg_per_m3"},
    ),
    Calculator(
        "room_concentration_check", room_concentration_check,
        (moved(_CHARGE, None), moved(_ROOM, None), moved(_LIMIT, None)),
        result=(
            Result("concentration", Kind.DENSITY, "all of it in the room's air", "kg_per_m3"),
            Result("share", Kind.RATIO, "of the limit", "%"), Result("verdict", None, "verdict"),
        ),
        source=_FLAMMABLE, caution=HANDLING,
        example={"charge": "12 lb ± 1 lb", "room_volume": "1200 ft3", "limit": "0.21 kg_per_m3"},
    ),
)
