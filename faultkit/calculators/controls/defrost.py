"""Defrost: what a day of it costs, what its settings clash with, how it ends."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from faultkit.calculators.controls.clock import DAY_S
from faultkit.calculators.controls.words import FREEZING_K, degf, length_words, named, verdict
from faultkit.problems import InputError

__all__ = [
    "DefrostDay", "DefrostEnding", "DefrostSettings", "OffCycle", "defrost_day", "defrost_ending", "defrost_energy",
    "defrost_heater_time", "defrost_settings_check", "defrosts_needed", "fail_safe_share", "frost_melt_time",
    "off_cycle_defrost_check", "off_cycle_defrost_margin", "share_not_refrigerating",
]

Rows = tuple[tuple[float, ...], ...]

#: Heat of melting and specific heat of ice near 0 degC, J/kg and J/(kg K).
_MELTING, _ICE = 333_550.0, 2_090.0


@dataclass(frozen=True, slots=True)
class DefrostDay:
    """A day's defrosting: times in s, energy in J, ``share`` of the day not refrigerating."""

    heater_time: float
    energy: float
    off_time: float
    share: float
    verdict: str
    conflicts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DefrostSettings:
    """Conflicts of a defrost's settings."""

    verdict: str
    conflicts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OffCycle:
    """Whether a coil can defrost in its off cycle; ``margin`` (K) of the air above what clears frost."""

    margin: float
    verdict: str


@dataclass(frozen=True, slots=True)
class DefrostEnding:
    """How a row of defrosts ended: how many, how many by the fail-safe, shortest and longest (s)."""

    count: int
    by_fail_safe: int
    share: float
    shortest: float
    longest: float
    verdict: str


def defrost_heater_time(defrosts: float, length: float) -> float:
    """Heater time a day (s): ``defrosts`` a day of ``length`` (s) each. InputError for more than a day.

    >>> defrost_heater_time(4.0, 1800.0) / 3600  # 4 a day, 30 min each: hours
    2.0
    """
    return _of_a_day(defrosts * length, "defrosts and length")


def defrost_energy(defrosts: float, length: float, heater_power: float) -> float:
    """Heater energy a day (J): heater time by ``heater_power`` (W).

    >>> defrost_energy(4.0, 1800.0, 2000.0) / 3.6e6  # 2 kW: kWh a day
    4.0
    """
    return defrost_heater_time(defrosts, length) * heater_power


def share_not_refrigerating(
    defrosts: float, length: float, drip_time: float, fan_delay: float, pump_down: float
) -> float:
    """Share of the day in which the box is not cooled for defrosts, a ratio.

    ``defrosts`` a day, each with ``pump_down`` before, ``length`` of heat, ``drip_time`` and
    ``fan_delay`` after (all s; with the fans waiting the coil is cooled, not the box).

    >>> round(share_not_refrigerating(4.0, 1800.0, 120.0, 180.0, 0.0), 4)  # 35 min, four times
    0.0972
    """
    return _of_a_day(defrosts * (pump_down + length + drip_time + fan_delay), "defrosts and their times") / DAY_S


def _of_a_day(seconds: float, what: str) -> float:
    if seconds > DAY_S:
        raise InputError(f"{what} make {length_words(seconds)} a day", "no more than 24 h")
    return seconds


def defrost_day(
    defrosts: float, length: float, heater_power: float, drip_time: float, fan_delay: float, pump_down: float,
    design_run_time: float,
) -> DefrostDay:
    """What the defrosts of a day cost, and whether enough of it is left to refrigerate.

    Times in s, power in W. ``design_run_time`` (s a day) is what the unit was sized to
    run: what is left of the day must not be less.

    >>> d = defrost_day(4.0, 2400.0, 2000.0, 120.0, 180.0, 0.0, 64800.0)
    >>> round(d.heater_time / 3600, 2), round(d.energy / 3.6e6, 2), d.verdict  # hours, kWh
    (2.67, 5.33, 'no conflict')
    """
    share = share_not_refrigerating(defrosts, length, drip_time, fan_delay, pump_down)
    off = share * DAY_S
    left = DAY_S - off
    conflicts = named((
        f"too little time to refrigerate: {length_words(left)} of the day left, sized for "
        f"{length_words(design_run_time)}" if left < design_run_time else "",
    ))
    return DefrostDay(
        defrost_heater_time(defrosts, length), defrost_energy(defrosts, length, heater_power), off, share,
        verdict(conflicts), conflicts,
    )


