"""Elimination orders: min-fill with ties broken by degree, then by number, so that they never vary."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence

__all__ = ["Order", "graph_of", "min_fill"]

Graph = list[set[int]]


class Order:
    """An elimination order and the table sizes it meets.

    ``cost`` is the sum over steps of the clique's table size, ``width`` the
    largest clique less one; ``heavy`` the members of the largest clique.
    """

    __slots__ = ("cost", "heavy", "sequence", "width")

    def __init__(self, sequence: list[int], cost: float, width: int, heavy: tuple[int, ...]) -> None:
        self.sequence = sequence
        self.cost = cost
        self.width = width
        self.heavy = heavy


def graph_of(size: int, scopes: Iterable[Sequence[int]]) -> Graph:
    """Neighbours of each variable: those it shares a factor with."""
    graph: Graph = [set() for _ in range(size)]
    for scope in scopes:
        for v in scope:
            graph[v].update(scope)
    for v in range(size):
        graph[v].discard(v)
    return graph


def _fill(graph: Graph, v: int) -> int:
    around = graph[v]
    d = len(around)
    if d < 2:
        return 0
    present = sum(len(around & graph[u]) for u in around)
    return (d * (d - 1) - present) // 2


def _remove(graph: Graph, v: int, *, connect: bool) -> set[int]:
    """Take a variable out, its neighbours joined to each other; the variables whose fill may have changed."""
    around = graph[v]
    graph[v] = set()
    touched = set(around)
    for u in around:
        graph[u].discard(v)
    if connect:
        for u in around:
            new = around - graph[u]
            new.discard(u)
            if new:
                graph[u] |= new
                for w in new:
                    touched |= graph[u] & graph[w]
    return touched


def min_fill(graph: Graph, domains: Sequence[int], limit: float = float("inf")) -> Order | None:
    """Order all variables of ``graph`` (consumed), or None as soon as the cost passes ``limit``."""
    size = len(graph)
    key = [(_fill(graph, v), len(graph[v])) for v in range(size)]
    heap = [(*key[v], v) for v in range(size)]
    heapq.heapify(heap)
    done = [False] * size
    sequence: list[int] = []
    cost, width, heaviest = 0.0, 0, 0.0
    heavy: tuple[int, ...] = ()
    while heap:
        fill, degree, v = heapq.heappop(heap)
        if done[v] or key[v] != (fill, degree):
            continue
        done[v] = True
        sequence.append(v)
        around = graph[v]
        table = float(domains[v])
        for u in around:
            table *= domains[u]
        cost += table
        width = max(width, len(around))
        if table > heaviest:
            heaviest, heavy = table, (v, *sorted(around))
        if cost > limit:
            return None
        touched = _remove(graph, v, connect=fill > 0)
        for u in sorted(touched):
            if not done[u]:
                fresh = (_fill(graph, u), len(graph[u]))
                if fresh != key[u]:
                    key[u] = fresh
                    heapq.heappush(heap, (*fresh, u))
    return Order(sequence, cost, width, heavy)
