"""Food safety: time above the cold-holding limit, cooling, the model code's limits, what cabinets are tested for."""

from faultkit.calculators.declare import Calculator
from faultkit.calculators.food.cabinets import CABINETS
from faultkit.calculators.food.cooling import COOLING
from faultkit.calculators.food.holding import HOLDING
from faultkit.calculators.food.limits import LIMITS

__all__ = ["FOOD"]

#: The calculators of this subject.
FOOD: tuple[Calculator, ...] = (*HOLDING, *COOLING, *LIMITS, *CABINETS)
