"""Tidy drawings of trees: Buchheim, Jünger and Leipert's linear form of Walker's algorithm, nodes as wide as they are.

Source: C. Buchheim, M. Jünger, S. Leipert, Improving Walker's algorithm to run in linear time,
Graph Drawing 2002, LNCS 2528 (written from memory). No recursion: a tree may be as deep as it likes.
"""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["tidy"]


def tidy(parents: Sequence[int], widths: Sequence[float], gap: float = 0.0) -> list[float]:
    """The middle of each node, x of the leftmost edge 0.

    ``parents[i]`` is the index of i's parent, smaller than i, or -1 for the root (index 0
    alone); children stand in the order of their indices. Nodes of one level are at least
    ``gap`` apart, parents in the middle over their first and last child.
    """
    if not parents:
        return []
    tree = _Tidy(parents, widths, gap)
    for v in range(len(parents) - 1, -1, -1):  # children before their parents
        tree.place_children(v)
    x = [0.0] * len(parents)
    shift = [0.0] * len(parents)
    x[0] = tree.prelim[0]
    shift[0] = tree.mod[0]
    for v in range(1, len(parents)):
        p = parents[v]
        x[v] = tree.prelim[v] + shift[p]
        shift[v] = shift[p] + tree.mod[v]
    left = min(c - w / 2 for c, w in zip(x, widths, strict=True))
    return [c - left for c in x]


class _Tidy:
    """First walk. Names as in the paper: prelim, mod, thread, ancestor, change, shift."""

    def __init__(self, parents: Sequence[int], widths: Sequence[float], gap: float) -> None:
        n = len(parents)
        self.parents = parents
        self.widths = widths
        self.gap = gap
        self.children: list[list[int]] = [[] for _ in range(n)]
        self.number = [0] * n
        for v in range(1, n):
            siblings = self.children[parents[v]]
            self.number[v] = len(siblings)
            siblings.append(v)
        self.prelim = [0.0] * n
        self.mod = [0.0] * n
        self.change = [0.0] * n
        self.shift = [0.0] * n
        self.thread: list[int | None] = [None] * n
        self.ancestor = list(range(n))

    def apart(self, a: int, b: int) -> float:
        """Least distance of two neighbours' middles."""
        return (self.widths[a] + self.widths[b]) / 2 + self.gap

    def place_children(self, v: int) -> None:
        """The children of v beside each other, v's own place over them kept as an offset to its left sibling."""
        children = self.children[v]
        if not children:
            return
        default = children[0]
        for n, w in enumerate(children):
            below = self.children[w]
            middle = (self.prelim[below[0]] + self.prelim[below[-1]]) / 2 if below else 0.0
            if n:
                left = children[n - 1]
                self.prelim[w] = self.prelim[left] + self.apart(left, w)
                if below:
                    self.mod[w] = self.prelim[w] - middle
            else:
                self.prelim[w] = middle
            default = self.apportion(w, n, children, default)
        self.execute_shifts(children)
        if v == 0:
            self.prelim[0] = (self.prelim[children[0]] + self.prelim[children[-1]]) / 2

    def apportion(self, v: int, n: int, siblings: list[int], default: int) -> int:
        """Push v's subtree right of its left siblings' and spread the push over those between."""
        if not n:
            return default
        inner_r = outer_r = v                 # left contour of v's subtree; right contour of it
        inner_l, outer_l = siblings[n - 1], siblings[0]
        s_ir, s_or = self.mod[inner_r], self.mod[outer_r]
        s_il, s_ol = self.mod[inner_l], self.mod[outer_l]
        right, left = self.next_right(inner_l), self.next_left(inner_r)
        while right is not None and left is not None:
            inner_l, inner_r = right, left
            below_l, below_r = self.next_left(outer_l), self.next_right(outer_r)
            assert below_l is not None
            assert below_r is not None
            outer_l, outer_r = below_l, below_r
            self.ancestor[outer_r] = v
            push = (self.prelim[inner_l] + s_il) - (self.prelim[inner_r] + s_ir) + self.apart(inner_l, inner_r)
            if push > 0:
                a = self.ancestor[inner_l]
                self.move(a if self.parents[a] == self.parents[v] else default, v, push)
                s_ir += push
                s_or += push
            s_il += self.mod[inner_l]
            s_ir += self.mod[inner_r]
            s_ol += self.mod[outer_l]
            s_or += self.mod[outer_r]
            right, left = self.next_right(inner_l), self.next_left(inner_r)
        if right is not None and self.next_right(outer_r) is None:
            self.thread[outer_r] = right
            self.mod[outer_r] += s_il - s_or
        if left is not None and self.next_left(outer_l) is None:
            self.thread[outer_l] = left
            self.mod[outer_l] += s_ir - s_ol
            default = v
        return default

    def next_left(self, v: int) -> int | None:
        return self.children[v][0] if self.children[v] else self.thread[v]

    def next_right(self, v: int) -> int | None:
        return self.children[v][-1] if self.children[v] else self.thread[v]

    def move(self, a: int, b: int, push: float) -> None:
        between = self.number[b] - self.number[a]
        self.change[b] -= push / between
        self.shift[b] += push
        self.change[a] += push / between
        self.prelim[b] += push
        self.mod[b] += push

    def execute_shifts(self, children: list[int]) -> None:
        shift = change = 0.0
        for w in reversed(children):
            self.prelim[w] += shift
            self.mod[w] += shift
            change += self.change[w]
            shift += self.shift[w] + change
