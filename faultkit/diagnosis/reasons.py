"""Steps of a proof: what follows from what, found by propagation and traced back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.diagnosis.belief import Belief
from faultkit.diagnosis.result import Step
from faultkit.evidence.look import Finding
from faultkit.network.ir import Network, NodeKind, Sign

__all__ = ["Propagation", "clashes", "proof_steps", "stepwise_proofs"]


NOTHING: Mapping[int, bool] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class _Why:
    rule: str
    via: str
    needs: tuple[int, ...]
    facts: tuple[str, ...] = ()


def _needed(kind: NodeKind, k: int, n: int) -> int:
    return 1 if kind is NodeKind.ANY_OF else n if kind is NodeKind.ALL_OF else k


class Propagation:
    """Unit propagation through gates and signs, remembering why.

    ``clash``: the facts contradict each other, or what is ``assumed`` besides.
    What is found follows from the facts; not all that follows is found.
    """

    def __init__(
        self,
        network: Network,
        findings: Mapping[str, Finding],
        signs: Mapping[str, Sign],
        facts: frozenset[str],
        assumed: Mapping[int, bool] = NOTHING,
    ) -> None:
        self.network = network
        self.known: dict[int, bool] = {}
        self.why: dict[int, _Why] = {}
        self.order: list[int] = []
        self.signs = []
        self.clash = False
        for name, finding in findings.items():
            sign = signs[name]
            rows = finding.rows(sign.chances, facts)
            if min(rows) <= 0.0:
                mine = tuple(f for f in sorted(finding.facts) if f in facts)
                self.signs.append((name, sign.rows, tuple(r > 0.0 for r in rows), mine))
        self.users: dict[int, list[int]] = {}
        for g, node in enumerate(self.network.nodes):
            for i in node.inputs:
                self.users.setdefault(i, []).append(g)
        for i, value in assumed.items():
            self.put(i, value, _Why("assumed", "", ()))
        self._run()

    def put(self, node: int, value: bool, why: _Why) -> None:
        """Note a value and why it is so, the first time it is found."""
        if node not in self.known:
            self.known[node] = value
            self.why[node] = why
            self.order.append(node)

    def _run(self) -> None:
        done = 0
        while True:
            for sign in self.signs:
                self._sign(*sign)
            if done == len(self.order):
                return
            while done < len(self.order):
                node = self.order[done]
                done += 1
                if not self.network.nodes[node].is_root:
                    self._gate(node)
                for g in self.users.get(node, ()):
                    self._gate(g)

    def _gate(self, g: int) -> None:
        node = self.network.nodes[g]
        n = len(node.inputs)
        need = _needed(node.kind, node.k, n)
        true = tuple(i for i in node.inputs if self.known.get(i) is True)
        false = tuple(i for i in node.inputs if self.known.get(i) is False)
        rest = [i for i in node.inputs if i not in self.known]
        state = self.known.get(g)
        if (state is False and len(true) >= need) or (state and n - len(false) < need):
            self.clash = True
        elif state is None:
            if len(true) >= need:
                self.put(g, True, _Why("cause", node.name, true[:need]))
            elif n - len(false) < need:
                self.put(g, False, _Why("no_cause", node.name, false))
        elif state and n - len(false) == need:
            rule = "elimination" if false else "needed"
            for i in rest:
                self.put(i, True, _Why(rule, node.name, (g, *false)))
        elif not state and len(true) == need - 1:
            for i in rest:
                self.put(i, False, _Why("prevented", node.name, (g, *true)))

    def _sign(self, name: str, rows: tuple[int, ...], allowed: tuple[bool, ...], facts: tuple[str, ...]) -> None:
        """The first true row must be an allowed one."""
        open_rows: list[int] = []
        passed: list[int] = []
        for row, fits in zip(rows, allowed, strict=False):
            state = self.known.get(row)
            if fits:
                if state is True:
                    return
                if state is None:
                    open_rows.append(row)
                else:
                    passed.append(row)
            elif state is True:
                if len(open_rows) == 1:
                    self.put(open_rows[0], True, _Why("reading", name, (row, *passed), facts))
                self.clash |= not open_rows
                return
            elif not open_rows:
                if state is None:
                    self.put(row, False, _Why("reading", name, tuple(passed), facts))
                passed.append(row)
        self.clash |= not allowed[len(rows)] and not open_rows
        if not allowed[len(rows)] and len(open_rows) == 1:
            self.put(open_rows[0], True, _Why("reading", name, tuple(passed), facts))

    def facts_for(self, node: int) -> tuple[str, ...]:
        """The facts that the value found for a node rests on."""
        seen, stack = {node}, [node]
        facts: dict[str, None] = {}
        while stack:
            why = self.why[stack.pop()]
            facts.update(dict.fromkeys(why.facts))
            stack += [i for i in why.needs if i not in seen]
            seen.update(why.needs)
        return tuple(sorted(facts))


def _clash(
    network: Network, findings: Mapping[str, Finding], signs: Mapping[str, Sign], facts: Iterable[str]
) -> bool:
    return Propagation(network, findings, signs, frozenset(facts)).clash


def clashes(
    network: Network, findings: Mapping[str, Finding], signs: Mapping[str, Sign], facts: Sequence[str], most: int = 20
) -> tuple[tuple[str, ...], ...]:
    """Sets of facts that clash step by step, none of which can be left out; all facts where no step shows it."""
    found: list[frozenset[str]] = []
    queue: list[frozenset[str]] = [frozenset()]
    seen = {queue[0]}
    while queue and len(found) < most:
        without = queue.pop(0)
        rest = [f for f in facts if f not in without]
        known = next((s for s in found if not s & without), None)
        if known is None:
            if not _clash(network, findings, signs, rest):
                continue
            for f in [*rest]:
                fewer = [x for x in rest if x != f]
                if _clash(network, findings, signs, fewer):
                    rest = fewer
            known = frozenset(rest)
            found.append(known)
        for f in sorted(known):
            if without | {f} not in seen:
                seen.add(without | {f})
                queue.append(without | {f})
    sets = [tuple(sorted(s)) for s in found] or [tuple(facts)]
    return tuple(sorted(sets, key=lambda s: (len(s), s)))


def stepwise_proofs(
    network: Network,
    findings: Mapping[str, Finding],
    signs: Mapping[str, Sign],
    wanted: Mapping[int, bool],
    facts: frozenset[str],
) -> dict[int, tuple[str, ...]]:
    """For every decided node facts that suffice, none of which the steps found can do without.

    The steps lead to it, or from its contrary to a contradiction; where neither does, all facts are given.
    """
    whole = Propagation(network, findings, signs, facts)
    runs: dict[frozenset[str], Propagation] = {facts: whole}

    def shown(node: int, by: frozenset[str]) -> bool:
        if node not in whole.known:
            return Propagation(network, findings, signs, by, {node: not wanted[node]}).clash
        if by not in runs:
            runs[by] = Propagation(network, findings, signs, by)
        return node in runs[by].known

    out: dict[int, tuple[str, ...]] = {}
    for node in wanted:
        kept = frozenset(whole.facts_for(node)) if node in whole.known else facts
        for f in sorted(kept) if shown(node, kept) else ():
            if shown(node, kept - {f}):
                kept -= {f}
        out[node] = tuple(sorted(kept))
    return out


def proof_steps(
    belief: Belief, proofs: Mapping[int, tuple[str, ...]], named: Iterable[int], values: Mapping[int, bool]
) -> dict[int, tuple[Step, ...]]:
    """Steps of every proof. ``named`` nodes may be shown; hidden ones between them are passed through."""
    shown = frozenset(named)
    runs: dict[frozenset[str], Propagation] = {}
    out: dict[int, tuple[Step, ...]] = {}
    for node, facts in proofs.items():
        if node not in shown:
            continue
        key = frozenset(facts)
        if key not in runs:
            inside = {n: belief.findings[n] for n in belief.inside}
            runs[key] = Propagation(belief.network, inside, belief.signs, key)
        run = runs[key]
        if node in run.known:
            out[node] = _trace(run, node, shown)
        else:
            out[node] = (_cases(belief, run, node, values[node], shown, facts),)
    return out


def _trace(run: Propagation, target: int, shown: frozenset[int]) -> tuple[Step, ...]:
    rank = {n: at for at, n in enumerate(run.order)}
    wanted = {target}
    stack = [target]
    while stack:
        for i in run.why[stack.pop()].needs:
            if i not in wanted:
                wanted.add(i)
                stack.append(i)
    nodes = run.network.nodes
    steps = []
    for n in sorted(wanted, key=lambda n: rank[n]):
        if n not in shown:
            continue
        why = run.why[n]
        needs, facts, via = _through(run, n, shown)
        steps.append(
            Step(
                nodes[n].name, run.known[n], why.rule, via,
                tuple((nodes[i].name, run.known[i]) for i in needs), facts,
            )
        )
    return tuple(steps)


def _through(run: Propagation, n: int, shown: frozenset[int]) -> tuple[list[int], tuple[str, ...], str]:
    """Shown events a step rests on, its facts and its gate or sign, hidden nodes skipped."""
    why = run.why[n]
    needs: dict[int, None] = {}
    facts: dict[str, None] = dict.fromkeys(why.facts)
    via = why.via
    hidden = [i for i in why.needs if i not in shown]
    needs.update(dict.fromkeys(i for i in why.needs if i in shown))
    seen = set(hidden)
    while hidden:
        inner = run.why[hidden.pop()]
        facts.update(dict.fromkeys(inner.facts))
        gate = run.network.index.get(via)
        if gate is not None and gate not in shown:
            via = inner.via
        for i in inner.needs:
            if i in shown:
                needs[i] = None
            elif i not in seen:
                seen.add(i)
                hidden.append(i)
    needs.pop(n, None)
    return list(needs), tuple(facts), via


def _cases(
    belief: Belief, run: Propagation, target: int, value: bool, shown: frozenset[int], facts: tuple[str, ...]
) -> Step:
    """Logic decides it, though no single chain does: name the gates between the facts and the event."""
    rows = [r for name in belief.inside if belief.findings[name].facts & set(facts) for r in belief.signs[name].rows]
    around = belief.network.ancestors(rows)
    nodes = belief.network.nodes
    needs = tuple(
        (nodes[n].name, run.known[n]) for n in run.order if n in shown and n in around and n != target
    )
    return Step(nodes[target].name, value, "cases", "", needs, tuple(facts))
