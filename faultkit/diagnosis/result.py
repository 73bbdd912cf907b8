"""The result of a diagnosis: frozen, ids and numbers only; texts come from rendering."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from enum import StrEnum
from typing import Any

from faultkit.diagnosis.deeds import OPEN, CauseLink, Closing, Ended, Missing, Past, Repair, Reproof, Retake
from faultkit.diagnosis.verdict import NEVER, Probability, Verdict

__all__ = [
    "Blocked", "CauseLink", "Closing", "Conflict", "Diagnosis", "Ended", "EventResult", "Explained", "Explanation",
    "FactResult", "LookResult", "Missing", "NextCheck", "NextRepair", "Outcome", "Past", "Probability", "Proof",
    "Repair", "Reproof", "Retake", "Settles", "Step", "Verdict", "Weight",
]


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a proof: ``event`` is ``value`` because of ``rule`` at ``via``.

    ``rule`` is ``reading`` (``via`` is the sign), ``cause`` (an input makes its
    gate true), ``no_cause`` (nothing makes the gate true), ``needed`` (the gate is true only with it),
    ``prevented`` (the gate is false, so it is), ``elimination`` (the last one left) or
    ``cases`` (every other combination contradicts the facts). ``needs`` are the events it rests on.
    """

    event: str
    value: bool
    rule: str
    via: str
    needs: tuple[tuple[str, bool], ...] = ()
    facts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Proof:
    """A least set of facts that decides an event, the steps, and the nameplate settings it rests on.

    ``retake`` lists the checks that take the reading again where one reading is all there is.
    """

    facts: tuple[str, ...]
    steps: tuple[Step, ...]
    premises: tuple[tuple[str, str], ...] = ()
    retake: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Weight:
    """Weight of evidence of one fact for an event, given all other facts, in decibans (Good)."""

    fact: str
    decibans: float


@dataclass(frozen=True, slots=True)
class Settles:
    """A sign whose bands listed would decide an event."""

    sign: str
    bands: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EventResult:
    """What is known of one event (a leak is ``<gate>.other``), as it is now.

    ``past`` says how it was before remedies changed it. ``only_listed_cause_of`` names a confirmed
    gate whose every other listed cause is ruled out while causes it does not list remain, with their
    chance in ``other``.
    """

    event: str
    verdict: Verdict
    probability: Probability
    prior: float
    basic: bool
    proof: Proof | None = None
    weights: tuple[Weight, ...] = ()
    would_confirm: tuple[Settles, ...] = ()
    would_rule_out: tuple[Settles, ...] = ()
    only_listed_cause_of: str = ""
    other: Probability | None = None
    past: tuple[Past, ...] = ()


@dataclass(frozen=True, slots=True)
class LookResult:
    """The bands one finding leaves possible, with the share of its accuracy interval in each."""

    sign: str
    facts: tuple[str, ...]
    bands: tuple[tuple[str, float], ...]
    too_close: bool
    abnormal: bool
    told: bool
    calculated: bool
    value: tuple[float, float] | None = None
    stage: int = 0


@dataclass(frozen=True, slots=True)
class FactResult:
    """What became of a fact."""

    fact: str
    reading: str
    status: str
    why: str = ""
    stage: int = 0


@dataclass(frozen=True, slots=True)
class Conflict:
    """A smallest set of facts that cannot hold together, the always/never rows involved, and re-takes."""

    facts: tuple[str, ...]
    rows: tuple[tuple[str, str], ...]
    retake: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Explained:
    """An abnormal finding: ``explained``, ``unexplained`` or ``open`` by what is confirmed.

    ``further`` is the chance that a further fault stands behind it.
    """

    sign: str
    status: str
    further: Probability


@dataclass(frozen=True, slots=True)
class Explanation:
    """A minimal set of basic events that explains the abnormal findings. ``weight``: prior odds, in decibans."""

    events: tuple[str, ...]
    weight: float


@dataclass(frozen=True, slots=True)
class Outcome:
    """One outcome of a check: its bands by sign, its chance, and what it would mean."""

    bands: tuple[tuple[str, str], ...]
    probability: float
    confirms: tuple[str, ...]
    rules_out: tuple[str, ...]
    leaders: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class NextCheck:
    """A check worth doing. Minutes: all it costs now; ``saved``: expected on the way to a proved repair."""

    check: str
    signs: tuple[str, ...]
    minutes: float
    travel: float
    setting_up: float
    saved: float
    bits: float
    bits_per_minute: float
    hazards: tuple[str, ...]
    setups: tuple[str, ...]
    outcomes: tuple[Outcome, ...]


