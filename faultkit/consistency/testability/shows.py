"""What a few faults make each reading show, with chances, while no other fault is there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from faultkit.consistency.logic import Logic
from faultkit.faulttree.bdd import FALSE, TRUE, Bdd
from faultkit.network.ir import NodeKind, Sign

__all__ = ["Shows"]


class Shows:
    """Worlds of a type with a few faults in them.

    Only weak links are left to chance there, so functions are diagrams over these alone, and only what
    stands above a fault differs from the sound state. What comes and goes shows.
    """

    def __init__(self, logic: Logic) -> None:
        self.net = logic.net
        nodes = self.net.nodes
        weak = [i for i, n in enumerate(nodes) if n.kind is NodeKind.INHIBITOR and ">" in n.name]
        self.bdd = Bdd(len(weak))
        self.chance_of = [nodes[i].prior for i in weak]
        self.known = {FALSE: 0.0, TRUE: 1.0}
        self.above: list[list[int]] = [[] for _ in nodes]
        for i, node in enumerate(nodes):
            for j in node.inputs:
                self.above[j].append(i)
        place = {i: self.bdd.single(k) for k, i in enumerate(weak)}
        self.sound: dict[int, int] = {}
        for i, node in enumerate(nodes):
            if not node.is_root:
                self.sound[i] = self._gate(i, self.sound)
            elif node.kind is NodeKind.INHIBITOR:
                self.sound[i] = place.get(i, TRUE)
            else:
                self.sound[i] = FALSE

    def world(self, faults: Iterable[int]) -> Mapping[int, int]:
        """The function of every node when just these roots hold."""
        roots = list(faults)
        changed: set[int] = set()
        stack = list(roots)
        while stack:
            for i in self.above[stack.pop()]:
                if i not in changed:
                    changed.add(i)
                    stack.append(i)
        values = self.sound | dict.fromkeys(roots, TRUE)
        for i in sorted(changed):
            values[i] = self._gate(i, values)
        return values

    def _gate(self, i: int, values: Mapping[int, int]) -> int:
        node = self.net.nodes[i]
        parts = [values[j] for j in node.inputs]
        if node.kind is NodeKind.AT_LEAST:
            return self.bdd.at_least(node.k, parts)
        if node.kind is NodeKind.ANY_OF:
            if TRUE in parts:
                return TRUE
            found = FALSE
            for f in self.bdd.lowest_first([f for f in parts if f != FALSE]):
                found = self.bdd.either(found, f)
            return found
        if FALSE in parts:
            return FALSE
        found = TRUE
        for f in self.bdd.lowest_first(parts):
            found = self.bdd.both(found, f)
        return found

    def chances(self, sign: Sign, world: Mapping[int, int]) -> tuple[float, ...]:
        """Chances of the bands of a sign in a world."""
        total = [0.0] * len(sign.bands)
        above = FALSE
        for row, chances in zip((*sign.rows, None), sign.chances, strict=True):
            f = TRUE if row is None else world[row]
            if f == FALSE:
                continue
            p = self._probability(self.bdd.both(f, self.bdd.negate(above)))
            total = [t + p * c for t, c in zip(total, chances, strict=True)]
            above = self.bdd.either(above, f)
            if above == TRUE:
                break
        return tuple(total)

    def _probability(self, function: int) -> float:
        for f in self.bdd.reachable(function) if function not in self.known else ():
            if f not in self.known:
                var, high, low = self.bdd.parts(f)
                p = self.chance_of[var]
                self.known[f] = p * self.known[high] + (1.0 - p) * self.known[low]
        return self.known[function]
