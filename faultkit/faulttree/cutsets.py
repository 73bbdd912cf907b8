"""Minimal cut sets of a fault tree, and minimal hitting sets."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from faultkit.faulttree.compiled import compile_cut_sets
from faultkit.faulttree.tree import FaultTree
from faultkit.faulttree.zbdd import BASE, EMPTY, Zbdd
from faultkit.problems import InputError

__all__ = ["CutSet", "CutSets", "minimal_cut_sets", "minimal_hitting_sets"]

#: A set of basic events, in the order of the diagram's variables.
CutSet = tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class CutSets:
    """A family of minimal sets of events, held as a diagram: never listed unless asked.

    ``events`` are the names the sets are made of, ``probabilities`` those of the
    events (empty for sets that have none). ``order_limit`` is the greatest number
    of events in a set that was kept, None when all were. The family holding only
    the empty set stands for a top event that is always true, the family of no set
    for one that never is.
    """

    events: tuple[str, ...]
    probabilities: Mapping[str, float]
    order_limit: int | None
    _zbdd: Zbdd = field(repr=False)
    _root: int = field(repr=False)

    @property
    def count(self) -> int:
        """Number of sets, exact, without listing them."""
        counts = {EMPTY: 0, BASE: 1}
        for f in self._zbdd.reachable(self._root):
            _, high, low = self._zbdd.parts(f)
            counts[f] = counts[high] + counts[low]
        return counts[self._root]

    def count_by_order(self) -> dict[int, int]:
        """Number of sets of each order (number of events), orders rising."""
        by_size: dict[int, dict[int, int]] = {EMPTY: {}, BASE: {0: 1}}
        for f in self._zbdd.reachable(self._root):
            _, high, low = self._zbdd.parts(f)
            row = dict(by_size[low])
            for size, n in by_size[high].items():
                row[size + 1] = row.get(size + 1, 0) + n
            by_size[f] = row
        return dict(sorted(by_size[self._root].items()))

    def __iter__(self) -> Iterator[CutSet]:
        """The sets, smallest order first, then by the order of ``events``. Listed as they are met."""
        sizes = {EMPTY: 0, BASE: 1}  # bit n set: a set of n events lies below
        for f in self._zbdd.reachable(self._root):
            _, high, low = self._zbdd.parts(f)
            sizes[f] = sizes[high] << 1 | sizes[low]
        for size in range(sizes[self._root].bit_length()):
            yield from self._of_size(size, sizes)

    def _of_size(self, size: int, sizes: Mapping[int, int]) -> Iterator[CutSet]:
        stack: list[tuple[int, int, CutSet]] = [(self._root, size, ())]
        while stack:
            f, left, chosen = stack.pop()
            if not sizes[f] >> left & 1:
                continue
            if f == BASE:
                yield chosen
                continue
            var, high, low = self._zbdd.parts(f)
            stack.append((low, left, chosen))
            if left:
                stack.append((high, left - 1, (*chosen, self.events[var])))

    def up_to(self, order: int) -> CutSets:
        """The sets of at most ``order`` events."""
        limit = order if self.order_limit is None else min(order, self.order_limit)
        root = self._zbdd.limit(self._root, max(order, 0))
        return CutSets(self.events, self.probabilities, limit, self._zbdd, root)

    def _chances(self) -> list[float]:
        if self.events and not self.probabilities:
            raise InputError("these sets have no probabilities", "pass probabilities when making them")
        return [self.probabilities[e] for e in self.events]

    def ranked(self) -> Iterator[tuple[float, CutSet]]:
        """Probability and set, the most probable first; listed as they are asked for.

        Best-first search: the greatest product below a node is exact, so each
        step follows a set that will be given. Raises InputError without probabilities.
        """
        chances = self._chances()
        best = {EMPTY: -1.0, BASE: 1.0}
        for f in self._zbdd.reachable(self._root):
            var, high, low = self._zbdd.parts(f)
            best[f] = max(chances[var] * best[high], best[low])
        heap: list[tuple[float, int, int, float, CutSet]] = []
        if self._root != EMPTY:
            heap.append((-best[self._root], 0, self._root, 1.0, ()))
        serial = 0
        while heap:
            _, _, f, p, chosen = heapq.heappop(heap)
            if f == BASE:
                yield p, chosen
                continue
            var, high, low = self._zbdd.parts(f)
            q = p * chances[var]
            serial += 2
            heapq.heappush(heap, (-q * best[high], serial, high, q, (*chosen, self.events[var])))
            if low != EMPTY:
                heapq.heappush(heap, (-p * best[low], serial + 1, low, p, chosen))

    def most_probable(self, n: int) -> list[tuple[float, CutSet]]:
        """The ``n`` most probable sets with their probabilities, the most probable first."""
        return [pair for pair, _ in zip(self.ranked(), range(n), strict=False)]

    def _power_sum(self, chances: list[float]) -> float:
        """Sum over the sets of the product of ``chances``."""
        total = {EMPTY: 0.0, BASE: 1.0}
        for f in self._zbdd.reachable(self._root):
            var, high, low = self._zbdd.parts(f)
            total[f] = chances[var] * total[high] + total[low]
        return total[self._root]

    def rare_event_sum(self) -> float:
        """Sum of the probabilities of the sets (NUREG-0492; may pass 1)."""
        return self._power_sum(self._chances())

    def upper_bound(self) -> float:
        """Min-cut upper bound: 1 - product over the sets of (1 - P(set)).

        The logarithm of the product is summed as a series of power sums, each one
        pass over the diagram, so the sets are not listed; sets more probable than
        one half are taken out first to make the series converge at once.
        """
        chances = self._chances()
        if self.rare_event_sum() > 800.0:
            return 1.0
        likely: list[float] = []
        for p, _ in self.ranked():
            if p <= 0.5:
                break
            if p >= 1.0:
                return 1.0
            likely.append(p)
        log = math.fsum(-math.log1p(-p) for p in likely)
        for k in range(1, 200):
            rest = self._power_sum([c**k for c in chances]) - math.fsum(p**k for p in likely)
            log += rest / k
            if rest <= 1e-18 * log:
                break
        return -math.expm1(-log)

    def occurrences(self) -> dict[str, int]:
        """In how many sets each event stands, all events in one pass."""
        nodes = self._zbdd.reachable(self._root)
        below = {EMPTY: 0, BASE: 1}
        for f in nodes:
            _, high, low = self._zbdd.parts(f)
            below[f] = below[high] + below[low]
        above = dict.fromkeys(nodes, 0) | {EMPTY: 0, BASE: 0, self._root: 1}
        found = dict.fromkeys(self.events, 0)
        for f in reversed(nodes):
            var, high, low = self._zbdd.parts(f)
            found[self.events[var]] += above[f] * below[high]
            above[high] += above[f]
            above[low] += above[f]
        return found

    def sums_through(self) -> dict[str, float]:
        """Sum of the probabilities of the sets through each event, all events in one pass."""
        chances = self._chances()
        nodes = self._zbdd.reachable(self._root)
        below = {EMPTY: 0.0, BASE: 1.0}
        for f in nodes:
            var, high, low = self._zbdd.parts(f)
            below[f] = chances[var] * below[high] + below[low]
        above = dict.fromkeys(nodes, 0.0) | {EMPTY: 0.0, BASE: 0.0, self._root: 1.0}
        found = dict.fromkeys(self.events, 0.0)
        for f in reversed(nodes):
            var, high, low = self._zbdd.parts(f)
            share = above[f] * chances[var]
            found[self.events[var]] += share * below[high]
            above[high] += share
            above[low] += above[f]
        return found


def minimal_cut_sets(tree: FaultTree, order: int | None = None) -> CutSets:
    """Minimal cut sets of a coherent tree; minimal p-cuts of any other.

    A minimal p-cut is a smallest set of events that, true with all other events
    false, makes the top event true (Rauzy 2001, from memory). ``order`` keeps only
    sets of that many events or fewer. Raises InputError for an order below 0 or a
    tree too large for the diagrams.
    """
    if order is not None and order < 0:
        raise InputError(f"order limit {order}", "a whole number from 0, or None for no limit")
    zbdd, root, events = compile_cut_sets(tree, -1 if order is None else order)
    chances = {e: tree.probabilities[e] for e in events}
    return CutSets(events, chances, order, zbdd, root)


def minimal_hitting_sets(
    collection: Iterable[Iterable[str]], probabilities: Mapping[str, float] | None = None
) -> CutSets:
    """Smallest sets that share a member with every set of the collection.

    With the minimal conflicts of a system as the collection these are its minimal
    diagnoses (Reiter 1987, from memory). An empty collection is hit by the empty
    set; a collection holding an empty set by none. Raises InputError when a member
    has no probability though some are given.
    """
    sets = [list(dict.fromkeys(s)) for s in collection]
    events = list(dict.fromkeys(e for s in sets for e in s))
    chances = dict(probabilities or {})
    missing = [e for e in events if e not in chances]
    if chances and missing:
        raise InputError(f"no probability for {', '.join(repr(e) for e in missing)}", "one for each member")
    zbdd = Zbdd(len(events))
    place = {e: i for i, e in enumerate(events)}
    families = [zbdd.union_all([zbdd.single(place[e]) for e in s]) for s in sets]
    root = BASE
    for family in sorted(families, key=lambda f: len(zbdd.reachable(f))):
        root = zbdd.product(root, family)
    return CutSets(tuple(events), {e: chances[e] for e in events if e in chances}, None, zbdd, root)
