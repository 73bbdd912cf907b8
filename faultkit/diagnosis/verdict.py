"""Verdicts and probabilities: what every result is made of."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["NEVER", "Probability", "Verdict"]


class Verdict(StrEnum):
    """``confirmed`` and ``ruled_out`` only where logic decides; ``unknown`` where bounds are wider than 0.5."""

    CONFIRMED = "confirmed"
    RULED_OUT = "ruled_out"
    OPEN = "open"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Probability:
    """Bounds of a probability; equal where it is exact."""

    low: float
    high: float

    @property
    def exact(self) -> bool:
        """Whether both bounds are the same."""
        return self.low == self.high

    @property
    def middle(self) -> float:
        """The value itself, or the middle of its bounds."""
        return (self.low + self.high) / 2


NEVER = Probability(0.0, 0.0)
