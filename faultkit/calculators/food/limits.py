"""Temperature limits of the model food code, and one reading against them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.calculators.arguments import Direction, Result, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.food.profile import excess
from faultkit.calculators.food.terms import COLD_K, FROM_HOT_K, HYGIENE, LOCAL, food_temperature
from faultkit.units import Kind

__all__ = ["LIMITS", "FoodCheck", "food_limit", "food_margin", "food_temperature_check"]

_EGGS_K = 280.372222222  # 45 °F
#: The limit, whether food must be below it, and its section.
_LIMITS: Mapping[str, tuple[float, bool, str]] = MappingProxyType({
    "cold holding": (COLD_K, True, "3-501.16(A)(2)"), "hot holding": (FROM_HOT_K, False, "3-501.16(A)(1)"),
    "air around raw shell eggs": (_EGGS_K, True, "3-501.16(B)"), "receiving cold": (COLD_K, True, "3-202.11(A)"),
    "receiving raw shell eggs, air": (_EGGS_K, True, "3-202.11(C)"),
    "receiving hot": (FROM_HOT_K, False, "3-202.11(D)"),
})


@dataclass(frozen=True, slots=True)
class FoodCheck:
    """K, K (below zero: not met), words, words."""

    limit: float
    margin: float
    verdict: str
    section: str


def food_limit(step: str) -> float:
    """Temperature limit of the model food code for holding and receiving, K.

    Milk and shellfish are received at what their own laws say, 3-202.11(B). Local codes differ: some ask for 41 °F
    for eggs too.

    >>> round((food_limit("air around raw shell eggs") - 255.372222222) * 1.8, 6)
    45.0
    """
    return _LIMITS[step][0]


def food_margin(temperature: float, step: str) -> float:
    """How far a reading is on the right side of its limit; below zero the limit is not met.

    Takes and gives K. Cold limits are met below, hot ones above.

    >>> round(food_margin(277.59444, "cold holding") * 1.8, 2)  # 40 degF
    1.0
    """
    at, below, _ = _LIMITS[step]
    return at - temperature if below else temperature - at


def food_temperature_check(temperature: float, step: str) -> FoodCheck:
    """Does one reading meet the model food code's limit for this step.

    Takes K: inside the product, or of the air for eggs. A reading on the limit meets it.

    >>> food_temperature_check(278.15, "cold holding").verdict  # 41.0 degF
    'meets the limit'
    """
    at, _, section = _LIMITS[step]
    margin = food_margin(temperature, step)
    # Left over from units: a hair's breadth is on the limit.
    met = excess(margin, 0.0) >= 0.0
    return FoodCheck(at, margin, "meets the limit" if met else "does not meet the limit", f"{section}; {LOCAL}")


_STEP = Word("step", tuple(_LIMITS), "step of holding or receiving", default="cold holding")
_SOURCE = (
    "FDA Food Code 3-501.16 and 3-202.11 (seen in the texts of states that adopt them; 45 °F for eggs at holding from "
    "memory)"
)
_READING = "40.5 degF ± 1 delta_degF"

#: The calculators of this file.
LIMITS: tuple[Calculator, ...] = (
    Calculator(
        "food_limit", food_limit, (_STEP,), result=Kind.TEMPERATURE, unit="degF", source=_SOURCE,
        example={"step": "air around raw shell eggs"},
    ),
    Calculator(
        "food_margin", food_margin,
        (food_temperature("temperature", "product, or air for eggs", Direction.EITHER), _STEP),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_SOURCE, caution=HYGIENE,
        example={"temperature": _READING},
    ),
    Calculator(
        "food_temperature_check", food_temperature_check,
        (food_temperature("temperature", "product, or air for eggs", None), _STEP),
        result=(
            Result("limit", Kind.TEMPERATURE, "limit", "degF"),
            Result("margin", Kind.TEMPERATURE_DIFFERENCE, "on the right side by (below zero: not met)", "delta_degF"),
            Result("verdict", None, "verdict"), Result("section", None, "section"),
        ),
        source=_SOURCE, caution=HYGIENE, example={"temperature": _READING},
    ),
)
