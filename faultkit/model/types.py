"""Frozen types of an equipment type after its sections, parts and copies are expanded.

Names inside a type are local and dotted: ``coil.fan.left.stopped`` is the event
``stopped`` of copy ``left`` of part ``fan`` in section ``coil``. Joining the
units of a site puts the unit's name in front.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from faultkit.problems import Where
from faultkit.units import Accuracy, Kind, Quantity

__all__ = [
    "Basis", "Calculation", "Check", "Common", "Cut", "CutKind", "Deprecated", "Dimension", "EquipmentType", "Event",
    "Gate", "Hazard", "HouseEvent", "Instrument", "Join", "Link", "Observable", "Power", "Prior",
    "Reading", "ReadingKind", "Ref", "Remedy", "Row", "Setting", "Setup",
]


@dataclass(frozen=True, slots=True)
class Basis:
    """Where a number comes from; ``inherited`` when it is the file's ``source``."""

    source: str
    inherited: bool = False


@dataclass(frozen=True, slots=True)
class Deprecated:
    """A name kept for what was written before; ``use`` (a full name of the same type) takes its place."""

    use: str
    because: str = ""
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Ref:
    """A name in this type, or (``join`` set) a name of the unit joined there.

    ``each`` is kept only for joins to many units (``each serves.starved``);
    over copies of a part it is expanded when the file is read.
    """

    name: str
    join: str | None = None
    each: bool = False
    where: Where | None = field(default=None, compare=False, repr=False)

    def __str__(self) -> str:
        return ("each " if self.each else "") + (f"{self.join}.{self.name}" if self.join else self.name)


@dataclass(frozen=True, slots=True)
class Link:
    """A cause and how strongly it acts (1.0 = always; below that a hidden inhibitor decides)."""

    ref: Ref
    strength: float = 1.0


class Gate(StrEnum):
    """What an event is: a basic event or the gate above its inputs."""

    BASIC = "basic"
    ANY_OF = "any_of"
    ALL_OF = "all_of"
    AT_LEAST = "at_least"


@dataclass(frozen=True, slots=True)
class Prior:
    """Share of units having a basic event on a random day, strictly inside (0, 1).

    ``seasons`` overrides ``otherwise`` in the months of the season named.
    """

    otherwise: float
    seasons: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Event:
    """A basic event (``prior`` set) or a gate over ``inputs``.

    ``other`` is the share of an ``any_of`` gate's prior that causes not listed
    have (its leak); 0.0 where ``complete`` gives the reason that there are none.
    ``broken_by`` lists causes that damage a basic event's part.
    """

    name: str
    gate: Gate
    title: str = ""
    plain: str = ""
    inputs: tuple[Link, ...] = ()
    k: int = 0
    prior: Prior | None = None
    complete: str = ""
    other: float = 0.0
    broken_by: tuple[Link, ...] = ()
    stays: bool = False
    intermittent: bool = False
    only_with: tuple[str, ...] = ()
    basis: Basis | None = None
    where: Where | None = field(default=None, compare=False, repr=False)
    deprecated: Deprecated | None = None


class CutKind(StrEnum):
    """How a cut of a ruler is written."""

    VALUE = "value"            # 8 psig
    SETTING = "setting"        # fan_amps, fan_amps + 2 A, fan_amps - 2 A
    PERCENT = "percent"        # 90 % of supply_voltage


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut of a ruler. SI value = ``value`` | setting + ``offset`` | setting × ``percent`` / 100."""

    kind: CutKind
    text: str
    value: float = 0.0
    setting: str = ""
    offset: float = 0.0
    percent: float = 0.0
    basis: Basis | None = None
    where: Where | None = field(default=None, compare=False, repr=False)


class ReadingKind(StrEnum):
    """What a fact of this reading looks like."""

    QUANTITY = "quantity"
    YES_NO = "yes_no"
    ONE_OF = "one_of"


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a ``tells`` block: if ``event`` is true (and none above it), bands come with ``chances``.

    ``event`` is None in the last row, ``otherwise``. Chances are per band of the
    observable, sum to 1; exactly 1.0 or 0.0 only where the author wrote always or
    never, or where these leave nothing for the rest.
    """

    event: Ref | None
    chances: tuple[float, ...]
    basis: Basis | None = None
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Observable:
    """A reading in one operating state: its bands, cuts (one fewer than bands) and what it tells.

    ``name`` is the reading's name, with ``" in <state>"`` when the reading has
    several states. ``cuts`` is empty for yes/no and one-of readings.
    ``rows`` is empty for a reading that is only read (an input of a calculation).
    """

    name: str
    reading: str
    state: str | None
    bands: tuple[str, ...]
    cuts: tuple[Cut, ...] = ()
    rows: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class Calculation:
    """A reading derived by a calculator: argument name → reading, setting, fixed quantity or word."""

    calculator: str
    readings: Mapping[str, Ref] = field(default_factory=dict)
    settings: Mapping[str, Ref] = field(default_factory=dict)
    quantities: Mapping[str, Quantity] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Reading:
    """A thing that can be observed. ``unit`` is the unit the author wrote ('' for words)."""

    name: str
    kind: ReadingKind
    title: str = ""
    plain: str = ""
    unit: str = ""
    accuracy: Accuracy | None = None
    range: tuple[float, float] | None = None
    states: tuple[str, ...] = ()
    observables: tuple[Observable, ...] = ()
    calculation: Calculation | None = None
    only_with: tuple[str, ...] = ()
    basis: Basis | None = None
    where: Where | None = field(default=None, compare=False, repr=False)
    deprecated: Deprecated | None = None


