"""What each possible outcome of each sign would decide, for all of them in one pass."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from faultkit.diagnosis.belief import Belief
from faultkit.diagnosis.result import Settles
from faultkit.network.ir import Sign, plain

__all__ = ["Settling", "settling"]


@dataclass(frozen=True, slots=True)
class Settling:
    """For each (sign, band) that can come: the nodes it would make true, and false."""

    true: dict[tuple[str, str], frozenset[int]] = field(default_factory=dict)
    false: dict[tuple[str, str], frozenset[int]] = field(default_factory=dict)

    def confirming(self, node: int) -> tuple[Settles, ...]:
        """Signs and bands that would confirm a node."""
        return _by_sign(self.true, node)

    def ruling_out(self, node: int) -> tuple[Settles, ...]:
        """Signs and bands that would rule a node out."""
        return _by_sign(self.false, node)


def _by_sign(table: dict[tuple[str, str], frozenset[int]], node: int) -> tuple[Settles, ...]:
    bands: dict[str, list[str]] = {}
    for (sign, band), nodes in table.items():
        if node in nodes:
            bands.setdefault(sign, []).append(band)
    return tuple(Settles(plain(sign), tuple(b)) for sign, b in bands.items())


def settling(belief: Belief, signs: Sequence[Sign], nodes: Iterable[int]) -> Settling:
    """What the bands of unobserved ``signs`` would decide about ``nodes``, with all facts of now.

    Each deciding row of each sign is one column of a bit set: the events of the
    rows above it are false in that column, its own is true.
    """
    columns: list[tuple[Sign, int]] = [(s, j) for s in signs for j in range(len(s.chances))]
    everywhere = (1 << len(columns)) - 1
    present = dict.fromkeys(belief.evidence.facts, everywhere)
    masks = belief.masks(present, everywhere)
    at: dict[str, list[int]] = {s.name: [] for s in signs}
    for c, (sign, j) in enumerate(columns):
        bit = 1 << c
        at[sign.name].append(bit)
        for i, row in enumerate(sign.rows):
            if i < j:
                masks[2 * row + 1] &= ~bit
            elif i == j:
                masks[2 * row] &= ~bit
    value, true, false = belief.possible(masks)
    wanted = tuple(nodes)
    out = Settling()
    for sign in signs:
        for b, band in enumerate(sign.bands):
            here = 0
            for j, chances in enumerate(sign.chances):
                if chances[b] > 0.0:
                    here |= at[sign.name][j]
            here &= value
            if here:
                out.true[sign.name, band] = frozenset(n for n in wanted if not false[n] & here)
                out.false[sign.name, band] = frozenset(n for n in wanted if not true[n] & here)
    return out
