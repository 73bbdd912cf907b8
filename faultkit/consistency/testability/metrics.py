"""Figures of a dependency matrix, after IEEE 1522 (definitions as in its draft P1522/D1.0).

Fraction of faults detected: faults that some check shows, of all. Fraction isolated to L: detected faults
whose ambiguity group holds at most L, of the detected ones. A group counts faults, or repair
classes (faults that one remedy ends count once: telling them apart would change nothing that is done).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass

from faultkit.consistency.testability.matrix import Matrix

__all__ = ["Metrics", "metrics"]


@dataclass(frozen=True, slots=True)
class Metrics:
    """Figures of one type. Fractions by number of faults; ``weighted_…`` by how common they are.

    ``mean_group_size`` is the average over the groups, ``expected_group_size`` the average over the faults
    that are met, each as often as it is common.
    """

    faults: int
    detected: int
    groups: int
    fraction_detected: float
    weighted_fraction_detected: float
    fraction_isolated: tuple[float, float, float]
    fraction_isolated_to_remedies: tuple[float, float, float]
    mean_group_size: float
    expected_group_size: float
    mean_remedies_in_group: float

    def to_dict(self) -> dict[str, object]:
        """The figures as JSON holds them."""
        return {k: list(v) if isinstance(v, tuple) else v for k, v in asdict(self).items()}


def metrics(matrix: Matrix) -> Metrics:
    """The figures of a matrix; fractions of nothing are 1."""
    groups = matrix.groups()
    detected = [f for group in groups for f in group]
    share = matrix.share
    met = sum(share[f] for f in detected)
    sizes = [len(g) for g in groups]
    classes = [len({matrix.remedy[f] for f in g}) for g in groups]
    return Metrics(
        faults=len(matrix.faults),
        detected=len(detected),
        groups=len(groups),
        fraction_detected=_part(len(detected), len(matrix.faults)),
        weighted_fraction_detected=_part(met, sum(share)),
        fraction_isolated=_isolated(groups, sizes),
        fraction_isolated_to_remedies=_isolated(groups, classes),
        mean_group_size=_part(len(detected), len(groups)),
        expected_group_size=_part(sum(share[f] * len(g) for g in groups for f in g), met),
        mean_remedies_in_group=_part(sum(classes), len(groups)),
    )


def _part(some: float, whole: float) -> float:
    return some / whole if whole else 1.0


def _isolated(groups: Sequence[tuple[int, ...]], sizes: Sequence[int]) -> tuple[float, float, float]:
    total = sum(len(g) for g in groups)
    to = [_part(sum(len(g) for g, n in zip(groups, sizes, strict=True) if n <= level), total) for level in (1, 2, 3)]
    return to[0], to[1], to[2]
