"""Efficiencies of a compressor out of readings, displacement, and what another return gas does."""

from __future__ import annotations

from math import pi

from faultkit.calculators.refrigerants import refrigerant as known
from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = [
    "FACTOR", "clearance_volumetric_efficiency", "compressor_current_ratio", "compressor_displacement",
    "isentropic_efficiency", "overall_isentropic_efficiency", "return_gas_factor", "suction_density_correction",
    "volumetric_efficiency",
]

#: Share of a change of suction density that reaches the mass flow (Rice and Dabiri).
FACTOR = 0.75
# Readings of ordinary accuracy give at most this; beyond it one of them is wrong.
_NO_EFFICIENCY = 1.2


def suction_density_correction(
    rated_mass_flow: float, density: float, rated_density: float, factor: float = FACTOR
) -> float:
    """Mass flow at another return gas: the rated flow corrected for the density of the gas at the suction.

    Takes kg/s, kg/m³, kg/m³ and the share of the change that counts; gives kg/s. The share is 75 % for a compressor
    cooled by its suction gas, nearer to 100 % for an open one.

    >>> round(suction_density_correction(0.0579, density=17.0, rated_density=18.0), 4)
    0.0555
    """
    return rated_mass_flow * (1.0 + factor * (density / rated_density - 1.0))


def return_gas_factor(
    refrigerant: str, suction: float, return_gas: float, rated_return_gas: float, factor: float = FACTOR
) -> float:
    """What another return gas temperature does to the rated mass flow of a compressor.

    Takes the refrigerant, the suction dew temperature (K), the temperature of the return gas now and in
    the rating (K, both above it) and the share of the change that counts; gives a ratio. Loads CoolProp.

    >>> round(return_gas_factor("R-134a", 280.372, 302.594, 291.483), 3)  # 45 degF: 85 instead of 65 degF
    0.963
    """
    from faultkit.calculators.refrigerants.gas import vapor

    pressure = known(refrigerant).dew_pressure(suction)
    density = vapor(refrigerant, pressure, return_gas).density
    return suction_density_correction(1.0, density, vapor(refrigerant, pressure, rated_return_gas).density, factor)


def compressor_displacement(bore: float, stroke: float, cylinders: float, speed: float) -> float:
    """Volume that a reciprocating compressor sweeps in a time.

    Takes m, m, a count and rad/s; gives m³/s.

    >>> round(compressor_displacement(0.08, 0.06, 1, 151.84) * 60000, 1)  # 80 by 60 mm at 1450 rpm: L/min
    437.3
    """
    return pi / 4.0 * bore * bore * stroke * cylinders * speed / (2.0 * pi)


def volumetric_efficiency(mass_flow: float, displacement: float, suction_density: float) -> float:
    """Share of its swept volume that a compressor really draws in.

    Takes kg/s, m³/s and kg/m³ of the gas at the suction; gives a ratio. New machines have 70 to 95 %, less
    at a high compression ratio; worn rings and leaking valves cost first here.

    >>> round(volumetric_efficiency(mass_flow=0.0579, displacement=0.00437, suction_density=17.0), 2)
    0.78
    """
    ratio = mass_flow / (displacement * suction_density)
    return _efficiency(ratio, f"a mass flow of {format_si(mass_flow, 'lb_per_h')} is more than the displacement holds")


def clearance_volumetric_efficiency(compression_ratio: float, clearance: float, exponent: float = 1.1) -> float:
    """Volumetric efficiency that clearance alone leaves to a reciprocating compressor: the best it can have.

    Takes the ratio of absolute pressures (1 to 30), clearance by swept volume (0 to 20 %) and the exponent of the
    re-expansion; gives a ratio. The exponent is near 1.1 for halocarbons, 1.3 for ammonia.

    >>> round(clearance_volumetric_efficiency(compression_ratio=8.69, clearance=0.04), 3)
    0.754
    """
    value = 1.0 + clearance - clearance * compression_ratio ** (1.0 / exponent)
    if not value > 0.0:
        raise InputError(
            f"at a compression ratio of {compression_ratio:g} the gas in {format_si(clearance, '%')} clearance "
            "fills the cylinder on its way back: nothing is drawn in",
            "a lower compression ratio or less clearance",
        )
    return float(value)


