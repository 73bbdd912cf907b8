"""Settings of a low-pressure control: worked out, or found and checked."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.controls.conflicts import (
    JOBS,
    PUMP_DOWN,
    TEMPERATURE,
    Duty,
    coil_at,
    conflicts_of,
)
from faultkit.calculators.controls.words import degf, gauge_words, verdict
from faultkit.calculators.refrigerants import refrigerant as find
from faultkit.problems import InputError, did_you_mean

__all__ = [
    "LowPressure", "job_name", "low_pressure_check", "low_pressure_check_by_differential", "low_pressure_settings",
    "low_pressure_settings_by_coil",
]


@dataclass(frozen=True, slots=True)
class LowPressure:
    """Settings of a low-pressure control and what they mean; pressures Pa gauge, temperatures K.

    ``coil_at_cut_in``, ``coil_at_cut_out`` are dew points, None in a vacuum too deep for
    the fits. ``box_at_cut_out`` only for a temperature control whose TD is known.
    ``winter_limit``, ``restart_limit`` are what the cut-in must stay below (a
    temperature control: stands at the restart limit), ``running_limit`` what the
    cut-out must stay below (a temperature control: stands at it).
    """

    cut_in: float
    cut_out: float
    differential: float
    coil_at_cut_in: float | None
    coil_at_cut_out: float | None
    box_at_cut_out: float | None
    winter_limit: float
    restart_limit: float
    running_limit: float
    verdict: str
    conflicts: tuple[str, ...]


def job_name(text: str) -> str:
    """The job of a low-pressure control however written: ``pump-down``, ``Loss of charge safety``."""
    name = "_".join(text.lower().replace("-", " ").replace("_", " ").split()).removesuffix("_safety")
    name = {"pumpdown": PUMP_DOWN, "temperature": TEMPERATURE}.get(name, name)
    if name not in JOBS:
        raise InputError(f"'job' is '{text}'", did_you_mean(name, JOBS))
    return name


def low_pressure_settings(
    refrigerant: str, job: str, box_temperature: float, temperature_difference: float, restart_temperature: float,
    ambient_temperature: float, differential: float | None, pumped_down: float, suction_line_drop: float, margin: float,
    least_differential: float, lowest_cut_out: float, frost_clear_temperature: float, atmosphere: float,
) -> LowPressure:
    """Cut-in and cut-out of a low-pressure control for a box, and every conflict.

    A temperature control cuts in at the dew pressure of ``restart_temperature`` (the
    coil comes to the box air) and out at that of the coil when the box is at its lowest:
    ``box_temperature`` less ``temperature_difference``. The others cut in ``margin`` below
    the lower of restart and winter pressure, and out at ``pumped_down`` or lower: ``margin``
    below the lowest running pressure, ``least_differential`` below the cut-in, but never
    below ``lowest_cut_out``. A ``differential`` is taken as given, from the cut-in
    down. Conflicts are named: winter restart, vacuum, stops before the box is cold,
    short cycling, restart at box temperature, frost between cycles.
    K, Pa, Pa gauge. Dew side throughout. For an indoor unit the coldest ambient is that of the room.

    >>> a = low_pressure_settings(
    ...     "R-134a", "temperature_control", box_temperature=274.817, temperature_difference=11.111,
    ...     restart_temperature=276.483, ambient_temperature=283.15, differential=None, pumped_down=34474.0,
    ...     suction_line_drop=0.0, margin=13790.0, least_differential=34474.0, lowest_cut_out=0.0,
    ...     frost_clear_temperature=275.372, atmosphere=101325.0)
    >>> round(a.cut_in / 6894.757), round(a.cut_out / 6894.757), a.verdict  # 35 degF box, 20 TD, restart 38 degF
    (33, 15, 'no conflict')
    """
    duty = Duty(
        find(refrigerant), job, box_temperature - temperature_difference, restart_temperature, ambient_temperature,
        suction_line_drop, margin, least_differential, lowest_cut_out, frost_clear_temperature, atmosphere,
    )
    _box_possible(box_temperature, restart_temperature)
    return _report(duty, *_advice(duty, differential, pumped_down), temperature_difference)


def low_pressure_settings_by_coil(
    refrigerant: str, job: str, evaporating_temperature: float, restart_temperature: float,
    ambient_temperature: float, differential: float | None, pumped_down: float, suction_line_drop: float, margin: float,
    least_differential: float, lowest_cut_out: float, frost_clear_temperature: float, atmosphere: float,
) -> LowPressure:
    """Cut-in and cut-out of a low-pressure control for a coil temperature, and every conflict.

    As ``low_pressure_settings``, where the lowest wanted coil temperature
    ``evaporating_temperature`` (K) is known instead of box and TD.

    >>> a = low_pressure_settings_by_coil(
    ...     "R-404A", "pump_down_freezer", evaporating_temperature=244.261, restart_temperature=249.817,
    ...     ambient_temperature=244.261, differential=None, pumped_down=34474.0, suction_line_drop=0.0,
    ...     margin=13790.0, least_differential=34474.0, lowest_cut_out=0.0, frost_clear_temperature=275.372,
    ...     atmosphere=101325.0)
    >>> round(a.cut_in / 6894.757), round(a.cut_out / 6894.757)  # -20 degF outside: psig
    (14, 5)
    """
    duty = Duty(
        find(refrigerant), job, evaporating_temperature, restart_temperature, ambient_temperature, suction_line_drop,
        margin, least_differential, lowest_cut_out, frost_clear_temperature, atmosphere,
    )
    return _report(duty, *_advice(duty, differential, pumped_down), None)


def low_pressure_check(
    refrigerant: str, job: str, cut_in: float, cut_out: float, box_temperature: float,
    temperature_difference: float, restart_temperature: float, ambient_temperature: float, suction_line_drop: float,
    margin: float, least_differential: float, lowest_cut_out: float, frost_clear_temperature: float,
    atmosphere: float,
) -> LowPressure:
    """What the found cut-in and cut-out of a low-pressure control mean, and every conflict.

    ``cut_in``, ``cut_out`` are Pa gauge as set; the rest as in ``low_pressure_settings``.

    >>> a = low_pressure_check(
    ...     "R-404A", "pump_down", cut_in=206843.0, cut_out=68948.0, box_temperature=274.817,
    ...     temperature_difference=5.556, restart_temperature=276.483, ambient_temperature=244.261,
    ...     suction_line_drop=0.0, margin=13790.0, least_differential=34474.0, lowest_cut_out=0.0,
    ...     frost_clear_temperature=275.372, atmosphere=101325.0)
    >>> a.verdict  # 30 and 10 psig, -20 degF outside
    'will not restart in winter'
    """
    duty = Duty(
        find(refrigerant), job, box_temperature - temperature_difference, restart_temperature, ambient_temperature,
        suction_line_drop, margin, least_differential, lowest_cut_out, frost_clear_temperature, atmosphere,
    )
    _box_possible(box_temperature, restart_temperature)
    if cut_in <= cut_out:
        raise InputError(
            f"'cut_in' is {gauge_words(cut_in)}, 'cut_out' {gauge_words(cut_out)}",
            "a cut-in above the cut-out: a low-pressure control closes on rise",
        )
    return _report(duty, cut_in, cut_out, temperature_difference)


def low_pressure_check_by_differential(
    refrigerant: str, job: str, cut_in: float, differential: float, box_temperature: float,
    temperature_difference: float, restart_temperature: float, ambient_temperature: float, suction_line_drop: float,
    margin: float, least_differential: float, lowest_cut_out: float, frost_clear_temperature: float,
    atmosphere: float,
) -> LowPressure:
    """What a found cut-in and differential scale mean, and every conflict.

    As ``low_pressure_check`` for a control whose second scale shows the ``differential``
    (Pa, above zero): it cuts out that much below the cut-in.

    >>> a = low_pressure_check_by_differential(
    ...     "R-134a", "temperature_control", cut_in=206843.0, differential=137895.0, box_temperature=274.817,
    ...     temperature_difference=11.111, restart_temperature=276.483, ambient_temperature=283.15,
    ...     suction_line_drop=0.0, margin=13790.0, least_differential=34474.0, lowest_cut_out=0.0,
    ...     frost_clear_temperature=275.372, atmosphere=101325.0)
    >>> round(a.cut_out / 6894.757), a.verdict  # 30 psig less 20 psi
    (10, 'cools too far; frost does not clear between cycles')
    """
    return low_pressure_check(
        refrigerant, job, cut_in, cut_in - differential, box_temperature, temperature_difference,
        restart_temperature, ambient_temperature, suction_line_drop, margin, least_differential, lowest_cut_out,
        frost_clear_temperature, atmosphere,
    )


def _advice(duty: Duty, differential: float | None, pumped_down: float) -> tuple[float, float]:
    _possible(duty)
    if duty.job == TEMPERATURE:
        cut_in = duty.restart_limit
        return cut_in, duty.running_limit if differential is None else cut_in - differential
    # As far from the cut-out as restart and winter let it be: that makes the fewest starts.
    cut_in = min(duty.restart_limit, duty.winter_limit) - duty.margin
    if differential is not None:
        return cut_in, cut_in - differential
    wanted = min(pumped_down, duty.running_limit - duty.margin, cut_in - duty.least_differential)
    return cut_in, max(wanted, duty.lowest_cut_out)  # a vacuum is never advised: what that costs is named instead


def _box_possible(box: float, restart: float) -> None:
    if restart < box:
        raise InputError(
            f"'restart_temperature' is {degf(restart)}, 'box_temperature' {degf(box)}",
            "a restart temperature not below the lowest box temperature",
        )


def _possible(duty: Duty) -> None:
    if duty.evaporating >= duty.restart:
        raise InputError(
            f"the coil is to run at {degf(duty.evaporating)}, the box to restart at {degf(duty.restart)}",
            "a restart temperature above the lowest coil temperature",
        )


def _report(duty: Duty, cut_in: float, cut_out: float, difference: float | None) -> LowPressure:
    _possible(duty)
    at_cut_in = coil_at(duty, cut_in, "cut_in")
    at_cut_out = coil_at(duty, cut_out, "cut_out", duty.drop)
    box = None
    if duty.job == TEMPERATURE and difference is not None and at_cut_out is not None:
        box = at_cut_out + difference
    conflicts = conflicts_of(duty, cut_in, cut_out)
    return LowPressure(
        cut_in, cut_out, cut_in - cut_out, at_cut_in, at_cut_out, box, duty.winter_limit, duty.restart_limit,
        duty.running_limit, verdict(conflicts), conflicts,
    )
