"""Moist air: the equations of the ASHRAE psychrometrics chapter, all SI, nothing looked up and nothing loaded.

Below the triple point of water saturation is that over ice, as in the tables of that chapter.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log

from faultkit.problems import InputError, Problem
from faultkit.units import format_si

__all__ = [
    "DRY_HEAT", "VAPOR_HEAT", "Air", "air", "condensation_heat", "saturation", "saturation_temperature",
    "wet_bulb_ratio", "wet_bulb_solved",
]

_ZERO_C = 273.15
_TRIPLE_K = 273.16
_TRIPLE_PA = 611.657
_WATER_TO_AIR = 0.621945
_GAS_CONSTANT = 287.042      # J/(kg·K), dry air
_VAPOR_VOLUME = 1.607858     # how much more room a kilogram of vapor takes than one of air
#: Specific heat of dry air and of water vapor, J/(kg·K).
DRY_HEAT, VAPOR_HEAT = 1006.0, 1860.0
_VAPORIZATION = 2_501_000.0  # J/kg at 0 °C
_SUBLIMATION = 2_830_000.0
_FUSION = 333_400.0
_CLOSE_K = 1e-10


@dataclass(frozen=True, slots=True)
class Air:
    """A state of moist air: K, Pa of vapor, Pa of air and vapor together; the rest follows by kg of dry air."""

    temperature: float
    vapor_pressure: float
    pressure: float

    @property
    def humidity_ratio(self) -> float:
        """Kilograms of vapor by kg of dry air."""
        return _WATER_TO_AIR * self.vapor_pressure / (self.pressure - self.vapor_pressure)

    @property
    def enthalpy(self) -> float:
        """J by kg of dry air, from dry air and liquid water at 0 °C."""
        celsius = self.temperature - _ZERO_C
        return DRY_HEAT * celsius + self.humidity_ratio * (_VAPORIZATION + VAPOR_HEAT * celsius)

    @property
    def volume(self) -> float:
        """m³ by kg of dry air."""
        return _GAS_CONSTANT * self.temperature * (1.0 + _VAPOR_VOLUME * self.humidity_ratio) / self.pressure

    @property
    def density(self) -> float:
        """Air and vapor together, kg/m³."""
        return (1.0 + self.humidity_ratio) / self.volume

    @property
    def heat_capacity(self) -> float:
        """J/K of the air with its vapor, by kg of dry air."""
        return DRY_HEAT + VAPOR_HEAT * self.humidity_ratio


def air(temperature: float, relative_humidity: float, pressure: float) -> Air:
    """The state at K, ratio and Pa. InputError for a humidity or a pressure that air does not have."""
    problems = []
    if not 0.0 <= relative_humidity <= 1.0:
        problems.append(Problem(f"relative humidity is {format_si(relative_humidity, '%')}", "0 % to 100 %"))
    vapor = relative_humidity * saturation(temperature)
    if not vapor < pressure:
        problems.append(Problem(
            f"air at {format_si(pressure, 'psia')} cannot hold vapor of {format_si(vapor, 'psia')}",
            "an air pressure above the vapor pressure",
        ))
    if problems:
        raise InputError(problems)
    return Air(temperature, vapor, pressure)


def saturation(temperature: float) -> float:
    """Pa over ice below the triple point, over water above it; 173.15 to 473.15 K."""
    t = temperature
    if not 173.15 <= t <= 473.15:
        raise InputError(
            f"there is no saturation pressure of water here at {format_si(t, 'degF')}",
            f"{format_si(173.15, 'degF')} to {format_si(473.15, 'degF')}",
        )
    if t < _TRIPLE_K:
        return exp(
            -5.6745359e3 / t + 6.3925247 + 4.1635019 * log(t)
            + t * (-9.6778430e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - t * 9.4840240e-13)))
        )
    return exp(
        -5.8002206e3 / t + 1.3914993 + 6.5459673 * log(t)
        + t * (-4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8))
    )


def _slope(t: float) -> float:
    """Derivative of the logarithm of the saturation pressure, 1/K."""
    if t < _TRIPLE_K:
        return (
            5.6745359e3 / (t * t) + 4.1635019 / t
            - 9.6778430e-3 + t * (2.0 * 6.2215701e-7 + t * (3.0 * 2.0747825e-9 - t * 4.0 * 9.4840240e-13))
        )
    return (
        5.8002206e3 / (t * t) + 6.5459673 / t
        - 4.8640239e-2 + t * (2.0 * 4.1764768e-5 - t * 3.0 * 1.4452093e-8)
    )


def saturation_temperature(pressure: float) -> float:
    """K at which water (ice below the triple point) has this saturation pressure: Newton on its logarithm."""
    wanted = log(pressure)
    frozen = pressure < _TRIPLE_PA
    # The curve is nearly straight against 1/T; this is right at the triple point.
    t = 1.0 / (1.0 / _TRIPLE_K - (wanted - log(_TRIPLE_PA)) / (6140.0 if frozen else 5420.0))
    for _ in range(30):
        t = min(t, _TRIPLE_K - 1e-9) if frozen else max(t, _TRIPLE_K)
        step = (log(saturation(min(max(t, 173.15), 473.15))) - wanted) / _slope(t)
        t -= step
        if abs(step) < _CLOSE_K:
            break
    return t


def condensation_heat(temperature: float) -> float:
    """J that a kilogram of vapor gives up on becoming water, or below freezing frost, of this temperature (K)."""
    celsius = temperature - _ZERO_C
    liquid = 4186.0 * celsius if celsius >= 0.0 else 2100.0 * celsius - _FUSION
    return _VAPORIZATION + VAPOR_HEAT * celsius - liquid


def wet_bulb_ratio(dry_bulb: float, wet_bulb: float, pressure: float, *, iced: bool) -> float:
    """Humidity ratio of air that shows this wet bulb, the wick wet or iced. Below zero where no air does."""
    full = saturation(wet_bulb)
    ratio = _WATER_TO_AIR * full / (pressure - full)
    t, wet = dry_bulb - _ZERO_C, wet_bulb - _ZERO_C
    if iced:
        latent, warmer, liquid = _SUBLIMATION - 240.0 * wet, _SUBLIMATION, 2100.0
    else:
        latent, warmer, liquid = _VAPORIZATION - 2326.0 * wet, _VAPORIZATION, 4186.0
    return (latent * ratio - DRY_HEAT * (t - wet)) / (warmer + VAPOR_HEAT * t - liquid * wet)


def wet_bulb_solved(state: Air, pressure: float) -> float:
    """K of the wet bulb of this air by bisection; a wick that can be wet is wet, else it is iced."""
    dry, ratio = state.temperature, state.humidity_ratio
    low = saturation_temperature(state.vapor_pressure)
    iced = dry < _ZERO_C or wet_bulb_ratio(dry, _ZERO_C, pressure, iced=False) > ratio
    high = min(dry, _ZERO_C) if iced else dry
    low = min(low, high) if iced else max(low, _ZERO_C)
    while high - low > _CLOSE_K * high:
        middle = (low + high) / 2.0
        if wet_bulb_ratio(dry, middle, pressure, iced=iced) > ratio:
            high = middle
        else:
            low = middle
    return (low + high) / 2.0
