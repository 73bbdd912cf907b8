"""Product load: heat to take out of food above, through and below freezing."""

from __future__ import annotations

from dataclasses import replace

from faultkit.calculators.arguments import Argument, Direction
from faultkit.calculators.declare import Calculator
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "MEAT", "PRODUCT_CALCULATORS", "chilling_heat", "freezing_heat", "latent_heat_of_freezing", "product_heat",
    "product_load", "specific_heat_above_freezing", "specific_heat_below_freezing",
]

#: K, 28 °F: where meat and fish begin to freeze.
MEAT = 270.927777778
# J/(kg·K) and J/kg: water, ice, and what is neither; Siebel's rule in the form of R. L. Earle.
_WATER, _ICE, _SOLIDS = 4190.0, 2100.0, 840.0
_FUSION = 335_000.0
_SIEBEL = (
    "Siebel, Ice and Refrigeration 2 (1892) 256-257, as in R. L. Earle, Unit Operations in Food Processing, appendix 7"
)


def specific_heat_above_freezing(water_content: float) -> float:
    """Specific heat of food above freezing from its water content.

    Takes a ratio (0 to 100 %), gives J/(kg·K). Meat is 60 to 75 % water, fish 70 to 80 %, vegetables 85 to
    95 %. Up to a tenth too low for drier food.

    >>> round(specific_heat_above_freezing(water_content=0.75) / 4186.8, 2)  # Btu/(lb degF)
    0.8
    """
    return _WATER * water_content + _SOLIDS * (1.0 - water_content)


def specific_heat_below_freezing(water_content: float) -> float:
    """Specific heat of food below freezing from its water content, all of it frozen.

    Takes a ratio (0 to 100 %), gives J/(kg·K). Just below freezing part of the water is still liquid: measured
    values are 10 to 20 % higher there.

    >>> round(specific_heat_below_freezing(water_content=0.75) / 4186.8, 2)  # Btu/(lb degF)
    0.43
    """
    return _ICE * water_content + _SOLIDS * (1.0 - water_content)


def latent_heat_of_freezing(water_content: float) -> float:
    """Heat to freeze food, from its water content.

    Takes a ratio (0 to 100 %), gives J/kg: 144 Btu for each pound of water in it.

    >>> round(latent_heat_of_freezing(water_content=0.75) / 2326)  # Btu/lb
    108
    """
    return _FUSION * water_content


def chilling_heat(mass: float, entering: float, final: float, specific_heat: float) -> float:
    """Heat to take out of product that is cooled without freezing (or cooled further once frozen).

    Takes kg, K, K and J/(kg·K), gives J.

    >>> round(chilling_heat(45.36, 294.26, 276.48, 3349.4) / 1055.06, -1)  # 100 lb, 70 to 38 degF, 0.80: Btu
    2560.0
    """
    _cooled(entering, final)
    return mass * specific_heat * (entering - final)


def freezing_heat(
    mass: float, entering: float, final: float, freezing_point: float, specific_heat_above: float,
    specific_heat_below: float, latent_heat: float,
) -> float:
    """Heat to take out of product that is frozen, with its own specific heats and latent heat.

    Takes kg, K, K, K (between the two others), J/(kg·K) twice and J/kg, gives J.

    >>> q = freezing_heat(45.36, 277.59, 255.37, 272.59, 3349.4, 1884.1, 251208.0)  # 100 lb, 40 to 0 degF
    >>> round(q / 1055.06, -2)  # Btu
    12900.0
    """
    _cooled(entering, final)
    if not final <= freezing_point <= entering:
        raise InputError(
            f"freezing_point {format_si(freezing_point, 'degF')} is not between {format_si(final, 'degF')} and "
            f"{format_si(entering, 'degF')}",
            "a product that freezes on the way, or chilling_heat",
        )
    above, below = specific_heat_above * (entering - freezing_point), specific_heat_below * (freezing_point - final)
    return mass * (above + latent_heat + below)


def product_heat(
    mass: float, entering: float, final: float, water_content: float, freezing_point: float = MEAT
) -> float:
    """Heat to take out of food of this water content, above, through or below freezing as it comes.

    Takes kg, K, K, a ratio (0 to 100 %) and K, gives J. Without the heat that fruit and vegetables make themselves.

    >>> round(product_heat(45.36, 277.59, 255.37, 0.75, 272.59) / 1055.06, -2)  # 100 lb, 40 to 0 degF: Btu
    12800.0
    """
    _cooled(entering, final)
    above = max(0.0, entering - max(final, freezing_point)) * specific_heat_above_freezing(water_content)
    below = max(0.0, min(entering, freezing_point) - final) * specific_heat_below_freezing(water_content)
    frozen = latent_heat_of_freezing(water_content) if final < freezing_point <= entering else 0.0
    return mass * (above + frozen + below)


