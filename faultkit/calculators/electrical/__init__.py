"""Supply, wiring, motors, windings, insulation, capacitors, heaters, protection and control coils."""

from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.capacitors import CAPACITORS
from faultkit.calculators.electrical.control import CONTROL
from faultkit.calculators.electrical.drop import DROP
from faultkit.calculators.electrical.insulation import INSULATION
from faultkit.calculators.electrical.motors import MOTORS
from faultkit.calculators.electrical.overload import OVERLOAD
from faultkit.calculators.electrical.power import POWER
from faultkit.calculators.electrical.protection import PROTECTION
from faultkit.calculators.electrical.rolling import ROLLING
from faultkit.calculators.electrical.supply import SUPPLY
from faultkit.calculators.electrical.unbalance import UNBALANCE
from faultkit.calculators.electrical.windings import WINDINGS
from faultkit.calculators.electrical.wires import WIRES

__all__ = ["ELECTRICAL"]

#: The calculators of this folder.
ELECTRICAL: tuple[Calculator, ...] = (
    *SUPPLY, *UNBALANCE, *ROLLING, *WIRES, *DROP, *MOTORS, *WINDINGS, *OVERLOAD, *INSULATION, *CAPACITORS, *POWER,
    *PROTECTION, *CONTROL,
)
