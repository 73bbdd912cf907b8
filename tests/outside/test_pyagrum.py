"""Posteriors against pyAgrum's lazy propagation, an exact algorithm that shares no code and no idea with ours.

Both sides work in doubles. Everything here is a sum of products of numbers that
are not negative, so neither side loses digits by cancelling.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence

import pytest

from faultkit.circuit.compile import Limits, compile_network
from faultkit.diagnosis.belief import Belief
from faultkit.evidence.look import Evidence, Finding, Look
from faultkit.network.ir import Network, Node, NodeKind, Sign
from tests.outside.networks import drawn, generated

pytest.importorskip("pyagrum")  # what follows cannot be imported without it
from tests.outside.agrum import Peer, likelihoods

ABSOLUTE, RELATIVE = 1e-10, 1e-9


def ours(network: Network, evidence: Mapping[str, int | Sequence[float]]) -> tuple[float, list[float]]:
    """Probability of the evidence and posterior of every node, by the circuit alone."""
    signs = [network.signs[s] for s in evidence]
    compiled = compile_network(network, signs)
    assert compiled is not None
    weights = compiled.blank()
    for i, node in enumerate(network.nodes):
        if node.is_root:
            weights[2 * i], weights[2 * i + 1] = 1.0 - node.prior, node.prior
    for sign in signs:
        for slot, likelihood in zip(
            compiled.sign_slots[sign.name], _likelihoods(sign, evidence[sign.name]), strict=True
        ):
            weights[slot] = likelihood
    total, d = compiled.derivatives(weights)
    return total, [weights[2 * i + 1] * d[2 * i + 1] / total for i in range(len(network.nodes))]


def _likelihoods(sign: Sign, seen: int | Sequence[float]) -> list[float]:
    if isinstance(seen, int):
        return [row[seen] for row in sign.chances]
    return [sum(c * w for c, w in zip(row, seen, strict=True)) for row in sign.chances]


def agree(found: Sequence[float], expected: Sequence[float]) -> None:
    for i, (a, b) in enumerate(zip(found, expected, strict=True)):
        assert abs(a - b) <= ABSOLUTE, (i, a, b)
        assert abs(a - b) <= RELATIVE * b, (i, a, b)


NETWORKS = [(1, 150), (2, 150), (3, 160), (4, 175), (5, 190), (6, 200)]


@pytest.mark.parametrize(("seed", "basics"), NETWORKS)
def test_every_posterior_of_a_large_network(seed: int, basics: int) -> None:
    network = generated(seed, basics)
    for draw in range(2):
        evidence = drawn(network, 15 + 10 * draw, seed + 100 * draw)
        peer = Peer(network, [network.signs[s] for s in evidence])
        expected = peer.posteriors(evidence)
        total, found = ours(network, evidence)
        agree(found, expected)
        assert total == pytest.approx(peer.probability(), rel=RELATIVE, abs=0.0)
        # The evidence must move something, or the comparison would only repeat the priors.
        _, before = ours(network, {})
        assert sum(abs(a - b) > 1e-3 for a, b in zip(found, before, strict=True)) > 20


def findings(network: Network, seen: Mapping[str, int], seed: int) -> Evidence:
    """One or two looks at each sign: certain, on a cut, or told; the band of the world is always possible."""
    rng = random.Random(seed)  # noqa: S311
    out = {}
    for name, band in seen.items():
        bands = network.signs[name].bands
        looks = []
        for n in range(rng.choice((1, 1, 2))):
            told = rng.random() < 0.3
            here = rng.randrange(len(bands)) if told else band
            shares = [float(b == here) for b in range(len(bands))]
            if not told and rng.random() < 0.4:
                next_to = here + 1 if here + 1 < len(bands) else here - 1
                shares[here], shares[next_to] = 0.35, 0.65
            looks.append(Look(name, (f"{name}.{n}",), tuple(shares), told=told))
        out[name] = Finding(name, tuple(looks))
    return Evidence(out)


@pytest.mark.parametrize(("seed", "basics"), NETWORKS)
@pytest.mark.parametrize("soften", [False, True])
def test_beliefs_with_readings_on_a_cut_and_hearsay(seed: int, basics: int, *, soften: bool) -> None:
    network = generated(seed, basics)
    evidence = findings(network, drawn(network, 20, seed + 7), seed)
    signs = [network.signs[s] for s in evidence.findings]
    compiled = compile_network(network, signs)
    assert compiled is not None
    belief = Belief(network, evidence, network.signs, compiled, soften=soften)
    posteriors = belief.posteriors()
    assert all(p.exact for p in posteriors)
    agree([p.low for p in posteriors], Peer(network, signs).posteriors(likelihoods(belief)))


@pytest.mark.parametrize("seed", [11, 12, 13])
def test_a_network_too_wide_is_conditioned_on_some_events(seed: int) -> None:
    network = generated(seed, 60, share=0.3, signs=20)
    evidence = drawn(network, 15, seed)
    signs = [network.signs[s] for s in evidence]
    tight = (compile_network(network, signs, limits=Limits(1_000.0 * 2**n)) for n in range(10))
    compiled = next(c for c in tight if c is not None)
    assert compiled.switches
    belief = Belief(network, exact(network, evidence), network.signs, compiled)
    agree([p.low for p in belief.posteriors()], Peer(network, signs).posteriors(evidence))


def exact(network: Network, seen: Mapping[str, int]) -> Evidence:
    """Certain looks at these bands."""
    return Evidence(
        {
            s: Finding(s, (Look(s, (s,), tuple(float(b == band) for b in range(len(network.signs[s].bands)))),))
            for s, band in seen.items()
        }
    )


def test_gates_and_signs_wider_than_any_table() -> None:
    rng = random.Random(3)  # noqa: S311
    nodes = [Node(f"b{i}", NodeKind.BASIC, prior=rng.choice((0.02, 0.1, 0.3))) for i in range(30)]
    nodes += [
        Node("or", NodeKind.ANY_OF, tuple(range(12))),
        Node("and", NodeKind.ALL_OF, tuple(range(8, 16))),
        Node("vote", NodeKind.AT_LEAST, tuple(range(10, 25)), k=4),
        Node("vote of gates", NodeKind.AT_LEAST, (30, 31, 32, 25, 26, 27, 28, 29), k=3),
    ]
    chances = [(q, 1.0 - q) for q in (0.9, 0.1, 0.7, 0.3, 0.6, 0.2, 0.8, 0.4, 0.5, 0.05)]
    signs = {
        "nine rows": Sign("nine rows", ("yes", "no"), (33, 31, 3, 32, 7, 20, 28, 30, 29), tuple(chances)),
        "vote": Sign("vote", ("yes", "no"), (32,), ((0.95, 0.05), (0.02, 0.98))),
    }
    network = Network(tuple(nodes), signs, tuple(range(30)))
    for seen in ({"nine rows": 0}, {"nine rows": 1, "vote": 0}, {"vote": 1, "nine rows": 0}):
        agree(ours(network, seen)[1], Peer(network, signs.values()).posteriors(seen))
