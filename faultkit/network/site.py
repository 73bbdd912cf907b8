"""A joined site: the types of one place with every name made global and every cut a number."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from faultkit.model.site import SitePlan
from faultkit.model.types import Calculation, Check, Common, Event, Instrument, Reading, Remedy
from faultkit.network.calculations import BoundCalculation
from faultkit.network.ir import Network

if TYPE_CHECKING:
    from faultkit.faulttree import FaultTree
    from faultkit.network.forms import ReadingForm

__all__ = ["Premise", "Site", "SiteCheck", "SiteEvent", "SiteLink", "SiteReading", "SiteRemedy", "SiteSign"]


@dataclass(frozen=True, slots=True)
class SiteLink:
    """A cause by its global name, and how strongly it acts."""

    cause: str
    strength: float


@dataclass(frozen=True, slots=True)
class SiteEvent:
    """An event of a unit with global inputs. ``fixed`` is set where the configuration decides it."""

    name: str
    unit: str
    event: Event
    inputs: tuple[SiteLink, ...] = ()
    broken_by: tuple[SiteLink, ...] = ()
    fixed: bool | None = None


@dataclass(frozen=True, slots=True)
class Premise:
    """A nameplate setting that a cut rests on."""

    setting: str
    text: str


@dataclass(frozen=True, slots=True)
class SiteSign:
    """An observable of a unit: band names, edges in SI (one fewer), and its rows' events (None: otherwise)."""

    name: str
    reading: str
    state: str | None
    bands: tuple[str, ...]
    edges: tuple[float, ...] = ()
    rows: tuple[str | None, ...] = ()
    chances: tuple[tuple[float, ...], ...] = ()
    premises: tuple[Premise, ...] = ()


@dataclass(frozen=True, slots=True)
class SiteReading:
    """A reading of a unit. ``inputs`` (argument → reading) feed its calculation, ``bound`` carries it out."""

    name: str
    unit: str
    reading: Reading
    signs: tuple[str, ...]
    calculation: Calculation | None = None
    inputs: Mapping[str, str] = field(default_factory=dict)
    bound: BoundCalculation | None = None


@dataclass(frozen=True, slots=True)
class SiteCheck:
    """A check of a unit: the signs or bare readings it gives, where it is done."""

    name: str
    unit: str
    check: Check
    gives: tuple[str, ...]
    place: str


@dataclass(frozen=True, slots=True)
class SiteRemedy:
    """A remedy of a unit: the events it ends, the signs and bands that prove it.

    ``leaves`` are events it may bring about, ``unsettles`` those it leaves in
    doubt, ``disturbs`` the signs and bare readings to take again.
    """

    name: str
    unit: str
    remedy: Remedy
    ends: tuple[str, ...]
    prove: tuple[tuple[str, str], ...]
    place: str
    leaves: tuple[SiteLink, ...] = ()
    unsettles: tuple[str, ...] = ()
    disturbs: tuple[str, ...] = ()


@dataclass(frozen=True)
class Site:
    """Everything an engine needs of one place. Immutable; ``memo`` only keeps what can be computed again."""

    plan: SitePlan
    catalogue: str
    common: Common
    atmosphere: float
    events: Mapping[str, SiteEvent]
    signs: Mapping[str, SiteSign]
    all_readings: Mapping[str, SiteReading]
    checks: Mapping[str, SiteCheck]
    remedies: Mapping[str, SiteRemedy]
    states: Mapping[str, Mapping[str, str]]
    calculators: Mapping[str, Any] = field(default_factory=dict, repr=False)
    memo: dict[Any, Any] = field(default_factory=dict, compare=False, repr=False)

    @property
    def name(self) -> str:
        """Name of the site."""
        return self.plan.name

    def instrument(self, name: str) -> Instrument | None:
        """An instrument of the site, else of the catalogue."""
        return self.plan.instruments.get(name) or self.common.instruments.get(name)

    def title(self, event: str) -> str:
        """Shop words for an event, a leak (``x.other``) included."""
        found = self.events.get(event)
        if found is not None:
            return found.event.title
        base = event.removesuffix(".other")
        if base in self.events:
            return f"A cause not listed of: {self.events[base].event.title}"
        return event

    def minutes_between(self, a: str, b: str) -> float:
        """Minutes on foot from place to place by the shortest known way; 0 within one place."""
        if "ways" not in self.memo:
            self.memo["ways"] = _ways(self.plan)
        ways: dict[frozenset[str], float] = self.memo["ways"]
        return 0.0 if a == b else ways.get(frozenset((a, b)), 0.0)

    def readings(self, unit: str = "", *, check: str = "") -> tuple[ReadingForm, ...]:
        """What a screen needs to ask for readings: all, one unit's, or those that a check gives."""
        from faultkit.network.forms import reading_forms

        return reading_forms(self, unit, check)

    def network(self, month: int) -> Network:
        """The network with the frequencies of a month (1 to 12)."""
        from faultkit.network.build import build_network

        key = ("network", month)
        if key not in self.memo:
            self.memo[key] = build_network(self, month)
        found: Network = self.memo[key]
        return found

    def fault_tree(self, event: str, month: int) -> FaultTree:
        """The fault tree under an event in a month (1 to 12), for cut sets and importances."""
        from faultkit.network.tree import fault_tree

        return fault_tree(self.network(month), event)

    def __getstate__(self) -> dict[str, Any]:
        return {k: v for k, v in self.__dict__.items() if k != "memo"}

    def __setstate__(self, state: dict[str, Any]) -> None:
        self.__dict__.update(state)
        self.__dict__["memo"] = {}


def _ways(plan: SitePlan) -> dict[frozenset[str], float]:
    """Shortest ways between all places (Floyd-Warshall; a site has a handful of places)."""
    places = sorted({p for t in plan.travel for p in t.between})
    far = float("inf")
    d = {(a, b): 0.0 if a == b else far for a in places for b in places}
    for t in plan.travel:
        a, b = t.between
        d[a, b] = d[b, a] = min(d[a, b], t.minutes)
    for via in places:
        for a in places:
            for b in places:
                d[a, b] = min(d[a, b], d[a, via] + d[via, b])
    return {frozenset((a, b)): m for (a, b), m in d.items() if a < b and m < far}
