"""Sensors: ohms, millivolts and signals to temperature and pressure, and what a sensor fault looks like."""

from faultkit.calculators.declare import Calculator
from faultkit.calculators.sensors.check import CHECK
from faultkit.calculators.sensors.convert import CONVERT
from faultkit.calculators.sensors.curves import CURVE, CURVES, Curve, find_curve
from faultkit.calculators.sensors.faults import FAULTS
from faultkit.calculators.sensors.probes import PROBES
from faultkit.calculators.sensors.thermistors import THERMISTORS
from faultkit.calculators.sensors.thermocouples import THERMOCOUPLES
from faultkit.calculators.sensors.tolerances import TOLERANCES
from faultkit.calculators.sensors.transducers_declared import TRANSDUCERS

__all__ = ["CURVE", "CURVES", "SENSORS", "Curve", "find_curve"]

#: The calculators of this subject.
SENSORS: tuple[Calculator, ...] = (
    *CONVERT, *CHECK, *FAULTS, *TOLERANCES, *THERMISTORS, *PROBES, *TRANSDUCERS, *THERMOCOUPLES,
)
