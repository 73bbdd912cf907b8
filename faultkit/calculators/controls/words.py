"""Numbers as the trade says them, and conflicts by name."""

from __future__ import annotations

from collections.abc import Iterable

from faultkit.problems import InputError
from faultkit.units import format_si

__all__ = [
    "FREEZING_K", "POWER_ON", "PRESSURE_ON", "absolute", "degf", "gauge_words", "length_words", "named", "psi",
    "spread", "verdict",
]

#: Ice melts.
FREEZING_K = 273.15

#: The usual caution for any control set on a live unit.
POWER_ON = (
    "Setting a control with the power on: live terminals beside the screw, insulated tools, local codes and licensed "
    "practice rule. Compressor and fans start by themselves when a control closes: hands and sleeves clear."
)
#: The same where refrigerant pressure is at stake.
PRESSURE_ON = (
    POWER_ON + " Check the setting with a gauge, gloves and glasses on. Never raise, wedge or jumper a high-pressure "
    "or relief safety. Flammable refrigerant: no open contact where a leak may gather."
)
_HOUR = 3600.0


def psi(difference: float) -> str:
    """A pressure difference (Pa) in psi."""
    return format_si(difference, "psi")


def gauge_words(gauge: float) -> str:
    """A gauge pressure (Pa) in psig, a vacuum in inches of mercury."""
    return format_si(gauge, "inHg_vac" if gauge < 0.0 else "psig")


def degf(temperature: float) -> str:
    """A temperature (K) in degF."""
    return format_si(temperature, "degF")


def spread(difference: float) -> str:
    """A temperature difference (K) in delta_degF."""
    return format_si(difference, "delta_degF")


def length_words(seconds: float) -> str:
    """A time in hours, minutes or seconds, whichever reads best."""
    if abs(seconds) >= _HOUR:
        return format_si(seconds, "h")
    return format_si(seconds, "min" if abs(seconds) >= 60.0 else "s")


def absolute(gauge: float, atmosphere: float, name: str) -> float:
    """Pa absolute of a gauge pressure. InputError, naming it, for more than a full vacuum."""
    pressure = gauge + atmosphere
    if pressure <= 0.0:
        outside = format_si(atmosphere, "psia", 4)
        raise InputError(
            f"'{name}' is {gauge_words(gauge)}, deeper than a full vacuum at {outside} outside",
            f"above {format_si(-atmosphere, 'psig', 4)}",
        )
    return pressure


def named(conflicts: Iterable[str]) -> tuple[str, ...]:
    """Those that there are: empty texts left out."""
    return tuple(c for c in conflicts if c)


def verdict(conflicts: Iterable[str], good: str = "no conflict") -> str:
    """The names of the conflicts (what stands before the colon), or ``good``."""
    return "; ".join(dict.fromkeys(c.partition(":")[0] for c in conflicts)) or good
