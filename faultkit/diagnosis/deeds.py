"""Results about what was done: remedies, readings to take again, what caused what, what keeps a call open."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.diagnosis.verdict import Probability, Verdict

__all__ = ["OPEN", "CauseLink", "Closing", "Ended", "Missing", "Past", "Repair", "Reproof", "Retake"]


@dataclass(frozen=True, slots=True)
class Past:
    """An event as it was from ``stage`` until a later remedy changed it; ``facts`` prove it where it is decided."""

    stage: int
    verdict: Verdict
    probability: Probability
    facts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Ended:
    """An event that a remedy should end, before it and after it.

    ``outcome``: ``repaired`` (it was there and is not), ``still_there``, ``was_not_there``,
    or ``open`` where this is not proved.
    """

    event: str
    was: Verdict
    before: Probability
    is_now: Verdict
    after: Probability
    outcome: str


@dataclass(frozen=True, slots=True)
class Reproof:
    """A reading that must show ``band`` after a repair: ``seen``, ``other``, ``too_close`` or ``missing``."""

    sign: str
    band: str
    status: str
    facts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Repair:
    """A remedy done. It started ``stage``; it is proved when all its readings were taken again and seen."""

    entry: str
    remedy: str
    stage: int
    ends: tuple[Ended, ...]
    prove: tuple[Reproof, ...]
    proved: bool


@dataclass(frozen=True, slots=True)
class Retake:
    """A reading whose last look no longer speaks of now.

    ``reason``: the remedy of entry ``by`` ``changed`` what it tells of, or ``disturbed`` the reading.
    """

    sign: str
    facts: tuple[str, ...]
    reason: str
    by: str
    checks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CauseLink:
    """A confirmed cause and its effect, by a gate or as ``damage``; ``stage`` is the first it is so in."""

    cause: str
    effect: str
    damage: bool
    stage: int


@dataclass(frozen=True, slots=True)
class Missing:
    """What keeps a call open, by ``kind``.

    ``conflict`` (``needs`` are facts), ``unexplained`` (a sign and its facts), ``unproved_repair``
    (a remedy and the signs to take again), ``complaint`` (an event not ruled out by measurement),
    ``damage`` (an event and its causes in question).
    """

    kind: str
    what: str
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Closing:
    """Whether the call can be closed, and what is missing."""

    closable: bool
    missing: tuple[Missing, ...] = ()


#: What is said of a call before anything was asked about it.
OPEN = Closing(False)
