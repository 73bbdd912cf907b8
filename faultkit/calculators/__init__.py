"""The arithmetic of the trade: numbers worked out of readings, with bounds carried through."""

from faultkit.calculators.arguments import (
    ATMOSPHERE,
    Argument,
    Column,
    DifferenceOf,
    Direction,
    Log,
    Result,
    Word,
)
from faultkit.calculators.basic import BASIC
from faultkit.calculators.declare import Calculator
from faultkit.calculators.figures import Figure
from faultkit.calculators.registry import CalculatorRegistry, Subject

__all__ = [
    "ATMOSPHERE", "BASIC", "Argument", "Calculator", "CalculatorRegistry", "Column", "DifferenceOf", "Direction",
    "Figure", "Log", "Result", "Subject", "Word",
]
