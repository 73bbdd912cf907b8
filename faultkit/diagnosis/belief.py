"""Evidence inside a circuit: posteriors, possibilities, bounds where it is too wide."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from types import MappingProxyType

from faultkit.circuit.compile import Compiled, Limits, compile_network
from faultkit.circuit.factors import Tie
from faultkit.diagnosis.result import Probability
from faultkit.evidence.look import STANDING, Evidence, Finding, drawn
from faultkit.network.ir import Network, NodeKind, Sign, plain

__all__ = ["Belief", "compile_within"]

NOTHING: Mapping[int, bool] = MappingProxyType({})


def compile_within(
    network: Network, signs: Sequence[Sign], limits: Limits, fixed: Mapping[int, bool] = NOTHING
) -> tuple[Compiled, tuple[str, ...]]:
    """A circuit within the limits, and the signs that had to stay outside.

    First everything, conditioned on up to ``limits.clamps`` events; then without
    gates that no sign needs; then as many signs as fit, those that stand on
    least first. Without signs the roots alone always fit. ``fixed`` nodes have a known value.
    """
    whole = compile_network(network, signs, fixed=fixed, limits=limits)
    if whole is not None:
        return whole, ()
    roots = [i for i, n in enumerate(network.nodes) if n.is_root]

    def attempt(chosen: Sequence[Sign], bound: Limits) -> Compiled | None:
        keep = network.ancestors([*roots, *(r for s in chosen for r in s.rows)])
        return compile_network(network, chosen, keep=keep, fixed=fixed, limits=bound)

    pruned = attempt(signs, limits)
    if pruned is not None:
        return pruned, ()
    kept: list[Sign] = []
    quick = Limits(limits.table, 0)
    for sign in sorted(signs, key=lambda s: (len(network.ancestors(s.rows)), s.name)):
        if attempt([*kept, sign], quick) is not None:
            kept.append(sign)
    compiled = attempt(kept, quick)
    if compiled is None:  # a network whose roots alone do not fit has no limit that makes sense
        raise ValueError(f"a table limit of {limits.table:g} does not even hold the basic events")
    inside = {s.name for s in kept}
    return compiled, tuple(s.name for s in signs if s.name not in inside)


class Belief:
    """A network under evidence. Reads are pure; nothing is kept but what can be computed again."""

    def __init__(
        self,
        network: Network,
        evidence: Evidence,
        signs: Mapping[str, Sign],
        compiled: Compiled,
        *,
        soften: bool = False,
    ) -> None:
        self.network = network
        self.evidence = evidence
        self.signs = signs
        self.compiled = compiled
        self.soften = soften
        self.findings: dict[str, Finding] = {
            name: f for name, f in evidence.findings.items() if name in signs
        }
        self.inside = tuple(n for n in self.findings if n in compiled.sign_slots)
        self.outside = tuple(n for n in self.findings if n not in compiled.sign_slots)

    def inside_of(self, compiled: Compiled) -> Belief:
        """The same facts in another circuit."""
        return Belief(self.network, self.evidence, self.signs, compiled, soften=self.soften)

    # -- weights --------------------------------------------------------------

    @cached_property
    def _blank(self) -> tuple[float, ...]:
        weights = self.compiled.blank()
        for i, node in enumerate(self.network.nodes):
            if node.is_root:
                weights[2 * i], weights[2 * i + 1] = 1.0 - node.prior, node.prior
        return tuple(weights)

    def rows(self, sign: str, facts: frozenset[str] | None = None) -> list[float]:
        """Likelihoods of a finding's rows, scaled to a maximum of one (all zero where nothing fits)."""
        raw = self.findings[sign].rows(self.signs[sign].chances, facts, soften=self.soften)
        top = max(raw)
        return [r / top for r in raw] if top > 0.0 else raw

    def weights(self, facts: frozenset[str] | None = None) -> list[float]:
        """Inputs for the findings that rest on ``facts`` (all when None)."""
        out = list(self._blank)
        for name in self.inside:
            for slot, w in zip(self.compiled.sign_slots[name], self.rows(name, facts), strict=True):
                out[slot] = w
        self._tie(out, facts)
        return out

    def _tie(self, out: list[float], facts: frozenset[str] | None) -> None:
        """What looks at one reading in several stages are worth together, over what they are worth apart."""
        self._worth(out, self.compiled.ties, {
            s: self.findings[s].seen(facts, soften=self.soften) if s in self.findings else []
            for s in dict.fromkeys(s for tie in self.compiled.ties for s in tie.signs)
        })

    def _worth(self, out: list[float], ties: Iterable[Tie], seen: Mapping[str, Sequence[Sequence[float]]]) -> None:
        for tie in ties:
            chances = self.signs[tie.signs[0]].chances[tie.row]
            apart = math.prod(drawn(chances, seen[s]) for s in tie.signs)
            if apart > 0.0:
                out[tie.slot] = drawn(chances, [w for s in tie.signs for w in seen[s]]) / apart

    def show(self, out: list[float], sign: str, band: int) -> None:
        """Put into the inputs that a sign inside, not looked at yet, shows a band."""
        shown = [float(b == band) for b in range(len(self.signs[sign].bands))]
        for slot, row in zip(self.compiled.sign_slots[sign], self.signs[sign].chances, strict=True):
            out[slot] = row[band]
        ties = [tie for tie in self.compiled.ties if sign in tie.signs]
        seen = {
            s: self.findings[s].seen(soften=self.soften) if s in self.findings else []
            for tie in ties
            for s in tie.signs
        }
        self._worth(out, ties, {**seen, sign: [shown]})

    def weights_of(self, sign: str) -> list[float]:
        """Inputs for one finding alone."""
        out = list(self._blank)
        for slot, w in zip(self.compiled.sign_slots[sign], self.rows(sign), strict=True):
            out[slot] = w
        return out

    # -- probability ----------------------------------------------------------

    def joint(self, weights: list[float]) -> tuple[float, list[float], list[float]]:
        """P(e), and for every node P(true, e) and P(false, e), all in the scale of the weights."""
        total, d = self.compiled.derivatives(weights)
        n = len(self.network.nodes)
        true = [weights[2 * i + 1] * d[2 * i + 1] for i in range(n)]
        false = [weights[2 * i] * d[2 * i] for i in range(n)]
        return total, true, false

    def posteriors(self, facts: frozenset[str] | None = None) -> list[Probability]:
        """Posterior of every node, as bounds where signs or gates had to stay outside."""
        total, true, false = self.joint(self.weights(facts))
        slack = 1.0
        for name in self.outside:
            slack *= min(self.rows(name, facts)) * self._loose(name)
        out: list[Probability] = []
        within = set(self.compiled.nodes)
        for i, node in enumerate(self.network.nodes):
            if i in within and total > 0.0:
                a, b = true[i], false[i]
                if slack == 1.0:
                    exact = a / (a + b)
                    out.append(Probability(exact, exact))
                else:
                    out.append(Probability(_ratio(a * slack, b), _ratio(a, b * slack)))
            elif node.is_root and not self.outside:  # nothing observed stands on it
                out.append(Probability(node.prior, node.prior))
            else:
                out.append(_gate_bounds(node.kind, node.k, [out[j] for j in node.inputs]))
        return out

    def _loose(self, name: str) -> float:
        """What a sign outside the circuit may lose besides, where looks in other stages hang together with it."""
        if sum(plain(n) == plain(name) for n in self.findings) < 2:
            return 1.0
        n = len(self.findings[name].seen())
        return (1.0 - STANDING) ** n * max(self.findings[name].rows(self.signs[name].chances, soften=self.soften))

    # -- possibility ----------------------------------------------------------

    @cached_property
    def _open(self) -> tuple[int, ...]:
        return tuple(-1 for _ in range(self.compiled.circuit.inputs))

    def masks(self, present: Mapping[str, int], everywhere: int) -> list[int]:
        """Bit-set inputs: ``present[f]`` holds the columns with fact f, ``everywhere`` all columns."""
        out = [everywhere] * len(self._open)
        for name in self.inside:
            finding, sign = self.findings[name], self.signs[name]
            columns = [0] * len(sign.chances)
            looks = finding.looks
            for choice in range(1 << len(looks)):
                chosen = everywhere
                facts: set[str] = set()
                for n, look in enumerate(looks):
                    here = everywhere
                    for f in look.facts:
                        here &= present[f]
                    if choice >> n & 1:
                        chosen &= here
                        facts.update(look.facts)
                    else:
                        chosen &= ~here
                if not chosen:
                    continue
                some = Finding(name, tuple(k for n, k in enumerate(looks) if choice >> n & 1))
                rows = some.rows(sign.chances, soften=self.soften) if some.looks else [1.0] * len(columns)
                for j, r in enumerate(rows):
                    if r > 0.0:
                        columns[j] |= chosen
            for slot, mask in zip(self.compiled.sign_slots[name], columns, strict=True):
                out[slot] = mask
        return out

    def possible(self, masks: list[int]) -> tuple[int, list[int], list[int]]:
        """Columns that can hold, and for every node those in which it can be true, and false.

        For gates outside the circuit both follow from their inputs (sound, not always complete).
        """
        value, parts = self.compiled.possible(masks)
        true: list[int] = []
        false: list[int] = []
        within = set(self.compiled.nodes)
        for i, node in enumerate(self.network.nodes):
            if i in within:
                true.append(parts[2 * i + 1] & value)
                false.append(parts[2 * i] & value)
            elif node.is_root:
                true.append(value & masks[2 * i + 1])
                false.append(value & masks[2 * i])
            else:
                t, f = _gate_possible(
                    node.kind, node.k, [true[j] for j in node.inputs], [false[j] for j in node.inputs], value
                )
                true.append(t & masks[2 * i + 1])
                false.append(f & masks[2 * i])
        return value, true, false

    @cached_property
    def hard_facts(self) -> tuple[str, ...]:
        """Facts that logic can rest on: those of findings that exclude a row outright."""
        out: dict[str, None] = {}
        for name in self.inside:
            if min(self.findings[name].rows(self.signs[name].chances, soften=self.soften)) <= 0.0:
                for look in self.findings[name].looks:
                    if not look.told:
                        out.update(dict.fromkeys(look.facts))
        return tuple(out)


