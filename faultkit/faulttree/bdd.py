"""Binary decision diagrams of Boolean functions, without recursion.

A function is a node number. Node 0 is false, node 1 true; any other node is a
triple (variable, high, low): ``high`` when the variable is true, else ``low``.
Equal functions have equal numbers. Structure: Bryant 1986; use for fault trees:
Rauzy 1993 (both from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

from faultkit.faulttree.diagram import NodeTable
from faultkit.faulttree.zbdd import BASE, EMPTY, Zbdd

__all__ = ["FALSE", "TRUE", "Bdd"]

FALSE = 0
TRUE = 1
_Pair = tuple[int, int]


class Bdd(NodeTable):
    """One table of nodes over variables 0 … ``variables`` - 1, the first at the top.

    Raises TooLargeError from any operation that would pass ``node_limit`` nodes.
    """

    __slots__ = ("_ands", "_nots", "_ors")

    def __init__(self, variables: int, node_limit: int = 3_000_000) -> None:
        super().__init__(
            variables,
            (FALSE, TRUE),
            node_limit,
            "the exact probability needs",
            "a smaller tree, or bounds from its cut sets",
        )
        self._ands: dict[_Pair, int] = {}
        self._ors: dict[_Pair, int] = {}
        self._nots: dict[int, int] = {FALSE: TRUE, TRUE: FALSE}

    def node(self, var: int, high: int, low: int) -> int:
        """The node with these parts; both children stand below ``var``."""
        if high == low:
            return low
        return self._stored(var, high, low)

    def single(self, var: int) -> int:
        """The function that is the variable itself."""
        return self.node(var, TRUE, FALSE)

    def both(self, f: int, g: int) -> int:
        """``f`` and ``g``."""
        return self._combine(f, g, FALSE, TRUE, self._ands)

    def either(self, f: int, g: int) -> int:
        """``f`` or ``g``."""
        return self._combine(f, g, TRUE, FALSE, self._ors)

    def _combine(self, f: int, g: int, strong: int, weak: int, memo: dict[_Pair, int]) -> int:
        """And or or: ``strong`` decides the result alone, ``weak`` leaves the other."""
        var, high, low = self._var, self._high, self._low

        def known(a: int, b: int) -> int:
            if strong in (a, b):
                return strong
            if a in (weak, b):
                return b
            if b == weak:
                return a
            return memo.get((a, b) if a < b else (b, a), -1)

        root = known(f, g)
        stack: list[_Pair] = [] if root >= 0 else [(f, g) if f < g else (g, f)]
        while stack:
            a, b = key = stack[-1]
            if var[a] > var[b]:
                a, b = b, a
            b1, b0 = (high[b], low[b]) if var[a] == var[b] else (b, b)
            a1, a0 = high[a], low[a]
            tops = known(a1, b1)
            rest = known(a0, b0)
            if tops < 0 or rest < 0:
                if tops < 0:
                    stack.append((a1, b1) if a1 < b1 else (b1, a1))
                if rest < 0:
                    stack.append((a0, b0) if a0 < b0 else (b0, a0))
                continue
            root = memo[key] = self.node(var[a], tops, rest)
            stack.pop()
        return root

    def negate(self, f: int) -> int:
        """Not ``f``."""
        memo = self._nots
        for a in self.reachable(f):
            if a not in memo:
                memo[a] = self.node(self._var[a], memo[self._high[a]], memo[self._low[a]])
        return memo[f]

    def odd(self, f: int, g: int) -> int:
        """``f`` or ``g`` but not both."""
        return self.either(self.both(f, self.negate(g)), self.both(self.negate(f), g))

    def at_least(self, k: int, functions: Sequence[int]) -> int:
        """At least ``k`` of the functions; ``row[j]`` is "at least j of those met so far"."""
        row = [TRUE] + [FALSE] * k
        for f in self.lowest_first(functions):
            for j in range(k, 0, -1):
                row[j] = self.either(row[j], self.both(f, row[j - 1]))
        return row[k]

    def lowest_first(self, functions: Sequence[int]) -> list[int]:
        """The functions sorted so that joining them one by one stays cheap."""
        return sorted(functions, key=lambda f: -self._var[f])

    def values(self, root: int, chances: Sequence[float]) -> dict[int, float]:
        """P(node true) of every node under ``root``; ``chances`` are P(variable true)."""
        value: dict[int, float] = {FALSE: 0.0, TRUE: 1.0}
        for f in self.reachable(root):
            p = chances[self._var[f]]
            value[f] = p * value[self._high[f]] + (1.0 - p) * value[self._low[f]]
        return value

    def minimal_solutions(self, root: int, target: Zbdd) -> int:
        """Minimal sets of variables that, true with all others false, make the function true.

        The family is built in ``target``. For a coherent function these are its
        minimal cut sets, for any other its minimal p-cuts.
        """
        sets: dict[int, int] = {FALSE: EMPTY, TRUE: BASE}
        for f in self.reachable(root):
            low = sets[self._low[f]]
            sets[f] = target.node(self._var[f], target.without(sets[self._high[f]], low), low)
        return sets[root]
