"""An example plugin: an ice storage bin, and how fast the ice in it melts."""

from __future__ import annotations

from math import inf
from pathlib import Path

from faultkit.calculators import Argument, Calculator, Direction
from faultkit.plugins import hookimpl
from faultkit.units import Kind

__all__ = ["faultkit_calculators", "faultkit_catalogue_folders", "ice_melt_rate"]

_WATER_DENSITY = 1000.0  # kg/m³ within 0.1 % between 0 and 10 degC, from memory


def ice_melt_rate(volume: float, time: float) -> float:
    """How fast ice melts, from the water that runs out of the drain: kg/s.

    ``volume`` in m³ caught in ``time`` seconds, at least one second.

    >>> round(ice_melt_rate(volume=0.0005, time=600.0) * 3600, 6)  # half a litre in ten minutes, kg/h
    3.0
    """
    return _WATER_DENSITY * volume / time


@hookimpl
def faultkit_catalogue_folders() -> list[Path]:
    """The folder with this plugin's YAML."""
    return [Path(__file__).resolve().parent / "catalogue"]


@hookimpl
def faultkit_calculators() -> list[Calculator]:
    """The calculator that the ice bin's tree uses."""
    return [
        Calculator(
            "ice_melt_rate", ice_melt_rate,
            (
                Argument("volume", (Kind.VOLUME,), Direction.RISING, "water caught", valid=(0.0, inf)),
                Argument("time", (Kind.TIME,), Direction.FALLING, "time it took", valid=(1.0, inf)),
            ),
            result=Kind.MASS_FLOW, source="mass of the water caught; density of water from memory",
        ),
    ]
