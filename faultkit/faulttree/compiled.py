"""From a tree to its diagrams."""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce

from faultkit.faulttree.bdd import FALSE, TRUE, Bdd
from faultkit.faulttree.diagram import TooLargeError
from faultkit.faulttree.normal import Normal, find_modules, normalize, variable_order
from faultkit.faulttree.tree import FaultTree, Gate
from faultkit.faulttree.zbdd import BASE, EMPTY, Zbdd

__all__ = ["Compiled", "compile_bdd", "compile_cut_sets"]


@dataclass(frozen=True, slots=True)
class Compiled:
    """The diagrams of a tree, one for each module.

    ``variables`` names the variables of ``bdd`` from the top: basic events, and
    modules standing as one event in the diagram above them. ``roots`` gives each
    module's diagram, the inner modules first and the whole tree last (named "").
    """

    bdd: Bdd
    variables: tuple[str, ...]
    roots: tuple[tuple[str, int], ...]

    @property
    def size(self) -> int:
        """Nodes in all the diagrams."""
        return sum(len(self.bdd.reachable(root)) for _, root in self.roots)


def compile_bdd(tree: FaultTree, *, by_modules: bool = True, node_limit: int = 3_000_000) -> Compiled:
    """Diagrams of the tree. Raises InputError past ``node_limit`` nodes."""
    normal = normalize(tree)
    if isinstance(normal.top, bool):
        return Compiled(Bdd(0), (), (("", TRUE if normal.top else FALSE),))
    inner = frozenset(find_modules(normal)) - {normal.top} if by_modules else frozenset()
    variables = variable_order(normal, inner)
    bdd = Bdd(len(variables), node_limit)
    functions = {name: bdd.single(i) for i, name in enumerate(variables)}
    roots: list[tuple[str, int]] = []
    for name, gate in normal.gates.items():
        root = _bdd_gate(bdd, gate, [functions[i] for i in gate.inputs])
        if name in inner:
            roots.append((name, root))
        else:
            functions[name] = root
    roots.append(("", functions[normal.top]))
    return Compiled(bdd, tuple(variables), tuple(roots))


def _bdd_gate(bdd: Bdd, gate: Gate, inputs: list[int]) -> int:
    if gate.op == "not":
        return bdd.negate(inputs[0])
    if gate.op == "xor":
        root = reduce(bdd.odd, inputs, FALSE)
        return bdd.negate(root) if gate.k else root
    if gate.op == "at_least":
        return bdd.at_least(gate.k, inputs)
    inputs = bdd.lowest_first(inputs)
    return reduce(bdd.either, inputs, FALSE) if gate.op == "any_of" else reduce(bdd.both, inputs, TRUE)


def compile_cut_sets(
    tree: FaultTree, order: int = -1, node_limit: int = 5_000_000, diagram_limit: int = 400_000
) -> tuple[Zbdd, int, tuple[str, ...]]:
    """The family of minimal cut sets, its root and the names of its variables.

    First choice is the diagram of the function, module by module, and its minimal
    solutions: at_least gates over shared inputs stay small there. When that
    diagram passes ``diagram_limit`` nodes a coherent tree is worked upwards in set
    families, where ``order`` cuts off early. Raises TooLargeError when both fail.
    """
    normal = normalize(tree)
    if isinstance(normal.top, bool):
        return Zbdd(0), BASE if normal.top else EMPTY, ()
    try:
        compiled = compile_bdd(
            tree, by_modules=normal.coherent, node_limit=diagram_limit if normal.coherent else node_limit
        )
    except TooLargeError:
        if not normal.coherent:
            raise
        return _upwards(normal, order, node_limit)
    events = tuple(v for v in compiled.variables if v in tree.probabilities)
    zbdd = Zbdd(len(events), node_limit)
    root = _solutions(compiled, zbdd, {event: i for i, event in enumerate(events)}, node_limit)
    return zbdd, zbdd.limit(root, order), events


def _solutions(compiled: Compiled, zbdd: Zbdd, place: dict[str, int], node_limit: int) -> int:
    """Minimal solutions of every diagram, the modules' own put in the place of their events."""
    inner: dict[str, int] = {}
    outlines = Zbdd(len(compiled.variables), node_limit)
    root = EMPTY
    for name, diagram in compiled.roots:
        outline = compiled.bdd.minimal_solutions(diagram, outlines)
        whole = {EMPTY: EMPTY, BASE: BASE}
        for f in outlines.reachable(outline):
            var, high, low = outlines.parts(f)
            variable = compiled.variables[var]
            if variable in inner:
                whole[f] = zbdd.concatenate(inner[variable], whole[high], whole[low])
            else:
                whole[f] = zbdd.node(place[variable], whole[high], whole[low])
        root = inner[name] = whole[outline]
    return root


def _upwards(normal: Normal, order: int, node_limit: int) -> tuple[Zbdd, int, tuple[str, ...]]:
    """Set families from the basic events up to the top gate."""
    variables = variable_order(normal)
    zbdd = Zbdd(len(variables), node_limit)
    families = {name: zbdd.single(i) for i, name in enumerate(variables)}
    for name, gate in normal.gates.items():
        families[name] = _zbdd_gate(zbdd, gate, [families[i] for i in gate.inputs], order)
    return zbdd, zbdd.limit(families[str(normal.top)], order), tuple(variables)


def _zbdd_gate(zbdd: Zbdd, gate: Gate, inputs: list[int], order: int) -> int:
    if gate.op == "at_least":
        return zbdd.at_least(gate.k, inputs, order)
    return zbdd.union_all(inputs) if gate.op == "any_of" else zbdd.product_all(inputs, order)
