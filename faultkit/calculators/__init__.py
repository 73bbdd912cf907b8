"""Calculators: readings derived from other readings, with bounds carried through."""

from faultkit.calculators.basic import BASIC
from faultkit.calculators.declare import Argument, Calculator, DifferenceOf, Direction
from faultkit.calculators.registry import CalculatorRegistry

__all__ = ["BASIC", "Argument", "Calculator", "CalculatorRegistry", "DifferenceOf", "Direction"]
