"""Network and observed signs → circuit, within a bound on its size."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from faultkit.circuit.circuit import Circuit
from faultkit.circuit.factors import Factor, Tie, fix, layout_of, multiply, restrict, sum_out
from faultkit.circuit.ops import ONE, Ops
from faultkit.circuit.order import Order, best_order, graph_of, greedy
from faultkit.network.ir import Network, Sign

__all__ = ["Compiled", "Limits", "compile_network"]


@dataclass(frozen=True, slots=True)
class Limits:
    """``table`` bounds the summed table sizes of an elimination, ``clamps`` the events conditioned on.

    Tables are sparse: a million entries make some hundred thousand operations at most.
    ``tries`` elimination orders are compared. ``fold``: fix what the facts entail before the stages of
    a call are compiled, even where they would fit whole.
    """

    table: float = 1_000_000.0
    clamps: int = 12
    tries: int = 3
    fold: bool = False


@dataclass(frozen=True, slots=True)
class Compiled:
    """A circuit for some nodes and signs of a network.

    Inputs: 2i and 2i + 1 weigh node i false and true, ``sign_slots`` the rows of
    each sign, ``ties`` looks at one reading in several stages, ``switches`` (pairs of
    inputs) the clamped variables, which every pass sums over.
    ``signs`` are the observed signs inside; ``nodes`` the nodes inside.
    """

    network: Network
    circuit: Circuit
    nodes: tuple[int, ...]
    signs: tuple[str, ...]
    sign_slots: dict[str, tuple[int, ...]]
    ties: tuple[Tie, ...]
    switches: tuple[tuple[int, ...], ...]
    width: int

    def blank(self, one: float = 1.0) -> list[float]:
        """Inputs that say nothing: every weight ``one``."""
        return [one] * self.circuit.inputs

    def settings(self) -> Iterable[list[tuple[int, int]]]:
        """For each combination of clamped values, the (input, 0 or 1) pairs that switch it on."""
        for combo in itertools.product(*(range(len(s)) for s in self.switches)):
            yield [
                (slot, int(x == value))
                for slots, value in zip(self.switches, combo, strict=True)
                for x, slot in enumerate(slots)
            ]

    def value(self, weights: list[float]) -> float:
        """Probability of the evidence under these weights."""
        if not self.switches:
            return self.circuit.value(weights)
        total = 0.0
        for switched in self.settings():
            for slot, x in switched:
                weights[slot] = float(x)
            total += self.circuit.value(weights)
        return total

    def derivatives(self, weights: list[float]) -> tuple[float, list[float]]:
        """Probability of the evidence and its derivative by every input."""
        if not self.switches:
            return self.circuit.derivatives(weights)
        total, sums = 0.0, [0.0] * self.circuit.inputs
        for switched in self.settings():
            for slot, x in switched:
                weights[slot] = float(x)
            value, d = self.circuit.derivatives(weights)
            if value or any(d):
                total += value
                sums = [a + b for a, b in zip(sums, d, strict=True)]
        return total, sums

    def derivatives_of(self, weights: list[float], wanted: tuple[int, ...]) -> tuple[float, list[float]]:
        """Probability of the evidence and its derivatives by the ``wanted`` inputs, in their order."""
        if not self.switches:
            return self.circuit.derivatives_of(weights, wanted)
        total, d = self.derivatives(weights)
        return total, [d[n] for n in wanted]

    def possible(self, masks: list[int]) -> tuple[int, list[int]]:
        """Bit sets: columns that can hold, and for each input the columns that can hold with it."""
        if not self.switches:
            return self.circuit.possible(masks)
        total, sums = 0, [0] * self.circuit.inputs
        for switched in self.settings():
            for slot, x in switched:
                masks[slot] = -x
            value, d = self.circuit.possible(masks)
            total |= value
            sums = [a | b for a, b in zip(sums, d, strict=True)]
        return total, sums

    def best(self, weights: list[float]) -> tuple[float, frozenset[int]]:
        """Most probable world: its weight and the inputs that make it."""
        found = (-1.0, frozenset[int]())
        for switched in self.settings():
            for slot, x in switched:
                weights[slot] = float(x)
            found = max(found, self.circuit.best(weights), key=lambda pair: pair[0])
        return found

    def cheapest(self, costs: list[float]) -> tuple[float, frozenset[int]]:
        """Cheapest world: its cost and the inputs that make it."""
        found = (float("inf"), frozenset[int]())
        for switched in self.settings():
            for slot, x in switched:
                costs[slot] = 0.0 if x else float("inf")
            found = min(found, self.circuit.cheapest(costs), key=lambda pair: pair[0])
        return found


def compile_network(
    network: Network,
    signs: Sequence[Sign],
    *,
    keep: Iterable[int] | None = None,
    fixed: Mapping[int, bool] | None = None,
    limits: Limits = Limits(),
) -> Compiled | None:
    """A circuit of the nodes ``keep`` (all by default) and ``signs``, or None beyond the limits.

    ``keep`` must contain what its members and the signs stand on. ``fixed`` nodes
    have a known value: worlds where they differ are left out, which makes the circuit smaller.
    """
    nodes = tuple(sorted(keep)) if keep is not None else tuple(range(len(network.nodes)))
    inside = frozenset(nodes)
    layout = layout_of(network, nodes, signs)
    factors, known = fix(layout.factors, {i: int(v) for i, v in (fixed or {}).items() if i in inside})
    found = _order(layout.domains, factors, limits)
    if found is None:
        return None
    order, clamped = found
    slots = layout.slots
    switches: dict[int, tuple[int, ...]] = {}
    for v in clamped:
        switches[v] = tuple(range(slots, slots + layout.domains[v]))
        slots += layout.domains[v]
    ops = Ops(slots)
    factors = [restrict(ops, f, switches) for f in factors]
    root = _eliminate(ops, factors, [v for v in order.sequence if v not in known])
    if root == ONE:  # nothing to weigh at all: an input of weight one stands for it
        ops, root = Ops(slots + 1), slots
    return Compiled(
        network,
        Circuit(ops, root),
        nodes,
        tuple(s.name for s in signs),
        layout.sign_slots,
        layout.ties,
        tuple(switches.values()),
        order.width,
    )


def _order(domains: list[int], factors: list[Factor], limits: Limits) -> tuple[Order, list[int]] | None:
    """An order within the limit, clamping the variables that meet the largest tables until it is."""
    order = best_order([f.scope for f in factors], domains, limits.table, limits.tries)
    if order is not None:
        return order, []
    clamped: list[int] = []
    while len(clamped) < limits.clamps:
        scopes = [[v for v in f.scope if v not in clamped] for f in factors]
        met = greedy(graph_of(len(domains), scopes), domains, range(len(domains)), relative=True)
        assert met is not None
        uses = [0] * len(domains)
        for scope in scopes:
            for v in scope:
                uses[v] += 1
        clamped.append(max(met.heavy, key=lambda v: (uses[v], -v)))
        scopes = [[v for v in scope if v != clamped[-1]] for scope in scopes]
        order = best_order(scopes, domains, limits.table, limits.tries)
        if order is not None:
            order.sequence = [v for v in order.sequence if v not in clamped]
            return order, clamped
    return None


def _eliminate(ops: Ops, factors: list[Factor], sequence: list[int]) -> int:
    """Multiply and sum out variable by variable; the last number left is the root."""
    holders: dict[int, set[int]] = {}
    live: dict[int, Factor] = dict(enumerate(factors))
    for n, f in live.items():
        for v in f.scope:
            holders.setdefault(v, set()).add(n)
    fresh = len(factors)
    for v in sequence:
        mine = sorted(holders.pop(v, ()), key=lambda n: (len(live[n].scope), n))
        if not mine:
            continue
        product = live[mine[0]]
        for n in mine[1:]:
            product = multiply(ops, product, live[n])
        for n in mine:
            for u in live[n].scope:
                if u != v:
                    holders[u].discard(n)
            del live[n]
        rest = sum_out(ops, product, v)
        live[fresh] = rest
        for u in rest.scope:
            holders[u].add(fresh)
        fresh += 1
    root = ONE
    for n in sorted(live):
        root = ops.mul(root, live[n].table[()])
    return root
