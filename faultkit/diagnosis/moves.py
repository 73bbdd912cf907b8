"""Where the technician stands, what is set up, and what it takes to get to the next job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from faultkit.evidence.corrections import effective
from faultkit.model.entries import Complaint, Conditions, Entry, Fact, Location, SetupChange
from faultkit.model.types import Power
from faultkit.network.site import Site, SiteCheck

__all__ = ["LOCK_OUT", "Allowed", "Moves", "Standing", "refusals", "standing_of"]

#: Weather in which nobody is sent outdoors to measure.
BAD_WEATHER = frozenset({"rain", "lightning", "storm", "ice", "snow"})

#: The set-up that stands for 'locked out and proved dead'; a catalogue may give its minutes.
LOCK_OUT = "power_locked_out"
LOCK_OUT_MINUTES = 4.0


class Job(Protocol):
    """What a check and a repair have in common."""

    @property
    def place(self) -> str: ...
    @property
    def unit(self) -> str: ...
    @property
    def setups(self) -> tuple[str, ...]: ...


@dataclass(frozen=True, slots=True)
class Standing:
    """Place of the technician and the set-ups made, as (unit, set-up) pairs."""

    place: str
    made: frozenset[tuple[str, str]] = frozenset()


@dataclass(frozen=True, slots=True)
class Allowed:
    """What the call allows; empty sets forbid nothing."""

    hazards: frozenset[str] = frozenset()
    power: frozenset[str] = frozenset()
    tools: frozenset[str] = frozenset()
    crew: int = 1
    weather: str = ""
    role: str = ""


@dataclass(frozen=True, slots=True)
class Moves:
    """Minutes between places and for set-ups of one site; ``known`` keeps what was worked out."""

    site: Site
    known: dict[tuple[str, tuple[str, ...], str, Standing], float] = field(default_factory=dict, repr=False)

    @staticmethod
    def setups_of(setups: tuple[str, ...], power: Power) -> tuple[str, ...]:
        """Set-ups a job needs, its power state included; power on (or live) asks that no lock-out stands."""
        if power is Power.LOCKED_OUT:
            return tuple(dict.fromkeys((*setups, LOCK_OUT)))
        if power in {Power.ON, Power.LIVE}:
            return (*setups, f"no {LOCK_OUT}")
        return setups

    def minutes(self, setup: str) -> float:
        """Minutes to make a set-up."""
        found = self.site.common.setups.get(setup)
        if found is not None:
            return found.minutes
        return LOCK_OUT_MINUTES if setup == LOCK_OUT else 0.0

    def travel(self, at: Standing, job: Job) -> float:
        """Minutes on foot to the job."""
        return self.site.minutes_between(at.place, job.place)

    def setting_up(self, at: Standing, job: Job) -> float:
        """Minutes for set-ups of the job that do not stand yet."""
        total = 0.0
        for s in job.setups:
            if s.startswith("no "):
                if (job.unit, s[3:]) in at.made:
                    total += 1.0  # power back on
            elif (job.unit, s) not in at.made:
                total += self.minutes(s)
        return total

    def reach(self, at: Standing, job: Job) -> float:
        """Travel and set-up minutes to the job."""
        key = (job.place, job.setups, job.unit, at)
        if key not in self.known:
            self.known[key] = self.travel(at, job) + self.setting_up(at, job)
        return self.known[key]

    def after(self, at: Standing, job: Job) -> Standing:
        """Where the technician stands when the job is done."""
        made = set(at.made)
        for s in job.setups:
            if s.startswith("no "):
                made.discard((job.unit, s[3:]))
            else:
                made.add((job.unit, s))
        return Standing(job.place or at.place, frozenset(made))


def standing_of(site: Site, entries: Sequence[Entry]) -> tuple[Standing, Allowed]:
    """Place, set-ups and limits by the entries of a call.

    Without a location entry the technician stands where the last fact was
    taken, before any fact at the unit complained of.
    """
    live, withdrawn = effective(entries)
    place = next((u.place for u in site.plan.units.values()), "")
    made: set[tuple[str, str]] = set()
    allowed = Allowed()
    for e in live:
        if e.id in withdrawn:
            continue
        if isinstance(e, Location):
            place = e.place
        elif isinstance(e, Complaint):
            place = site.plan.units[e.event.split(".", 1)[0]].place
        elif isinstance(e, Fact) and not e.told:
            place = site.plan.units[site.all_readings[e.reading].unit].place
        elif isinstance(e, SetupChange):
            made |= {(e.unit, s) for s in e.on}
            made -= {(e.unit, s) for s in e.off}
        elif isinstance(e, Conditions):
            forbid: Mapping[str, tuple[str, ...]] = e.forbid
            allowed = Allowed(
                frozenset(forbid.get("hazards", ())),
                frozenset(forbid.get("power", ())),
                frozenset(e.missing_tools),
                e.crew,
                e.weather,
                e.role,
            )
    return Standing(place, frozenset(made)), allowed


def refusals(site: Site, check: SiteCheck, allowed: Allowed) -> tuple[tuple[str, str], ...]:
    """Why the call forbids a check, as (kind, what) pairs; empty where it is allowed."""
    c = check.check
    shared = [h for s in c.setups if s in site.common.setups for h in site.common.setups[s].hazards]
    out = [("hazard", h) for h in dict.fromkeys((*c.hazards, *shared)) if h in allowed.hazards]
    if c.power.value in allowed.power:
        out.append(("power", c.power.value))
    out += [("tool", t) for t in c.tools if t in allowed.tools]
    if c.crew > allowed.crew:
        out.append(("crew", str(c.crew)))
    if c.outdoors and allowed.weather in BAD_WEATHER:
        out.append(("weather", allowed.weather))
    if c.who != "anyone" and allowed.role not in {"", c.who}:
        out.append(("role", c.who))
    return tuple(out)