@dataclass(frozen=True, slots=True)
class NextRepair:
    """A repair class and its chance; ``expected`` minutes to a proved repair when it is done first."""

    remedy: str
    events: tuple[str, ...]
    probability: Probability
    minutes: float
    expected: float


@dataclass(frozen=True, slots=True)
class Blocked:
    """A check that the call forbids, and why: (kind, what) with kind hazard, power, tool, crew, weather or role."""

    check: str
    reasons: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Diagnosis:
    """Everything found out about one call at one moment: after ``stage`` remedies.

    Names of steps, looks, findings and explanations that date from a later stage end in ``#`` and its number.

    ``expected_minutes`` is the expected time to a proved repair without any
    further check. ``surprise`` is the bans by which the facts together are less
    probable than apart. ``order_rests_on`` lists basic events whose frequency, tripled, changes the first suspect.
    """

    site: str
    call: str
    catalogue: str
    month: int
    consistent: bool
    events: Mapping[str, EventResult]
    facts: tuple[FactResult, ...]
    looks: tuple[LookResult, ...]
    conflicts: tuple[Conflict, ...] = ()
    explained: tuple[Explained, ...] = ()
    further_fault: Probability = NEVER
    most_probable: tuple[str, ...] = ()
    most_probable_chance: Probability = NEVER
    explanations: tuple[Explanation, ...] = ()
    surprise: float = 0.0
    order_rests_on: tuple[str, ...] = ()
    expected_minutes: float = 0.0
    next_checks: tuple[NextCheck, ...] = ()
    next_repairs: tuple[NextRepair, ...] = ()
    while_there: tuple[str, ...] = ()
    blocked: tuple[Blocked, ...] = ()
    left_out: tuple[str, ...] = field(default=())
    stage: int = 0
    repairs: tuple[Repair, ...] = ()
    retake: tuple[Retake, ...] = ()
    causes: tuple[CauseLink, ...] = ()
    closing: Closing = OPEN

    def of(self, verdict: Verdict) -> tuple[EventResult, ...]:
        """Events with a verdict, in the order of the site."""
        return tuple(e for e in self.events.values() if e.verdict is verdict)

    def suspects(self) -> tuple[EventResult, ...]:
        """Basic events still open, most probable first."""
        found = [e for e in self.events.values() if e.basic and e.verdict in {Verdict.OPEN, Verdict.UNKNOWN}]
        return tuple(sorted(found, key=lambda e: (-e.probability.middle, e.event)))

    def chain(self, event: str) -> tuple[tuple[CauseLink, ...], tuple[CauseLink, ...]]:
        """The links from an event down to what caused it, and up to what it caused."""
        return _reached(self.causes, event, down=True), _reached(self.causes, event, down=False)

    def changes_since(self, old: Diagnosis) -> tuple[tuple[str, Verdict | None, Verdict, float], ...]:
        """Events whose verdict changed or whose probability moved by more than 0.05: (event, was, is, move)."""
        out = []
        for name, now in self.events.items():
            before = old.events.get(name)
            move = now.probability.middle - (before.probability.middle if before else now.prior)
            if before is None or before.verdict is not now.verdict or abs(move) > 0.05:
                out.append((name, before.verdict if before else None, now.verdict, move))
        return tuple(out)

    def to_dict(self) -> dict[str, Any]:
        """JSON-ready data, valid against ``schemas/diagnosis.v1.json``."""
        data: dict[str, Any] = {"schema": 1, "kind": "diagnosis", **_plain(self)}
        data["events"] = list(data["events"].values())
        return data


def _reached(links: tuple[CauseLink, ...], event: str, *, down: bool) -> tuple[CauseLink, ...]:
    seen, found = {event}, dict[CauseLink, None]()
    stack = [event]
    while stack:
        at = stack.pop(0)
        for x in links:
            here, there = (x.effect, x.cause) if down else (x.cause, x.effect)
            if here == at:
                found[x] = None
                if there not in seen:
                    seen.add(there)
                    stack.append(there)
    return tuple(found)


def _plain(value: Any) -> Any:
    if isinstance(value, StrEnum):
        return value.value
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, Mapping):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, tuple):
        return [_plain(v) for v in value]
    return value
