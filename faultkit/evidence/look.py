"""Looks and findings: what recorded facts say about the bands of a sign."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

__all__ = ["COMPLAINT", "SOFTENED", "TOLD", "Evidence", "FactStatus", "FactUse", "Finding", "Look"]

#: Chance that somebody who did not measure says what is so (faultkit's convention).
TOLD = 0.8

#: Share of doubt put on every fact once facts contradict each other.
SOFTENED = 0.01

#: Chances that a complaint is made where its event holds, and where it does not (faultkit's convention).
COMPLAINT = (0.85, 0.03)


class FactStatus(StrEnum):
    """What became of a fact."""

    USED = "used"
    INPUT = "input"                # read by a calculation only
    SUPERSEDED = "superseded"      # the same instrument looked again, or a measurement replaced hearsay
    NEEDS_STATE = "needs_state"    # kept, not used: the operating state was not given
    WITHDRAWN = "withdrawn"        # by a correction


@dataclass(frozen=True, slots=True)
class Look:
    """One look at a sign. ``shares`` is the share of the accuracy interval in each band.

    ``low`` and ``high`` bound the value in SI (equal for words); ``facts`` are
    the entries it rests on (several for a calculated value).
    """

    sign: str
    facts: tuple[str, ...]
    shares: tuple[float, ...]
    told: bool = False
    low: float | None = None
    high: float | None = None
    calculated: bool = False

    @property
    def touched(self) -> tuple[int, ...]:
        """Bands that remain possible by this look."""
        return tuple(b for b, s in enumerate(self.shares) if s > 0.0)

    def weights(self, *, soften: bool) -> tuple[float, ...]:
        """Weight of each band: the shares, mixed with the doubt that applies."""
        n = len(self.shares)
        trust = (TOLD if self.told else 1.0) * (1.0 - SOFTENED if soften else 1.0)
        if trust >= 1.0:
            return self.shares
        total = sum(self.shares)
        return tuple(trust * s / total + (1.0 - trust) / n for s in self.shares)


@dataclass(frozen=True, slots=True)
class Finding:
    """All looks at one sign that count."""

    sign: str
    looks: tuple[Look, ...]

    @property
    def facts(self) -> frozenset[str]:
        """Entries this finding rests on."""
        return frozenset(f for look in self.looks for f in look.facts)

    @property
    def touched(self) -> tuple[int, ...]:
        """Bands possible by every measured look (all bands where there is none)."""
        n = len(self.looks[0].shares)
        hard = [set(look.touched) for look in self.looks if not look.told]
        return tuple(b for b in range(n) if all(b in t for t in hard))

    @property
    def too_close(self) -> bool:
        """More than one band is touched by what was measured."""
        return any(not k.told for k in self.looks) and len(self.touched) > 1

    def rows(
        self,
        chances: Sequence[Sequence[float]],
        facts: frozenset[str] | None = None,
        *,
        soften: bool = False,
    ) -> list[float]:
        """Likelihood of each row, resting on ``facts`` only (all when None)."""
        looks = [k for k in self.looks if facts is None or facts.issuperset(k.facts)]
        if not looks:
            return [1.0] * len(chances)
        bands: Sequence[float] = looks[0].weights(soften=soften)
        for look in looks[1:]:
            bands = [a * b for a, b in zip(bands, look.weights(soften=soften), strict=True)]
        live = [(b, w) for b, w in enumerate(bands) if w]
        return [sum([row[b] * w for b, w in live]) for row in chances]


@dataclass(frozen=True, slots=True)
class FactUse:
    """What became of one fact, and why in few words."""

    fact: str
    reading: str
    status: FactStatus
    why: str = ""


@dataclass(frozen=True, slots=True)
class Evidence:
    """Findings by sign, and what became of every fact. ``complaints`` maps complaint sign → event."""

    findings: Mapping[str, Finding] = field(default_factory=dict)
    uses: tuple[FactUse, ...] = ()
    complaints: Mapping[str, str] = field(default_factory=dict)

    @property
    def facts(self) -> tuple[str, ...]:
        """Entries in use, in order of their finding."""
        return tuple(dict.fromkeys(f for x in self.findings.values() for k in x.looks for f in k.facts))
