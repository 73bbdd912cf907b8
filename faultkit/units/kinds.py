"""The kinds of quantity and the error every unit function raises."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from math import inf
from types import MappingProxyType

__all__ = ["Kind", "UnitError", "described", "difference_kind", "physical_range"]


class Kind(StrEnum):
    """What a number measures. Two kinds never mix, even where their SI unit is the same."""

    TEMPERATURE = "temperature"                        # K
    TEMPERATURE_DIFFERENCE = "temperature_difference"  # K
    GAUGE_PRESSURE = "gauge_pressure"                  # Pa above the atmosphere; a vacuum is negative
    ABSOLUTE_PRESSURE = "absolute_pressure"            # Pa
    PRESSURE_DIFFERENCE = "pressure_difference"        # Pa
    VOLTAGE = "voltage"                                # V
    CURRENT = "current"                                # A
    RESISTANCE = "resistance"                          # ohm
    POWER = "power"                                    # W
    ENERGY = "energy"                                  # J
    CAPACITANCE = "capacitance"                        # F
    TIME = "time"                                      # s
    FREQUENCY = "frequency"                            # Hz
    ROTATION = "rotation"                              # rad/s
    ANGLE = "angle"                                    # rad
    MASS = "mass"                                      # kg
    MASS_FLOW = "mass_flow"                            # kg/s
    LENGTH = "length"                                  # m
    AREA = "area"                                      # m²
    VOLUME = "volume"                                  # m³
    SPEED = "speed"                                    # m/s
    VOLUME_FLOW = "volume_flow"                        # m³/s
    DENSITY = "density"                                # kg/m³
    SPECIFIC_ENERGY = "specific_energy"                # J/kg
    SPECIFIC_HEAT = "specific_heat"                    # J/(kg·K)
    HEAT_TRANSFER = "heat_transfer"                    # W/(m²·K)
    RATIO = "ratio"                                    # 1
    COUNT = "count"                                    # pieces

    @property
    def words(self) -> str:
        """The kind in words, for messages: ``gauge pressure``."""
        return self.value.replace("_", " ")


class UnitError(ValueError):
    """A unit or quantity that cannot be used. The caller adds the place in the file."""

    def __init__(self, what: str, expected: str = "") -> None:
        self.what = what
        self.expected = expected
        super().__init__(f"{what}; expected: {expected}" if expected else what)

    def __reduce__(self) -> tuple[type[UnitError], tuple[str, str]]:
        return (type(self), (self.what, self.expected))


_DIFFERENCES: Mapping[Kind, Kind] = MappingProxyType({
    Kind.TEMPERATURE: Kind.TEMPERATURE_DIFFERENCE,
    Kind.GAUGE_PRESSURE: Kind.PRESSURE_DIFFERENCE,
    Kind.ABSOLUTE_PRESSURE: Kind.PRESSURE_DIFFERENCE,
})

# A gauge cannot read lower than the atmosphere around it is high; the deepest open ground on
# earth has about 107 kPa, so -110 kPa leaves room without admitting nonsense.
_LOWEST: Mapping[Kind, float] = MappingProxyType({
    Kind.TEMPERATURE: 0.0,
    Kind.GAUGE_PRESSURE: -110_000.0,
    Kind.ABSOLUTE_PRESSURE: 0.0,
    Kind.RESISTANCE: 0.0,
    Kind.CAPACITANCE: 0.0,
    Kind.TIME: 0.0,
    Kind.FREQUENCY: 0.0,
    Kind.MASS: 0.0,
    Kind.LENGTH: 0.0,
    Kind.AREA: 0.0,
    Kind.VOLUME: 0.0,
    Kind.DENSITY: 0.0,
    Kind.SPECIFIC_HEAT: 0.0,
    Kind.HEAT_TRANSFER: 0.0,
    Kind.COUNT: 0.0,
})


def difference_kind(kind: Kind) -> Kind:
    """The kind of ``a - b`` for two quantities of ``kind``."""
    return _DIFFERENCES.get(kind, kind)


def physical_range(kind: Kind) -> tuple[float, float]:
    """Lowest and highest SI value nature allows, both included; ``-inf``/``inf`` where it sets none."""
    return (_LOWEST.get(kind, -inf), inf)


def described(kind: Kind) -> str:
    """The kind with its article: ``an absolute pressure``."""
    words = kind.words
    return f"an {words}" if words[0] in "aeiou" else f"a {words}"
