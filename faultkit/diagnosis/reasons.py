"""Steps of a proof: what follows from what, found by propagation and traced back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from faultkit.diagnosis.belief import Belief
from faultkit.diagnosis.result import Step
from faultkit.network.ir import Network, NodeKind

__all__ = ["proof_steps"]


@dataclass(frozen=True, slots=True)
class _Why:
    rule: str
    via: str
    needs: tuple[int, ...]
    facts: tuple[str, ...] = ()


def _needed(kind: NodeKind, k: int, n: int) -> int:
    return 1 if kind is NodeKind.ANY_OF else n if kind is NodeKind.ALL_OF else k


class _Propagation:
    """Unit propagation through gates and signs, remembering why."""

    def __init__(self, belief: Belief, facts: frozenset[str]) -> None:
        self.network: Network = belief.network
        self.known: dict[int, bool] = {}
        self.why: dict[int, _Why] = {}
        self.order: list[int] = []
        self.signs = []
        for name in belief.inside:
            rows = belief.rows(name, facts)
            if min(rows) <= 0.0:
                sign = belief.signs[name]
                mine = tuple(f for f in sorted(belief.findings[name].facts) if f in facts)
                self.signs.append((name, sign.rows, tuple(r > 0.0 for r in rows), mine))
        self.users: dict[int, list[int]] = {}
        for g, node in enumerate(self.network.nodes):
            for i in node.inputs:
                self.users.setdefault(i, []).append(g)
        self._run()

    def put(self, node: int, value: bool, why: _Why) -> None:
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
        if state is None:
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
                return
            elif not open_rows:
                if state is None:
                    self.put(row, False, _Why("reading", name, tuple(passed), facts))
                passed.append(row)
        if not allowed[len(rows)] and len(open_rows) == 1:
            self.put(open_rows[0], True, _Why("reading", name, tuple(passed), facts))


def proof_steps(
    belief: Belief, proofs: Mapping[int, tuple[str, ...]], named: Iterable[int], values: Mapping[int, bool]
) -> dict[int, tuple[Step, ...]]:
    """Steps of every proof. ``named`` nodes may be shown; hidden ones between them are passed through."""
    shown = frozenset(named)
    runs: dict[frozenset[str], _Propagation] = {}
    out: dict[int, tuple[Step, ...]] = {}
    for node, facts in proofs.items():
        if node not in shown:
            continue
        key = frozenset(facts)
        if key not in runs:
            runs[key] = _Propagation(belief, key)
        run = runs[key]
        if node in run.known:
            out[node] = _trace(run, node, shown)
        else:
            out[node] = (_cases(belief, run, node, values[node], shown, facts),)
    return out


def _trace(run: _Propagation, target: int, shown: frozenset[int]) -> tuple[Step, ...]:
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


def _through(run: _Propagation, n: int, shown: frozenset[int]) -> tuple[list[int], tuple[str, ...], str]:
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
    belief: Belief, run: _Propagation, target: int, value: bool, shown: frozenset[int], facts: tuple[str, ...]
) -> Step:
    """Logic decides it, though no single chain does: name the gates between the facts and the event."""
    rows = [r for name in belief.inside if belief.findings[name].facts & set(facts) for r in belief.signs[name].rows]
    around = belief.network.ancestors(rows)
    nodes = belief.network.nodes
    needs = tuple(
        (nodes[n].name, run.known[n]) for n in run.order if n in shown and n in around and n != target
    )
    return Step(nodes[target].name, value, "cases", "", needs, tuple(facts))
