"""The tree that is worked on: no constants, no pass-through gates, an order of variables, modules."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from faultkit.faulttree.tree import FaultTree, Gate

__all__ = ["Normal", "find_modules", "modules", "normalize", "variable_order"]


@dataclass(frozen=True, slots=True)
class Normal:
    """A tree after its constants are worked in.

    ``top`` is a name or, when the top event no longer depends on anything, its
    constant. ``gates`` holds the gates left under ``top``, inputs before the gates
    that use them; none has a constant input and only ``not`` gates have one input. An
    ``xor`` gate with k = 1 is negated: a constant true stood among its inputs.
    """

    top: str | bool
    gates: Mapping[str, Gate]

    @property
    def coherent(self) -> bool:
        """True when no ``not`` or ``xor`` gate is left."""
        return all(g.op not in ("not", "xor") for g in self.gates.values())


def postorder(top: str, gates: Mapping[str, Gate]) -> Iterator[str]:
    """Gates under ``top``, inputs first, each once."""
    seen: set[str] = set()
    stack: list[tuple[str, bool]] = [(top, False)]
    while stack:
        name, leaving = stack.pop()
        if leaving:
            yield name
        elif name in gates and name not in seen:
            seen.add(name)
            stack.append((name, True))
            stack += [(i, False) for i in reversed(gates[name].inputs)]


def normalize(tree: FaultTree) -> Normal:
    """Work in the house events and drop the pass-through gates."""
    value: dict[str, str | bool] = dict(tree.house)
    kept: dict[str, Gate] = {}
    for name in postorder(tree.top, tree.gates):
        gate = tree.gates[name]
        new = _simplify(gate, [value.get(i, i) for i in gate.inputs])
        if isinstance(new, Gate):
            kept[name] = new
        else:
            value[name] = new
    top = value.get(tree.top, tree.top)
    if isinstance(top, bool):
        return Normal(top, {})
    return Normal(top, {n: kept[n] for n in postorder(top, kept)})


def _simplify(gate: Gate, inputs: list[str | bool]) -> Gate | str | bool:
    """The gate with constant inputs worked in: a gate, the name it passes on, or a constant."""
    names = [i for i in inputs if isinstance(i, str)]
    true = sum(i is True for i in inputs)
    if gate.op == "not":
        return Gate("not", tuple(names)) if names else not inputs[0]
    if gate.op == "xor":
        return _simplify_xor(names, true % 2 == 1)
    need = {"any_of": 1, "all_of": len(inputs)}.get(gate.op, gate.k) - true
    if need <= 0:
        return True
    if need > len(names):
        return False
    if gate.op != "at_least":
        names = list(dict.fromkeys(names))
        need = 1 if gate.op == "any_of" else len(names)
    if len(names) == 1:
        return names[0]
    if need == 1:
        return Gate("any_of", tuple(names))
    return Gate("all_of", tuple(names)) if need == len(names) else Gate("at_least", tuple(names), need)


def _simplify_xor(names: list[str], odd: bool) -> Gate | str | bool:
    """Exclusive or with ``odd`` for the constants: a constant true counts as a negated input."""
    if not names:
        return odd
    if not odd:
        return names[0] if len(names) == 1 else Gate("xor", tuple(names))
    return Gate("not", tuple(names)) if len(names) == 1 else Gate("xor", tuple(names), 1)


def variable_order(normal: Normal, stop: frozenset[str] = frozenset()) -> list[str]:
    """Basic events, depth first from the left, and the gates of ``stop`` where they are met.

    At each gate the inputs with the most events below them come first: on most of
    the published trees tried this keeps diagrams smaller than the written order.
    """
    if isinstance(normal.top, bool):
        return []
    weight: dict[str, int] = {}
    for name, gate in normal.gates.items():
        weight[name] = sum(weight.get(i, 1) for i in gate.inputs)
    order: dict[str, None] = {}
    seen: set[str] = set()
    stack = [normal.top]
    while stack:
        name = stack.pop()
        if name in seen:
            continue
        seen.add(name)
        if name not in normal.gates:
            order[name] = None
            continue
        if name in stop:
            order[name] = None
        stack += sorted(normal.gates[name].inputs, key=lambda i: weight.get(i, 1))
    return list(order)


def modules(tree: FaultTree) -> tuple[str, ...]:
    """Gates none of whose events are used elsewhere in the tree, inputs first.

    Each can be worked out alone and then stand as one basic event. Gates that
    house events make constant or pass-through are left out. Algorithm: Dutuit
    and Rauzy 1996, linear in the size of the tree (from memory).
    """
    return find_modules(normalize(tree))


def find_modules(normal: Normal) -> tuple[str, ...]:
    """Modules of a worked-in tree, inputs first; the top gate is the last."""
    if not normal.gates or isinstance(normal.top, bool):
        return ()
    first, last, second = _visit_dates(normal.top, normal.gates)
    low: dict[str, int] = {}
    high: dict[str, int] = {}
    found = []
    for name, gate in normal.gates.items():
        low[name] = min(min(first[i], low.get(i, first[i])) for i in gate.inputs)
        high[name] = max(max(last[i], high.get(i, last[i])) for i in gate.inputs)
        if low[name] > first[name] and high[name] < second[name]:
            found.append(name)
    return tuple(found)


def _visit_dates(
    top: str, gates: Mapping[str, Gate]
) -> tuple[dict[str, int], dict[str, int], dict[str, int]]:
    """When a depth-first walk meets each name first and last, and when it leaves each gate."""
    first: dict[str, int] = {}
    last: dict[str, int] = {}
    second: dict[str, int] = {}
    stack: list[tuple[str, bool]] = [(top, False)]
    date = 0
    while stack:
        name, leaving = stack.pop()
        date += 1
        if leaving:
            second[name] = last[name] = date
            continue
        last[name] = date
        if name not in first:
            first[name] = date
            if name in gates:
                stack.append((name, True))
                stack += [(i, False) for i in reversed(gates[name].inputs)]
    return first, last, second
