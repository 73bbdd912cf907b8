"""A network as a sentential decision diagram (PySDD), weighted so that counting models gives probabilities.

The roots and one variable for each row of each sign are the variables; gates are
functions of the roots. Row variables are true where their row decides, and carry its likelihood.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from pysdd.sdd import SddManager, Vtree

from faultkit.network.ir import Network, NodeKind, Sign

__all__ = ["Diagram"]


class Diagram:
    """``minimize`` lets the library search for a better variable tree while it builds: slow to build, small."""

    def __init__(self, network: Network, signs: Iterable[Sign], *, minimize: bool = False) -> None:
        self.network = network
        self.signs = tuple(signs)
        order = list(self.order())
        self.var: dict[tuple[str, int], int] = {key: n for n, key in enumerate(order, start=1)}
        count = len(order)
        tree = Vtree(var_count=count, var_order=list(range(1, count + 1)), vtree_type="balanced")
        self.manager: Any = SddManager.from_vtree(tree)
        if minimize:
            self.manager.auto_gc_and_minimize_on()
        self.root: Any = self.build()
        self.counter: Any = self.root.wmc(log_mode=False)
        for i, n in enumerate(network.nodes):
            if n.is_root:
                self.counter.set_literal_weight(self.var["", i], n.prior)
                self.counter.set_literal_weight(-self.var["", i], 1.0 - n.prior)

    def order(self) -> dict[tuple[str, int], None]:
        """Variables as they are met under the signs, depth first."""
        found: dict[tuple[str, int], None] = {}
        nodes = self.network.nodes
        for s in self.signs:
            stack = list(reversed(s.rows))
            while stack:
                i = stack.pop()
                if nodes[i].is_root:
                    found["", i] = None
                else:
                    stack += reversed(nodes[i].inputs)
            found |= {(s.name, j): None for j in range(len(s.rows) + 1)}
        return found | {("", i): None for i, n in enumerate(nodes) if n.is_root}

    def build(self) -> Any:
        m = self.manager
        f: list[Any] = []
        for i, n in enumerate(self.network.nodes):
            f.append(m.literal(self.var["", i]) if n.is_root else self.gate(n.kind, n.k, [f[j] for j in n.inputs]))
            f[i].ref()
        root = m.true()
        for s in self.signs:
            nothing = m.true()
            for j in range(len(s.rows) + 1):
                decides = nothing & f[s.rows[j]] if j < len(s.rows) else nothing
                mark = m.literal(self.var[s.name, j])
                root = root & ((mark & decides) | (~mark & ~decides))
                if j < len(s.rows):
                    nothing = nothing & ~f[s.rows[j]]
            root.ref()
        return root

    def gate(self, kind: NodeKind, k: int, inputs: Sequence[Any]) -> Any:
        need = {NodeKind.ANY_OF: 1, NodeKind.ALL_OF: len(inputs)}.get(kind, k)
        reached = [self.manager.true()] + [self.manager.false()] * need
        for x in inputs:
            for n in range(need, 0, -1):
                reached[n] = reached[n] | (reached[n - 1] & x)
        return reached[need]

    def see(self, evidence: Mapping[str, Sequence[float]]) -> None:
        """Likelihood of each row of signs."""
        for sign, rows in evidence.items():
            for j, weight in enumerate(rows):
                self.counter.set_literal_weight(self.var[sign, j], weight)

    def decide(self, sign: str, row: int, *, on: bool) -> None:
        """Hold a sign at one row, or let it go."""
        self.counter.set_literal_weight(-self.var[sign, row], 0.0 if on else 1.0)

    def posteriors(self, targets: Iterable[int]) -> tuple[float, list[float]]:
        """Probability of what was seen, and posteriors of roots."""
        total: float = self.counter.propagate()
        pr = self.counter.literal_pr
        return total, [pr(self.var["", i]) for i in targets]
