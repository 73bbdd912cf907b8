"""Posteriors, a changed fact, next checks and compiling, against pyAgrum and PySDD."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property, partial
from typing import cast

from faultkit.circuit.compile import Compiled, compile_network
from faultkit.diagnosis.belief import Belief
from faultkit.diagnosis.checks import Outlook
from faultkit.diagnosis.moves import Moves, Standing
from faultkit.evidence.look import Evidence, Finding, Look
from faultkit.network.ir import Network, NodeKind, Sign
from tests.benchmarks.contest import Contest, Later, close
from tests.benchmarks.sdd import Diagram
from tests.outside.agrum import Peer
from tests.outside.networks import drawn, generated

__all__ = ["Case", "contests"]

OBSERVED, CHECKS = 15, 25


class Case:
    """A network with 15 signs seen and 25 not."""

    def __init__(self, seed: int, basics: int) -> None:
        self.network = generated(seed, basics)
        self.seen = drawn(self.network, OBSERVED, seed)
        self.signs = [self.network.signs[s] for s in self.seen]
        self.open = [s for name, s in self.network.signs.items() if name not in self.seen][:CHECKS]
        self.basics = [i for i, n in enumerate(self.network.nodes) if n.kind is NodeKind.BASIC]
        self.roots = [i for i, n in enumerate(self.network.nodes) if n.is_root]
        self.compiled = compiled(self.network, self.signs)
        self.blank = self.compiled.blank()
        for i in self.roots:
            prior = self.network.nodes[i].prior
            self.blank[2 * i], self.blank[2 * i + 1] = 1.0 - prior, prior

    def rows(self, sign: str, band: int) -> list[float]:
        return [chances[band] for chances in self.network.signs[sign].chances]

    def weights(self, seen: Mapping[str, int]) -> list[float]:
        w = self.blank.copy()
        for s, band in seen.items():
            for slot, row in zip(self.compiled.sign_slots[s], self.rows(s, band), strict=True):
                w[slot] = row
        return w

    def posteriors(self, seen: Mapping[str, int]) -> list[float]:
        w = self.weights(seen)
        wanted = self.wanted
        total, d = self.compiled.derivatives_of(w, wanted)
        return [w[n] * x / total for n, x in zip(wanted, d, strict=True)]

    @cached_property
    def wanted(self) -> tuple[int, ...]:
        """Inputs that weigh the basic events being true."""
        return tuple(2 * i + 1 for i in self.basics)

    def every_node(self, seen: Mapping[str, int]) -> list[float]:
        """Gates and false sides too, as a diagnosis reads them."""
        w = self.weights(seen)
        total, d = self.compiled.derivatives(w)
        return [w[2 * i + 1] * d[2 * i + 1] / total for i in self.basics]

    def first_passes(self, seen: Mapping[str, int]) -> list[float]:
        """As long as a circuit is new, a loop runs through it."""
        w = self.weights(seen)
        total, d = self.compiled.circuit._loop_down(w)
        return [w[2 * i + 1] * d[2 * i + 1] / total for i in self.basics]

    def changed(self) -> dict[str, int]:
        """The same evidence with one band changed to another that can be."""
        for name, band in self.seen.items():
            for other in range(len(self.network.signs[name].bands)):
                new = {**self.seen, name: other}
                if other != band and self.compiled.value(self.weights(new)) > 0.0:
                    return new
        raise AssertionError("no fact of this case can change")

    def outlook(self) -> Outlook:
        """The library's own view of next checks, without repairs: all patterns and outcomes."""
        evidence = Evidence({s: exactly(self.network.signs[s], band) for s, band in self.seen.items()})
        belief = Belief(self.network, evidence, self.network.signs, self.compiled)
        return Outlook(belief, (), (), cast("Moves", None), Standing(""))


def exactly(sign: Sign, band: int) -> Finding:
    shares = tuple(float(b == band) for b in range(len(sign.bands)))
    return Finding(sign.name, (Look(sign.name, (sign.name,), shares),))


def compiled(network: Network, signs: Sequence[Sign]) -> Compiled:
    found = compile_network(network, signs)
    assert found is not None
    return found


def contests(name: str, seed: int, basics: int, *, all_signs: bool = True) -> list[Contest]:
    """All contests on one case; ``all_signs`` where PySDD can build a diagram with all 40 signs."""
    case = Case(seed, basics)
    size = f"{name}: {basics} basic events, {len(case.network.nodes)} nodes, {len(case.compiled.circuit)} operations"
    return [
        _compiling(size, case),
        _posteriors(size, case),
        _changing(size, case),
        _looking_ahead(size, case, diagram=all_signs),
    ]


ENGINES = {"pyAgrum LazyPropagation": "LazyPropagation", "pyAgrum ShaferShenoy": "ShaferShenoyInference"}
DIAGRAMS = {"PySDD": False, "PySDD minimized": True}


def _peer(case: Case, engine: str) -> Peer:
    return Peer(case.network, case.signs, case.basics, engine)


def _diagram(case: Case, signs: Sequence[Sign], *, minimize: bool) -> Diagram:
    found = Diagram(case.network, signs, minimize=minimize)
    found.see({s: case.rows(s, band) for s, band in case.seen.items()})
    return found


