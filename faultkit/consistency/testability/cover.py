"""A smallest set of checks that still tells apart all that any set of checks can.

Each pair to tell apart names ways to do it, each way a set of checks; a solution holds one way of every
pair. With ways of one check each this is the minimal hitting set. Branch and bound, exact unless
it says otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

__all__ = ["Smallest", "smallest_set"]

_NODES = 100_000

#: A way: a bit set of checks.
_Pair = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Smallest:
    """The checks found, in the order given; ``at_least`` bounds how few can do, their number when ``exact``."""

    checks: tuple[str, ...]
    minutes: float
    exact: bool
    at_least: int


def smallest_set(
    pairs: Iterable[Iterable[frozenset[str]]], minutes: Mapping[str, float], nodes: int = _NODES
) -> Smallest:
    """Fewest checks, then fewest minutes, that hold one way of every pair.

    Pairs without any way are left out: nothing tells them apart. ``nodes`` bounds the search.
    """
    names = list(minutes)
    bit = {n: 1 << i for i, n in enumerate(names)}
    wanted = {tuple(sorted({sum(bit[c] for c in way) for way in pair})) for pair in pairs}
    search = _Search([_least(p) for p in wanted if p], [minutes[n] for n in names], nodes)
    search.run()
    chosen = tuple(n for n in names if search.best & bit[n])
    return Smallest(
        chosen,
        sum(minutes[n] for n in chosen),
        search.exact,
        len(chosen) if search.exact else search.bound,
    )


def _least(pair: _Pair) -> _Pair:
    return tuple(w for w in pair if not any(v != w and v & w == v for v in pair))


class _Search:
    def __init__(self, pairs: Sequence[_Pair], minutes: Sequence[float], nodes: int) -> None:
        self.minutes = minutes
        self.nodes = nodes
        self.exact = True
        forced = 0
        todo = list(dict.fromkeys(pairs))
        while True:  # a pair with one way leaves no choice, and that may serve others
            todo = [p for p in todo if not _met(p, forced)]
            only = [p[0] for p in todo if len(p) == 1]
            if not only:
                break
            for way in only:
                forced |= way
        self.forced = forced
        self.pairs = _hardest(todo)
        self.best = self._greedy(forced)
        self.bound = forced.bit_count() + self._independent(self.pairs, forced)

    def cost(self, chosen: int) -> tuple[int, float]:
        return chosen.bit_count(), sum(m for i, m in enumerate(self.minutes) if chosen >> i & 1)

    def run(self) -> None:
        self._branch(self.forced, self.pairs, 0)

    def _greedy(self, chosen: int) -> int:
        left = [p for p in self.pairs if not _met(p, chosen)]
        while left:
            ways = {w & ~chosen for p in left for w in p}
            best = min(ways, key=lambda w: (w.bit_count() / sum(_met(p, chosen | w) for p in left), self.cost(w)[1], w))
            chosen |= best
            left = [p for p in left if not _met(p, chosen)]
        return chosen

    def _independent(self, pairs: Sequence[_Pair], chosen: int) -> int:
        """Pairs of which no two can be served by one further check: each costs one at least."""
        taken = count = 0
        for p in sorted(pairs, key=_checks):
            union = 0
            for w in p:
                union |= w & ~chosen
            if not union & taken:
                taken |= union
                count += 1
        return count

    def _branch(self, chosen: int, pairs: Sequence[_Pair], barred: int) -> None:
        """``barred`` are checks decided against: a way that needs one is gone."""
        self.nodes -= 1
        if self.nodes < 0:
            self.exact = False
            return
        left = []
        for p in pairs:
            if not _met(p, chosen):
                ways = tuple(w for w in p if not w & barred)
                if not ways:
                    return
                left.append(ways)
        if not left:
            if self.cost(chosen) < self.cost(self.best):
                self.best = chosen
            return
        if chosen.bit_count() + self._independent(left, chosen) > self.best.bit_count():
            return
        pair = min(left, key=lambda p: (len(p), p))
        tried = barred
        for way in sorted(pair, key=lambda w: self.cost(w & ~chosen)):
            new = way & ~chosen
            self._branch(chosen | way, left, tried)
            if new.bit_count() == 1:  # it was tried: the other branches do without it
                tried |= new


def _checks(pair: _Pair) -> int:
    union = 0
    for w in pair:
        union |= w
    return union.bit_count()


def _met(pair: _Pair, chosen: int) -> bool:
    return any(w & chosen == w for w in pair)


def _hardest(pairs: Sequence[_Pair]) -> list[_Pair]:
    """Pairs that serving another one does not serve anyway."""
    kept: list[_Pair] = []
    for p in sorted(pairs, key=lambda p: (len(p), _checks(p), p)):
        if not any(all(any(v & w == v for v in p) for w in q) for q in kept):
            kept.append(p)
    return kept
