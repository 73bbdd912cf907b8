"""Every calculator faultkit brings, by subject."""

from __future__ import annotations

from faultkit.calculators.basic import BASIC
from faultkit.calculators.charge import CHARGE
from faultkit.calculators.controls import CONTROLS
from faultkit.calculators.declare import Calculator
from faultkit.calculators.food import FOOD
from faultkit.calculators.refrigerants import REFRIGERANTS
from faultkit.calculators.sensors import SENSORS

__all__ = ["BUILTIN"]

#: In the order in which they are listed.
BUILTIN: tuple[Calculator, ...] = (
    *BASIC, *REFRIGERANTS, *CHARGE, *CONTROLS, *SENSORS, *FOOD,
)