def _ratio(a: float, b: float) -> float:
    return a / (a + b) if a + b > 0.0 else 0.0


def _gate_bounds(kind: NodeKind, k: int, inputs: Iterable[Probability]) -> Probability:
    """Bounds of a gate from bounds of its inputs, whatever their dependence (Fréchet)."""
    found = list(inputs)
    if not found:
        return Probability(0.0, 1.0)
    lows, highs = [x.low for x in found], [x.high for x in found]
    n = len(found)
    if kind is NodeKind.ANY_OF:
        return Probability(max(lows), min(1.0, sum(highs)))
    if kind is NodeKind.ALL_OF:
        return Probability(max(0.0, sum(lows) - (n - 1)), min(highs))
    return Probability(max(0.0, (sum(lows) - (k - 1)) / (n - k + 1)), min(1.0, sum(highs) / k))


def _gate_possible(
    kind: NodeKind, k: int, true: list[int], false: list[int], everywhere: int
) -> tuple[int, int]:
    """Columns in which a gate may be true, and false, from those of its inputs."""
    n = len(true)
    need = 1 if kind is NodeKind.ANY_OF else n if kind is NodeKind.ALL_OF else k
    return _at_least(true, need, everywhere), _at_least(false, n - need + 1, everywhere)


def _at_least(sets: list[int], k: int, everywhere: int) -> int:
    """Columns that are in at least k of the sets."""
    reach = [everywhere] + [0] * k
    for s in sets:
        for j in range(k, 0, -1):
            reach[j] |= reach[j - 1] & s
    return reach[k]
