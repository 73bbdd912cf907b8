"""Load: what comes into a box, what its product holds, what capacity it takes, and how it pulls down."""

from faultkit.calculators.declare import Calculator
from faultkit.calculators.load.box import BOX_CALCULATORS
from faultkit.calculators.load.cooling import COOLING_CALCULATORS
from faultkit.calculators.load.declared import PULL_DOWN_CALCULATORS
from faultkit.calculators.load.infiltration import INFILTRATION_CALCULATORS
from faultkit.calculators.load.product import PRODUCT_CALCULATORS

__all__ = ["LOAD"]

#: The calculators of this subject.
LOAD: tuple[Calculator, ...] = (
    *INFILTRATION_CALCULATORS, *PRODUCT_CALCULATORS, *BOX_CALCULATORS, *COOLING_CALCULATORS, *PULL_DOWN_CALCULATORS,
)
