"""What logic decides: entailed events, their least proofs, and facts that cannot hold together.

Subsets of facts are the columns of bit sets: one pass of the circuit answers
for all of them at once.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from faultkit.diagnosis.belief import Belief

__all__ = ["MOST_CONFLICTS", "Entailed", "conflict_sets", "entailed", "least_proofs"]

#: Conflicts listed; where there are more, no fact counts as free of them.
MOST_CONFLICTS = 20

#: Subsets of facts tried at once; beyond it proofs are shrunk fact by fact.
COLUMNS = 12_000


@dataclass(frozen=True, slots=True)
class Entailed:
    """Nodes that the facts decide. ``consistent`` is False where the facts cannot hold together."""

    consistent: bool
    true: frozenset[int]
    false: frozenset[int]

    def below(self, size: int) -> Entailed:
        """The same for the first ``size`` nodes alone."""
        return Entailed(
            self.consistent, frozenset(i for i in self.true if i < size), frozenset(i for i in self.false if i < size)
        )

    def also(self, known: Mapping[int, bool]) -> Entailed:
        """The same with what else is known."""
        return Entailed(
            self.consistent,
            self.true.union(i for i, v in known.items() if v),
            self.false.union(i for i, v in known.items() if not v),
        )

    @property
    def values(self) -> dict[int, bool]:
        """Each node decided, and how."""
        return dict.fromkeys(self.true, True) | dict.fromkeys(self.false, False)


def _columns(sets: Sequence[Iterable[str]], facts: Iterable[str]) -> dict[str, int]:
    """For each fact the bit set of the columns (subsets) that hold it."""
    present = dict.fromkeys(facts, 0)
    for c, chosen in enumerate(sets):
        for f in chosen:
            present[f] |= 1 << c
    return present


def _run(belief: Belief, sets: Sequence[Iterable[str]]) -> tuple[int, list[int], list[int]]:
    """One pass over all subsets given. Facts that are not hard are present everywhere: they exclude nothing."""
    everywhere = (1 << len(sets)) - 1
    present = dict.fromkeys(belief.evidence.facts, everywhere)
    present.update(_columns(sets, belief.hard_facts))
    return belief.possible(belief.masks(present, everywhere))


def entailed(belief: Belief, facts: Iterable[str] | None = None) -> Entailed:
    """What the hard facts given (all when None) decide."""
    chosen = belief.hard_facts if facts is None else tuple(f for f in belief.hard_facts if f in set(facts))
    value, true, false = _run(belief, [chosen])
    if not value & 1:
        return Entailed(False, frozenset(), frozenset())
    return Entailed(
        True,
        frozenset(i for i, f in enumerate(false) if not f & 1),
        frozenset(i for i, t in enumerate(true) if not t & 1),
    )


def _subsets(facts: Sequence[str], room: int = COLUMNS) -> list[tuple[str, ...]]:
    """Subsets in order of size, as many whole sizes as fit in ``room``."""
    out: list[tuple[str, ...]] = [()]
    for size in range(1, len(facts) + 1):
        layer = list(itertools.combinations(facts, size))
        if len(out) + len(layer) > room:
            break
        out += layer
    return out


def least_proofs(
    belief: Belief, found: Entailed, facts: Iterable[str] | None = None
) -> dict[int, tuple[str, ...]]:
    """For every node decided by the hard facts (of those given, if any) a least set that decides it.

    Smallest in number where that was within the columns tried; else minimal:
    no fact can be left out.
    """
    allowed = None if facts is None else set(facts)
    chosen = tuple(f for f in belief.hard_facts if allowed is None or f in allowed)
    tried = _subsets(chosen)
    value, true, false = _run(belief, tried)
    proofs: dict[int, tuple[str, ...]] = {}
    open_nodes: dict[int, bool] = {}
    for node, side in [*((i, True) for i in found.true), *((i, False) for i in found.false)]:
        hits = value & ~(false[node] if side else true[node])
        if hits:
            proofs[node] = tried[(hits & -hits).bit_length() - 1]
        else:
            open_nodes[node] = side
    if open_nodes:
        proofs.update(_shrunk(belief, open_nodes, chosen))
    return dict(sorted(proofs.items()))


def _shrunk(belief: Belief, nodes: Mapping[int, bool], facts: Sequence[str]) -> dict[int, tuple[str, ...]]:
    """Minimal proofs by leaving out fact after fact, all nodes side by side."""
    order = list(nodes)
    kept = {node: list(facts) for node in order}
    for f in facts:
        sets = [[x for x in kept[node] if x != f] for node in order]
        value, true, false = _run(belief, sets)
        for c, node in enumerate(order):
            against = false[node] if nodes[node] else true[node]
            if value >> c & 1 and not against >> c & 1:
                kept[node] = sets[c]
    return {node: tuple(s) for node, s in kept.items()}


def conflict_sets(belief: Belief, most: int = MOST_CONFLICTS) -> tuple[tuple[str, ...], ...]:
    """Minimal sets of facts that cannot hold together, smallest first, at most ``most``."""
    facts = belief.hard_facts
    tried = _subsets(facts)
    value, _, _ = _run(belief, tried)
    found: list[frozenset[str]] = []
    for c, chosen in enumerate(tried):
        if not value >> c & 1 and not any(s <= set(chosen) for s in found):
            found.append(frozenset(chosen))
            if len(found) >= most:
                break
    if len(tried) < 1 << len(facts):
        _grow(belief, facts, found, most)
    rank = {f: n for n, f in enumerate(facts)}
    sets = [tuple(sorted(s, key=lambda f: rank[f])) for s in found]
    return tuple(sorted(sets, key=lambda s: (len(s), [rank[f] for f in s])))


def _grow(belief: Belief, facts: Sequence[str], found: list[frozenset[str]], most: int) -> None:
    """Larger conflicts: leave out one fact of each known conflict and see whether the rest still clash."""
    queue: list[frozenset[str]] = [frozenset()]
    seen = {queue[0]}
    while queue and len(found) < most:
        without = queue.pop(0)
        rest = [f for f in facts if f not in without]
        known = next((s for s in found if not s & without), None)
        if known is None:
            if entailed(belief, rest).consistent:
                continue
            known = _minimal_conflict(belief, rest)
            found.append(known)
        for f in sorted(known):
            more = without | {f}
            if more not in seen:
                seen.add(more)
                queue.append(more)


def _minimal_conflict(belief: Belief, facts: Sequence[str]) -> frozenset[str]:
    kept = list(facts)
    for f in facts:
        fewer = [x for x in kept if x != f]
        if not entailed(belief, fewer).consistent:
            kept = fewer
    return frozenset(kept)
