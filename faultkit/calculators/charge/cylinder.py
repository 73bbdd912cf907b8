"""Recovery cylinders: how much may go in, how much room is left, and when they are liquid-full."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.calculators.arguments import Direction, Result
from faultkit.calculators.charge.terms import CYLINDERS, mass, share, temperature
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT, Refrigerant, refrigerant
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "CYLINDER", "RecoveryCylinder", "cylinder_fill", "filled_share", "liquid_full_temperature", "recovery_cylinder",
    "recovery_cylinder_limit", "recovery_cylinder_room",
]

# 1 lb of water is 27.737 in³ at 60 °F, as 49 CFR 173.304a counts filling densities (from memory).
_WATER = 0.45359237 / (27.737 * 1.6387064e-5)
_RATED_K = 298.15  # 77 °F
_HOTTEST_K = 328.15  # 131 °F
#: Largest mass of refrigerant by mass of water, where a table of the rules names the refrigerant.
_FILLING: Mapping[str, float] = MappingProxyType({"R-22": 1.05, "R-290": 0.42})
_SOURCE = (
    "AHRI Guideline K, 80 % of the volume at 77 °F (a trade-press worked example seen; made for refrigerants that do "
    "not burn); filling density of 49 CFR 173.304a(a)(2) for R-22 (seen), of its propane table as in 29 CFR 1910.110 "
    "for R-290 (seen); not liquid-full at 131 °F, 49 CFR 173.304(b) (seen)"
)


@dataclass(frozen=True, slots=True)
class RecoveryCylinder:
    """kg and K. ``liquid_full_at`` is None outside the range of the fits."""

    limit: float
    governed_by: str
    gross_limit: float
    contents: float
    room: float
    fill: float
    fill_at_131: float
    liquid_full_at: float | None
    verdict: str


def recovery_cylinder_limit(water_capacity: float, refrigerant: str, fill: float) -> float:
    """Largest weight of refrigerant for a recovery cylinder.

    Takes kg of water (the WC stamped on the collar) and the share of the volume that liquid may
    take at 77 °F, at most 80 %; gives kg: the smallest of that rule, the transport table's filling density where
    it names the refrigerant, and liquid-full at 131 °F. The old rule, 80 % of WC whatever the refrigerant,
    overfills with one lighter than water (R-290, R-600a). InputError for R-744, which needs other cylinders.

    >>> round(recovery_cylinder_limit(21.636, "R-404A", 0.8) / 0.45359237, 1)  # WC 47.7 lb: lb
    39.9
    """
    return _limit(water_capacity, refrigerant, fill)[0]


def recovery_cylinder_room(
    gross_weight: float, tare_weight: float, water_capacity: float, refrigerant: str, fill: float
) -> float:
    """Weight that may still go into a recovery cylinder; below zero it is overfilled.

    Takes kg: the scale reading, the TW and the WC stamped on the collar; gives kg by the rule of
    ``recovery_cylinder_limit``.

    >>> round(recovery_cylinder_room(20.412, 12.066, 21.636, "R-404A", 0.8) / 0.45359237, 1)  # 45 lb, TW 26.6 lb
    21.5
    """
    return _limit(water_capacity, refrigerant, fill)[0] - _contents(gross_weight, tare_weight)


def cylinder_fill(contents: float, water_capacity: float, temperature: float, refrigerant: str) -> float:
    """Share of a cylinder that liquid takes at a temperature; 100 % is liquid-full and bursts.

    Takes kg (contents, WC) and K, gives a ratio; above 1 the liquid would need more room than there
    is. A cylinder filled cold grows full in a hot truck.

    >>> round(cylinder_fill(18.1, 21.636, 328.15, "R-404A"), 2)  # 39.9 lb in WC 47.7 lb at 131 degF
    0.96
    """
    return filled_share(contents / (water_capacity / _WATER), _known(refrigerant), temperature)


def liquid_full_temperature(contents: float, water_capacity: float, refrigerant: str) -> float:
    """Temperature at which a cylinder with this weight in it is liquid-full.

    Takes kg, gives K. InputError where that lies outside the range of the density fit.

    >>> round((liquid_full_temperature(20.0, 21.636, "R-404A") - 255.372) * 1.8)  # 44.1 lb in WC 47.7 lb: degF
    116
    """
    fluid = _known(refrigerant)
    wanted = contents / (water_capacity / _WATER)
    low, high = fluid.temperatures
    if not fluid.liquid_density(high) <= wanted <= fluid.liquid_density(low):
        raise InputError(
            f"{format_si(contents, 'lb')} in a cylinder of {format_si(water_capacity, 'lb')} water capacity is not "
            f"liquid-full between {format_si(low, 'degF')} and {format_si(high, 'degF')}",
            "a weight that fills it in that range",
        )
    while high - low > 1e-6:
        middle = (low + high) / 2.0
        low, high = (middle, high) if fluid.liquid_density(middle) > wanted else (low, middle)
    return (low + high) / 2.0


def recovery_cylinder(
    gross_weight: float, tare_weight: float, water_capacity: float, refrigerant: str, temperature: float, fill: float
) -> RecoveryCylinder:
    """How full is this recovery cylinder, how much may still go in, when is it liquid-full.

    Takes kg from the scale and the collar (TW, WC) and K of the cylinder now. The fill at 131 °F
    says how little room is left above the liquid in a hot truck.

    >>> c = recovery_cylinder(30.4, 12.066, 21.636, "R-404A", 294.26, 0.8)
    >>> c.verdict, c.governed_by
    ('over the limit', '80 % of the volume at 77 degF')
    """
    contents = _contents(gross_weight, tare_weight)
    limit, why = _limit(water_capacity, refrigerant, fill)
    try:
        bursts_at: float | None = liquid_full_temperature(contents, water_capacity, refrigerant)
    except InputError:
        bursts_at = None
    fluid, each = _known(refrigerant), contents / (water_capacity / _WATER)
    now, hot = filled_share(each, fluid, temperature), filled_share(each, fluid, _HOTTEST_K)
    if now >= 1.0:
        verdict = "liquid-full now"
    elif hot >= 1.0:
        verdict = "over the limit, liquid-full at 131 degF"
    else:
        verdict = "over the limit" if contents > limit else "room left"
    return RecoveryCylinder(
        limit, why, limit + tare_weight, contents, limit - contents, now, hot, bursts_at, verdict
    )


def filled_share(each: float, fluid: Refrigerant, at: float) -> float:
    """Share of a closed space that liquid takes, with kg of refrigerant by m³ of it; 0 where all is vapor."""
    light, heavy = fluid.vapor_density(at), fluid.liquid_density(at)
    return max(0.0, (each - light) / (heavy - light))


def _limit(water_capacity: float, name: str, fill: float) -> tuple[float, str]:
    fluid = _known(name)
    room = water_capacity / _WATER
    rules = [
        (fill * room * fluid.liquid_density(_RATED_K), f"{fill * 100:g} % of the volume at 77 degF"),
        (room * fluid.liquid_density(_HOTTEST_K), "liquid-full at 131 degF"),
    ]
    if name in _FILLING:
        rules.append((_FILLING[name] * water_capacity, "filling density of the transport table"))
    return min(rules)


def _known(name: str) -> Refrigerant:
    fluid = refrigerant(name)
    if fluid.temperatures[1] < _HOTTEST_K:
        raise InputError(
            f"{fluid.name} is no liquid at {format_si(_HOTTEST_K, 'degF')}: it needs cylinders and rules of its own",
            "a refrigerant that is liquid there",
        )
    return fluid


def _contents(gross_weight: float, tare_weight: float) -> float:
    if gross_weight < tare_weight:
        raise InputError(
            f"gross_weight {format_si(gross_weight, 'lb')} is below the tare {format_si(tare_weight, 'lb')}",
            "the scale reading of the cylinder with its contents",
        )
    return gross_weight - tare_weight


_UP, _DOWN = Direction.RISING, Direction.FALLING
_GROSS = mass("gross_weight", "scale reading, cylinder and contents", _DOWN, None, 0.1)
_TARE = mass("tare_weight", "TW on the collar", _UP, None, 0.1)
_WC = mass("water_capacity", "WC on the collar, weight of water", _UP, None, 0.1)
_CONTENTS = mass("contents", "refrigerant in the cylinder", _UP)
_FILL = share("fill", "share of the volume at 77 °F", (0.1, 0.8), 0.8, _UP)
_SCALE = {
    "gross_weight": "45 lb ± 0.2 lb", "tare_weight": "26.6 lb", "water_capacity": "47.7 lb", "refrigerant": "R-404A",
}

#: The calculators of this file.
CYLINDER: tuple[Calculator, ...] = (
    Calculator(
        "recovery_cylinder_limit", recovery_cylinder_limit, (_WC, REFRIGERANT, _FILL), result=Kind.MASS, unit="lb",
        source=_SOURCE, caution=CYLINDERS, example={"water_capacity": "47.7 lb", "refrigerant": "R-404A"},
    ),
    Calculator(
        "recovery_cylinder_room", recovery_cylinder_room, (_GROSS, _TARE, _WC, REFRIGERANT, _FILL),
        result=Kind.MASS, unit="lb", source=_SOURCE, caution=CYLINDERS, example=_SCALE,
    ),
    Calculator(
        "cylinder_fill", cylinder_fill, (
            _CONTENTS, mass("water_capacity", "WC on the collar, weight of water", _DOWN, None, 0.1),
            temperature("temperature", "cylinder"), REFRIGERANT,
        ),
        result=Kind.RATIO, unit="%", source="liquid and vapor share the volume; densities fitted to CoolProp's "
        "equations of state", caution=CYLINDERS,
        example={
            "contents": "39.9 lb", "water_capacity": "47.7 lb", "temperature": "131 degF", "refrigerant": "R-404A",
        },
    ),
    Calculator(
        "liquid_full_temperature", liquid_full_temperature,
        (mass("contents", "refrigerant in the cylinder", _DOWN), _WC, REFRIGERANT),
        result=Kind.TEMPERATURE, unit="degF", source="liquid density fitted to CoolProp's equations of state",
        caution=CYLINDERS, example={"contents": "44 lb", "water_capacity": "47.7 lb", "refrigerant": "R-404A"},
    ),
    Calculator(
        "recovery_cylinder", recovery_cylinder,
        (_GROSS, _TARE, _WC, REFRIGERANT, temperature("temperature", "cylinder now"), _FILL),
        result=(
            Result("limit", Kind.MASS, "most refrigerant allowed", "lb"),
            Result("governed_by", None, "rule that limits"),
            Result("gross_limit", Kind.MASS, "scale reading at the limit", "lb"),
            Result("contents", Kind.MASS, "in it now", "lb"),
            Result("room", Kind.MASS, "may still go in (below zero: overfilled)", "lb"),
            Result("fill", Kind.RATIO, "liquid, of the volume now", "%"),
            Result("fill_at_131", Kind.RATIO, "liquid, of the volume at 131 °F", "%"),
            Result("liquid_full_at", Kind.TEMPERATURE, "liquid-full at", "degF"), Result("verdict", None, "verdict"),
        ),
        source=_SOURCE, caution=CYLINDERS, example={**_SCALE, "temperature": "85 degF"},
    ),
)
