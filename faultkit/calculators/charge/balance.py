"""What was in the unit: recovered, left behind, added, against the nameplate."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.charge.terms import HANDLING, length, mass, pressure, share, temperature, volume
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT, refrigerant
from faultkit.calculators.refrigerants.gas import vapor
from faultkit.units import Kind

__all__ = [
    "BALANCE", "ChargeBalance", "bore_volume", "charge_balance", "charge_lost", "charge_lost_share", "hose_liquid",
    "vapor_density_at", "vapor_mass",
]


@dataclass(frozen=True, slots=True)
class ChargeBalance:
    """kg missing (below zero: too much), its share of the nameplate, and that in words."""

    lost: float
    share: float
    verdict: str


def charge_lost(nameplate: float, recovered: float, left_behind: float, added: float) -> float:
    """Refrigerant the unit had lost when it was recovered; below zero it held too much.

    Takes and gives kg: nameplate charge, weight recovered, weight known to have stayed behind
    (vapor in the unit, liquid in hoses), weight added by earlier calls since the unit held its
    nameplate charge. Recovered and charged weights are differences of scale readings: give both with
    the accuracy of the scale.

    >>> round(charge_lost(nameplate=5.443, recovered=3.402, left_behind=0.0, added=0.0) / 0.45359237, 1)  # 12, 7.5 lb
    4.5
    """
    return nameplate + added - recovered - left_behind


def charge_lost_share(nameplate: float, recovered: float, left_behind: float, added: float) -> float:
    """Share of the nameplate charge that the unit had lost; below zero it held too much.

    Takes kg as ``charge_lost``, gives a ratio. More than 100 % can only be where refrigerant was
    added in between.

    >>> charge_lost_share(nameplate=12.0, recovered=7.5, left_behind=0.0, added=0.0)
    0.375
    """
    return charge_lost(nameplate, recovered, left_behind, added) / nameplate


def charge_balance(
    nameplate: float, recovered: float, left_behind: float, added: float, margin: float
) -> ChargeBalance:
    """Was the unit short of refrigerant, overcharged, or as the nameplate says.

    Takes kg as ``charge_lost`` and the share of the nameplate that still counts as right. A unit
    with a capillary tube and no receiver needs a smaller margin than one with a receiver.

    >>> b = charge_balance(nameplate=12.0, recovered=7.5, left_behind=0.0, added=0.0, margin=0.05)
    >>> b.lost, b.verdict
    (4.5, 'short of refrigerant')
    """
    lost = charge_lost(nameplate, recovered, left_behind, added)
    if abs(lost) <= margin * nameplate:
        verdict = "as the nameplate says"
    else:
        verdict = "short of refrigerant" if lost > 0.0 else "more than the nameplate"
    return ChargeBalance(lost, lost / nameplate, verdict)


def vapor_density_at(name: str, p: float, t: float) -> float:
    """kg/m³ of vapor at Pa absolute and K; below the pressures of the fits in proportion to the pressure."""
    lowest = refrigerant(name).pressures[0]
    held = max(p, lowest)
    # Below the lowest fitted pressure vapor is an ideal gas within a percent.
    return vapor(name, held, t).density * (p / held)


def vapor_mass(volume: float, pressure: float, temperature: float, refrigerant: str) -> float:
    """Mass of refrigerant vapor in a space: unit after recovery, hoses, empty cylinder.

    Takes m³, Pa absolute and K, at or above the dew point: InputError where liquid is left. Gives
    kg. What stays in a unit pumped down to 0 psig is not on the scale. Equation of state by CoolProp.

    >>> round(vapor_mass(0.028317, 101325.0, 294.26, "R-404A") / 0.028349523, 1)  # 1 ft³, 0 psig, 70 degF: oz
    4.1
    """
    return volume * vapor_density_at(refrigerant, pressure, temperature)


def bore_volume(bore: float, length: float) -> float:
    """Volume inside a round pipe or hose: bore and length in m, result in m³.

    >>> round(bore_volume(bore=0.00635, length=1.8288) / 1.6387064e-5, 2)  # 1/4 in, 6 ft: in³
    3.53
    """
    return pi / 4.0 * bore * bore * length


def hose_liquid(bore: float, length: float, temperature: float, refrigerant: str) -> float:
    """Liquid refrigerant left in a hose or pipe that is full of it.

    Takes m and K (saturated liquid), gives kg. A charging hose full of liquid that is taken off
    holds refrigerant that neither the scale of the cylinder nor the unit accounts for.

    >>> round(hose_liquid(0.00635, 1.8288, 294.26, "R-404A") / 0.028349523, 1)  # 1/4 in bore, 6 ft, 70 degF: oz
    2.2
    """
    return bore_volume(bore, length) * _liquid(refrigerant, temperature)


def _liquid(name: str, at: float) -> float:
    return refrigerant(name).liquid_density(at)


_UP, _DOWN = Direction.RISING, Direction.FALLING
_NAMEPLATE = mass("nameplate", "nameplate charge", _UP, None, 0.01)
_OTHERS = (
    mass("recovered", "weight recovered", _DOWN),
    mass("left_behind", "weight left in unit and hoses", _DOWN, 0.0),
    mass("added", "weight added since the charge was right", _UP, 0.0),
)
_CALL = {"nameplate": "12 lb", "recovered": "7.5 lb ± 0.1 lb", "left_behind": "3 oz ± 1 oz"}
_BORE = Argument("bore", (Kind.LENGTH,), _UP, "inside diameter", valid=(1e-3, 0.2), unit="in")

#: The calculators of this file.
BALANCE: tuple[Calculator, ...] = (
    Calculator(
        "charge_lost", charge_lost, (_NAMEPLATE, *_OTHERS), result=Kind.MASS, unit="lb",
        source="conservation of mass", caution=HANDLING, example=_CALL,
    ),
    Calculator(
        "charge_lost_share", charge_lost_share,
        (mass("nameplate", "nameplate charge", Direction.EITHER, None, 0.01), *_OTHERS),
        result=Kind.RATIO, unit="%", source="conservation of mass", caution=HANDLING, example=_CALL,
    ),
    Calculator(
        "charge_balance", charge_balance,
        (_NAMEPLATE, *_OTHERS, share("margin", "share that counts as right", (0.0, 0.5), 0.05)),
        result=(
            Result("lost", Kind.MASS, "missing (below zero: too much)", "lb"),
            Result("share", Kind.RATIO, "missing, of the nameplate", "%"),
            Result("verdict", None, "verdict"),
        ),
        source="conservation of mass; margin 5 % common practice, no source", caution=HANDLING, example=_CALL,
    ),
    Calculator(
        "vapor_mass", vapor_mass,
        (
            volume("volume", "space filled with vapor", _UP), pressure("pressure", "pressure in it", _UP),
            temperature("temperature", "vapor", _DOWN), REFRIGERANT,
        ),
        result=Kind.MASS, unit="oz", source="CoolProp's equations of state", caution=HANDLING,
        example={"volume": "0.8 ft3", "pressure": "0 psig", "temperature": "70 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "bore_volume", bore_volume, (_BORE, length("length", "length", _UP)), result=Kind.VOLUME, unit="in3",
        source="geometry", example={"bore": "0.25 in", "length": "6 ft"},
    ),
    Calculator(
        "hose_liquid", hose_liquid,
        (_BORE, length("length", "length", _UP), temperature("temperature", "liquid", _DOWN), REFRIGERANT),
        result=Kind.MASS, unit="oz", source="geometry; liquid density fitted to CoolProp's equations of state",
        caution=HANDLING,
        example={"bore": "0.25 in", "length": "6 ft", "temperature": "70 degF", "refrigerant": "R-404A"},
    ),
)
