"""Single numbers of low-pressure and head-pressure controls."""

from __future__ import annotations

from faultkit.calculators.refrigerants import refrigerant as find

__all__ = [
    "box_temperature_at_cut_out", "cut_in_winter_margin", "cut_out_from_differential", "head_pressure_setting",
    "high_pressure_ceiling", "low_pressure_cut_in", "low_pressure_cut_out", "pressure_differential",
    "setting_saturation_temperature",
]


def low_pressure_cut_in(restart_temperature: float, refrigerant: str, atmosphere: float) -> float:
    """Low-pressure cut-in for the box temperature at which the unit is to restart.

    Gauge pressure (Pa) of the dew point at ``restart_temperature`` (K): with the
    compressor off and the fans running the coil comes to the box air. A pump-down or
    safety control must cut in below this, a temperature control at it.

    >>> cut_in = low_pressure_cut_in(276.483, "R-134a", 101325.0)  # coil clear of frost at 38 degF
    >>> round(cut_in / 6894.757)  # psig
    33
    """
    return find(refrigerant).dew_pressure(restart_temperature) - atmosphere


def low_pressure_cut_out(
    box_temperature: float, temperature_difference: float, refrigerant: str, suction_line_drop: float,
    atmosphere: float,
) -> float:
    """Low-pressure cut-out for the lowest box temperature wanted.

    Gauge pressure (Pa) of the dew point of the coil, ``box_temperature`` (K) less
    ``temperature_difference`` (K) between air and coil, less the ``suction_line_drop``
    (Pa) between coil and control while running. A pump-down control must cut out below it.

    >>> cut_out = low_pressure_cut_out(274.817, 11.111, "R-134a", 0.0, 101325.0)  # 35 degF box, 20 delta_degF
    >>> round(cut_out / 6894.757)  # psig
    15
    """
    return find(refrigerant).dew_pressure(box_temperature - temperature_difference) - suction_line_drop - atmosphere


def setting_saturation_temperature(setting: float, refrigerant: str) -> float:
    """Coil temperature (K) that the setting of a low-pressure control stands for.

    The dew point at ``setting`` (Pa absolute): what the coil is when the control
    switches, the drop of the suction line left out.

    >>> round(setting_saturation_temperature(33 * 6894.757 + 101325, "R-134a") * 1.8 - 459.67)  # 33 psig: degF
    38
    """
    return find(refrigerant).dew_temperature(setting)


def cut_in_winter_margin(cut_in: float, ambient_temperature: float, refrigerant: str) -> float:
    """How far the cut-in lies below the pressure there is in winter.

    Dew pressure at the coldest ``ambient_temperature`` (K) of the condensing unit less
    ``cut_in`` (Pa absolute), a pressure difference (Pa). Zero or less: the pressure never
    reaches the cut-in and the unit does not restart in such weather.

    >>> margin = cut_in_winter_margin(20 * 6894.757 + 101325, 255.372, "R-404A")  # 20 psig, 0 degF outside
    >>> round(margin / 6894.757, 1)  # psi
    12.6
    """
    return find(refrigerant).dew_pressure(ambient_temperature) - cut_in


def pressure_differential(cut_in: float, cut_out: float) -> float:
    """Differential of a pressure control: cut-in less cut-out (Pa). Negative: the two are swapped.

    >>> pressure_differential(329000.0, 205000.0)
    124000.0
    """
    return cut_in - cut_out


def cut_out_from_differential(cut_in: float, differential: float) -> float:
    """Cut-out of a control that is set by cut-in and differential scales: cut-in less differential (Pa gauge).

    >>> round(cut_out_from_differential(30 * 6894.757, 20 * 6894.757) / 6894.757)  # 30 psig less 20 psi
    10
    """
    return cut_in - differential


def box_temperature_at_cut_out(
    cut_out: float, temperature_difference: float, refrigerant: str, suction_line_drop: float
) -> float:
    """How cold a box gets that a low-pressure control stops.

    Dew point at ``cut_out`` (Pa absolute) plus ``suction_line_drop`` (Pa), plus the
    ``temperature_difference`` (K) between box air and coil; K.

    >>> box = box_temperature_at_cut_out(15 * 6894.757 + 101325, 11.111, "R-134a", 0.0)  # 15 psig, 20 delta_degF
    >>> round(box * 1.8 - 459.67)  # degF
    35
    """
    return find(refrigerant).dew_temperature(cut_out + suction_line_drop) + temperature_difference


def head_pressure_setting(condensing_temperature: float, refrigerant: str, atmosphere: float) -> float:
    """Setting of a head-pressure control for a condensing temperature: fan cycling, fan speed, flooding valve.

    Gauge pressure (Pa) of the bubble point at ``condensing_temperature`` (K). Bubble,
    because such a control is there to feed the expansion valve with liquid: the liquid
    leaves the condenser at the bubble point, and of the two sides it needs the higher pressure.

    >>> round(head_pressure_setting(305.372, "R-404A", 101325.0) / 6894.757)  # 90 degF: psig
    204
    """
    return find(refrigerant).bubble_pressure(condensing_temperature) - atmosphere


def high_pressure_ceiling(
    condensing_temperature: float, rated_pressure: float, relief_pressure: float, refrigerant: str,
    share_of_relief: float, atmosphere: float,
) -> float:
    """Highest allowed high-pressure cut-out: the lowest of three limits (Pa gauge).

    The dew pressure at the highest ``condensing_temperature`` (K) the compressor may
    have; ``rated_pressure``, the high side's marked pressure; ``share_of_relief`` of the
    relief valve's marked ``relief_pressure`` (both Pa gauge). Dew, because compressor
    limits are given at the dew point and it is the lower side.

    >>> ceiling = high_pressure_ceiling(333.0, 3.1e6, 3.1e6, "R-404A", 0.9, 101325.0)
    >>> round(ceiling / 6894.757)  # 139.7 degF, 450 psig rated and relief: psig
    400
    """
    limit = find(refrigerant).dew_pressure(condensing_temperature) - atmosphere
    return min(limit, rated_pressure, share_of_relief * relief_pressure)
