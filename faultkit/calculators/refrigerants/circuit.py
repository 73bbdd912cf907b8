"""What gauges and pipe thermometers say of the refrigerant circuit."""

from __future__ import annotations

from faultkit.calculators.refrigerants.saturation import refrigerant as find
from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = [
    "bubble_pressure", "bubble_temperature", "compression_ratio", "condenser_split", "dew_pressure",
    "dew_temperature", "discharge_temperature", "evaporator_temperature_difference", "glide", "latent_heat",
    "liquid_column_pressure", "liquid_density", "non_condensable_pressure", "subcooling", "subcooling_lost",
    "superheat", "vapor_density",
]


def dew_pressure(temperature: float, refrigerant: str) -> float:
    """Pressure at which the last liquid boils away (dew point).

    Takes K, gives Pa absolute; -60 °C to some 8 K below the critical point. The side
    of the glide that belongs to suction pressure, superheat and low-pressure controls.

    >>> round((dew_pressure(269.26, "R-134a") - 101325) / 6894.757, 1)  # 25 degF: psig
    22.1
    """
    return find(refrigerant).dew_pressure(temperature)


def bubble_pressure(temperature: float, refrigerant: str) -> float:
    """Pressure at which liquid begins to boil (bubble point).

    Takes K, gives Pa absolute; -60 °C to some 8 K below the critical point. The side of
    the glide that belongs to liquid: subcooling, receivers and cylinders, a unit at rest.

    >>> round((bubble_pressure(313.706, "R-404A") - 101325) / 6894.757)  # 105 degF: psig
    254
    """
    return find(refrigerant).bubble_pressure(temperature)


def dew_temperature(pressure: float, refrigerant: str) -> float:
    """Saturation temperature on the vapor side (dew point).

    Takes Pa absolute, gives K.

    >>> round(dew_temperature(33 * 6894.757 + 101325, "R-134a") * 1.8 - 459.67)  # 33 psig: degF
    38
    """
    return find(refrigerant).dew_temperature(pressure)


def bubble_temperature(pressure: float, refrigerant: str) -> float:
    """Saturation temperature on the liquid side (bubble point).

    Takes Pa absolute, gives K.

    >>> round(bubble_temperature(254.2 * 6894.757 + 101325, "R-404A") * 1.8 - 459.67)  # degF
    105
    """
    return find(refrigerant).bubble_temperature(pressure)


def glide(pressure: float, refrigerant: str) -> float:
    """Temperature glide: how far the dew point lies above the bubble point at one pressure.

    Takes Pa absolute, gives K; nothing for a single substance.

    >>> round(glide(43.94 * 6894.757 + 101325, "R-448A") * 1.8, 1)  # delta degF
    11.1
    """
    fluid = find(refrigerant)
    return fluid.dew_temperature(pressure) - fluid.bubble_temperature(pressure) if fluid.blend else 0.0


def superheat(suction_pressure: float, line_temperature: float, refrigerant: str) -> float:
    """Superheat: how far the vapor in the pipe is above the dew point at its pressure.

    Takes Pa absolute and K at the same place, gives K. Below zero means that liquid is
    there, that gauge or thermometer is wrong, or that another refrigerant is in the circuit.

    >>> round(superheat(22.1 * 6894.757 + 101325, 274.817, "R-134a") * 1.8, 1)  # 35 degF line: delta degF
    10.0
    """
    return line_temperature - find(refrigerant).dew_temperature(suction_pressure)


def subcooling(liquid_pressure: float, line_temperature: float, refrigerant: str) -> float:
    """Subcooling: how far the liquid in the pipe is below the bubble point at its pressure.

    Takes Pa absolute and K at the same place, gives K. Below zero means flash gas, or a wrong reading.

    >>> round(subcooling(254.2 * 6894.757 + 101325, 308.15, "R-404A") * 1.8, 1)  # 95 degF line: delta degF
    10.0
    """
    return find(refrigerant).bubble_temperature(liquid_pressure) - line_temperature


def subcooling_lost(pressure_drop: float, liquid_pressure: float, refrigerant: str) -> float:
    """Subcooling a pressure drop in the liquid line takes away.

    Takes the drop (Pa) and the pressure before it (Pa absolute), gives K.

    >>> p = bubble_pressure(313.706, "R-404A")  # 105 degF
    >>> round(subcooling_lost(10 * 6894.757, p, "R-404A") * 1.8, 1)  # 10 psi: delta degF
    2.8
    """
    fluid = find(refrigerant)
    return fluid.bubble_temperature(liquid_pressure) - fluid.bubble_temperature(liquid_pressure - pressure_drop)


def compression_ratio(discharge_pressure: float, suction_pressure: float) -> float:
    """Compression ratio: discharge over suction, both absolute.

    Takes Pa absolute, gives a plain number. Gauge pressures never divide.

    >>> round(compression_ratio(266.8, 30.7), 2)  # psia of both do as well as Pa
    8.69
    """
    _pumping(discharge_pressure, suction_pressure)
    return discharge_pressure / suction_pressure


def _pumping(discharge: float, suction: float) -> None:
    if discharge < suction:
        raise InputError(
            f"the discharge pressure {format_si(discharge, 'psia')} is below the suction pressure "
            f"{format_si(suction, 'psia')}",
            "discharge_pressure at or above suction_pressure",
        )


