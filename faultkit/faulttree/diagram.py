"""What both kinds of decision diagrams share: a table of nodes, each stored once."""

from __future__ import annotations

from faultkit.problems import InputError

__all__ = ["NodeTable", "TooLargeError"]


class TooLargeError(InputError):
    """A diagram grew past its node limit."""


class NodeTable:
    """Nodes as triples (variable, high, low); nodes 0 and 1 are the ends and have no parts.

    ``what`` and ``cure`` word the TooLargeError of a table that would pass ``node_limit`` nodes.
    """

    __slots__ = ("_cure", "_high", "_low", "_node_limit", "_unique", "_var", "_what")

    def __init__(self, variables: int, ends: tuple[int, int], node_limit: int, what: str, cure: str) -> None:
        self._var: list[int] = [variables, variables]
        self._high: list[int] = list(ends)
        self._low: list[int] = list(ends)
        self._node_limit = node_limit
        self._unique: dict[tuple[int, int, int], int] = {}
        self._what = what
        self._cure = cure

    def _stored(self, var: int, high: int, low: int) -> int:
        """The number of the node with these parts, made when it is new."""
        key = (var, high, low)
        found = self._unique.get(key)
        if found is None:
            found = len(self._var)
            if found > self._node_limit:
                raise TooLargeError(
                    f"{self._what} more than {self._node_limit} diagram nodes", self._cure
                )
            self._unique[key] = found
            self._var.append(var)
            self._high.append(high)
            self._low.append(low)
        return found

    def parts(self, f: int) -> tuple[int, int, int]:
        """Variable, high and low of a node that is no end."""
        return self._var[f], self._high[f], self._low[f]

    def reachable(self, root: int) -> list[int]:
        """Inner nodes under ``root``, children before parents."""
        seen: set[int] = {0, 1}
        stack = [root]
        while stack:
            f = stack.pop()
            if f not in seen:
                seen.add(f)
                stack.append(self._high[f])
                stack.append(self._low[f])
        return sorted(seen)[2:]
