"""Site and entries → beliefs: the evidence inside circuits, kept per set of observed signs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from faultkit.circuit.compile import Compiled, Limits, compile_network
from faultkit.diagnosis.abnormal import standing_rows
from faultkit.diagnosis.belief import Belief, compile_within
from faultkit.diagnosis.entail import MOST_CONFLICTS, Entailed, conflict_sets, entailed
from faultkit.diagnosis.reasons import Propagation, clashes
from faultkit.diagnosis.repairs import RepairClass, class_gates, repair_classes
from faultkit.evidence.collect import complaint_signs
from faultkit.evidence.look import Evidence
from faultkit.network.ir import Network, Sign, plain, since
from faultkit.network.site import Site
from faultkit.network.stages import Stages, Story

__all__ = ["Footing", "footing"]

#: Compiled circuits kept per site.
KEPT = 64

#: Table sizes of the circuits of large stages whose facts clash: what does not fit makes chances bounds.
ROUGH = 100_000.0


@dataclass(frozen=True, slots=True)
class Footing:
    """What every part of a diagnosis stands on.

    ``hard`` holds the whole network under the facts: logic speaks by it, and ``logic``
    is what it decides from ``free`` facts, those in no conflict. ``belief`` gives the
    posteriors: what is decided is fixed in it, which makes it small; where facts conflict
    nothing is fixed and every fact is softened. ``classes`` are the repair classes that
    bear on what is abnormal, ``class_nodes`` their nodes in ``belief``. ``story`` holds the
    stages; ``signs`` every sign by its name with the stage it dates from.

    ``folded``: the stages together were too large to hold them with any fact left out. What the
    facts entail step by step is then fixed in ``hard`` too, ``belief`` holds what was observed and
    the faults, and ``wide`` all events of now (else ``wide`` is ``belief``).
    """

    site: Site
    month: int
    stages: Stages
    story: Story
    signs: dict[str, Sign]
    hard: Belief
    belief: Belief
    wide: Belief
    classes: tuple[RepairClass, ...]
    class_nodes: tuple[int, ...]
    logic: Entailed
    free: frozenset[str]
    conflicts: tuple[tuple[str, ...], ...]
    limits: Limits
    folded: bool = False

    @property
    def network(self) -> Network:
        """The network without the gates of repair classes."""
        return self.hard.network

    @property
    def fixed(self) -> dict[int, bool]:
        """What is fixed in ``belief``: all that logic decides, nothing where facts conflict."""
        return {} if self.conflicts else self.logic.values

    def with_rows(self, signs: Iterable[Sign]) -> Belief:
        """A belief that also holds what these signs stand on, and those looked at in another stage."""
        given = {s.name: self.signs[s.name] for s in signs}
        findings = self.belief.findings
        looked = {plain(n) for n in self.belief.inside}
        again = [s for n, s in given.items() if n not in findings and plain(n) in looked]
        if self.wide is self.belief and not again:
            return self.belief
        more = [*self.belief.compiled.nodes, *(r for s in given.values() for r in s.rows)]
        inside = [*(self.signs[n] for n in self.belief.inside), *again]
        compiled = compile_network(
            self.belief.network, inside, keep=self.belief.network.ancestors(more), fixed=self.fixed,
            limits=self.limits,
        )
        return self.wide if compiled is None else self.belief.inside_of(compiled)


class _Kitchen:
    """Compiles for one call; circuits are kept at the site by what is observed and decided."""

    def __init__(self, site: Site, evidence: Evidence, month: int, limits: Limits, stages: Stages) -> None:
        self.site = site
        self.evidence = evidence
        self.stages = stages
        looked = frozenset((plain(n), since(n)) for n in evidence.findings)
        self.story = stages.story(looked)
        self.network = self.story.network
        self.signs = dict(self.network.signs)
        for sign in complaint_signs(evidence.complaints, self.network):
            self.signs[sign.name] = sign
        self.observed = [self.signs[n] for n in sorted(evidence.findings) if n in self.signs]
        self.key: tuple[object, ...] = (month, stages.names, looked if stages.last else ())
        # Stages share their roots but not their gates: more of them may take more room.
        self.limits = replace(limits, table=limits.table * (1 + stages.last))

    def cook(
        self,
        network: Network,
        signs: Sequence[Sign],
        fixed: Mapping[int, bool],
        mark: object = None,
        keep: frozenset[int] | None = None,
        *,
        clamps: bool = True,
    ) -> Compiled | None:
        """A circuit, compiled once for what is observed and decided; without ``keep`` always one within limits."""
        kept: dict[object, Compiled | None] = self.site.memo.setdefault("circuits", {})
        names = tuple(s.name for s in signs)
        whole = (*self.key, self.limits, names, tuple(sorted(fixed.items())), mark, keep, clamps)
        if whole not in kept:
            if len(kept) >= KEPT:
                del kept[next(iter(kept))]
            if keep is None and clamps:
                kept[whole], _ = compile_within(network, signs, self.limits, fixed)
            else:
                bound = self.limits if clamps else replace(self.limits, clamps=0)
                kept[whole] = compile_network(network, signs, keep=keep, fixed=fixed, limits=bound)
        return kept[whole]

    def rough(self, network: Network, signs: Sequence[Sign], fixed: Mapping[int, bool]) -> Compiled:
        """A circuit of as many signs as fit quickly: for stages too large to be held with nothing fixed."""
        return compile_within(network, signs, Limits(min(self.limits.table, ROUGH), 0, 1), fixed)[0]

    def belief(self, compiled: Compiled, network: Network | None = None, *, soften: bool = False) -> Belief:
        return Belief(network or self.network, self.evidence, self.signs, compiled, soften=soften)


def footing(site: Site, evidence: Evidence, month: int, limits: Limits, stages: Stages | None = None) -> Footing:
    """Compile what was observed and see what logic makes of it."""
    stages = stages or Stages(site, month)
    kitchen = _Kitchen(site, evidence, month, limits, stages)
    # One moment is held whole whatever it costs; the stages of a call only where that is cheap.
    fold = limits.fold and stages.last > 0
    whole = None if fold else kitchen.cook(kitchen.network, kitchen.observed, {}, clamps=not stages.last)
    if whole is None:
        return _folded(kitchen, month)
    hard = kitchen.belief(whole)
    logic = entailed(hard)
    conflicts: tuple[tuple[str, ...], ...] = ()
    free = frozenset(hard.hard_facts)
    if not logic.consistent:
        conflicts = conflict_sets(hard)
        # Facts that clash with nothing may still decide; any repair of the conflict keeps them.
        free = free.difference(*conflicts) if len(conflicts) < MOST_CONFLICTS else frozenset()
        logic = entailed(hard, free)
    classes = _bearing_classes(site, hard)
    gates, nodes = class_gates(kitchen.network, classes)
    network = kitchen.network.with_gates(gates)
    # A sign that logic could not take in might contradict what is fixed: it stays outside here too.
    inside = [s for s in kitchen.observed if s.name in hard.compiled.sign_slots]
    fixed = {} if conflicts else logic.values
    compiled = kitchen.cook(network, inside, fixed, tuple(c.faults for c in classes))
    assert compiled is not None
    belief = kitchen.belief(compiled, network, soften=bool(conflicts))
    return Footing(
        site, month, stages, kitchen.story, kitchen.signs, hard, belief, belief, classes, nodes, logic, free, conflicts,
        kitchen.limits,
    )


def _folded(kitchen: _Kitchen, month: int) -> Footing:
    """The footing of stages that are too large to hold whole: what is entailed step by step is fixed first."""
    network, observed = kitchen.network, kitchen.observed
    findings = {s.name: kitchen.evidence.findings[s.name] for s in observed}
    facts = frozenset(kitchen.evidence.facts)
    run = Propagation(network, findings, kitchen.signs, facts)
    rows = [r for s in observed for r in s.rows]
    seen = network.ancestors([*rows, *network.faults, *network.earlier, *_damaging(kitchen)])
    core = None
    if not run.clash:
        core = kitchen.cook(network, observed, run.known, keep=seen) or kitchen.rough(network, observed, run.known)
    conflicts: tuple[tuple[str, ...], ...] = ()
    if core is None or not entailed(kitchen.belief(core)).consistent:
        conflicts = clashes(network, findings, kitchen.signs, sorted(facts))
        core = kitchen.rough(network, observed, {})
    hard = kitchen.belief(core)
    free = frozenset(hard.hard_facts).difference(*conflicts)
    logic = entailed(hard, free)
    if conflicts:
        logic = logic.also(Propagation(network, findings, kitchen.signs, free).known)
    classes = _bearing_classes(kitchen.site, hard)
    gates, nodes = class_gates(network, classes)
    network = network.with_gates(gates)
    fixed = {} if conflicts else logic.values
    inside = [s for s in observed if s.name in hard.compiled.sign_slots]
    mark = tuple(c.faults for c in classes)
    narrow = kitchen.cook(network, inside, fixed, mark, network.ancestors([*seen, *nodes]), clamps=not conflicts)
    events = (i for i, name in kitchen.story.now.items() if "@" not in name)
    now = network.ancestors([*seen, *nodes, *events, *(r for s in kitchen.story.signs.values() for r in s.rows)])
    whole = kitchen.cook(network, inside, fixed, mark, now, clamps=not conflicts) if narrow else None
    narrow = narrow or kitchen.rough(network, inside, fixed)
    belief = kitchen.belief(narrow, network, soften=bool(conflicts))
    wide = kitchen.belief(whole, network, soften=bool(conflicts)) if whole else belief
    if not conflicts:
        # Gates as they were before a later remedy are in no circuit unless something was seen of them.
        logic = entailed(wide).below(len(kitchen.network.nodes)).also(run.known)
    return Footing(
        kitchen.site, month, kitchen.stages, kitchen.story, kitchen.signs, hard, belief, wide, classes, nodes,
        logic, free, conflicts, kitchen.limits, folded=True,
    )


def _damaging(kitchen: _Kitchen) -> list[int]:
    """What may break a part, as it was before any remedy."""
    index = kitchen.network.index
    return [
        index[x.cause]
        for e in kitchen.site.events.values()
        if e.name in index
        for x in e.broken_by
        if x.cause in index
    ]


def _bearing_classes(site: Site, hard: Belief) -> tuple[RepairClass, ...]:
    """Repair classes of faults that bear on what is abnormal (of all faults where nothing is)."""
    network = hard.network
    rows = [hard.signs[s].rows[j] for s, js in standing_rows(hard).items() for j in js]
    if not rows:
        return repair_classes(site, network, network.faults)
    # An event that a remedy changed bears as it is now on what was seen before.
    bearing = {plain(network.nodes[i].name) for i in network.ancestors(rows) if i in network.fault_set}
    return repair_classes(site, network, [f for f in network.faults if plain(network.nodes[f].name) in bearing])
