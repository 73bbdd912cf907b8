"""Entries → evidence: the looks that count, and what became of each fact."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from faultkit.evidence.look import COMPLAINT, Evidence, FactStatus, FactUse, Finding, Look
from faultkit.evidence.timeline import Timeline, timeline
from faultkit.evidence.values import interval_of, is_words, shares_of, sign_of, word_of
from faultkit.model.entries import Complaint, Entry, Fact
from faultkit.network.ir import Network, Sign, plain
from faultkit.network.site import Site, SiteReading
from faultkit.network.stages import Stages
from faultkit.problems import InputError

__all__ = ["collect", "complaint_signs"]

#: A quantity as it was last read in a stage: its fact and its bounds in SI.
Read = tuple[str, float, float]


@dataclass(slots=True)
class _Pile:
    """Looks and uses while they are collected. A sign is named with the stage it dates from."""

    site: Site
    stages: Stages
    looks: dict[str, dict[tuple[int, str], Look]] = field(default_factory=dict)  # sign → stage, instrument → latest
    uses: dict[str, FactUse] = field(default_factory=dict)
    latest: dict[tuple[str, str], dict[int, Read]] = field(default_factory=dict)  # reading, state → stage → read

    def named(self, sign: str, stage: int) -> str:
        """The name of a sign as it is in a stage."""
        dates = self.stages.sign_since(sign, stage)
        return f"{sign}#{dates}" if dates else sign

    def put(self, look: Look, instrument: str) -> None:
        mine = self.looks.setdefault(look.sign, {})
        key = (look.stage, f"told by {instrument}" if look.told else instrument)
        before = mine.get(key)
        if before is not None:
            for f in before.facts:
                self.mark(f, FactStatus.SUPERSEDED, "looked again")
        mine[key] = look

    def mark(self, fact: str, status: FactStatus, why: str) -> None:
        self.uses[fact] = replace(self.uses[fact], status=status, why=why)


def collect(site: Site, entries: Sequence[Entry] | Timeline, stages: Stages | None = None) -> Evidence:
    """The evidence of a call's entries (already checked one by one against the site).

    ``stages`` says what the remedies among them change; it may be left out where there are none.
    """
    told = entries if isinstance(entries, Timeline) else timeline(entries)
    pile = _Pile(site, stages or Stages(site, 1, told.names))
    complaints: list[tuple[Complaint, int]] = []
    for entry, stage in told.entries:
        if isinstance(entry, Fact) and entry.id in told.withdrawn:
            pile.uses[entry.id] = FactUse(entry.id, entry.reading, FactStatus.WITHDRAWN, "withdrawn", stage)
        elif isinstance(entry, Fact):
            _fact(site, entry, stage, pile)
        elif isinstance(entry, Complaint) and entry.id not in told.withdrawn:
            complaints.append((entry, stage))
    for reading in site.all_readings.values():
        if reading.bound is not None:
            for stage in range(pile.stages.last + 1):
                _calculated(site, reading, stage, pile)
    findings: dict[str, Finding] = {}
    order = {sign: n for n, sign in enumerate(site.signs)}
    for sign in sorted(pile.looks, key=lambda s: (order[plain(s)], min(stage for stage, _ in pile.looks[s]))):
        looks = sorted(pile.looks[sign].values(), key=lambda look: look.stage)
        findings[sign] = _finding(sign, looks, pile)
    kept = _complaints(pile, complaints, findings)
    return Evidence(findings, tuple(pile.uses.values()), kept)


def _fact(site: Site, fact: Fact, stage: int, pile: _Pile) -> None:
    reading = site.all_readings[fact.reading]
    sign = sign_of(fact, reading, site)
    low = high = None
    if is_words(reading):
        if sign is not None:
            shares = tuple(float(b == word_of(fact, sign.bands)) for b in range(len(sign.bands)))
    else:
        low, high = interval_of(fact, reading, site)
        if not fact.told:
            pile.latest.setdefault((reading.name, fact.state), {})[stage] = (fact.id, low, high)
        if sign is not None:
            shares = shares_of(sign, low, high)
    if sign is None:
        if reading.reading.states and not fact.state:
            why = "the operating state was not given: " + " or ".join(reading.reading.states)
            pile.uses[fact.id] = FactUse(fact.id, reading.name, FactStatus.NEEDS_STATE, why, stage)
        else:
            pile.uses[fact.id] = FactUse(fact.id, reading.name, FactStatus.INPUT, "", stage)
        return
    status = FactStatus.USED if sign.rows else FactStatus.INPUT
    name = pile.named(sign.name, stage)
    pile.uses[fact.id] = FactUse(fact.id, reading.name, status, "", stage, name)
    if sign.rows:
        look = Look(name, (fact.id,), shares, told=fact.told, low=low, high=high, stage=stage)
        pile.put(look, fact.by if fact.told else fact.instrument)


def _calculated(site: Site, reading: SiteReading, stage: int, pile: _Pile) -> None:
    """A look at a calculated reading in a stage, once all its inputs were measured in its state."""
    assert reading.bound is not None
    for name in reading.signs:
        sign = site.signs[name]
        intervals: dict[str, tuple[float, float]] = {}
        facts: list[str] = []
        taken: list[int] = []
        for arg, source in reading.inputs.items():
            found = _input(reading, sign.name, sign.state or "", source, stage, pile)
            if found is None:
                break
            taken.append(found[0])
            facts.append(found[1][0])
            intervals[arg] = found[1][1:]
        else:
            if stage not in taken:
                continue
            try:
                low, high = reading.bound.evaluate(intervals)
            except InputError as fault:
                for f in facts:
                    pile.uses[f] = replace(pile.uses[f], why=f"{name}: {fault.problems[0].what}")
                continue
            look = Look(pile.named(name, stage), tuple(dict.fromkeys(facts)), shares_of(sign, low, high),
                        low=low, high=high, calculated=True, stage=stage)
            if sign.rows:
                pile.put(look, "calculated")


def _input(
    reading: SiteReading, sign: str, state: str, source: str, stage: int, pile: _Pile
) -> tuple[int, Read] | None:
    """An input of a calculation in a stage: read there, or before while nothing changed it; with its stage."""
    reads = [pile.latest.get((source, state), {})]
    if not pile.site.all_readings[source].reading.states:
        # A reading without states means the same whatever was noted with it.
        reads += [v for (r, _), v in pile.latest.items() if r == source]
    names = (reading.name, sign, source, f"{source} in {state}")
    for s in range(stage, -1, -1):
        found = next((r[s] for r in reads if s in r), None)
        if found is not None:
            return s, found
        if s and (pile.stages.sign_since(sign, stage) >= s or pile.stages.disturbed(names, s - 1, s)):
            return None
    return None


def _finding(sign: str, looks: list[Look], pile: _Pile) -> Finding:
    """Hearsay goes where something was measured."""
    measured = [k for k in looks if not k.told]
    if measured and len(measured) < len(looks):
        for look in looks:
            if look.told:
                for f in look.facts:
                    pile.mark(f, FactStatus.SUPERSEDED, "it was measured since")
    return Finding(sign, tuple(measured or looks))


def _complaints(
    pile: _Pile, complaints: list[tuple[Complaint, int]], findings: dict[str, Finding]
) -> dict[str, str]:
    """Complaint signs that still count: those whose event, as it was then, no measurement tells of."""
    stages = pile.stages
    measured = {
        (row, stages.event_since(row, k.stage))
        for name, finding in findings.items()
        for k in finding.looks
        if not k.told
        for row in pile.site.signs[plain(name)].rows
        if row is not None
    }
    kept: dict[str, str] = {}
    for said, stage in complaints:
        dates = stages.event_since(said.event, stage)
        name = f"complaint:{said.event}" + (f"#{dates}" if dates else "")
        if (said.event, dates) not in measured and name not in kept:
            kept[name] = said.event
            findings[name] = Finding(name, (Look(name, (said.id,), (1.0, 0.0), stage=stage),))
    return kept


def complaint_signs(complaints: Iterable[str], network: Network) -> list[Sign]:
    """Signs for complaints by name: soft in both directions, so never logic."""
    yes, no = COMPLAINT
    index = network.index
    events = {name: name.removeprefix("complaint:") for name in complaints}
    return [
        Sign(name, ("yes", "no"), (index[e],), ((yes, 1.0 - yes), (no, 1.0 - no)))
        for name, e in events.items()
        if e in index
    ]
