"""An arithmetic circuit and its passes in several semirings.

The same operations answer different questions: sums and products of
probabilities give posteriors (Darwiche's differential approach), or and and of
bit sets say what is possible, max and products find the most probable world,
min and sums the cheapest one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from faultkit.circuit.ops import ADD, MUL, Ops

__all__ = ["Circuit"]

#: Passes after which generated code pays for being made, and operations beyond which it never does.
#: Who asks for some derivatives alone is about to ask often (``EAGER``).
HOT, EAGER, CODE_LIMIT = 100, 2, 40_000

Function = Callable[[Sequence[Any]], Any]


class Circuit:
    """Operations reachable from one root, in evaluation order.

    Inputs are a sequence of ``inputs`` weights. All passes are pure.
    """

    def __init__(self, ops: Ops, root: int) -> None:
        reach = [False] * (ops.inputs + len(ops.args))
        reach[root] = True
        for n in range(len(ops.args) - 1, -1, -1):
            if reach[ops.inputs + n]:
                _, a, b = ops.args[n]
                reach[a] = reach[b] = True
        number = {n: n for n in range(ops.inputs)}
        self.inputs = ops.inputs
        self.args: list[tuple[int, int, int]] = []
        for n, (kind, a, b) in enumerate(ops.args):
            if reach[ops.inputs + n]:
                number[ops.inputs + n] = ops.inputs + len(self.args)
                self.args.append((kind, number[a], number[b]))
        self.root = number[root]
        self._made: dict[str, Function] = {}
        self._runs: dict[str, int] = {}
        self.used = tuple(n for n in range(ops.inputs) if reach[n])

    def __len__(self) -> int:
        return len(self.args)

    # -- probability ----------------------------------------------------------

    def value(self, weights: Sequence[float]) -> float:
        """The root: the probability of the evidence (scaled as the weights are)."""
        result: float = self._up(weights)
        return result

    def derivatives(self, weights: Sequence[float]) -> tuple[float, list[float]]:
        """The root and its derivative by every input."""
        value, parts = self._down(weights)
        return value, parts

    def derivatives_of(self, weights: Sequence[float], wanted: tuple[int, ...]) -> tuple[float, list[float]]:
        """The root and its derivatives by the ``wanted`` inputs alone, in their order: less work than all."""
        run = self._function(
            f"down{wanted}",
            lambda w: self._picked(w, wanted),
            lambda: self._head() + self._forward("*", "+") + self._backward("*", "+", "1.0", "0.0", wanted),
            EAGER,
        )
        value, parts = run(weights)
        return value, parts

    def _picked(self, weights: Sequence[float], wanted: tuple[int, ...]) -> tuple[float, list[float]]:
        value, parts = self._loop_down(weights)
        return value, [parts[n] for n in wanted]

    # -- possibility ----------------------------------------------------------

    def possible(self, masks: Sequence[int]) -> tuple[int, list[int]]:
        """Bit sets instead of numbers: bit c of the root tells whether column c can hold at all.

        Also, for every input, the columns in which the root can hold with that input.
        """
        value, parts = self._down_bits(masks)
        return value, [d & m for d, m in zip(parts, masks, strict=True)]

    # -- best worlds ----------------------------------------------------------

    def best(self, weights: Sequence[float]) -> tuple[float, frozenset[int]]:
        """Largest product over worlds, and the inputs that make it."""
        values = list(weights)
        for kind, a, b in self.args:
            x, y = values[a], values[b]
            values.append(x * y if kind == MUL else max(x, y))
        return values[self.root], self._trace(values, largest=True)

    def cheapest(self, costs: Sequence[float]) -> tuple[float, frozenset[int]]:
        """Smallest sum over worlds, and the inputs that make it; inf where nothing can hold."""
        values = list(costs)
        for kind, a, b in self.args:
            x, y = values[a], values[b]
            values.append(x + y if kind == MUL else min(x, y))
        return values[self.root], self._trace(values, largest=False)

    def _trace(self, values: list[float], *, largest: bool) -> frozenset[int]:
        chosen: set[int] = set()
        stack = [self.root]
        while stack:
            n = stack.pop()
            if n < self.inputs:
                chosen.add(n)
                continue
            kind, a, b = self.args[n - self.inputs]
            if kind == MUL:
                stack += (a, b)
            elif values[a] == values[b]:
                stack.append(min(a, b))
            else:
                stack.append(a if (values[a] > values[b]) == largest else b)
        return frozenset(chosen)

    # -- generated code -------------------------------------------------------

    def _function(self, name: str, loop: Function, lines: Callable[[], list[str]], hot: int = HOT) -> Function:
        """The pass to use now: a loop at first, generated code once it pays.

        Both add and multiply in the same order, so that no bit depends on it.
        """
        made = self._made.get(name)
        if made is None:
            runs = self._runs[name] = self._runs.get(name, 0) + 1
            if runs <= hot or len(self.args) > CODE_LIMIT:
                return loop
            made = self._made[name] = _compile(lines())
        return made

    @property
    def _up(self) -> Function:
        return self._function(
            "up", self._loop_up, lambda: self._head() + self._forward("*", "+") + [f" return v{self.root}"]
        )

    @property
    def _down(self) -> Function:
        return self._function(
            "down",
            self._loop_down,
            lambda: self._head() + self._forward("*", "+") + self._backward("*", "+", "1.0", "0.0"),
        )

    @property
    def _down_bits(self) -> Function:
        return self._function(
            "bits",
            self._loop_down_bits,
            lambda: self._head() + self._forward("&", "|") + self._backward("&", "|", "-1", "0"),
        )

    def _head(self) -> list[str]:
        # Unpacking is several times as fast as one subscript after the other.
        used = frozenset(self.used)
        names = "".join(f"v{n}," if n in used else "_," for n in range(self.inputs))
        return ["def run(x):", f" {names}=x"]

    def _forward(self, times: str, plus: str) -> list[str]:
        inner = self._inner()

        def name(n: int) -> str:
            if n not in inner:
                return f"v{n}"
            _, a, b = self.args[n - self.inputs]
            return f"v{a}{times}v{b}"

        return [
            f" v{n}={name(a)}{times if kind == MUL else plus}{name(b)}"
            for n, (kind, a, b) in enumerate(self.args, start=self.inputs)
            if n not in inner
        ]

    def _inner(self) -> set[int]:
        """Products that one sum uses and nothing else: they stand inside its line, never stored."""
        uses = [0] * (self.inputs + len(self.args))
        uses[self.root] = 2
        for kind, a, b in self.args:
            uses[a] += 2 if kind == MUL else 1
            uses[b] += 2 if kind == MUL else 1
        return {
            n for n, (kind, _, _) in enumerate(self.args, start=self.inputs) if kind == MUL and uses[n] == 1
        }

    def _leads_to(self, wanted: tuple[int, ...] | None) -> list[bool]:
        """Which nodes have a wanted input beneath them (or are one)."""
        if wanted is None:
            return [True] * (self.inputs + len(self.args))
        asked = frozenset(wanted)
        leads = [n in asked for n in range(self.inputs)]
        for _, a, b in self.args:
            leads.append(leads[a] or leads[b])
        return leads

    def _backward(
        self, times: str, plus: str, one: str, zero: str, wanted: tuple[int, ...] | None = None
    ) -> list[str]:
        """Derivatives by the wanted inputs (all by default), gathered from the parents, last operation first."""
        leads = self._leads_to(wanted)
        terms: list[list[str]] = [[] for _ in range(self.inputs + len(self.args))]
        terms[self.root].append(one)
        lines: list[str] = []
        for n in range(len(terms) - 1, -1, -1):
            mine = terms[n]
            if not mine:
                continue
            name = mine[0]
            if len(mine) > 1 or times in name:
                name = f"d{n}"
                lines.append(f" {name}={plus.join(mine)}")
            terms[n] = [name]
            if n >= self.inputs:
                kind, a, b = self.args[n - self.inputs]
                for child, sibling in ((a, b), (b, a)):
                    if leads[child]:
                        by = f"v{sibling}" if name == one else f"{name}{times}v{sibling}"
                        terms[child].append(name if kind == ADD else by)
        outs = ",".join(terms[n][0] if terms[n] else zero for n in wanted or range(self.inputs))
        return [*lines, f" return v{self.root},[{outs}]"]

    # -- loops for large circuits --------------------------------------------

    def _loop_up(self, weights: Sequence[float]) -> float:
        values = list(weights)
        add = values.append
        for kind, a, b in self.args:
            add(values[a] * values[b] if kind == MUL else values[a] + values[b])
        return values[self.root]

    def _loop_down(self, weights: Sequence[float]) -> tuple[float, list[float]]:
        values = list(weights)
        add = values.append
        for kind, a, b in self.args:
            add(values[a] * values[b] if kind == MUL else values[a] + values[b])
        d = [0.0] * len(values)
        d[self.root] = 1.0
        for n, (kind, a, b) in zip(range(len(values) - 1, -1, -1), reversed(self.args), strict=False):
            up = d[n]
            if up:
                if kind == MUL:
                    d[a] += up * values[b]
                    d[b] += up * values[a]
                else:
                    d[a] += up
                    d[b] += up
        return values[self.root], d[: self.inputs]

    def _loop_down_bits(self, masks: Sequence[int]) -> tuple[int, list[int]]:
        values = list(masks)
        add = values.append
        for kind, a, b in self.args:
            add(values[a] & values[b] if kind == MUL else values[a] | values[b])
        d = [0] * len(values)
        d[self.root] = -1
        for n, (_, a, b) in zip(range(len(values) - 1, -1, -1), reversed(self.args), strict=False):
            up = d[n] & values[n]  # columns that cannot hold here need not go further
            if up:
                d[a] |= up
                d[b] |= up
        return values[self.root], d[: self.inputs]


def _compile(lines: list[str]) -> Function:
    scope: dict[str, Any] = {}
    # The source is made here from numbers only; nothing from an input reaches it.
    exec(compile("\n".join(lines), "<circuit>", "exec"), scope)  # noqa: S102
    run: Function = scope["run"]
    return run
