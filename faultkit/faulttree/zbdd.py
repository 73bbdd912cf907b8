"""Zero-suppressed decision diagrams of minimal set families, without recursion.

A family of sets is a node number. Node 0 is the empty family, node 1 the family
holding only the empty set; any other node is a triple (variable, high, low): the
sets of ``high`` with the variable added, and the sets of ``low``. Equal families
have equal numbers. All families here are minimal: no set contains another.
Structure: Minato 1993; minimal operations: Rauzy 1993 (both from memory).

Every operation keeps its own stack, so the depth of Python's call stack does not
grow with the number of variables.
"""

from __future__ import annotations

from collections.abc import Sequence

from faultkit.faulttree.diagram import NodeTable

__all__ = ["BASE", "EMPTY", "Zbdd"]

EMPTY = 0
BASE = 1
_Pair = tuple[int, int]
_Triple = tuple[int, int, int]


class Zbdd(NodeTable):
    """One table of nodes over variables 0 … ``variables`` - 1, the first at the top.

    Raises TooLargeError from any operation that would pass ``node_limit`` nodes.
    """

    __slots__ = ("_limited", "_products", "_unions", "_without")

    def __init__(self, variables: int, node_limit: int = 5_000_000) -> None:
        super().__init__(
            variables, (EMPTY, EMPTY), node_limit, "the cut sets need", "a smaller tree, or an order limit"
        )
        self._unions: dict[_Pair, int] = {}
        self._without: dict[_Pair, int] = {}
        self._products: dict[_Triple, int] = {}
        self._limited: dict[_Pair, int] = {}

    def node(self, var: int, high: int, low: int) -> int:
        """The node with these parts; both children stand below ``var``."""
        if high == EMPTY:
            return low
        return self._stored(var, high, low)

    def single(self, var: int) -> int:
        """The family holding only the set {var}."""
        return self.node(var, BASE, EMPTY)

    def union(self, f: int, g: int) -> int:
        """Minimal sets of ``f`` and ``g`` together."""
        var, high, low, memo = self._var, self._high, self._low, self._unions
        known = _known_union
        root = known(memo, f, g)
        stack: list[_Pair] = [] if root >= 0 else [(f, g) if f < g else (g, f)]
        while stack:
            a, b = key = stack[-1]
            if var[a] > var[b]:
                a, b = b, a
            same = var[a] == var[b]
            b1, b0 = (high[b], low[b]) if same else (EMPTY, b)
            rest = known(memo, low[a], b0)
            if rest < 0:
                stack.append(_pair(low[a], b0))
                continue
            tops = known(memo, high[a], b1)
            if tops < 0:
                stack.append(_pair(high[a], b1))
                continue
            root = memo[key] = self.node(var[a], self.without(tops, rest), rest)
            stack.pop()
        return root

    def without(self, f: int, g: int) -> int:
        """Sets of ``f`` that contain no set of ``g``."""
        var, high, low, memo = self._var, self._high, self._low, self._without
        root = self._known_without(f, g)
        stack: list[_Pair] = [] if root >= 0 else [(f, g)]
        while stack:
            a, b = key = stack[-1]
            if var[b] < var[a]:
                steps = [(a, low[b])]
            elif var[a] < var[b]:
                steps = [(low[a], b), (high[a], b)]
            else:
                steps = [(low[a], low[b]), (high[a], high[b])]
            got = [self._known_without(*s) for s in steps]
            missing = [s for s, r in zip(steps, got, strict=True) if r < 0]
            if missing:
                stack += missing
                continue
            root = got[0]
            if len(got) == 2:
                tops = got[1]
                if var[a] == var[b]:
                    again = self._known_without(tops, low[b])
                    if again < 0:
                        stack.append((tops, low[b]))
                        continue
                    tops = again
                root = self.node(var[a], tops, root)
            memo[key] = root
            stack.pop()
        return root

    def _known_without(self, f: int, g: int) -> int:
        if EMPTY in (f, g):
            return f
        if g in (f, BASE):
            return EMPTY
        if f == BASE:
            return BASE  # g holds no empty set, or it were BASE
        return self._without.get((f, g), -1)

    def product(self, f: int, g: int, order: int = -1) -> int:
        """Minimal sets among the unions of a set of ``f`` and a set of ``g``.

        ``order`` leaves out sets of more than ``order`` variables; -1 keeps all.
        """
        var, high, low, memo = self._var, self._high, self._low, self._products
        root = self._known_product(f, g, order)
        stack: list[_Triple] = [] if root >= 0 else [(*_pair(f, g), order)]
        while stack:
            a, b, n = key = stack[-1]
            if var[a] > var[b]:
                a, b = b, a
            down = n - 1 if n > 0 else n
            if var[a] == var[b]:
                both = self.union(high[b], low[b])
                steps = [(low[a], low[b], n), (high[a], both, down), (low[a], high[b], down)]
            else:
                steps = [(low[a], b, n), (high[a], b, down)]
            got = [self._known_product(*s) for s in steps]
            missing = [(*_pair(s[0], s[1]), s[2]) for s, r in zip(steps, got, strict=True) if r < 0]
            if missing:
                stack += missing
                continue
            tops = got[1] if len(got) == 2 else self.union(got[1], got[2])
            root = memo[key] = self.node(var[a], self.without(tops, got[0]), got[0])
            stack.pop()
        return root

    def _known_product(self, f: int, g: int, order: int) -> int:
        if EMPTY in (f, g):
            return EMPTY
        if f in (BASE, g):
            return self.limit(g, order)
        if g == BASE:
            return self.limit(f, order)
        if order == 0:
            return EMPTY
        return self._products.get((f, g, order) if f < g else (g, f, order), -1)

    def limit(self, f: int, order: int) -> int:
        """Sets of ``f`` of at most ``order`` variables; -1 keeps all."""
        if order < 0 or f <= BASE:
            return f
        var, high, low, memo = self._var, self._high, self._low, self._limited
        root = -1
        stack = [(f, order)]
        while stack:
            a, n = key = stack[-1]
            steps = [(low[a], n), (high[a], n - 1)]
            got = [_known_limit(memo, *s) for s in steps]
            missing = [s for s, r in zip(steps, got, strict=True) if r < 0]
            if missing:
                stack += missing
                continue
            root = memo[key] = self.node(var[a], got[1], got[0])
            stack.pop()
        return root

    def concatenate(self, f: int, high: int, low: int) -> int:
        """Every set of ``f`` joined with every set of ``high``, and the sets of ``low``.

        ``high`` and ``low`` stand below all variables of ``f``; the result is
        minimal when no set of ``high`` contains a set of ``low``.
        """
        new = {EMPTY: EMPTY, BASE: high}
        for a in self.reachable(f):
            new[a] = self.node(self._var[a], new[self._high[a]], new[self._low[a]])
        spine = []  # the path on which no variable of f is chosen: there the sets of low join
        while f > BASE:
            spine.append(f)
            f = self._low[f]
        result = low if f == EMPTY else self.union(high, low)
        for a in reversed(spine):
            result = self.node(self._var[a], new[self._high[a]], result)
        return result

    def union_all(self, families: Sequence[int]) -> int:
        """Union of many, the lowest in the diagram first."""
        result = EMPTY
        for f in sorted(families, key=lambda f: -self._var[f]):
            result = self.union(f, result)
        return result

    def product_all(self, families: Sequence[int], order: int = -1) -> int:
        """Product of many, the lowest in the diagram first."""
        result = BASE
        for f in sorted(families, key=lambda f: -self._var[f]):
            result = self.product(f, result, order)
        return result

    def at_least(self, k: int, families: Sequence[int], order: int = -1) -> int:
        """Minimal sets that hold a set of at least ``k`` of the families.

        ``row[j]`` is "at least j of the families met so far": len(families) times k
        products, no listing of the choices.
        """
        row = [BASE] + [EMPTY] * k
        for f in sorted(families, key=lambda f: -self._var[f]):
            for j in range(k, 0, -1):
                row[j] = self.union(row[j], self.product(f, row[j - 1], order))
        return row[k]


def _pair(f: int, g: int) -> _Pair:
    return (f, g) if f < g else (g, f)


def _known_union(memo: dict[_Pair, int], f: int, g: int) -> int:
    if g in (f, EMPTY):
        return f
    if f == EMPTY:
        return g
    if BASE in (f, g):
        return BASE
    return memo.get((f, g) if f < g else (g, f), -1)


def _known_limit(memo: dict[_Pair, int], f: int, order: int) -> int:
    if order < 0:
        return EMPTY
    if f <= BASE:
        return f
    if order == 0:
        return EMPTY
    return memo.get((f, order), -1)
