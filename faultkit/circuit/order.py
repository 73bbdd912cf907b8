"""Elimination orders: greedy by fill, several tries with fixed seeds, so that they never vary."""

from __future__ import annotations

import heapq
import random
from collections.abc import Iterable, Sequence

__all__ = ["Order", "best_order", "graph_of", "greedy"]

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


def greedy(
    graph: Graph, domains: Sequence[int], ranks: Sequence[int], *, relative: bool, limit: float = float("inf")
) -> Order | None:
    """Order all variables of ``graph`` (consumed), or None as soon as the cost passes ``limit``.

    The variable next is the one that adds the fewest edges, ``relative`` to its
    neighbours or absolutely; ties go by degree and then by ``ranks``.
    """

    def key_of(v: int) -> tuple[float, int, int]:
        degree = len(graph[v])
        fill = _fill(graph, v)
        return (fill / (degree + 1) if relative else fill), degree, ranks[v]

    key = [key_of(v) for v in range(len(graph))]
    heap = [(k, v) for v, k in enumerate(key)]
    heapq.heapify(heap)
    done = [False] * len(graph)
    order = Order([], 0.0, 0, ())
    heaviest = 0.0
    while heap:
        k, v = heapq.heappop(heap)
        if done[v] or key[v] != k:
            continue
        done[v] = True
        order.sequence.append(v)
        around = graph[v]
        table = float(domains[v])
        for u in around:
            table *= domains[u]
        order.cost += table
        order.width = max(order.width, len(around))
        if table > heaviest:
            heaviest, order.heavy = table, (v, *sorted(around))
        if order.cost > limit:
            return None
        for u in sorted(_remove(graph, v, connect=k[0] > 0)):
            if not done[u]:
                fresh = key_of(u)
                if fresh != key[u]:
                    key[u] = fresh
                    heapq.heappush(heap, (fresh, u))
    return order


#: A cost that needs no further try.
SMALL = 120_000.0


def best_order(
    scopes: Sequence[Sequence[int]], domains: Sequence[int], limit: float = float("inf"), tries: int = 3
) -> Order | None:
    """The cheapest of a few greedy orders of the variables in ``scopes``, or None beyond ``limit``."""
    size = len(domains)
    ranks = list(range(size))
    shuffle = random.Random(size).shuffle  # noqa: S311 - no secret, only other ties, the same each time
    best: Order | None = None
    for n in range(tries):
        bound = limit if best is None else min(limit, best.cost)
        found = greedy(graph_of(size, scopes), domains, ranks, relative=n % 2 == 0, limit=bound)
        if found is not None and (best is None or found.cost < best.cost):
            best = found
        if best is not None and best.cost <= SMALL:
            return best
        if n % 2:
            shuffle(ranks)
    return best
