"""Loops among events or among calculated readings of one type."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from faultkit.problems import Where
from faultkit.reading.scopes import Scope

__all__ = ["find_loops", "note_loops"]


def find_loops(graph: Mapping[str, list[str]]) -> list[list[str]]:
    """Loops of a graph (node → nodes it points to), at most one through each node."""
    done: set[str] = set()
    looped: set[str] = set()
    loops: list[list[str]] = []
    for root in graph:
        path: list[str] = []
        on: dict[str, int] = {}
        stack: list[tuple[str, bool]] = [(root, False)]
        while stack:
            name, leaving = stack.pop()
            if leaving:
                path.pop()
                del on[name]
                done.add(name)
            elif name in on:
                loop = path[on[name] :]
                if not looped.intersection(loop):
                    loops.append(loop)
                    looped.update(loop)
            elif name not in done and name in graph:
                on[name] = len(path)
                path.append(name)
                stack.append((name, True))
                stack.extend((below, False) for below in reversed(graph[name]))
    return loops


def note_loops(
    graph: Mapping[str, list[str]],
    places: Mapping[str, tuple[Where, Scope]],
    prefixes: Iterable[str],
    what: str,
    cure: str,
) -> None:
    """Note each loop at its first place in the text, as names below the scope that holds all of it.

    So a loop within a section is the same Problem for every including type and every copy.
    """
    known = list(prefixes)
    for loop in find_loops(graph):
        spots = [places[name][0] for name in loop]
        order = [(spot.file, spot.line, spot.column) for spot in spots]
        first = order.index(min(order))
        ring = [*loop[first:], *loop[:first], loop[first]]
        shared = max((p for p in known if all(n.startswith(p) for n in loop)), key=len, default="")
        shown = " → ".join(name.removeprefix(shared) for name in ring)
        places[loop[first]][1].bad(spots[first], f"{what}: {shown}", cure)