class Power(StrEnum):
    """Power state a check or remedy needs."""

    ANY = "any"
    ON = "on"                  # energized, nobody touches
    LIVE = "live"              # energized, probe contact
    LOCKED_OUT = "locked_out"  # locked out and proved dead


@dataclass(frozen=True, slots=True)
class Check:
    """How readings are obtained. ``gives`` names observables; ``place`` is '' (the unit's own) or a join."""

    name: str
    gives: tuple[Ref, ...]
    minutes: float
    title: str = ""
    place: str = ""
    setups: tuple[str, ...] = ()
    power: Power = Power.ANY
    tools: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    crew: int = 1
    outdoors: bool = False
    who: str = "anyone"
    steps: tuple[str, ...] = ()
    only_with: tuple[str, ...] = ()
    basis: Basis | None = None
    where: Where | None = field(default=None, compare=False, repr=False)
    deprecated: Deprecated | None = None


@dataclass(frozen=True, slots=True)
class Remedy:
    """What ends events. ``prove`` maps observable → band that must be seen afterwards."""

    name: str
    ends: tuple[Ref, ...]
    minutes: float
    title: str = ""
    parts: tuple[str, ...] = ()
    place: str = ""
    setups: tuple[str, ...] = ()
    power: Power = Power.ANY
    tools: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    crew: int = 1
    who: str = "anyone"
    steps: tuple[str, ...] = ()
    may_leave: tuple[Link, ...] = ()
    disturbs: tuple[Ref, ...] = ()
    prove: tuple[tuple[Ref, str], ...] = ()
    only_with: tuple[str, ...] = ()
    basis: Basis | None = None
    where: Where | None = field(default=None, compare=False, repr=False)
    deprecated: Deprecated | None = None


class Dimension(StrEnum):
    """What a setting holds."""

    QUANTITY = "quantity"
    WORD = "word"


@dataclass(frozen=True, slots=True)
class Setting:
    """A nameplate value. ``default`` is a Quantity or a word; None = each unit must give it.

    ``unit`` is the unit the author wrote; ``alias`` is set when an including type hands down its own setting,
    with ``join`` that of the unit joined there; ``range`` (SI) is what a nameplate can say.
    """

    name: str
    dimension: Dimension
    title: str = ""
    unit: str = ""
    default: Quantity | str | None = None
    words: tuple[str, ...] = ()
    alias: str = ""
    join: str = ""
    where: Where | None = field(default=None, compare=False, repr=False)
    range: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class HouseEvent:
    """A switch of the configuration, on or off for a unit; usable as an input of a gate."""

    name: str
    default: bool = False
    title: str = ""
    alias: str = ""
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Join:
    """What this type uses of the unit joined under ``name``.

    ``reverse_of``: all units whose join of that name points here (many);
    otherwise exactly one unit, or none when ``optional``.
    """

    name: str
    title: str = ""
    events: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()
    settings: tuple[str, ...] = ()
    reverse_of: str = ""
    optional: bool = False
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Hazard:
    """A danger and the caution shown before the steps."""

    name: str
    caution: str
    basis: Basis | None = None
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Setup:
    """Something prepared once and shared by checks (gauges on, panel open, power locked out)."""

    name: str
    minutes: float
    title: str = ""
    hazards: tuple[str, ...] = ()
    basis: Basis | None = None


@dataclass(frozen=True, slots=True)
class Instrument:
    """An instrument and the bound on its error.

    ``measures`` is the kind of the bound's amount (a difference for temperatures
    and pressures); None where the bound is a percentage alone.
    """

    name: str
    accuracy: Accuracy
    title: str = ""
    measures: Kind | None = None
    basis: Basis | None = None


@dataclass(frozen=True, slots=True)
class Common:
    """Words shared by all types of a catalogue."""

    hazards: Mapping[str, Hazard] = field(default_factory=dict)
    setups: Mapping[str, Setup] = field(default_factory=dict)
    instruments: Mapping[str, Instrument] = field(default_factory=dict)
    tools: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class EquipmentType:
    """One equipment type, sections included and copies expanded. All maps keep the author's order."""

    name: str
    title: str = ""
    plain: str = ""
    states: Mapping[str, str] = field(default_factory=dict)
    settings: Mapping[str, Setting] = field(default_factory=dict)
    house_events: Mapping[str, HouseEvent] = field(default_factory=dict)
    joins: Mapping[str, Join] = field(default_factory=dict)
    events: Mapping[str, Event] = field(default_factory=dict)
    readings: Mapping[str, Reading] = field(default_factory=dict)
    checks: Mapping[str, Check] = field(default_factory=dict)
    remedies: Mapping[str, Remedy] = field(default_factory=dict)
    where: Where | None = field(default=None, compare=False, repr=False)

    def observables(self) -> dict[str, Observable]:
        """Every observable of this type by name."""
        return {o.name: o for r in self.readings.values() for o in r.observables}