def isentropic_efficiency(
    refrigerant: str, suction_pressure: float, suction_temperature: float, discharge_pressure: float,
    discharge_temperature: float,
) -> float:
    """Isentropic efficiency of a compression from pressures and temperatures at the compressor.

    Takes the refrigerant, Pa absolute and K at the suction, Pa absolute and K at the discharge; gives a ratio. Sound
    machines show 55 to 75 %; leaking valves and rings pull it down. A shell that gives off heat shows more
    than it has. Loads CoolProp.

    >>> eta = isentropic_efficiency("R-134a", 0.14e6, 263.15, 0.8e6, 323.15)
    >>> round(eta, 2)
    0.94
    """
    from faultkit.calculators.refrigerants.gas import vapor

    inlet, ideal = _ideal(refrigerant, suction_pressure, suction_temperature, discharge_pressure)
    real = vapor(refrigerant, discharge_pressure, discharge_temperature).enthalpy - inlet
    told = f"discharge {format_si(discharge_temperature, 'degF')} is colder than any compression makes it"
    return _efficiency(ideal / real if real > 0.0 else 2.0 * _NO_EFFICIENCY, told)


def overall_isentropic_efficiency(
    refrigerant: str, suction_pressure: float, suction_temperature: float, discharge_pressure: float,
    mass_flow: float, power: float,
) -> float:
    """Isentropic efficiency of a compressor with its motor, from mass flow and power input.

    Takes the refrigerant, Pa absolute and K at the suction, Pa absolute at the discharge, kg/s and W; gives a
    ratio. Loads CoolProp.

    >>> round(overall_isentropic_efficiency("R-134a", 0.14e6, 263.15, 0.8e6, mass_flow=0.05, power=3000.0), 2)
    0.63
    """
    _, ideal = _ideal(refrigerant, suction_pressure, suction_temperature, discharge_pressure)
    told = f"{format_si(power, 'W')} cannot move {format_si(mass_flow, 'lb_per_h')} against these pressures"
    return _efficiency(mass_flow * ideal / power, told)


def _ideal(
    name: str, suction_pressure: float, suction_temperature: float, discharge_pressure: float
) -> tuple[float, float]:
    """Enthalpy at the suction, and the work of a compression without loss, J/kg."""
    from faultkit.calculators.refrigerants.gas import temperature_at_entropy, vapor

    if not suction_pressure < discharge_pressure:
        raise InputError(
            f"suction_pressure {format_si(suction_pressure, 'psia')} is not below discharge_pressure "
            f"{format_si(discharge_pressure, 'psia')}",
            "a discharge pressure above the suction pressure",
        )
    inlet = vapor(name, suction_pressure, suction_temperature)
    hot = temperature_at_entropy(name, discharge_pressure, inlet.entropy)
    return inlet.enthalpy, vapor(name, discharge_pressure, hot).enthalpy - inlet.enthalpy


def _efficiency(ratio: float, told: str) -> float:
    if ratio > _NO_EFFICIENCY:
        raise InputError(f"{told} (an efficiency of {ratio:.0%})", "readings taken at one time, gas without liquid")
    return ratio


def compressor_current_ratio(current: float, rated_current: float, voltage: float, rated_voltage: float) -> float:
    """Measured current against what the rating gives at these saturation temperatures, voltage allowed for.

    Takes A, A (from compressor_current at the same suction and discharge), V, V; gives a ratio. At the same load the
    current goes up as the voltage goes down. Low: not pumping; high: binding, or the motor.

    >>> round(compressor_current_ratio(current=6.2, rated_current=7.55, voltage=218.0, rated_voltage=230.0), 2)
    0.78
    """
    return current * voltage / (rated_current * rated_voltage)
