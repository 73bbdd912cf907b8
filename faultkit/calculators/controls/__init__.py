"""Controls: pressure controls, thermostats, defrost and its clock, cycling, time delays."""

from faultkit.calculators.controls.declared_air import THERMOSTATS
from faultkit.calculators.controls.declared_cycling import CYCLING
from faultkit.calculators.controls.declared_head import HEAD_PRESSURE
from faultkit.calculators.controls.declared_low import LOW_PRESSURE
from faultkit.calculators.controls.declared_time import DEFROST
from faultkit.calculators.declare import Calculator

__all__ = ["CONTROLS"]

#: The calculators of this folder.
CONTROLS: tuple[Calculator, ...] = (*LOW_PRESSURE, *HEAD_PRESSURE, *THERMOSTATS, *DEFROST, *CYCLING)
