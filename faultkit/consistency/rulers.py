"""Cuts as straight lines over a setting, and what values that setting can have."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from faultkit.model.types import Cut, CutKind, Dimension, EquipmentType, Setting
from faultkit.units import Kind, Quantity, format_si, kind_of, physical_range

__all__ = ["Line", "line_of", "setting_limits", "shown_setting"]


@dataclass(frozen=True, slots=True)
class Line:
    """A cut in SI: ``slope`` × setting + ``base``; ``setting`` is '' for a fixed one."""

    slope: float
    base: float
    setting: str = ""

    def at(self, value: float) -> float:
        """The cut for a value of its setting."""
        return self.slope * value + self.base if self.slope else self.base


def line_of(kind: EquipmentType, cut: Cut) -> Line:
    """A cut with its setting followed to the one that a unit gives."""
    if cut.kind is CutKind.VALUE:
        return Line(0.0, cut.value)
    setting = kind.settings[cut.setting]
    if setting.alias and not setting.join:
        setting = kind.settings[setting.alias]
    slope = cut.percent / 100.0 if cut.kind is CutKind.PERCENT else 1.0
    base = 0.0 if cut.kind is CutKind.PERCENT else cut.offset
    if _literal(setting):
        assert isinstance(setting.default, Quantity)
        return Line(0.0, slope * setting.default.value + base)
    return Line(slope, base, setting.name)


def _literal(setting: Setting) -> bool:
    """A section's setting with a value of its own and no range: what the including type or the section says."""
    return "." in setting.name and isinstance(setting.default, Quantity) and setting.range is None


def setting_limits(kind: EquipmentType, name: str) -> tuple[float, float]:
    """Lowest and highest value (SI) that a nameplate can have, open ends as infinities.

    The ``range`` of the setting and of every section's setting it is handed down to. Without any: what
    nature allows, and for what counts from nothing (volts, amps) only values above zero.
    """
    setting = kind.settings[name]
    low, high = -inf, inf
    for s in kind.settings.values():
        if s.range is not None and (name == s.name or (name == s.alias and not s.join)):
            low, high = max(low, s.range[0]), min(high, s.range[1])
    if setting.dimension is Dimension.QUANTITY and setting.unit:
        measures = kind_of(setting.unit)
        least, most = physical_range(measures)
        low, high = max(low, least), min(high, most)
        if measures not in (Kind.TEMPERATURE, Kind.GAUGE_PRESSURE) and "difference" not in measures.words:
            low = max(low, 0.0)
    return low, high


def shown_setting(kind: EquipmentType, name: str, value: float) -> str:
    """A value of a setting in its author's unit."""
    unit = kind.settings[name].unit
    return format_si(value, unit) if unit else f"{value:g}"
