"""Charge: what was in a unit, cylinders and receivers, leaks and their limits, vacuum and pressure tests."""

from faultkit.calculators.charge.balance import BALANCE
from faultkit.calculators.charge.cylinder import CYLINDER
from faultkit.calculators.charge.decay import DECAY
from faultkit.calculators.charge.flammable import FLAMMABLE
from faultkit.calculators.charge.leaks import LEAKS
from faultkit.calculators.charge.lines import LINES
from faultkit.calculators.charge.nitrogen import NITROGEN_CALCULATORS
from faultkit.calculators.charge.receiver import RECEIVER
from faultkit.calculators.charge.regulation import REGULATION
from faultkit.calculators.charge.vacuum import VACUUM_CALCULATORS
from faultkit.calculators.declare import Calculator

__all__ = ["CHARGE"]

#: The calculators of this subject.
CHARGE: tuple[Calculator, ...] = (
    *BALANCE, *CYLINDER, *RECEIVER, *LINES, *LEAKS, *REGULATION, *VACUUM_CALCULATORS, *DECAY, *NITROGEN_CALCULATORS,
    *FLAMMABLE,
)
