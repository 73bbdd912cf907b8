"""Air: humidity, dew point and wet bulb, sweating surfaces, airflow and what a coil takes out."""

from faultkit.calculators.air.airflow import AIRFLOW_CALCULATORS
from faultkit.calculators.air.coil import COIL_CALCULATORS
from faultkit.calculators.air.humidity import HUMIDITY_CALCULATORS
from faultkit.calculators.air.sweat import SWEAT_CALCULATORS
from faultkit.calculators.declare import Calculator

__all__ = ["AIR"]

#: The calculators of this subject.
AIR: tuple[Calculator, ...] = (*HUMIDITY_CALCULATORS, *SWEAT_CALCULATORS, *AIRFLOW_CALCULATORS, *COIL_CALCULATORS)
