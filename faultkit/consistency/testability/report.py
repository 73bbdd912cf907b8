"""Testability of one type: figures, groups, masks, redundant checks, and the smallest set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from faultkit.consistency.subject import Subject, TypeView
from faultkit.consistency.testability.cover import Smallest, smallest_set
from faultkit.consistency.testability.matrix import Matrix, dependency_matrix, outcomes
from faultkit.consistency.testability.metrics import Metrics, metrics

__all__ = ["Mask", "Testability", "ambiguous", "testability", "testability_of"]


@dataclass(frozen=True, slots=True)
class Mask:
    """Two faults that together look exactly like a third."""

    fault: str
    pair: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Testability:
    """All that the dependency matrix of a type says. Names are local."""

    equipment: str
    matrix: Matrix
    metrics: Metrics
    groups: tuple[tuple[str, ...], ...]
    undetected: tuple[str, ...]
    masks: tuple[Mask, ...]
    redundant: tuple[str, ...]
    smallest: Smallest

    def to_dict(self) -> dict[str, Any]:
        """The report as JSON holds it."""
        return {
            "equipment": self.equipment,
            "metrics": self.metrics.to_dict(),
            "ambiguity_groups": [list(g) for g in self.groups if len(g) > 1],
            "undetected": list(self.undetected),
            "masked": [{"fault": m.fault, "by": list(m.pair)} for m in self.masks],
            "redundant_checks": list(self.redundant),
            "smallest_set": {
                "checks": list(self.smallest.checks),
                "minutes": self.smallest.minutes,
                "exact": self.smallest.exact,
                "at_least": self.smallest.at_least,
            },
        }


def testability_of(subject: Subject, name: str) -> Testability:
    """The testability of a type, worked out once."""
    key = ("testability", name)
    if key not in subject.memo:
        subject.memo[key] = testability(subject.views[name])
    found: Testability = subject.memo[key]
    return found


def testability(view: TypeView) -> Testability:
    """Work out the testability of a type."""
    matrix = dependency_matrix(view)
    groups = matrix.groups()
    pairs = list(_pairs(matrix, groups))
    return Testability(
        view.kind.name,
        matrix,
        metrics(matrix),
        tuple(tuple(matrix.faults[f] for f in g) for g in groups),
        tuple(n for n, row in zip(matrix.faults, matrix.bands, strict=True) if row == matrix.usual),
        tuple(_masks(view, matrix)),
        tuple(_redundant(matrix, pairs)),
        smallest_set(pairs, matrix.minutes),
    )


def ambiguous(matrix: Matrix, group: tuple[str, ...]) -> bool:
    """Whether a group asks for different repairs."""
    return len({matrix.remedy[matrix.index[f]] for f in group}) > 1


def _pairs(matrix: Matrix, groups: list[tuple[int, ...]]) -> Iterator[tuple[frozenset[str], ...]]:
    """The ways to tell each two groups apart, and each group from no fault."""
    first = [g[0] for g in groups]
    for n, a in enumerate(first):
        for b in (*first[:n], -1):
            yield tuple({way for s in matrix.separating(a, b) for way in matrix.ways[s]})


def _redundant(matrix: Matrix, pairs: list[tuple[frozenset[str], ...]]) -> Iterator[str]:
    """Checks without which every pair is still told apart."""
    needed: set[str] = set()
    for pair in pairs:
        needed |= frozenset.intersection(*pair) if pair else frozenset()
    yield from (name for name in matrix.minutes if name not in needed)


def _masks(view: TypeView, matrix: Matrix) -> Iterator[Mask]:
    """Faults that two others together look like: candidates from the rows, then proved with both present."""
    shown = [matrix.shown(f) for f in range(len(matrix.faults))]
    for f, row in enumerate(shown):
        parts = [g for g, other in enumerate(shown) if other and other < row]
        for n, g in enumerate(parts):
            for h in parts[:n]:
                if shown[g] | shown[h] == row and _alike(view, matrix, f, (h, g)):
                    yield Mask(matrix.faults[f], (matrix.faults[h], matrix.faults[g]))


def _alike(view: TypeView, matrix: Matrix, fault: int, pair: tuple[int, int]) -> bool:
    both = outcomes(view, [matrix.faults[g] for g in pair], matrix.signs)
    for chances, want, usual in zip(both, matrix.bands[fault], matrix.usual, strict=True):
        best = max(range(len(chances)), key=lambda i: chances[i])
        if (best if chances[best] > chances[usual] + 1e-9 else usual) != want:
            return False
    return True