def defrosts_needed(frost_rate: float, frost_limit: float) -> float:
    """How often a coil must defrost (Hz): ``frost_rate`` (kg/s) over the ``frost_limit`` (kg) it can carry.

    >>> round(defrosts_needed(0.5 / 3600, 3.0) * 86400, 2)  # 0.5 kg an hour, 3 kg on the coil: a day
    4.0
    """
    return frost_rate / frost_limit


def frost_melt_time(frost_mass: float, coil_temperature: float, heater_power: float, share_to_frost: float) -> float:
    """How long a heater takes to melt the frost of a coil (s).

    ``frost_mass`` (kg) is warmed from ``coil_temperature`` (K) to 0 degC and melted by the
    ``share_to_frost`` of ``heater_power`` (W) that reaches it; the rest warms metal, pan and air.

    >>> round(frost_melt_time(1.5, 250.0, 2000.0, 0.5) / 60, 1)  # min
    9.5
    """
    heat = frost_mass * (_MELTING + _ICE * max(0.0, FREEZING_K - coil_temperature))
    return heat / (heater_power * share_to_frost)


def defrost_settings_check(
    evaporating_temperature: float, termination_temperature: float, fan_delay_temperature: float, fail_safe: float,
    drip_time: float, least_termination: float, most_termination: float, most_fan_delay: float,
    least_fail_safe: float, most_fail_safe: float, least_drip: float, most_drip: float,
) -> DefrostSettings:
    """Conflicts of a heated defrost's settings: termination, fan delay, fail-safe, drip time.

    Temperatures of the coil in K, times in s. ``evaporating_temperature`` is what the coil
    falls to before the fans start; the least and most are what is usual.

    >>> defrost_settings_check(
    ...     244.261, 278.15, 274.817, 1800.0, 0.0, 280.372, 294.261, 272.039, 1200.0, 3600.0, 60.0, 600.0).verdict
    'terminates too early; fans blow water; drip time too short'
    """
    if least_termination > most_termination or least_fail_safe > most_fail_safe or least_drip > most_drip:
        raise InputError("a least value lies above its most", "each least at or below its most")
    at, fans = degf(termination_temperature), degf(fan_delay_temperature)
    conflicts = named((
        f"terminates too early: coil at {at}, at least {degf(least_termination)} wanted, or frost stays on it"
        if termination_temperature < least_termination else "",
        f"terminates too warm: coil at {at}, at most {degf(most_termination)} wanted: steam, ice on the ceiling, warm "
        "product" if termination_temperature > most_termination else "",
        f"fans blow water: fan delay ends at {fans}, at most {degf(most_fan_delay)} wanted, the drops frozen"
        if fan_delay_temperature > most_fan_delay else "",
        f"fans do not start: fan delay ends at {fans}, the coil falls to {degf(evaporating_temperature)} only"
        if fan_delay_temperature <= evaporating_temperature else "",
        *_times(fail_safe, drip_time, (least_fail_safe, most_fail_safe), (least_drip, most_drip)),
    ))
    return DefrostSettings(verdict(conflicts), conflicts)


def _times(
    fail_safe: float, drip_time: float, fail_safes: tuple[float, float], drips: tuple[float, float]
) -> tuple[str, ...]:
    found = []
    for name, value, (least, most) in (("fail-safe", fail_safe, fail_safes), ("drip time", drip_time, drips)):
        if value < least:
            found.append(f"{name} too short: {length_words(value)}, at least {length_words(least)} wanted")
        if value > most:
            found.append(f"{name} too long: {length_words(value)}, at most {length_words(most)} wanted")
    return tuple(found)


