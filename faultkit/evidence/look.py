"""Looks and findings: what recorded facts say about the bands of a sign."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

__all__ = [
    "COMPLAINT", "SAME", "SOFTENED", "STANDING", "TOLD", "Evidence", "FactStatus", "FactUse", "Finding", "Look",
    "drawn",
]

#: Chance that somebody who did not measure says what is so (faultkit's convention).
TOLD = 0.8

#: Share of doubt put on every fact once facts contradict each other.
SOFTENED = 0.01

#: Chances that a complaint is made where its event holds, and where it does not (faultkit's convention).
COMPLAINT = (0.85, 0.03)

#: Chance that two looks at one reading in different stages, decided by the same row, see the same draw of
#: its bands (faultkit's convention): a repeat look is hardly fresh evidence.
SAME = 0.9

#: Chance of each such look to see the draw that stands for the whole call.
STANDING = math.sqrt(SAME)


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
    the entries it rests on (several for a calculated value); ``stage`` counts the remedies before it.
    """

    sign: str
    facts: tuple[str, ...]
    shares: tuple[float, ...]
    told: bool = False
    low: float | None = None
    high: float | None = None
    calculated: bool = False
    stage: int = 0

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
    """All looks at one sign that count; those of the same stage see the same draw of its bands."""

    sign: str
    looks: tuple[Look, ...]

    @property
    def facts(self) -> frozenset[str]:
        """Entries this finding rests on."""
        return frozenset(f for look in self.looks for f in look.facts)

    @property
    def stages(self) -> tuple[int, ...]:
        """The stages it was looked at in."""
        return tuple(dict.fromkeys(k.stage for k in self.looks))

    @property
    def latest(self) -> Finding:
        """The looks of the last stage alone."""
        last = self.looks[-1].stage
        return self if self.looks[0].stage == last else replace(self, looks=self.in_stage(last))

    def in_stage(self, stage: int) -> tuple[Look, ...]:
        """The looks of one stage."""
        return tuple(k for k in self.looks if k.stage == stage)

    @property
    def touched(self) -> tuple[int, ...]:
        """Bands possible by every measured look of the last stage (all bands where there is none)."""
        looks = self.latest.looks
        n = len(self.looks[0].shares)
        hard = [set(look.touched) for look in looks if not look.told]
        return tuple(b for b in range(n) if all(b in t for t in hard))

    @property
    def too_close(self) -> bool:
        """More than one band is touched by what was measured."""
        return any(not k.told for k in self.latest.looks) and len(self.touched) > 1

    def rows(
        self,
        chances: Sequence[Sequence[float]],
        facts: frozenset[str] | None = None,
        *,
        soften: bool = False,
    ) -> list[float]:
        """Likelihood of each row, resting on ``facts`` only (all when None)."""
        seen = self.seen(facts, soften=soften)
        if not seen:
            return [1.0] * len(chances)
        if len(seen) > 1:
            return [drawn(row, seen) for row in chances]
        live = [(b, w) for b, w in enumerate(seen[0]) if w]
        return [sum([row[b] * w for b, w in live]) for row in chances]

    def seen(self, facts: frozenset[str] | None = None, *, soften: bool = False) -> list[Sequence[float]]:
        """Weight of each band, stage by stage, by the looks that rest on ``facts`` only (all when None)."""
        by_stage: dict[int, Sequence[float]] = {}
        for look in self.looks:
            if facts is None or facts.issuperset(look.facts):
                mine = look.weights(soften=soften)
                before = by_stage.get(look.stage)
                by_stage[look.stage] = (
                    mine if before is None else [a * b for a, b in zip(before, mine, strict=True)]
                )
        return list(by_stage.values())


def drawn(chances: Sequence[float], seen: Iterable[Sequence[float]]) -> float:
    """Likelihood of looks in several stages that one row decides.

    The row has one standing draw of its bands; each look sees it with chance
    ``STANDING``, else a draw of its own. One look alone is as likely as ever.
    """
    total = list(chances)
    for weights in seen:
        fresh = (1.0 - STANDING) * sum([c * w for c, w in zip(chances, weights, strict=True)])
        total = [t * (STANDING * w + fresh) for t, w in zip(total, weights, strict=True)]
    return sum(total)


@dataclass(frozen=True, slots=True)
class FactUse:
    """What became of one fact, and why in few words.

    ``stage`` counts the remedies before it was observed, ``sign`` what it speaks
    of ('' where it is only read).
    """

    fact: str
    reading: str
    status: FactStatus
    why: str = ""
    stage: int = 0
    sign: str = ""


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