def _compiling(size: str, case: Case) -> Contest:
    def ours() -> list[float]:
        c = compiled(case.network, case.signs)
        w = case.weights(case.seen)
        total, d = c.derivatives(w)
        return [w[2 * i + 1] * d[2 * i + 1] / total for i in case.basics]

    def agrum() -> list[float]:
        return _peer(case, "LazyPropagation").posteriors(case.seen)

    def sdd(*, minimize: bool) -> list[float]:
        return _diagram(case, case.signs, minimize=minimize).posteriors(case.basics)[1]

    runs: dict[str, Callable[[], object]] = {"faultkit": ours, "pyAgrum LazyPropagation": agrum}
    runs |= {name: partial(sdd, minimize=minimize) for name, minimize in DIAGRAMS.items()}
    return Contest(f"{size}; from the network to the first posteriors", runs, close, {}, slow=True)


def _posteriors(size: str, case: Case) -> Contest:
    runs: dict[str, Callable[[], object]] = {
        "faultkit": lambda: case.posteriors(case.seen),
        "faultkit, all nodes": lambda: case.every_node(case.seen),
        "faultkit, first passes": lambda: case.first_passes(case.seen),
    }

    def agrum(engine: str) -> Callable[[], object]:
        return partial(_peer(case, engine).posteriors, case.seen)

    def sdd(*, minimize: bool) -> Callable[[], object]:
        d = _diagram(case, case.signs, minimize=minimize)
        return lambda: d.posteriors(case.basics)[1]

    runs |= {name: Later(partial(agrum, engine)) for name, engine in ENGINES.items()}
    runs |= {name: Later(partial(sdd, minimize=minimize)) for name, minimize in DIAGRAMS.items()}
    notes = {
        "faultkit": "roots only; generated code",
        "faultkit, all nodes": "gates and false sides too",
        "faultkit, first passes": "a loop, no code made yet",
        "PySDD": "roots only",
        "PySDD minimized": "roots only",
    }
    return Contest(f"{size}; posteriors of the basic events, {OBSERVED} signs seen", runs, close, notes)


def _changing(size: str, case: Case) -> Contest:
    new = case.changed()
    name = next(s for s in new if new[s] != case.seen[s])
    runs: dict[str, Callable[[], object]] = {
        "faultkit": lambda: [case.posteriors(new), case.posteriors(case.seen)],
    }

    def agrum(engine: str) -> Callable[[], object]:
        peer = _peer(case, engine)
        peer.posteriors(case.seen)

        def run() -> list[list[float]]:
            out = []
            for band in (new[name], case.seen[name]):
                peer.engine.chgEvidence(peer.signs[name], band)
                out.append(peer.again())
            return out

        return run

    def sdd(*, minimize: bool) -> Callable[[], object]:
        d = _diagram(case, case.signs, minimize=minimize)

        def run() -> list[list[float]]:
            out = []
            for band in (new[name], case.seen[name]):
                d.see({name: case.rows(name, band)})
                out.append(d.posteriors(case.basics)[1])
            return out

        return run

    runs |= {label: Later(partial(agrum, engine)) for label, engine in ENGINES.items()}
    runs |= {label: Later(partial(sdd, minimize=minimize)) for label, minimize in DIAGRAMS.items()}
    return Contest(f"{size}; one fact changed, and back", runs, close, {})


def _looking_ahead(size: str, case: Case, *, diagram: bool) -> Contest:
    """For each open sign and band: its chance, and the posterior of every basic event if it is seen."""
    at = {f: n for n, f in enumerate(case.network.faults)}
    picked = [at[i] for i in case.basics]

    def ours() -> list[list[float]]:
        outlook = case.outlook()
        found = [g for s in case.open for g in outlook.guesses([s], outlook.patterns([s]))]
        return [[g.probability, *(g.faults[n] for n in picked)] for g in found]

    runs: dict[str, Callable[[], object]] = {
        "faultkit": ours,
        "pyAgrum LazyPropagation": Later(partial(_ahead_by_agrum, case)),
    }
    if diagram:
        runs["PySDD minimized"] = Later(partial(_ahead_by_diagram, case))
    notes = {
        "faultkit": "Outlook: one clamped pass a row, outcomes mixed from them",
        "pyAgrum LazyPropagation": "one inference a band",
        "PySDD minimized": "one count a row, outcomes mixed with numpy",
    }
    return Contest(f"{size}; {CHECKS} next checks", runs, close, notes, slow=True)


def _ahead_by_agrum(case: Case) -> Callable[[], object]:
    peer = Peer(case.network, [*case.signs, *case.open], case.basics)

    def run() -> list[list[float]]:
        for s in case.open:
            peer.engine.addTarget(peer.signs[s.name])
        peer.posteriors(case.seen)
        chances = {s.name: peer.engine.posterior(peer.signs[s.name]).tolist() for s in case.open}
        for s in case.open:
            peer.engine.eraseTarget(peer.signs[s.name])
        return [
            [p, *peer.posteriors({**case.seen, s.name: band})]
            for s in case.open
            for band, p in enumerate(chances[s.name])
            if p > 1e-9
        ]

    return run


def _ahead_by_diagram(case: Case) -> Callable[[], object]:
    import numpy as np

    d = _diagram(case, [*case.signs, *case.open], minimize=True)

    def run() -> list[list[float]]:
        whole = d.posteriors([])[0]
        out: list[list[float]] = []
        for s in case.open:
            joint = []
            for row in range(len(s.chances)):
                d.decide(s.name, row, on=True)
                total, p = d.posteriors(case.basics)
                joint.append(total * np.array([1.0, *p]) if total > 0.0 else np.zeros(1 + len(case.basics)))
                d.decide(s.name, row, on=False)
            mixed = np.array(s.chances).T @ np.array(joint)
            for mass, *rest in mixed.tolist():
                if mass > 1e-9 * whole:
                    out.append([mass / whole, *(x / mass for x in rest)])
        return out

    return run
