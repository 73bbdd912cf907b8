"""Frozen types of a site as written: its units and how they are joined."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from faultkit.model.types import Instrument
from faultkit.problems import Where
from faultkit.units import Quantity

__all__ = ["SitePlan", "Travel", "Unit"]


@dataclass(frozen=True, slots=True)
class Travel:
    """Minutes on foot between two places, either way."""

    between: tuple[str, str]
    minutes: float
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Unit:
    """One machine of the site.

    ``settings`` holds nameplate values (Quantity or word) and house events
    (bool), ``joins`` the name of the unit joined under each join.
    ``places`` gives the position in the file of each setting and join by name.
    """

    name: str
    equipment: str
    title: str = ""
    place: str = ""
    settings: Mapping[str, Quantity | str | bool] = field(default_factory=dict)
    joins: Mapping[str, str] = field(default_factory=dict)
    places: Mapping[str, Where] = field(default_factory=dict, compare=False, repr=False)
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class SitePlan:
    """A site as its author wrote it. ``altitude`` in metres, ``hemisphere`` north or south."""

    name: str
    title: str = ""
    altitude: float = 0.0
    hemisphere: str = "north"
    travel: tuple[Travel, ...] = ()
    instruments: Mapping[str, Instrument] = field(default_factory=dict)
    units: Mapping[str, Unit] = field(default_factory=dict)
    where: Where | None = field(default=None, compare=False, repr=False)
