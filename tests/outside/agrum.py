"""A network as a pyAgrum Bayesian network: truth tables where they are small, counting chains elsewhere.

None of the tricks of faultkit's own compiler are used here.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import pytest

from faultkit.diagnosis.belief import Belief
from faultkit.network.ir import Network, Node, NodeKind, Sign

gum: Any = pytest.importorskip("pyagrum")

__all__ = ["Peer", "likelihoods"]

#: Gates and signs with more parents than this become chains.
WIDE = 6


class Peer:
    """A Bayesian network of all nodes and of ``signs``, and its exact inference.

    ``targets`` are the nodes whose posteriors are wanted (all by default).
    """

    def __init__(
        self,
        network: Network,
        signs: Iterable[Sign],
        targets: Iterable[int] | None = None,
        engine: str = "LazyPropagation",
    ) -> None:
        self.network = network
        self.net = gum.BayesNet()
        self.ids = [self.variable(f"n{i}", 2) for i in range(len(network.nodes))]
        for i, node in enumerate(network.nodes):
            if node.is_root:
                self.net.cpt(self.ids[i]).fillWith([1.0 - node.prior, node.prior])
            else:
                self.gate(i, node)
        self.signs: dict[str, int] = {}
        for sign in signs:
            self.signs[sign.name] = self.sign(sign)
        self.engine = getattr(gum, engine)(self.net)
        self.targets = tuple(range(len(network.nodes))) if targets is None else tuple(targets)
        self.engine.setTargets({self.ids[i] for i in self.targets})

    def variable(self, name: str, size: int) -> int:
        found: int = self.net.add(gum.LabelizedVariable(name, name, size))
        return found

    def table(self, child: int, parents: Sequence[int], rows: Mapping[tuple[int, ...], Sequence[float]]) -> None:
        """Conditional table: values of the parents, in the order given, → chances of the child."""
        for p in parents:
            self.net.addArc(p, child)
        cpt = self.net.cpt(child)
        names = [self.net.variable(p).name() for p in parents]
        for key, chances in rows.items():
            cpt[dict(zip(names, key, strict=True))] = list(chances)

    # -- gates ----------------------------------------------------------------

    def gate(self, i: int, node: Node) -> None:
        parents = [self.ids[j] for j in node.inputs]
        need = {NodeKind.ANY_OF: 1, NodeKind.ALL_OF: len(parents)}.get(node.kind, node.k)
        if len(parents) <= WIDE:
            keys = itertools.product((0, 1), repeat=len(parents))
            self.table(self.ids[i], parents, {key: _sure(int(sum(key) >= need), 2) for key in keys})
            return
        count, top = parents[0], 1
        for n, parent in enumerate(parents[1:], start=2):
            last = n == len(parents)
            size = 2 if last else n + 1
            result = self.ids[i] if last else self.variable(f"n{i}count{n}", size)
            rows: dict[tuple[int, ...], list[float]] = {}
            for c, x in itertools.product(range(top + 1), (0, 1)):
                rows[c, x] = _sure(int(c + x >= need) if last else c + x, size)
            self.table(result, [count, parent], rows)
            count, top = result, n

    # -- signs ----------------------------------------------------------------

    def sign(self, sign: Sign) -> int:
        here = self.variable(f"sign{len(self.signs)}", len(sign.bands))
        parents = [self.ids[r] for r in sign.rows]
        if len(parents) <= WIDE:
            keys = list(itertools.product((0, 1), repeat=len(parents)))
            if not parents:
                self.net.cpt(here).fillWith(list(sign.chances[0]))
            else:
                self.table(here, parents, {k: sign.chances[_first(k)] for k in keys})
            return here
        # Which row decides so far: its number, or the number of rows met when none does.
        decides = parents[0]
        values = {0: 1, 1: 0}  # state of ``decides`` → row number
        for n, parent in enumerate(parents[1:], start=2):
            result = self.variable(f"sign{len(self.signs)}row{n}", n + 1)
            rows: dict[tuple[int, ...], list[float]] = {}
            for state, row in values.items():
                for x in (0, 1):
                    first = row if row < n - 1 else n - 1 if x else n
                    rows[state, x] = _sure(first, n + 1)
            self.table(result, [decides, parent], rows)
            decides, values = result, {r: r for r in range(n + 1)}
        self.table(here, [decides], {(r,): sign.chances[r] for r in values})
        return here

    # -- inference ------------------------------------------------------------

    def posteriors(self, evidence: Mapping[str, int | Sequence[float]]) -> list[float]:
        """Posteriors of the targets given a band, or a weight for every band, of each observed sign."""
        given = {self.signs[s]: e if isinstance(e, int) else list(e) for s, e in evidence.items()}
        self.engine.setEvidence(given)
        return self.again()

    def again(self) -> list[float]:
        """Posteriors of the targets given the evidence as it stands."""
        self.engine.makeInference()
        return [self.engine.posterior(self.ids[i])[1] for i in self.targets]

    def probability(self) -> float:
        """Probability of the evidence of the last inference."""
        found: float = self.engine.evidenceProbability()
        return found


def likelihoods(belief: Belief) -> dict[str, list[float]]:
    """Weight of each band of each sign by all looks at it."""
    return {
        name: [math.prod(w) for w in zip(*(k.weights(soften=belief.soften) for k in f.looks), strict=True)]
        for name, f in belief.findings.items()
    }


def _sure(value: int, size: int) -> list[float]:
    return [float(v == value) for v in range(size)]


def _first(values: Sequence[int]) -> int:
    return next((j for j, v in enumerate(values) if v), len(values))
