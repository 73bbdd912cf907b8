"""Entries → evidence: the looks that count, and what became of each fact."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from faultkit.evidence.corrections import effective
from faultkit.evidence.look import COMPLAINT, Evidence, FactStatus, FactUse, Finding, Look
from faultkit.evidence.values import interval_of, is_words, shares_of, sign_of, word_of
from faultkit.model.entries import Complaint, Entry, Fact
from faultkit.network.ir import Sign
from faultkit.network.site import Site, SiteReading
from faultkit.problems import InputError

__all__ = ["collect", "complaint_signs"]


@dataclass(slots=True)
class _Pile:
    """Looks and uses while they are collected."""

    looks: dict[str, dict[str, Look]]          # sign → instrument → latest look
    uses: dict[str, FactUse]
    latest: dict[tuple[str, str], tuple[str, float, float]]  # (reading, state) → fact, low, high

    def put(self, look: Look, instrument: str, reading: str) -> None:
        mine = self.looks.setdefault(look.sign, {})
        key = f"told by {instrument}" if look.told else instrument
        before = mine.get(key)
        if before is not None:
            for f in before.facts:
                self.uses[f] = FactUse(f, reading, FactStatus.SUPERSEDED, "looked again")
        mine[key] = look


def collect(site: Site, entries: Sequence[Entry]) -> Evidence:
    """The evidence of a call's entries (already checked one by one against the site)."""
    pile = _Pile({}, {}, {})
    live, withdrawn = effective(entries)
    complaints: dict[str, str] = {}
    for entry in live:
        if isinstance(entry, Fact):
            reading = site.all_readings[entry.reading]
            if entry.id in withdrawn:
                pile.uses[entry.id] = FactUse(entry.id, reading.name, FactStatus.WITHDRAWN, "withdrawn")
            else:
                _fact(site, entry, reading, pile)
        elif isinstance(entry, Complaint) and entry.id not in withdrawn:
            complaints[entry.id] = entry.event
    for reading in site.all_readings.values():
        if reading.bound is not None:
            _calculated(site, reading, pile)
    findings: dict[str, Finding] = {}
    for sign in site.signs:
        if sign in pile.looks:
            findings[sign] = _finding(sign, list(pile.looks[sign].values()), pile, site.signs[sign].reading)
    kept = _complaints(site, complaints, findings)
    return Evidence(findings, tuple(pile.uses.values()), kept)


def _fact(site: Site, fact: Fact, reading: SiteReading, pile: _Pile) -> None:
    sign = sign_of(fact, reading, site)
    low = high = None
    if is_words(reading):
        if sign is not None:
            shares = tuple(float(b == word_of(fact, sign.bands)) for b in range(len(sign.bands)))
    else:
        low, high = interval_of(fact, reading, site)
        if not fact.told:
            pile.latest[reading.name, fact.state] = (fact.id, low, high)
        if sign is not None:
            shares = shares_of(sign, low, high)
    if sign is None:
        if reading.reading.states and not fact.state:
            why = "the operating state was not given: " + " or ".join(reading.reading.states)
            pile.uses[fact.id] = FactUse(fact.id, reading.name, FactStatus.NEEDS_STATE, why)
        else:
            pile.uses[fact.id] = FactUse(fact.id, reading.name, FactStatus.INPUT)
        return
    status = FactStatus.USED if sign.rows else FactStatus.INPUT
    pile.uses[fact.id] = FactUse(fact.id, reading.name, status)
    if sign.rows:
        look = Look(sign.name, (fact.id,), shares, told=fact.told, low=low, high=high)
        pile.put(look, fact.by if fact.told else fact.instrument, reading.name)


def _calculated(site: Site, reading: SiteReading, pile: _Pile) -> None:
    """A look at a calculated reading, once all its inputs were measured in its state."""
    assert reading.bound is not None
    for name in reading.signs:
        sign = site.signs[name]
        intervals: dict[str, tuple[float, float]] = {}
        facts: list[str] = []
        for arg, source in reading.inputs.items():
            found = pile.latest.get((source, sign.state or ""))
            if found is None and not site.all_readings[source].reading.states:
                # A reading without states means the same whatever was noted with it.
                found = next((v for (r, _), v in pile.latest.items() if r == source), None)
            if found is None:
                break
            facts.append(found[0])
            intervals[arg] = found[1:]
        else:
            try:
                low, high = reading.bound.evaluate(intervals)
            except InputError as fault:
                for f in facts:
                    pile.uses[f] = replace(pile.uses[f], why=f"{name}: {fault.problems[0].what}")
                continue
            look = Look(name, tuple(dict.fromkeys(facts)), shares_of(sign, low, high), low=low, high=high,
                        calculated=True)
            if sign.rows:
                pile.put(look, "calculated", reading.name)


def _finding(sign: str, looks: list[Look], pile: _Pile, reading: str) -> Finding:
    """Hearsay goes where something was measured."""
    measured = [k for k in looks if not k.told]
    if measured and len(measured) < len(looks):
        for look in looks:
            if look.told:
                for f in look.facts:
                    pile.uses[f] = FactUse(f, reading, FactStatus.SUPERSEDED, "it was measured since")
    return Finding(sign, tuple(measured or looks))


def _complaints(site: Site, complaints: dict[str, str], findings: dict[str, Finding]) -> dict[str, str]:
    """Complaint signs that still count: those whose event no measurement tells of."""
    measured = {
        row
        for name, finding in findings.items()
        if any(not k.told for k in finding.looks)
        for row in site.signs[name].rows
    }
    kept: dict[str, str] = {}
    for ident, event in complaints.items():
        if event not in measured and event not in kept.values():
            name = f"complaint:{event}"
            kept[name] = event
            findings[name] = Finding(name, (Look(name, (ident,), (1.0, 0.0)),))
    return kept


def complaint_signs(events: Iterable[str], index: dict[str, int]) -> list[Sign]:
    """Signs for complaints: soft in both directions, so never logic."""
    yes, no = COMPLAINT
    return [
        Sign(f"complaint:{e}", ("yes", "no"), (index[e],), ((yes, 1.0 - yes), (no, 1.0 - no)))
        for e in events
        if e in index
    ]
