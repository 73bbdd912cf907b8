"""A hash-consed list of operations: inputs, products and sums."""

from __future__ import annotations

__all__ = ["ADD", "INPUT", "MUL", "ONE", "Ops"]

INPUT, MUL, ADD = 0, 1, 2

#: The constant one; never stored, always simplified away (except as a whole circuit).
ONE = -1


class Ops:
    """Operations under construction. Node numbers below ``inputs`` are the inputs."""

    __slots__ = ("_seen", "args", "inputs")

    def __init__(self, inputs: int) -> None:
        self.inputs = inputs
        self.args: list[tuple[int, int, int]] = []
        self._seen: dict[tuple[int, int, int], int] = {}

    def _make(self, kind: int, a: int, b: int) -> int:
        if b < a:
            a, b = b, a
        key = (kind, a, b)
        node = self._seen.get(key)
        if node is None:
            node = self.inputs + len(self.args)
            self._seen[key] = node
            self.args.append(key)
        return node

    def mul(self, a: int, b: int) -> int:
        """Product; one is neutral."""
        if a == ONE:
            return b
        if b == ONE:
            return a
        return self._make(MUL, a, b)

    def add(self, a: int, b: int) -> int:
        """Sum. Deterministic gates never add one to anything, so constants do not arise here."""
        return self._make(ADD, a, b)
