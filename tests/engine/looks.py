"""What one look says, by the design's conventions."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

__all__ = ["Look"]

TRUST, DOUBT = Fraction(0.8), Fraction(0.01)


@dataclass(frozen=True)
class Look:
    """What one look says: the share of its interval in each band."""

    facts: tuple[str, ...]
    shares: tuple[Fraction, ...]
    told: bool = False

    def weights(self, *, soften: bool) -> list[Fraction]:
        trust = (TRUST if self.told else 1) * (1 - DOUBT if soften else Fraction(1))
        return [trust * s + (1 - trust) / len(self.shares) for s in self.shares]
