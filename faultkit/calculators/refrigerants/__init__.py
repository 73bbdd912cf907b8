"""Refrigerants: saturation, superheat and subcooling, and what follows from them."""

from faultkit.calculators.refrigerants.declared import REFRIGERANTS
from faultkit.calculators.refrigerants.saturation import REFRIGERANT, Refrigerant, refrigerant, refrigerant_name

__all__ = ["REFRIGERANT", "REFRIGERANTS", "Refrigerant", "refrigerant", "refrigerant_name"]
