"""Site and entries → beliefs: the evidence inside circuits, kept per set of observed signs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from faultkit.circuit.compile import Compiled, Limits
from faultkit.diagnosis.belief import Belief, compile_within, standing_rows
from faultkit.diagnosis.entail import MOST_CONFLICTS, Entailed, conflict_sets, entailed
from faultkit.diagnosis.repairs import RepairClass, class_gates, repair_classes
from faultkit.evidence.collect import complaint_signs
from faultkit.evidence.look import Evidence
from faultkit.network.ir import Network, Sign, plain, since
from faultkit.network.site import Site
from faultkit.network.stages import Stages, Story

__all__ = ["Footing", "footing"]

#: Compiled circuits kept per site.
KEPT = 64


@dataclass(frozen=True, slots=True)
class Footing:
    """What every part of a diagnosis stands on.

    ``hard`` holds the whole network under the facts: logic speaks by it, and ``logic``
    is what it decides from ``free`` facts, those in no conflict. ``belief`` gives the
    posteriors: what is decided is fixed in it, which makes it small; where facts conflict
    nothing is fixed and every fact is softened. ``classes`` are the repair classes that
    bear on what is abnormal, ``class_nodes`` their nodes in ``belief``. ``story`` holds the
    stages; ``signs`` every sign by its name with the stage it dates from.
    """

    site: Site
    month: int
    stages: Stages
    story: Story
    signs: dict[str, Sign]
    hard: Belief
    belief: Belief
    classes: tuple[RepairClass, ...]
    class_nodes: tuple[int, ...]
    logic: Entailed
    free: frozenset[str]
    conflicts: tuple[tuple[str, ...], ...]

    @property
    def network(self) -> Network:
        """The network without the gates of repair classes."""
        return self.hard.network


def _compiled(
    site: Site,
    key: tuple[object, ...],
    network: Network,
    signs: Sequence[Sign],
    fixed: Mapping[int, bool],
    limits: Limits,
) -> Compiled:
    """The circuit, compiled once for a set of observed signs and decided nodes."""
    kept: dict[object, Compiled] = site.memo.setdefault("circuits", {})
    whole = (*key, limits, tuple(s.name for s in signs), tuple(sorted(fixed.items())))
    if whole not in kept:
        if len(kept) >= KEPT:
            del kept[next(iter(kept))]
        kept[whole], _ = compile_within(network, signs, limits, fixed)
    return kept[whole]


def footing(site: Site, evidence: Evidence, month: int, limits: Limits, stages: Stages | None = None) -> Footing:
    """Compile what was observed and see what logic makes of it."""
    stages = stages or Stages(site, month)
    looked = frozenset((plain(n), since(n)) for n in evidence.findings)
    story = stages.story(looked)
    network = story.network
    signs = dict(network.signs)
    for sign in complaint_signs(evidence.complaints, network):
        signs[sign.name] = sign
    observed = [signs[n] for n in sorted(evidence.findings) if n in signs]
    key: tuple[object, ...] = (month, stages.names, looked if stages.last else ())
    hard = Belief(network, evidence, signs, _compiled(site, key, network, observed, {}, limits))
    logic = entailed(hard)
    conflicts: tuple[tuple[str, ...], ...] = ()
    free = frozenset(hard.hard_facts)
    fixed: dict[int, bool] = {}
    if logic.consistent:
        fixed = dict.fromkeys(logic.true, True) | dict.fromkeys(logic.false, False)
    else:
        conflicts = conflict_sets(hard)
        # Facts that clash with nothing may still decide; any repair of the conflict keeps them.
        free = free.difference(*conflicts) if len(conflicts) < MOST_CONFLICTS else frozenset()
        logic = entailed(hard, free)
    classes = _bearing_classes(site, hard)
    gates, nodes = class_gates(network, classes)
    wide = network.with_gates(gates)
    # A sign that logic could not take in might contradict what is fixed: it stays outside here too.
    inside = [s for s in observed if s.name in hard.compiled.sign_slots]
    compiled = _compiled(site, (*key, tuple(c.faults for c in classes)), wide, inside, fixed, limits)
    belief = Belief(wide, evidence, signs, compiled, soften=bool(conflicts))
    return Footing(site, month, stages, story, signs, hard, belief, classes, nodes, logic, free, conflicts)


def _bearing_classes(site: Site, hard: Belief) -> tuple[RepairClass, ...]:
    """Repair classes of faults that bear on what is abnormal (of all faults where nothing is)."""
    network = hard.network
    rows = [hard.signs[s].rows[j] for s, js in standing_rows(hard).items() for j in js]
    if not rows:
        return repair_classes(site, network, network.faults)
    # An event that a remedy changed bears as it is now on what was seen before.
    bearing = {plain(network.nodes[i].name) for i in network.ancestors(rows) if i in network.fault_set}
    return repair_classes(site, network, [f for f in network.faults if plain(network.nodes[f].name) in bearing])
