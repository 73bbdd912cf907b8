"""Minimal cut sets, against dd: its diagrams, and the minimal solutions taken from them in Python.

dd has no minimal cut sets of its own; the pass below (after Rauzy 1993, from
memory) is the shortest way to them. Both sides count the sets without listing them.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from types import ModuleType
from typing import Any

from faultkit.faulttree import FaultTree, minimal_cut_sets
from tests.benchmarks.contest import Contest, close
from tests.faulttree.test_random_trees import generated

__all__ = ["contests"]

#: A family of sets: False (none), True (only the empty set) or (level, with the event, without it).
Family = Any


class Minimal:
    """Minimal solutions of monotone functions held by a dd manager."""

    def __init__(self, library: ModuleType, tree: FaultTree) -> None:
        self.manager: Any = library.BDD()
        self.manager.declare(*tree.events)
        self.level = {e: n for n, e in enumerate(tree.events)}
        self.solved: dict[Any, Family] = {}
        self.reduced: dict[tuple[int, Any], Family] = {}
        self.kept: dict[tuple[int, int, int], Family] = {}
        self.top = self.build(tree)

    def build(self, tree: FaultTree) -> Any:
        m = self.manager
        f = {e: m.var(e) for e in tree.events}
        waiting = [tree.top]
        while waiting:
            name = waiting[-1]
            gate = tree.gates[name]
            missing = [i for i in gate.inputs if i not in f]
            if missing:
                waiting += missing
                continue
            waiting.pop()
            need = {"any_of": 1, "all_of": len(gate.inputs)}.get(gate.op, gate.k)
            reached = [m.true] + [m.false] * need
            for i in gate.inputs:
                for n in range(need, 0, -1):
                    reached[n] = reached[n] | (reached[n - 1] & f[i])
            f[name] = reached[need]
        return f[tree.top]

    def parts(self, u: Any) -> tuple[int, Any, Any]:
        high, low = (~u.high, ~u.low) if u.negated else (u.high, u.low)
        return self.level[u.var], high, low

    def node(self, level: int, high: Family, low: Family) -> Family:
        if high is False:
            return low
        return self.kept.setdefault((level, id(high), id(low)), (level, high, low))

    def solutions(self, u: Any) -> Family:
        if u in (self.manager.true, self.manager.false):
            return bool(u == self.manager.true)
        key = int(u)
        if key not in self.solved:
            level, high, low = self.parts(u)
            self.solved[key] = self.node(level, self.without(self.solutions(high), low), self.solutions(low))
        return self.solved[key]

    def without(self, family: Family, u: Any) -> Family:
        """The sets of a family that do not already make ``u`` true."""
        if family is False or u == self.manager.true:
            return False
        if u == self.manager.false:
            return family
        key = (id(family), int(u))
        if key not in self.reduced:
            level, high, low = self.parts(u)
            if family is True or family[0] > level:
                found = self.without(family, low)
            elif family[0] < level:
                found = self.node(family[0], self.without(family[1], u), self.without(family[2], u))
            else:
                found = self.node(level, self.without(family[1], high), self.without(family[2], low))
            self.reduced[key] = found
        return self.reduced[key]

    def count(self) -> int:
        counts: dict[int, int] = {}

        def of(family: Family) -> int:
            if isinstance(family, bool):
                return int(family)
            if id(family) not in counts:
                counts[id(family)] = of(family[1]) + of(family[2])
            return counts[id(family)]

        return of(self.solutions(self.top))


def contests() -> list[Contest]:
    from dd import autoref, cudd

    out = []
    for seed in (1, 2, 3):
        tree = generated(seed, 60, 40)

        def peer(library: ModuleType, tree: FaultTree = tree) -> int:
            return Minimal(library, tree).count()

        count = minimal_cut_sets(tree).count
        runs: dict[str, Callable[[], object]] = {
            "faultkit": lambda tree=tree: minimal_cut_sets(tree).count,  # type: ignore[misc]
            "dd.cudd": partial(peer, cudd),
            "dd.autoref": partial(peer, autoref),
        }
        notes = {
            "dd.cudd": "diagram in C, minimal solutions in Python",
            "dd.autoref": "diagram in Python too",
        }
        size = f"{len(tree.events)} events, {len(tree.gates)} gates, {count} sets"
        out.append(Contest(f"minimal cut sets: {size}", runs, close, notes))
    return out