def evaporator_temperature_difference(
    air_temperature: float, suction_pressure: float, refrigerant: str, point: str = "dew"
) -> float:
    """Evaporator TD: air entering the coil above the evaporating temperature.

    Takes K and Pa absolute at the coil's outlet, gives K. ``point`` of the glide: dew
    (as in rating unit coolers), bubble, or mean of both.

    >>> p = dew_pressure(269.26, "R-404A")  # 25 degF
    >>> round(evaporator_temperature_difference(274.817, p, "R-404A") * 1.8, 1)  # 35 degF air: delta degF
    10.0
    """
    return air_temperature - _saturation(suction_pressure, refrigerant, point)


def condenser_split(
    discharge_pressure: float, air_temperature: float, refrigerant: str, point: str = "dew"
) -> float:
    """Condenser split: the condensing temperature above the air entering the condenser.

    Takes Pa absolute at the condenser and K, gives K. ``point`` of the glide: dew,
    bubble, or mean of both.

    >>> p = dew_pressure(313.706, "R-404A")  # 105 degF
    >>> round(condenser_split(p, 302.594, "R-404A") * 1.8, 1)  # 85 degF air: delta degF
    20.0
    """
    return _saturation(discharge_pressure, refrigerant, point) - air_temperature


def _saturation(pressure: float, refrigerant: str, point: str) -> float:
    fluid = find(refrigerant)
    if point == "dew":
        return fluid.dew_temperature(pressure)
    if point == "bubble":
        return fluid.bubble_temperature(pressure)
    return (fluid.dew_temperature(pressure) + fluid.bubble_temperature(pressure)) / 2.0


def non_condensable_pressure(rest_pressure: float, coil_temperature: float, refrigerant: str) -> float:
    """Pressure that saturation does not explain, with the unit at rest: air, or a wrong refrigerant.

    Takes Pa absolute and the temperature (K) of a condenser that has come to its
    surroundings with liquid in it, gives Pa. At rest a blend's liquid is at its bubble point.

    >>> round(non_condensable_pressure(92 * 6894.757 + 101325, 297.039, "R-134a") / 6894.757, 1)  # 75 degF: psi
    13.3
    """
    return rest_pressure - find(refrigerant).bubble_pressure(coil_temperature)


def liquid_density(temperature: float, refrigerant: str) -> float:
    """Density of saturated liquid (bubble point). Takes K, gives kg/m³.

    >>> round(liquid_density(298.15, "R-404A") / 16.0185, 1)  # 77 degF: lb/ft³
    65.2
    """
    return find(refrigerant).liquid_density(temperature)


def vapor_density(temperature: float, refrigerant: str) -> float:
    """Density of saturated vapor (dew point). Takes K, gives kg/m³.

    >>> round(vapor_density(273.15, "R-134a"), 1)
    14.4
    """
    return find(refrigerant).vapor_density(temperature)


def latent_heat(temperature: float, refrigerant: str) -> float:
    """Heat that boils a kilogram of liquid away, at the pressure at which it begins to boil at this temperature.

    Takes K, gives J/kg.

    >>> round(latent_heat(273.15, "R-134a") / 1000)
    199
    """
    return find(refrigerant).latent_heat(temperature)


def liquid_column_pressure(height: float, temperature: float, refrigerant: str) -> float:
    """Pressure that a column of liquid refrigerant weighs: lost in a riser, won in a drop.

    Takes m and K, gives Pa.

    >>> round(liquid_column_pressure(0.3048, 310.928, "R-404A") / 6894.757, 3)  # a foot at 100 degF: psi
    0.424
    """
    return find(refrigerant).liquid_density(temperature) * _STANDARD_GRAVITY * height


_STANDARD_GRAVITY = 9.80665


def discharge_temperature(
    suction_pressure: float,
    suction_temperature: float,
    discharge_pressure: float,
    refrigerant: str,
    efficiency: float = 0.65,
) -> float:
    """Discharge temperature to expect of a compressor: isentropic rise divided by its efficiency.

    Takes Pa absolute and K at the suction, Pa absolute at the discharge, and the
    isentropic efficiency (share of 1; 1 is the least it can be); gives K. A shell that
    loses heat runs cooler, one cooled by suction gas hotter. Loads CoolProp.

    >>> p = dew_pressure(244.261, "R-404A"), dew_pressure(313.706, "R-404A")  # -20 and 105 degF
    >>> round(discharge_temperature(p[0], 277.594, p[1], "R-404A", 1.0) * 1.8 - 459.67)  # 40 degF gas: degF
    177
    """
    from faultkit.calculators.refrigerants.gas import temperature_at_enthalpy, temperature_at_entropy, vapor

    _pumping(discharge_pressure, suction_pressure)
    inlet = vapor(refrigerant, suction_pressure, suction_temperature)
    ideal = temperature_at_entropy(refrigerant, discharge_pressure, inlet.entropy)
    rise = vapor(refrigerant, discharge_pressure, ideal).enthalpy - inlet.enthalpy
    return temperature_at_enthalpy(refrigerant, discharge_pressure, inlet.enthalpy + rise / efficiency)
