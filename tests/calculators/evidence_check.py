"""A check of a calculator against something outside the project, as data: run by the tests, printed in a table."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

__all__ = ["Check", "Evidence"]


class Evidence(StrEnum):
    """What stands behind a check, strongest first."""

    PUBLISHED = "published"
    REFERENCE_LIBRARY = "reference library"
    DERIVATION = "independent derivation"
    COMMON_PRACTICE = "common practice"
    FROM_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Check:
    """``errors`` gives got - expected for every case, in ``unit``; each must be within ``tolerance``."""

    calculator: str
    what: str
    source: str
    evidence: Evidence
    unit: str
    tolerance: float
    errors: Callable[[], Iterable[float]]

    def largest(self) -> float:
        """The largest error over all cases. An error when there is no case, or one that is no number."""
        sizes = [abs(error) for error in self.errors()]
        if not sizes or not all(isfinite(s) for s in sizes):
            raise AssertionError(f"{self.calculator}, {self.what}: no case, or one without a number")
        return max(sizes)
