"""Seeded networks of the size of two joined trees, and evidence that can occur on them."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping

from faultkit.network.ir import Network, Node, NodeKind, Sign

__all__ = ["drawn", "generated"]

_GATES = [NodeKind.ANY_OF] * 6 + [NodeKind.ALL_OF] * 2 + [NodeKind.AT_LEAST] * 2
_PRIORS = (0.001, 0.003, 0.01, 0.03, 0.08, 0.25)
_SEEN = (0.02, 0.08, 0.15, 0.5, 0.85, 0.97)


class _Grower:
    """Basic events first; each gate takes nodes that nothing stands on yet, sometimes a shared one."""

    def __init__(self, rng: random.Random, share: float) -> None:
        self.rng = rng
        self.share = share
        self.nodes: list[Node] = []
        self.loose: list[int] = []
        self.faults: list[int] = []

    def root(self, name: str, kind: NodeKind, prior: float) -> int:
        self.nodes.append(Node(name, kind, prior=prior))
        return len(self.nodes) - 1

    def inputs(self) -> list[int]:
        rng = self.rng
        events = [i for i, n in enumerate(self.nodes) if n.kind not in {NodeKind.LEAK, NodeKind.INHIBITOR}]
        found: dict[int, None] = {}
        for _ in range(rng.choice((2, 2, 3, 3, 4, 6))):
            shared = not self.loose or rng.random() < self.share
            found[rng.choice(events) if shared else self.loose.pop()] = None
        return list(found)

    def gate(self, name: str) -> None:
        rng = self.rng
        kind = rng.choice(_GATES)
        inputs = self.inputs()
        k = rng.randint(1, len(inputs)) if kind is NodeKind.AT_LEAST else 0
        for n, cause in enumerate(inputs):
            if rng.random() < 0.15:
                weak = self.root(f"link:{cause}>{name}", NodeKind.INHIBITOR, rng.choice(_SEEN))
                self.nodes.append(Node(f"acts:{cause}>{name}", NodeKind.ALL_OF, (cause, weak)))
                inputs[n] = len(self.nodes) - 1
        if kind is NodeKind.ANY_OF and rng.random() < 0.6:
            inputs.append(self.root(f"{name}.other", NodeKind.LEAK, 0.002))
            self.faults.append(inputs[-1])
        self.nodes.append(Node(name, kind, tuple(inputs), k=k))
        self.loose.insert(rng.randrange(len(self.loose) + 1), len(self.nodes) - 1)


def _chances(rng: random.Random, bands: int) -> tuple[float, ...]:
    """Chances of the bands, zero (never) for some of them."""
    weights = [rng.choice((0.0, *_SEEN)) for _ in range(bands)]
    weights[rng.randrange(bands)] = 1.0
    whole = sum(weights)
    return tuple(w / whole for w in weights)


def _sign(rng: random.Random, network: Network, name: str) -> Sign:
    """A sign that tells of one gate and of what stands near it."""
    gates = [i for i, n in enumerate(network.nodes) if not n.is_root]
    rows = {rng.choice(gates): None}
    near = sorted(network.ancestors(rows))
    for _ in range(rng.randrange(4)):
        rows[rng.choice(near) if rng.random() < 0.7 else rng.choice(gates)] = None
    bands = tuple("abcd"[: rng.randint(2, 4)])
    return Sign(name, bands, tuple(rows), tuple(_chances(rng, len(bands)) for _ in range(len(rows) + 1)))


def generated(seed: int, basics: int = 150, *, share: float = 0.08, signs: int = 40) -> Network:
    """``basics`` basic events, 40 % as many gates, leaks, weak links, shared events, ``signs`` signs."""
    rng = random.Random(seed)  # noqa: S311
    grower = _Grower(rng, share)
    for i in range(basics):
        grower.faults.append(grower.root(f"b{i}", NodeKind.BASIC, rng.choice(_PRIORS)))
    grower.loose = list(range(basics))
    rng.shuffle(grower.loose)
    for g in range(basics * 2 // 5):
        grower.gate(f"g{g}")
    plain = Network(tuple(grower.nodes), {}, tuple(grower.faults))
    found = [_sign(rng, plain, f"s{n}") for n in range(signs)]
    return Network(plain.nodes, {s.name: s for s in found}, plain.faults)


def _truth(node: Node, state: list[bool]) -> bool:
    count = sum(state[i] for i in node.inputs)
    return count >= {NodeKind.ANY_OF: 1, NodeKind.ALL_OF: len(node.inputs)}.get(node.kind, node.k)


def drawn(network: Network, observed: int, seed: int, among: Iterable[str] | None = None) -> Mapping[str, int]:
    """Bands of ``observed`` signs in one world drawn with more faults than usual: sign → band."""
    rng = random.Random(seed)  # noqa: S311
    state: list[bool] = []
    for n in network.nodes:
        state.append(rng.random() < max(n.prior, 0.04) if n.is_root else _truth(n, state))
    out: dict[str, int] = {}
    for name in sorted(rng.sample(sorted(among or network.signs), observed)):
        sign = network.signs[name]
        j = next((j for j, row in enumerate(sign.rows) if state[row]), len(sign.rows))
        out[name] = rng.choices(range(len(sign.bands)), sign.chances[j])[0]
    return out
