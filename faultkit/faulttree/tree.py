"""A fault tree: gates by name, basic events with probabilities, house events."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from faultkit.faulttree.check import check_tree
from faultkit.problems import InputError

__all__ = ["ALIASES", "FaultTree", "Gate", "all_of", "any_of", "at_least", "negation", "xor"]

#: Other spellings of the gate words, as IEC 61025 and the Open-PSA format write them.
ALIASES: Mapping[str, str] = {"or": "any_of", "and": "all_of", "atleast": "at_least", "vote": "at_least"}


@dataclass(frozen=True, slots=True)
class Gate:
    """One gate.

    ``op`` is ``any_of`` (or), ``all_of`` (and), ``at_least`` (``k`` or more of the
    inputs), ``not`` (one input) or ``xor`` (an odd number of the inputs). ``k`` is
    read by ``at_least`` only. ``any_of`` or ``all_of`` with one input passes it on.
    """

    op: str
    inputs: tuple[str, ...]
    k: int = 0

    def __post_init__(self) -> None:
        object.__setattr__(self, "op", ALIASES.get(self.op, self.op))
        object.__setattr__(self, "inputs", tuple(self.inputs))


def any_of(*inputs: str) -> Gate:
    """True when one input or more is true."""
    return Gate("any_of", inputs)


def all_of(*inputs: str) -> Gate:
    """True when every input is true."""
    return Gate("all_of", inputs)


def at_least(k: int, *inputs: str) -> Gate:
    """True when ``k`` inputs or more are true."""
    return Gate("at_least", inputs, k)


def negation(name: str) -> Gate:
    """True when the input is false. Makes the tree non-coherent."""
    return Gate("not", (name,))


def xor(*inputs: str) -> Gate:
    """True when an odd number of inputs is true. Makes the tree non-coherent."""
    return Gate("xor", inputs)


@dataclass(frozen=True, slots=True)
class FaultTree:
    """A checked fault tree; make one with :meth:`build`.

    ``events`` are the basic events under ``top``, left-most first. ``coherent`` is
    False when a ``not`` or ``xor`` gate stands under ``top``. The mappings are not
    to be changed after building.
    """

    top: str
    gates: Mapping[str, Gate]
    probabilities: Mapping[str, float]
    house: Mapping[str, bool]
    events: tuple[str, ...]
    coherent: bool

    @classmethod
    def build(
        cls,
        top: str,
        gates: Mapping[str, Gate],
        probabilities: Mapping[str, float],
        house: Mapping[str, bool] | None = None,
    ) -> FaultTree:
        """Check the parts and make the tree.

        ``probabilities`` gives every basic event a number from 0 to 1; ``house``
        gives every house event its constant. ``top`` may be a gate, a basic event
        or a house event. Gates out of reach of ``top`` are checked but not used.

        Raises InputError with every problem found: undefined or doubly defined
        names, loops, numbers out of range, gates with a wrong number of inputs.
        """
        gates, probabilities, house = dict(gates), dict(probabilities), dict(house or {})
        shapes = {name: (gate.op, gate.inputs, gate.k) for name, gate in gates.items()}
        problems = check_tree(top, shapes, probabilities, house)
        if problems:
            raise InputError(problems)
        events, ops = _reach(top, gates)
        numbers = {name: float(p) for name, p in probabilities.items()}
        return cls(
            top=top,
            gates=gates,
            probabilities=numbers,
            house=house,
            events=tuple(e for e in events if e in numbers),
            coherent=not ops & {"not", "xor"},
        )

    def with_probabilities(self, changes: Mapping[str, float]) -> FaultTree:
        """The same tree with some probabilities changed. Raises InputError as build does."""
        return FaultTree.build(self.top, self.gates, {**self.probabilities, **changes}, self.house)

    def with_house(self, changes: Mapping[str, bool]) -> FaultTree:
        """The same tree with some house events set. Raises InputError as build does."""
        return FaultTree.build(self.top, self.gates, self.probabilities, {**self.house, **changes})

    def holds(self, true_events: Iterable[str]) -> bool:
        """Whether the top event is true when just these basic events are."""
        state: dict[str, bool] = dict.fromkeys(self.probabilities, False)
        state |= dict.fromkeys(true_events, True)
        state |= self.house
        stack = [self.top]
        while stack:
            name = stack[-1]
            if name in state:
                stack.pop()
                continue
            gate = self.gates[name]
            waiting = [i for i in gate.inputs if i not in state]
            if waiting:
                stack += waiting
                continue
            count = sum(state[i] for i in gate.inputs)
            state[name] = _decide(gate, count)
        return state[self.top]


def _decide(gate: Gate, count: int) -> bool:
    """Value of a gate of which ``count`` inputs are true."""
    if gate.op == "not":
        return count == 0
    if gate.op == "xor":
        return count % 2 == 1
    need = {"any_of": 1, "all_of": len(gate.inputs)}.get(gate.op, gate.k)
    return count >= need


def _reach(top: str, gates: Mapping[str, Gate]) -> tuple[list[str], set[str]]:
    """Names under ``top`` that are no gates, left-most first, and the gate words met."""
    leaves: dict[str, None] = {}
    ops: set[str] = set()
    seen: set[str] = set()
    stack = [top]
    while stack:
        name = stack.pop()
        if name in seen:
            continue
        seen.add(name)
        if name in gates:
            ops.add(gates[name].op)
            stack += reversed(gates[name].inputs)
        else:
            leaves[name] = None
    return list(leaves), ops
