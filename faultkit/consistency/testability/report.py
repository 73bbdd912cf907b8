"""Testability of one type: figures, groups, masks, redundant checks, and the smallest set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from faultkit.consistency.standalone import MAIN
from faultkit.consistency.subject import Subject, TypeView
from faultkit.consistency.testability.cover import Smallest, smallest_set
from faultkit.consistency.testability.matrix import Matrix, dependency_matrix, likeliest
from faultkit.consistency.testability.metrics import Metrics, metrics
from faultkit.consistency.testability.shows import Shows

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
    shows = Shows(view.logic)
    matrix = dependency_matrix(view, shows)
    groups = matrix.groups()
    pairs = list(_pairs(matrix, groups))
    return Testability(
        view.kind.name,
        matrix,
        metrics(matrix),
        tuple(tuple(matrix.faults[f] for f in g) for g in groups),
        tuple(n for n, row in zip(matrix.faults, matrix.bands, strict=True) if row == matrix.usual),
        tuple(_masks(view, matrix, shows)),
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


def _masks(view: TypeView, matrix: Matrix, shows: Shows) -> Iterator[Mask]:
    """Faults that two others together look like: candidates from the rows, then proved with both present."""
    shown = [matrix.shown(f) for f in range(len(matrix.faults))]
    roots = [view.logic.basics[f"{MAIN}.{name}"][1] for name in matrix.faults]
    signs = [view.logic.net.signs[f"{MAIN}.{name}"] for name in matrix.signs]
    for f, row in enumerate(shown):
        parts = [g for g, other in enumerate(shown) if other and other < row]
        for n, g in enumerate(parts):
            for h in parts[:n]:
                if shown[g] | shown[h] != row:
                    continue
                world = shows.world([roots[g], roots[h]])
                both = (likeliest(shows.chances(s, world), u) for s, u in zip(signs, matrix.usual, strict=True))
                if tuple(both) == matrix.bands[f]:
                    yield Mask(matrix.faults[f], (matrix.faults[h], matrix.faults[g]))
