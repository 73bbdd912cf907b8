"""What is known of every event: verdict, chance, proof, what would settle it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from faultkit.circuit.compile import Limits
from faultkit.diagnosis.belief import Belief, compile_within
from faultkit.diagnosis.entail import least_proofs
from faultkit.diagnosis.history import past_of
from faultkit.diagnosis.prepare import Footing
from faultkit.diagnosis.reasons import proof_steps, stepwise_proofs
from faultkit.diagnosis.result import EventResult, Probability, Proof, Verdict
from faultkit.diagnosis.settle import Settling
from faultkit.diagnosis.weigh import weights_of_evidence
from faultkit.evidence.look import Evidence
from faultkit.network.ir import NodeKind, plain
from faultkit.network.site import Site

__all__ = ["Judged", "named_nodes", "retake_checks"]

#: Bounds wider than this are reported as unknown.
WIDEST = 0.5


def named_nodes(base: Footing) -> tuple[int, ...]:
    """Nodes of now that a person knows by name: events of the site and leaks."""
    nodes = base.network.nodes
    return tuple(
        i for i, name in base.story.now.items() if name in base.site.events or nodes[i].kind is NodeKind.LEAK
    )


def retake_checks(site: Site, signs: Iterable[str]) -> tuple[str, ...]:
    """Checks that take these signs, or the readings they are calculated from, again."""
    wanted = {plain(s) for s in signs}
    for s in sorted(wanted):
        if s in site.signs:
            wanted.update(site.all_readings[site.signs[s].reading].inputs.values())
    return tuple(name for name, c in site.checks.items() if wanted.intersection(c.gives))


class Judged:
    """Verdicts, chances and least proofs of all nodes, in all stages."""

    def __init__(self, base: Footing) -> None:
        self.base = base
        self.posteriors = base.wide.posteriors()
        if base.folded:
            findings = {n: base.hard.findings[n] for n in base.hard.inside}
            self.sets = stepwise_proofs(base.network, findings, base.signs, base.logic.values, base.free)
        else:
            self.sets = least_proofs(base.hard, base.logic, base.free if base.conflicts else None)

    def verdict(self, i: int) -> tuple[Verdict, Probability]:
        """The verdict of a node, and its chance."""
        if i in self.base.logic.true:
            return Verdict.CONFIRMED, Probability(1.0, 1.0)
        if i in self.base.logic.false:
            return Verdict.RULED_OUT, Probability(0.0, 0.0)
        found = self.posteriors[i]
        return (Verdict.UNKNOWN if found.high - found.low > WIDEST else Verdict.OPEN), found

    def facts(self, i: int) -> tuple[str, ...]:
        """A least set of facts that decides a node; none where nothing does."""
        return self.sets.get(i, ())

    def results(self, named: Sequence[int], settled: Settling) -> dict[str, EventResult]:
        """What is known of the events of now, by name."""
        base = self.base
        priors = self._priors()
        whole = base.belief if base.conflicts else None if base.folded else base.hard
        weights = weights_of_evidence(base.belief, whole)
        proofs = self._proofs(named)
        out: dict[str, EventResult] = {}
        for i in named:
            name = base.story.now[i]
            verdict, probability = self.verdict(i)
            is_open = verdict in {Verdict.OPEN, Verdict.UNKNOWN}
            gate, other = self._only_cause(i) if is_open else ("", None)
            out[name] = EventResult(
                event=name,
                verdict=verdict,
                probability=probability,
                prior=priors[base.network.index[name]].middle,
                basic=i in base.network.fault_set,
                proof=proofs.get(i),
                weights=weights.get(i, ()) if is_open else (),
                would_confirm=settled.confirming(i) if is_open else (),
                would_rule_out=settled.ruling_out(i) if is_open else (),
                only_listed_cause_of=gate,
                other=other,
                past=past_of(base, name, self.verdict, self.facts) if base.story.last else (),
            )
        return out

    def _priors(self) -> list[Probability]:
        """Chances before any fact: from the circuit of the facts, or of the first stage alone."""
        base = self.base
        if not base.folded:
            return base.hard.posteriors(frozenset())
        first = base.stages.base
        nothing, _ = compile_within(first, (), Limits())
        return Belief(first, Evidence(), {}, nothing).posteriors()

    def _proofs(self, named: Sequence[int]) -> dict[int, Proof]:
        base = self.base
        values = base.logic.values
        known = [i for i, n in enumerate(base.network.nodes) if plain(n.name) in base.site.events or i in set(named)]
        steps = proof_steps(base.hard, {i: s for i, s in self.sets.items() if i in set(named)}, known, values)
        out: dict[int, Proof] = {}
        for i, chain in steps.items():
            signs = [n for n in base.hard.inside if base.hard.findings[n].facts & set(self.sets[i])]
            premises = dict.fromkeys(
                (p.setting, p.text)
                for n in map(plain, signs)
                if n in base.site.signs
                for p in base.site.signs[n].premises
            )
            retake = retake_checks(base.site, signs) if len(self.sets[i]) == 1 else ()
            out[i] = Proof(self.sets[i], chain, tuple(premises), retake)
        return out

    def _only_cause(self, i: int) -> tuple[str, Probability | None]:
        """A confirmed gate with a leak that has no listed cause left but node ``i``."""
        base, nodes = self.base, self.base.network.nodes
        for g in sorted(base.logic.true):
            gate = nodes[g]
            name = base.story.now.get(g, "")
            if gate.kind is not NodeKind.ANY_OF or name not in base.site.events:
                continue
            leaks = [j for j in gate.inputs if nodes[j].kind is NodeKind.LEAK]
            listed = [j for j in gate.inputs if j not in leaks and j not in base.logic.false]
            if not leaks or len(listed) != 1:
                continue
            cause = listed[0]
            while nodes[cause].kind is NodeKind.ALL_OF and plain(nodes[cause].name) not in base.site.events:
                cause = nodes[cause].inputs[0]  # behind a hidden inhibitor
            if cause == i:
                return name, self.posteriors[leaks[0]]
        return "", None