def product_load(
    mass: float, entering: float, final: float, water_content: float, time: float, freezing_point: float = MEAT
) -> float:
    """Load of product brought into a box, on average over the time in which it is to be cold.

    Takes kg, K, K, a ratio (0 to 100 %), s and K, gives W. The load is higher at first: by half is a usual
    allowance for chilling rooms.

    >>> round(product_load(453.6, 283.15, 274.82, 0.75, 86400.0, 270.93) / 0.293071, -1)  # 1000 lb in a day: Btu/h
    500.0
    """
    if not time > 0.0:
        raise InputError(f"time is {format_si(time, 'h')}", "a time above zero")
    return product_heat(mass, entering, final, water_content, freezing_point) / time


def _cooled(entering: float, final: float) -> None:
    if not final < entering:
        raise InputError(
            f"final {format_si(final, 'degF')} is not below entering {format_si(entering, 'degF')}",
            "a product that is cooled",
        )


_WATER_CONTENT = Argument(
    "water_content", (Kind.RATIO,), Direction.RISING, "water in the product by weight", valid=(0.0, 1.0), unit="%"
)
_MASS = Argument("mass", (Kind.MASS,), Direction.RISING, "product", valid=(1e-3, 1e6), unit="lb")
_ENTERING = Argument(
    "entering", (Kind.TEMPERATURE,), Direction.RISING, "temperature it comes in with",
    valid=(223.15, 373.15), unit="degF",
)
_FINAL = Argument(
    "final", (Kind.TEMPERATURE,), Direction.FALLING, "temperature it is to have", valid=(223.15, 373.15), unit="degF"
)
_SPECIFIC_HEAT = Argument(
    "specific_heat", (Kind.SPECIFIC_HEAT,), Direction.RISING, "specific heat",
    valid=(500.0, 4300.0), unit="Btu_per_lb_degF",
)
_FREEZING = Argument(
    "freezing_point", (Kind.TEMPERATURE,), Direction.EITHER, "temperature it begins to freeze at",
    valid=(243.15, 273.16), unit="degF",
)
# The result jumps where the product freezes just so: no direction there.
_USUAL = replace(_FREEZING, direction=None, default=MEAT)


def _heat(name: str, title: str) -> Argument:
    return Argument(
        name, (Kind.SPECIFIC_HEAT,), Direction.RISING, title, valid=(500.0, 4300.0), unit="Btu_per_lb_degF"
    )


#: The calculators of this file.
PRODUCT_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "specific_heat_above_freezing", specific_heat_above_freezing, (_WATER_CONTENT,),
        result=Kind.SPECIFIC_HEAT, unit="Btu_per_lb_degF", source=_SIEBEL, example={"water_content": "75 % ± 3 points"},
    ),
    Calculator(
        "specific_heat_below_freezing", specific_heat_below_freezing, (_WATER_CONTENT,),
        result=Kind.SPECIFIC_HEAT, unit="Btu_per_lb_degF", source=_SIEBEL, example={"water_content": "75 % ± 3 points"},
    ),
    Calculator(
        "latent_heat_of_freezing", latent_heat_of_freezing, (_WATER_CONTENT,),
        result=Kind.SPECIFIC_ENERGY, unit="Btu_per_lb", source=_SIEBEL, example={"water_content": "75 % ± 3 points"},
    ),
    Calculator(
        "chilling_heat", chilling_heat, (_MASS, _ENTERING, _FINAL, _SPECIFIC_HEAT),
        result=Kind.ENERGY, unit="Btu", source="definition of specific heat",
        example={"mass": "100 lb", "entering": "70 degF", "final": "38 degF", "specific_heat": "0.8 Btu_per_lb_degF"},
    ),
    Calculator(
        "freezing_heat", freezing_heat,
        (
            _MASS, _ENTERING, _FINAL, _FREEZING, _heat("specific_heat_above", "specific heat before freezing"),
            _heat("specific_heat_below", "specific heat once frozen"),
            Argument(
                "latent_heat", (Kind.SPECIFIC_ENERGY,), Direction.RISING, "heat to freeze it",
                valid=(0.0, 335e3), unit="Btu_per_lb",
            ),
        ),
        result=Kind.ENERGY, unit="Btu", source="definition of specific and latent heat",
        example={
            "mass": "100 lb", "entering": "40 degF", "final": "0 degF", "freezing_point": "28.9 degF",
            "specific_heat_above": "0.84 Btu_per_lb_degF", "specific_heat_below": "0.5 Btu_per_lb_degF",
            "latent_heat": "103 Btu_per_lb",
        },
    ),
    Calculator(
        "product_heat", product_heat, (_MASS, _ENTERING, _FINAL, _WATER_CONTENT, _USUAL),
        result=Kind.ENERGY, unit="Btu", source=_SIEBEL,
        example={
            "mass": "100 lb", "entering": "40 degF ± 2 delta_degF", "final": "0 degF", "water_content": "75 %",
        },
    ),
    Calculator(
        "product_load", product_load,
        (
            _MASS, _ENTERING, _FINAL, _WATER_CONTENT,
            Argument(
                "time", (Kind.TIME,), Direction.FALLING, "time in which it is to be cold", valid=(60.0, 3e6), unit="h"
            ),
            _USUAL,
        ),
        result=Kind.POWER, unit="Btu_per_h", source=_SIEBEL,
        example={
            "mass": "1000 lb", "entering": "50 degF", "final": "35 degF", "water_content": "75 %", "time": "24 h",
        },
    ),
)
