"""What the settings of a low-pressure control clash with, by name and with numbers."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.controls.words import FREEZING_K, absolute, degf, gauge_words, named, psi, spread
from faultkit.calculators.refrigerants import Refrigerant
from faultkit.problems import InputError

__all__ = ["FREEZER", "JOBS", "PUMP_DOWN", "SAFETY", "TEMPERATURE", "Duty", "coil_at", "conflicts_of"]

TEMPERATURE, PUMP_DOWN, FREEZER, SAFETY = "temperature_control", "pump_down", "pump_down_freezer", "loss_of_charge"
#: What a low-pressure control can be there for.
JOBS = (TEMPERATURE, PUMP_DOWN, FREEZER, SAFETY)

# Settings worked out to the limit itself must not clash with it by rounding.
_SLACK_PA = 1.0


@dataclass(frozen=True, slots=True)
class Duty:
    """What is asked of a low-pressure control: temperatures in K, pressures and differences in Pa.

    ``evaporating`` is the lowest wanted coil temperature, ``restart`` the box
    temperature it must restart at, ``ambient`` the coldest air at the condensing unit,
    ``drop`` the pressure drop from coil to control while running.
    """

    fluid: Refrigerant
    job: str
    evaporating: float
    restart: float
    ambient: float
    drop: float
    margin: float
    least_differential: float
    lowest_cut_out: float
    frost_clear: float
    atmosphere: float

    @property
    def running_limit(self) -> float:
        """Gauge pressure at the control while running at the lowest wanted coil temperature."""
        return self.fluid.dew_pressure(self.evaporating) - self.drop - self.atmosphere

    @property
    def restart_limit(self) -> float:
        """Gauge pressure at the control, compressor off, coil at the restart temperature."""
        return self.fluid.dew_pressure(self.restart) - self.atmosphere

    @property
    def winter_limit(self) -> float:
        """Gauge pressure at the control, compressor off, in the coldest weather."""
        return self.fluid.dew_pressure(self.ambient) - self.atmosphere


def coil_at(duty: Duty, gauge: float, name: str, drop: float = 0.0) -> float | None:
    """Coil temperature (K) a setting stands for; None for one that has none in the range of the fits."""
    try:
        return duty.fluid.dew_temperature(absolute(gauge, duty.atmosphere, name) + drop)
    except InputError:
        if gauge + duty.atmosphere <= 0.0:
            raise
        return None


def conflicts_of(duty: Duty, cut_in: float, cut_out: float) -> tuple[str, ...]:
    """Every conflict of these settings (Pa gauge): its name, a colon, the numbers."""
    return named((
        _winter(duty, cut_in),
        _restart(duty, cut_in),
        _vacuum(duty, cut_out),
        _running(duty, cut_out),
        _too_cold(duty, cut_out),
        _differential(duty, cut_in, cut_out),
        _frost(duty, cut_in, cut_out),
    ))


def _winter(duty: Duty, cut_in: float) -> str:
    left = duty.winter_limit - cut_in
    if left >= duty.margin - _SLACK_PA:
        return ""
    limit = gauge_words(duty.winter_limit)
    there = f"the {limit} that {duty.fluid.name} has at {degf(duty.ambient)}, the coldest ambient"
    if left <= 0.0:
        return f"will not restart in winter: cut-in {gauge_words(cut_in)} is not below {there}"
    return (
        f"may not restart in winter: cut-in {gauge_words(cut_in)} lies only {psi(left)} below {there}; "
        f"{psi(duty.margin)} wanted"
    )


def _restart(duty: Duty, cut_in: float) -> str:
    limit = duty.restart_limit
    there = f"the {gauge_words(limit)} of a coil at {degf(duty.restart)}, the box temperature to restart at"
    if duty.job == TEMPERATURE:
        if cut_in <= limit + duty.margin + _SLACK_PA:
            return ""
        coil = coil_at(duty, cut_in, "cut_in")
        warm = f"; the box warms to {degf(coil)}" if coil is not None else ""
        return f"restarts too warm: cut-in {gauge_words(cut_in)} is above {there}{warm}"
    if cut_in <= limit - duty.margin + _SLACK_PA:
        return ""
    if cut_in >= limit:
        return f"will not restart at box temperature: cut-in {gauge_words(cut_in)} is not below {there}"
    return (
        f"may not restart at box temperature: cut-in {gauge_words(cut_in)} lies only {psi(limit - cut_in)} below "
        f"{there}; {psi(duty.margin)} wanted"
    )


def _vacuum(duty: Duty, cut_out: float) -> str:
    if cut_out < -_SLACK_PA:
        return (
            f"cut-out in a vacuum: at {gauge_words(cut_out)} a leak draws in air and moisture, and the compressor runs "
            "hot with too little gas"
        )
    if cut_out < duty.lowest_cut_out - _SLACK_PA:
        return f"cut-out too low: {gauge_words(cut_out)}, not below {gauge_words(duty.lowest_cut_out)} wanted"
    return ""


def _running(duty: Duty, cut_out: float) -> str:
    limit = duty.running_limit
    at = f"the {gauge_words(limit)} at the control with the coil at {degf(duty.evaporating)}"
    if duty.job == TEMPERATURE:
        if cut_out <= limit + duty.margin + _SLACK_PA:
            return ""
        coil = coil_at(duty, cut_out, "cut_out", duty.drop)
        warm = f"; the coil gets to {degf(coil)} only" if coil is not None else ""
        return f"stops before the box is cold: cut-out {gauge_words(cut_out)} is above {at}{warm}"
    if cut_out <= limit - duty.margin + _SLACK_PA:
        return ""
    how = "is not below" if cut_out >= limit else f"lies only {psi(limit - cut_out)} below"
    return f"stops before the box is cold: cut-out {gauge_words(cut_out)} {how} {at}; {psi(duty.margin)} below wanted"


def _too_cold(duty: Duty, cut_out: float) -> str:
    if duty.job != TEMPERATURE or cut_out >= duty.running_limit - duty.margin - _SLACK_PA:
        return ""
    coil = coil_at(duty, cut_out, "cut_out", duty.drop)
    if coil is None:
        return f"cools too far: cut-out {gauge_words(cut_out)} is never reached by a coil at {degf(duty.evaporating)}"
    return (
        f"cools too far: cut-out {gauge_words(cut_out)} is a coil of {degf(coil)}, "
        f"{spread(duty.evaporating - coil)} below the {degf(duty.evaporating)} wanted"
    )


def _differential(duty: Duty, cut_in: float, cut_out: float) -> str:
    if cut_in - cut_out >= duty.least_differential - _SLACK_PA:
        return ""
    if cut_in <= cut_out:
        return (
            f"no setting fits: a cut-in of {gauge_words(cut_in)}, as low as restart and winter ask, is not above the "
            f"cut-out {gauge_words(cut_out)}"
        )
    return (
        f"short cycling: differential {psi(cut_in - cut_out)}, from {gauge_words(cut_out)} to {gauge_words(cut_in)}; "
        f"at least {psi(duty.least_differential)} wanted"
    )


def _frost(duty: Duty, cut_in: float, cut_out: float) -> str:
    """Only where frost must melt in the off cycle: a freezer has its heat, a safety control no cycle."""
    if duty.job == TEMPERATURE:
        coldest, warmest = coil_at(duty, cut_out, "cut_out", duty.drop), coil_at(duty, cut_in, "cut_in")
    elif duty.job == PUMP_DOWN:
        coldest, warmest = duty.evaporating, duty.restart
    else:
        return ""
    frosts = coldest is None or coldest < FREEZING_K
    if not frosts or warmest is None or warmest >= duty.frost_clear - 1e-6:
        return ""
    return (
        f"frost does not clear between cycles: the coil warms to {degf(warmest)} only before the restart, "
        f"{degf(duty.frost_clear)} wanted (ice melts at 32 degF)"
    )
