"""Receivers: how full they are, whether the charge fits on a pump-down; the winter charge of a flooded condenser."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.charge.cylinder import filled_share
from faultkit.calculators.charge.terms import HANDLING, mass, moved, share, temperature, volume
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT
from faultkit.calculators.refrigerants import refrigerant as find
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "RECEIVER", "PumpDown", "WinterCharge", "condenser_flooded_share", "pump_down", "pump_down_room",
    "receiver_capacity", "receiver_fill", "winter_charge", "winter_charge_check",
]

_CAPACITY = (
    "receivers hold the charge with liquid in no more than 90 % of the volume at 90 °F: ASHRAE Standard 15, as quoted "
    "in a maker's manual (seen; the clause itself not)"
)
_FLOODING = (
    "heat rejected in proportion to the surface left and to condensing less entering air temperature; coarse, "
    "within about 10 points, common practice"
)


@dataclass(frozen=True, slots=True)
class PumpDown:
    """kg, kg (below zero: does not fit), ratio, words."""

    capacity: float
    room: float
    fill: float
    verdict: str


@dataclass(frozen=True, slots=True)
class WinterCharge:
    """Ratio, kg, kg, kg (below zero: does not fit), words."""

    flooded: float
    added: float
    total: float
    room: float
    verdict: str


def receiver_fill(contents: float, volume: float, temperature: float, refrigerant: str) -> float:
    """Share of a receiver that liquid takes.

    Takes kg, m³ and K of a receiver that holds liquid and vapor at rest, gives a ratio: 0 where all
    is vapor, 1 and more where it is liquid-full. From a sight glass or a warm cloth on the shell
    comes the level; on a lying shell level and volume differ.

    >>> round(receiver_fill(contents=9.07, volume=0.014158, temperature=305.37, refrigerant="R-404A"), 2)  # 20 lb
    0.6
    """
    return filled_share(contents / volume, find(refrigerant), temperature)


def receiver_capacity(volume: float, refrigerant: str, fill: float, temperature: float) -> float:
    """Liquid a receiver can take on a pump-down.

    Takes m³, the share of it that liquid may take and K at which it may, gives kg.
    Vapor above the liquid and what stays in pipes and coils is not counted: the true charge that
    fits is a little more.

    >>> round(receiver_capacity(0.014158, "R-404A", 0.9, 305.372) / 0.45359237, 1)  # 0.5 ft³ at 90 degF: lb
    28.3
    """
    return fill * volume * find(refrigerant).liquid_density(temperature)


def pump_down_room(charge: float, volume: float, refrigerant: str, fill: float, temperature: float) -> float:
    """Weight that the receiver could take besides the whole charge; below zero the charge does not fit.

    Takes kg, m³, ratio and K, gives kg. What does not fit backs up into the condenser and
    raises the head pressure, or, behind a shut valve, fills the receiver with liquid.

    >>> round(pump_down_room(13.6, 0.014158, "R-404A", 0.9, 305.372) / 0.45359237, 1)  # 30 lb: does not fit
    -1.7
    """
    return receiver_capacity(volume, refrigerant, fill, temperature) - charge


def pump_down(charge: float, volume: float, refrigerant: str, fill: float, temperature: float) -> PumpDown:
    """Does the whole charge fit into the receiver.

    Takes kg, m³, the share that liquid may take and K at which it may. A winter charge for a
    flooded condenser must fit too.

    >>> pump_down(13.6, 0.014158, "R-404A", 0.9, 305.372).verdict
    'does not fit'
    """
    capacity = receiver_capacity(volume, refrigerant, fill, temperature)
    full = charge / (volume * find(refrigerant).liquid_density(temperature))
    return PumpDown(capacity, capacity - charge, full, "fits" if charge <= capacity else "does not fit")


def condenser_flooded_share(
    condensing_temperature: float, ambient: float, design_difference: float, heat: float
) -> float:
    """Share of an air-cooled condenser that must be flooded to hold head pressure in the cold.

    Takes K (the condensing temperature to hold, the coldest entering air), K as a difference at design and
    the heat to reject against design (1 = the same), gives a ratio: 0 where the air is warm enough.

    >>> round(condenser_flooded_share(305.372, 255.372, 11.111, 1.0), 3)  # hold 90 degF at 0 degF, 20 at design
    0.778
    """
    if condensing_temperature <= ambient:
        raise InputError(
            f"condensing_temperature {format_si(condensing_temperature, 'degF')} is not above the air "
            f"{format_si(ambient, 'degF')}",
            "a condensing temperature above the air",
        )
    return max(0.0, 1.0 - heat * design_difference / (condensing_temperature - ambient))


def winter_charge(
    condenser_volume: float, condensing_temperature: float, ambient: float, design_difference: float, refrigerant: str,
    heat: float,
) -> float:
    """Refrigerant to add for a flooded condenser at the coldest air.

    Takes m³ inside the condenser, K and K as ``condenser_flooded_share``, gives kg: liquid as cold as
    the air in the place of vapor. The receiver must hold it in summer, see ``pump_down``.

    >>> kg = winter_charge(0.0042475, 305.372, 255.372, 11.111, "R-404A", 1.0)  # 0.15 ft³, hold 90 at 0 degF
    >>> round(kg / 0.45359237, 1)
    8.3
    """
    fluid = find(refrigerant)
    flooded = condenser_flooded_share(condensing_temperature, ambient, design_difference, heat)
    gained = fluid.liquid_density(ambient) - fluid.vapor_density(condensing_temperature)
    return flooded * condenser_volume * gained


def winter_charge_check(
    summer_charge: float, condenser_volume: float, condensing_temperature: float, ambient: float,
    design_difference: float, receiver_volume: float, refrigerant: str, heat: float,
) -> WinterCharge:
    """Winter charge of a flooded condenser, and whether the receiver can hold it all.

    Takes kg, m³, K, K as a difference, m³. The receiver is counted by ``receiver_capacity`` at 90 % and 90 °F.

    >>> c = winter_charge_check(9.07, 0.0042475, 305.372, 255.372, 11.111, 0.014158, "R-404A", 1.0)
    >>> round(c.total / 0.45359237, 1), c.verdict
    (28.3, 'too close to call')
    """
    flooded = condenser_flooded_share(condensing_temperature, ambient, design_difference, heat)
    added = winter_charge(
        condenser_volume, condensing_temperature, ambient, design_difference, refrigerant, heat
    )
    room = receiver_capacity(receiver_volume, refrigerant, 0.9, _NINETY_K) - summer_charge - added
    # The flooded share is known within about a tenth of the condenser only.
    doubt = 0.1 * added / flooded if flooded else 0.0
    verdict = "too close to call" if abs(room) < doubt else "fits" if room >= 0.0 else "does not fit"
    return WinterCharge(flooded, added, summer_charge + added, room, verdict)


_UP, _DOWN = Direction.RISING, Direction.FALLING
_NINETY_K = 305.37222222222223
_VOLUME = volume("volume", "inside of the receiver", _UP)
_AT = temperature("temperature", "liquid at the limit", _DOWN, _NINETY_K)
_SHARE = share("fill", "share that liquid may take", (0.1, 0.95), 0.9, _UP)
_CHARGE = mass("charge", "whole charge", _DOWN, None, 0.01)
_HEAT = share("heat", "heat to reject, of design", (0.1, 2.0), 1.0, _DOWN)
_CONDENSER = (
    volume("condenser_volume", "inside of the condenser", _UP),
    temperature("condensing_temperature", "condensing temperature to hold", None),
    temperature("ambient", "coldest entering air", _DOWN),
    Argument(
        "design_difference", (Kind.TEMPERATURE_DIFFERENCE,), _DOWN, "condensing less air, at design",
        valid=(1.0, 40.0), unit="delta_degF",
    ),
)
_WINTER = {
    "condenser_volume": "0.15 ft3", "condensing_temperature": "90 degF", "ambient": "0 degF",
    "design_difference": "20 delta_degF", "refrigerant": "R-404A",
}
_PUMPED = {"charge": "26 lb ± 0.5 lb", "volume": "0.5 ft3", "refrigerant": "R-404A"}

#: The calculators of this file.
RECEIVER: tuple[Calculator, ...] = (
    Calculator(
        "receiver_fill", receiver_fill,
        (mass("contents", "refrigerant in it", _UP), moved(_VOLUME, _DOWN), temperature("temperature", "receiver"),
         REFRIGERANT),
        result=Kind.RATIO, unit="%", caution=HANDLING,
        source="liquid and vapor share the volume; densities fitted to CoolProp's equations of state",
        example={"contents": "20 lb", "volume": "0.5 ft3", "temperature": "90 degF", "refrigerant": "R-404A"},
    ),
    Calculator(
        "receiver_capacity", receiver_capacity, (_VOLUME, REFRIGERANT, _SHARE, _AT), result=Kind.MASS, unit="lb",
        source=_CAPACITY, caution=HANDLING, example={"volume": "0.5 ft3", "refrigerant": "R-404A"},
    ),
    Calculator(
        "pump_down_room", pump_down_room, (_CHARGE, _VOLUME, REFRIGERANT, _SHARE, _AT), result=Kind.MASS, unit="lb",
        source=_CAPACITY, caution=HANDLING, example=_PUMPED,
    ),
    Calculator(
        "pump_down", pump_down, (_CHARGE, _VOLUME, REFRIGERANT, _SHARE, _AT),
        result=(
            Result("capacity", Kind.MASS, "receiver can take", "lb"),
            Result("room", Kind.MASS, "room besides the charge (below zero: does not fit)", "lb"),
            Result("fill", Kind.RATIO, "liquid, of the volume, with the whole charge in it", "%"),
            Result("verdict", None, "verdict"),
        ),
        source=_CAPACITY, caution=HANDLING, example=_PUMPED,
    ),
    Calculator(
        "condenser_flooded_share", condenser_flooded_share, (moved(_CONDENSER[1], _UP), *_CONDENSER[2:], _HEAT),
        result=Kind.RATIO, unit="%", source=_FLOODING,
        example={"condensing_temperature": "90 degF", "ambient": "0 degF", "design_difference": "20 delta_degF"},
    ),
    Calculator(
        "winter_charge", winter_charge, (*_CONDENSER, REFRIGERANT, _HEAT), result=Kind.MASS, unit="lb",
        source=_FLOODING, caution=HANDLING, example=_WINTER,
    ),
    Calculator(
        "winter_charge_check", winter_charge_check,
        (
            mass("summer_charge", "charge with nothing flooded", None, None, 0.01), *_CONDENSER,
            volume("receiver_volume", "inside of the receiver"), REFRIGERANT, _HEAT,
        ),
        result=(
            Result("flooded", Kind.RATIO, "flooded share of the condenser", "%"),
            Result("added", Kind.MASS, "to add for the winter", "lb"),
            Result("total", Kind.MASS, "winter charge", "lb"),
            Result("room", Kind.MASS, "room left in the receiver (below zero: does not fit)", "lb"),
            Result("verdict", None, "verdict"),
        ),
        source=_FLOODING + "; " + _CAPACITY, caution=HANDLING,
        example={"summer_charge": "16 lb", **_WINTER, "receiver_volume": "0.5 ft3"},
    ),
)
