"""Site and entries → beliefs: the evidence inside a circuit, kept per set of observed signs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from faultkit.circuit.compile import Compiled, Limits
from faultkit.diagnosis.belief import Belief, compile_within
from faultkit.diagnosis.entail import Entailed, conflict_sets, entailed
from faultkit.diagnosis.repairs import RepairClass, class_gates, repair_classes
from faultkit.evidence.collect import complaint_signs
from faultkit.evidence.look import Evidence
from faultkit.network.ir import Network, Sign
from faultkit.network.site import Site

__all__ = ["Footing", "footing"]

#: Compiled circuits kept per site.
KEPT = 64


@dataclass(frozen=True, slots=True)
class Footing:
    """What every part of a diagnosis stands on.

    ``belief`` gives the posteriors (softened where the facts conflict),
    ``hard`` is the belief logic speaks by, ``logic`` what it decides from
    ``free`` facts: those in no conflict.
    """

    site: Site
    month: int
    network: Network
    classes: tuple[RepairClass, ...]
    class_nodes: tuple[int, ...]
    signs: dict[str, Sign]
    belief: Belief
    hard: Belief
    logic: Entailed
    free: frozenset[str]
    conflicts: tuple[tuple[str, ...], ...]


def _network(site: Site, month: int) -> tuple[Network, tuple[RepairClass, ...], tuple[int, ...]]:
    key = ("with repairs", month)
    if key not in site.memo:
        plain = site.network(month)
        classes = repair_classes(site, plain, plain.faults)
        gates, nodes = class_gates(plain, classes)
        site.memo[key] = (plain.with_gates(gates), classes, nodes)
    found: tuple[Network, tuple[RepairClass, ...], tuple[int, ...]] = site.memo[key]
    return found


def _compiled(
    site: Site, month: int, network: Network, signs: Sequence[Sign], limits: Limits
) -> Compiled:
    kept: dict[object, Compiled] = site.memo.setdefault("circuits", {})
    key = (month, limits, tuple(s.name for s in signs))
    if key not in kept:
        if len(kept) >= KEPT:
            del kept[next(iter(kept))]
        kept[key], _ = compile_within(network, signs, limits)
    return kept[key]


def footing(site: Site, evidence: Evidence, month: int, limits: Limits) -> Footing:
    """Compile what was observed and see what logic makes of it."""
    network, classes, nodes = _network(site, month)
    signs = dict(network.signs)
    for sign in complaint_signs(evidence.complaints.values(), dict(network.index)):
        signs[sign.name] = sign
    observed = [signs[n] for n in sorted(evidence.findings) if n in signs]
    compiled = _compiled(site, month, network, observed, limits)
    hard = Belief(network, evidence, signs, compiled)
    logic = entailed(hard)
    if logic.consistent:
        return Footing(
            site, month, network, classes, nodes, signs, hard, hard, logic, frozenset(hard.hard_facts), ()
        )
    conflicts = conflict_sets(hard)
    # Facts that clash with nothing may still decide; any repair of the conflict keeps them.
    free = frozenset(hard.hard_facts).difference(*conflicts)
    soft = Belief(network, evidence, signs, compiled, soften=True)
    logic = entailed(hard, free)
    return Footing(site, month, network, classes, nodes, signs, soft, hard, logic, free, conflicts)