def off_cycle_defrost_margin(air_temperature: float, frost_clear_temperature: float) -> float:
    """How far the air lies above what clears a coil's frost in the off cycle (K). Below zero the coil needs heat.

    >>> round(off_cycle_defrost_margin(276.483, 275.372) * 1.8)  # 38 degF air, 36 degF: delta_degF
    2
    """
    return air_temperature - frost_clear_temperature


def off_cycle_defrost_check(
    air_temperature: float, evaporating_temperature: float, frost_clear_temperature: float
) -> OffCycle:
    """Whether a coil can lose its frost while the compressor rests and the fans run.

    ``air_temperature`` (K) returns to it; it runs at ``evaporating_temperature`` (K).

    >>> off_cycle_defrost_check(273.706, 268.0, 275.372).verdict  # 33 degF box
    'needs heat or a longer, warmer off time'
    """
    margin = off_cycle_defrost_margin(air_temperature, frost_clear_temperature)
    if evaporating_temperature >= FREEZING_K:
        return OffCycle(margin, "no frost: the coil runs above freezing")
    if margin >= 0.0:
        return OffCycle(margin, "possible")
    if air_temperature <= FREEZING_K:
        return OffCycle(margin, "needs heat")
    return OffCycle(margin, "needs heat or a longer, warmer off time")


def fail_safe_share(log: Rows, fail_safe: float, tolerance: float) -> float:
    """Share of defrosts that the fail-safe ended, a ratio.

    ``log`` has rows of (start, length), s; a length within ``tolerance`` (s) of ``fail_safe`` (s), or longer, counts.

    >>> fail_safe_share(((0.0, 1200.0), (21600.0, 2700.0)), 2700.0, 60.0)
    0.5
    """
    lengths = _lengths(log)
    return sum(length >= fail_safe - tolerance for length in lengths) / len(lengths)


def defrost_ending(
    log: Rows, fail_safe: float, tolerance: float, least_length: float, least_count: float
) -> DefrostEnding:
    """How defrosts ended, read off their lengths: by temperature, by time, by the fail-safe.

    ``log`` has rows of (start, length), s. Every one by the fail-safe: the termination does
    not work, or there is more frost than the heaters melt. All equally long but shorter:
    a timer ends them. All shorter than ``least_length`` (s): cut short. A verdict needs
    ``least_count`` defrosts.

    >>> rows = ((0.0, 2700.0), (21600.0, 2690.0), (43200.0, 2700.0))
    >>> defrost_ending(rows, 2700.0, 60.0, 300.0, 3.0).verdict
    'ended by the fail-safe every time: termination not working'
    """
    lengths = _lengths(log)
    late = sum(length >= fail_safe - tolerance for length in lengths)
    told = _ending(lengths, late, fail_safe, tolerance, least_length, least_count)
    return DefrostEnding(len(lengths), late, late / len(lengths), min(lengths), max(lengths), told)


def _ending(
    lengths: list[float], late: int, fail_safe: float, tolerance: float, least_length: float, least_count: float
) -> str:
    if max(lengths) > fail_safe + tolerance:
        return "ran past the fail-safe: clock or heater contactor does not end it"
    if len(lengths) < least_count:
        return "too few defrosts to tell"
    if late == len(lengths):
        return "ended by the fail-safe every time: termination not working"
    if late:
        return "ended by the fail-safe now and then"
    if max(lengths) < least_length:
        return "cut short every time"
    if max(lengths) - min(lengths) <= tolerance:
        return "equally long every time: looks ended by time, not by temperature"
    return "ended by temperature"


def _lengths(log: Rows) -> list[float]:
    lengths = [row[1] for row in log]
    if not lengths or any(length < 0.0 for length in lengths):
        raise InputError("the log of defrosts has no row, or a length below zero", "rows of start and length")
    for (start, length), (after, _) in pairwise(log):
        if start + length > after:
            raise InputError(
                f"a defrost of {length_words(length)} begins {length_words(after - start)} before the next",
                "defrosts that end before the next begins",
            )
    return lengths
