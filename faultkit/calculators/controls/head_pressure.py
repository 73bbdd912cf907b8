"""Settings of the controls on the high side: fan cycling, fan speed, flooding valve, high-pressure cut-out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from faultkit.calculators.controls.settings import head_pressure_setting, high_pressure_ceiling
from faultkit.calculators.controls.words import absolute, degf, gauge_words, named, psi, verdict
from faultkit.calculators.refrigerants import refrigerant as find
from faultkit.problems import InputError

__all__ = [
    "FanCycling", "FanSpeed", "FloodingValve", "HighPressure", "fan_cycling_check", "fan_cycling_settings",
    "fan_speed_settings", "flooding_valve_check", "high_pressure_check",
]

#: Which side of the glide the settings of the high side are read at, and why.
SIDE = "bubble point: the liquid for the expansion valve leaves the condenser there, and it is the higher pressure"
CEILING_SIDE = "dew point: compressor limits are given there, and it is the lower pressure"


@dataclass(frozen=True, slots=True)
class FanCycling:
    """Settings of a fan-cycling control and what they mean: Pa gauge and K (bubble point).

    ``on_temperature``, ``off_temperature`` are the condensing temperatures at which the fan starts and stops.
    """

    cut_in: float
    cut_out: float
    differential: float
    on_temperature: float
    off_temperature: float
    side: str
    verdict: str
    conflicts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FanSpeed:
    """Settings of a fan speed control: Pa gauge, and the condensing temperature (K) at full speed."""

    start: float
    full_speed: float
    full_speed_temperature: float | None
    side: str
    verdict: str
    conflicts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FloodingValve:
    """What the setting of a condenser flooding valve holds: K (bubble point)."""

    condensing_temperature: float
    side: str
    verdict: str
    conflicts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HighPressure:
    """What a high-pressure cut-out is worth.

    ``ceiling`` (Pa gauge) and ``room`` (ceiling less setting, Pa); ``condensing_temperature`` at the setting
    (K, dew point), None near the critical point.
    """

    ceiling: float
    room: float
    condensing_temperature: float | None
    side: str
    verdict: str
    conflicts: tuple[str, ...]


def fan_cycling_settings(
    refrigerant: str, on_temperature: float, off_temperature: float, valve_setting: float | None,
    high_pressure_cut_out: float | None, least_differential: float, least_condensing_temperature: float,
    clearance: float, atmosphere: float,
) -> FanCycling:
    """Cut-in and cut-out of a condenser fan-cycling control, and every conflict.

    The fan starts at the bubble pressure of ``on_temperature`` (K) and stops at that of
    ``off_temperature`` (K, lower). ``valve_setting`` of a flooding valve and
    ``high_pressure_cut_out`` are Pa gauge, None where there is none.
    ``least_condensing_temperature`` (K) is what the expansion valve still needs,
    ``clearance`` (Pa) how far the fan must start below the high-pressure cut-out.

    >>> a = fan_cycling_settings(
    ...     "R-404A", on_temperature=305.372, off_temperature=294.261, valve_setting=None,
    ...     high_pressure_cut_out=2.758e6, least_differential=241317.0, least_condensing_temperature=294.261,
    ...     clearance=689476.0, atmosphere=101325.0)
    >>> round(a.cut_in / 6894.757), round(a.cut_out / 6894.757), a.verdict  # on 90, off 70 degF
    (204, 149, 'no conflict')
    """
    if off_temperature >= on_temperature:
        raise InputError(
            f"'on_temperature' is {degf(on_temperature)}, 'off_temperature' {degf(off_temperature)}",
            "a condensing temperature for fan on above that for fan off",
        )
    cut_in = head_pressure_setting(on_temperature, refrigerant, atmosphere)
    cut_out = head_pressure_setting(off_temperature, refrigerant, atmosphere)
    conflicts = _fan_conflicts(
        cut_in, cut_out, off_temperature, valve_setting, high_pressure_cut_out, least_differential,
        least_condensing_temperature, clearance,
    )
    return FanCycling(
        cut_in, cut_out, cut_in - cut_out, on_temperature, off_temperature, SIDE, verdict(conflicts), conflicts
    )


def fan_cycling_check(
    refrigerant: str, cut_in: float, cut_out: float, valve_setting: float | None, high_pressure_cut_out: float | None,
    least_differential: float, least_condensing_temperature: float, clearance: float, atmosphere: float,
) -> FanCycling:
    """What the found settings of a condenser fan-cycling control mean, and every conflict.

    ``cut_in`` (fan on) and ``cut_out`` (fan off) are Pa gauge as set; the rest as in ``fan_cycling_settings``.

    >>> a = fan_cycling_check(
    ...     "R-404A", cut_in=1.172e6, cut_out=0.965e6, valve_setting=1.241e6, high_pressure_cut_out=2.758e6,
    ...     least_differential=172369.0, least_condensing_temperature=288.7, clearance=689476.0,
    ...     atmosphere=101325.0)
    >>> a.verdict  # fan on 170, off 140 psig; valve 180 psig
    'fan cycling below the valve setting'
    """
    if cut_out >= cut_in:
        raise InputError(
            f"'cut_in' is {gauge_words(cut_in)}, 'cut_out' {gauge_words(cut_out)}",
            "a cut-in above the cut-out: a fan-cycling control closes on rise",
        )
    on, off = (
        find(refrigerant).bubble_temperature(absolute(p, atmosphere, name))
        for p, name in ((cut_in, "cut_in"), (cut_out, "cut_out"))
    )
    conflicts = _fan_conflicts(
        cut_in, cut_out, off, valve_setting, high_pressure_cut_out, least_differential,
        least_condensing_temperature, clearance,
    )
    return FanCycling(cut_in, cut_out, cut_in - cut_out, on, off, SIDE, verdict(conflicts), conflicts)


def fan_speed_settings(
    refrigerant: str, condensing_temperature: float, band: float, valve_setting: float | None,
    high_pressure_cut_out: float | None, clearance: float, atmosphere: float,
) -> FanSpeed:
    """Start and full speed of a condenser fan speed control, and every conflict.

    The fan begins to turn at the bubble pressure of the lowest wanted
    ``condensing_temperature`` (K) and is at full speed ``band`` (Pa) above. Valve setting,
    cut-out and ``clearance`` as in ``fan_cycling_settings``.

    >>> a = fan_speed_settings("R-134a", 299.817, 344738.0, None, None, 689476.0, 101325.0)  # 80 degF, band 50 psi
    >>> round(a.start / 6894.757), round(a.full_speed / 6894.757)  # psig
    (87, 137)
    """
    start = head_pressure_setting(condensing_temperature, refrigerant, atmosphere)
    full = start + band
    conflicts = named((
        _never_slows(start, full, valve_setting),
        _near_cut_out("full speed", full, high_pressure_cut_out, clearance),
    ))
    at_full = _or_none(find(refrigerant).bubble_temperature, full + atmosphere)
    return FanSpeed(start, full, at_full, SIDE, verdict(conflicts), conflicts)


def flooding_valve_check(
    refrigerant: str, setting: float, ambient_temperature: float, summer_condensing_temperature: float,
    least_condensing_temperature: float, atmosphere: float,
) -> FloodingValve:
    """What the setting of a condenser flooding valve holds, and every conflict.

    ``setting`` is Pa gauge; ``ambient_temperature`` (K) the coldest air at the
    condenser, ``summer_condensing_temperature`` (K) the condensing temperature of a mild
    day above which the valve must not flood, ``least_condensing_temperature`` (K) what
    the expansion valve needs.

    >>> a = flooding_valve_check("R-404A", 1.2411e6, 255.372, 308.15, 294.261, 101325.0)  # 180 psig
    >>> round(a.condensing_temperature * 1.8 - 459.67), a.verdict  # degF
    (82, 'no conflict')
    """
    fluid = find(refrigerant)
    held = fluid.bubble_temperature(absolute(setting, atmosphere, "setting"))
    shown = f"{gauge_words(setting)} holds {degf(held)}"
    conflicts = named((
        f"too little head: {shown}, the expansion valve wants {degf(least_condensing_temperature)}"
        if held < least_condensing_temperature - 1e-6 else "",
        f"floods all year: {shown}, not below the {degf(summer_condensing_temperature)} of a mild day"
        if held >= summer_condensing_temperature else "",
        f"never acts: {shown}, and the coldest ambient is {degf(ambient_temperature)}"
        if held <= ambient_temperature else "",
    ))
    return FloodingValve(held, SIDE, verdict(conflicts), conflicts)


def high_pressure_check(
    refrigerant: str, cut_out: float, condensing_temperature: float, rated_pressure: float, relief_pressure: float,
    highest_normal_temperature: float, share_of_relief: float, clearance: float, atmosphere: float,
) -> HighPressure:
    """Whether a high-pressure cut-out is set below its ceiling and above normal head pressure.

    The ceiling is the one of ``high_pressure_ceiling``. ``highest_normal_temperature``
    (K) is the condensing temperature of the hottest day with a clean condenser; the
    cut-out should be ``clearance`` (Pa) above its pressure, lest it trip on a hot day.

    >>> a = high_pressure_check(
    ...     "R-404A", cut_out=3.1e6, condensing_temperature=333.15, rated_pressure=3.1e6, relief_pressure=3.1e6,
    ...     highest_normal_temperature=322.0, share_of_relief=0.9, clearance=206843.0, atmosphere=101325.0)
    >>> a.verdict  # set at the 450 psig of rated and relief pressure
    'above the compressor limit; too near the relief pressure'
    """
    ceiling = high_pressure_ceiling(
        condensing_temperature, rated_pressure, relief_pressure, refrigerant, share_of_relief, atmosphere
    )
    fluid = find(refrigerant)
    limit = fluid.dew_pressure(condensing_temperature) - atmosphere
    normal = fluid.bubble_pressure(highest_normal_temperature) - atmosphere
    shown = f"cut-out {gauge_words(cut_out)}"
    conflicts = named((
        f"above the rated pressure: {shown}, marked {gauge_words(rated_pressure)}" if cut_out > rated_pressure else "",
        f"above the compressor limit: {shown}, {degf(condensing_temperature)} is {gauge_words(limit)}"
        if cut_out > limit else "",
        f"too near the relief pressure: {shown}, {share_of_relief:.0%} of {gauge_words(relief_pressure)} is "
        f"{gauge_words(share_of_relief * relief_pressure)}" if cut_out > share_of_relief * relief_pressure else "",
        f"trips on a hot day: {shown}, normal head {gauge_words(normal)} at {degf(highest_normal_temperature)}; "
        f"{psi(clearance)} above it wanted" if cut_out < normal + clearance else "",
    ))
    at = _or_none(fluid.dew_temperature, absolute(cut_out, atmosphere, "cut_out"))
    return HighPressure(ceiling, ceiling - cut_out, at, CEILING_SIDE, verdict(conflicts), conflicts)


def _or_none(curve: Callable[[float], float], pressure: float) -> float | None:
    """The saturation temperature; None so near the critical point that the fits have none."""
    try:
        return curve(pressure)
    except InputError:
        return None


def _fan_conflicts(
    cut_in: float, cut_out: float, off_temperature: float, valve: float | None, high_cut_out: float | None,
    least_differential: float, least_condensing: float, clearance: float,
) -> tuple[str, ...]:
    return named((
        _under_valve(cut_in, cut_out, valve),
        f"fan short-cycles: differential {psi(cut_in - cut_out)}, at least {psi(least_differential)} wanted"
        if cut_in - cut_out < least_differential - 1.0 else "",
        f"head falls too far: fan off at {gauge_words(cut_out)} is {degf(off_temperature)} condensing, the expansion "
        f"valve wants {degf(least_condensing)}" if off_temperature < least_condensing - 1e-6 else "",
        _near_cut_out("fan on", cut_in, high_cut_out, clearance),
    ))


def _under_valve(cut_in: float, cut_out: float, valve: float | None) -> str:
    if valve is None or cut_out >= valve:
        return ""
    if cut_in <= valve:
        return (
            f"fan cycling below the valve setting: fan on {gauge_words(cut_in)}, off {gauge_words(cut_out)}, the "
            f"flooding valve holds {gauge_words(valve)}: the fan never stops and the valve floods against it"
        )
    return (
        f"fan off below the valve setting: the flooding valve holds {gauge_words(valve)}, so the head hardly falls to "
        f"the fan's {gauge_words(cut_out)} and the valve floods with the fan running"
    )


def _never_slows(start: float, full: float, valve: float | None) -> str:
    if valve is None or start >= valve:
        return ""
    name = "fan speed below the valve setting" if full <= valve else "fan start below the valve setting"
    return (
        f"{name}: fan from {gauge_words(start)} to full speed at {gauge_words(full)}, the flooding valve holds "
        f"{gauge_words(valve)} and floods against it"
    )


def _near_cut_out(what: str, pressure: float, high_cut_out: float | None, clearance: float) -> str:
    if high_cut_out is None or pressure <= high_cut_out - clearance + 1.0:
        return ""
    return (
        f"too near the high-pressure cut-out: {what} at {gauge_words(pressure)}, cut-out {gauge_words(high_cut_out)}; "
        f"{psi(clearance)} between them wanted"
    )
