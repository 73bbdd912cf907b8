"""Quantities at the edge, plain SI floats inside."""

from faultkit.units.accuracy import Accuracy, parse_accuracy
from faultkit.units.kinds import Kind, UnitError, difference_kind, physical_range
from faultkit.units.lookup import from_si, kind_of, to_si, unit_name, wrong_kind
from faultkit.units.pressure import atmosphere, convert_pressure
from faultkit.units.quantity import Quantity, format_si, parse_quantity
from faultkit.units.table import UNITS, Unit

__all__ = [
    "UNITS", "Accuracy", "Kind", "Quantity", "Unit", "UnitError", "atmosphere", "convert_pressure",
    "difference_kind", "format_si", "from_si", "kind_of", "parse_accuracy", "parse_quantity",
    "physical_range", "to_si", "unit_name", "wrong_kind",
]
