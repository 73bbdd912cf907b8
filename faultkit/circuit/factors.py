"""Factors of a network: sparse tables whose entries are circuit nodes; a missing entry is zero."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from faultkit.circuit.ops import ONE, Ops
from faultkit.network.ir import Network, NodeKind, Sign, plain

__all__ = ["Factor", "Layout", "Tie", "fix", "layout_of", "multiply", "restrict", "sum_out"]


@dataclass(frozen=True, slots=True)
class Factor:
    """``table`` maps an assignment of ``scope`` (variables in order) to a circuit node."""

    scope: tuple[int, ...]
    table: dict[tuple[int, ...], int]


@dataclass(frozen=True, slots=True)
class Tie:
    """An input that weighs one row deciding at several signs of a reading: looks in its stages hang together."""

    row: int
    signs: tuple[str, ...]
    slot: int


@dataclass(frozen=True, slots=True)
class Layout:
    """Variables, factors and inputs of a circuit to be.

    Variable i < number of nodes is node i; later ones are helpers of wide gates
    and signs. Inputs 2i and 2i + 1 weigh node i being false and true; the
    weights of the signs follow, one a row, then those of ``ties``.
    """

    domains: list[int]
    factors: list[Factor]
    sign_slots: dict[str, tuple[int, ...]]
    ties: tuple[Tie, ...]
    slots: int


def layout_of(network: Network, keep: Sequence[int], signs: Sequence[Sign]) -> Layout:
    """Factors of the nodes in ``keep`` and of the signs, without any circuit node but the inputs."""
    size = len(network.nodes)
    domains = [2] * size
    factors: list[Factor] = []
    shared = _shared(network, keep)
    heads: Heads = {}
    for i in keep:
        factors.append(Factor((i,), {(0,): 2 * i, (1,): 2 * i + 1}))
        node = network.nodes[i]
        if not node.is_root:
            common = shared.get(plain(node.name), frozenset())
            # What all stages of a gate stand on comes first, so that they share the head of their chains.
            inputs = (
                *(j for j in node.inputs if j in common), *(j for j in node.inputs if j not in common)
            ) if common else node.inputs
            _gate(node.kind, inputs, node.k, i, domains, factors, heads if common else None)
    slots = 2 * size
    sign_slots: dict[str, tuple[int, ...]] = {}
    before: dict[str, list[int | None]] = {}
    for sign in signs:
        mine = tuple(range(slots, slots + len(sign.rows) + 1))
        sign_slots[sign.name] = mine
        slots += len(mine)
        before[sign.name] = _sign(sign.rows, mine, domains, factors)
    ties: list[Tie] = []
    for same in _families(signs):
        for j in range(len(same[0].chances)):
            decides = [_decides(s, j, before[s.name], domains, factors) for s in same]
            ties += _tie(j, [s.name for s in same], decides, slots + len(ties), factors)
    return Layout(domains, factors, sign_slots, tuple(ties), slots + len(ties))


#: The variable that a chain over these first inputs has reached: how much is added up so far.
Heads = dict[tuple[NodeKind, int, tuple[int, ...]], int]


def _shared(network: Network, keep: Sequence[int]) -> dict[str, frozenset[int]]:
    """For each gate with copies in several stages the inputs that all of them have."""
    found: dict[str, frozenset[int]] = {}
    copied: set[str] = set()
    for i in keep:
        node = network.nodes[i]
        if not node.is_root:
            name = plain(node.name)
            if name in found:
                copied.add(name)
            found[name] = found[name].intersection(node.inputs) if name in found else frozenset(node.inputs)
    return {name: found[name] for name in copied}


def _families(signs: Sequence[Sign]) -> list[list[Sign]]:
    """Signs of the same reading in different stages, where there are several."""
    found: dict[str, list[Sign]] = {}
    for sign in signs:
        found.setdefault(plain(sign.name), []).append(sign)
    return [same for same in found.values() if len(same) > 1]


def _decides(sign: Sign, j: int, before: Sequence[int | None], domains: list[int], factors: list[Factor]) -> int:
    """The variable that says whether row ``j`` of a sign decides."""
    last = len(sign.rows) - 1
    row, undecided = sign.rows[min(j, last)], before[min(j, last)]
    wanted = int(j <= last)
    if undecided is None and wanted:
        return row
    out = _new(domains)
    if undecided is None:
        factors.append(_table((row, out), {(v, 1 - v): ONE for v in (0, 1)}))
    else:
        both: dict[tuple[int, ...], int] = {
            (u, v, int(u and v == wanted)): ONE for u in (0, 1) for v in (0, 1)
        }
        factors.append(_table((undecided, row, out), both))
    return out


def _tie(j: int, names: Sequence[str], decides: Sequence[int], slot: int, factors: list[Factor]) -> list[Tie]:
    """An input for each combination of two or more signs that row ``j`` decides."""
    ties: list[Tie] = []
    table: dict[tuple[int, ...], int] = {}
    for at in itertools.product((0, 1), repeat=len(names)):
        table[at] = ONE
        if sum(at) > 1:
            table[at] = slot + len(ties)
            ties.append(Tie(j, tuple(itertools.compress(names, at)), table[at]))
    factors.append(_table(tuple(decides), table))
    return ties


def _new(domains: list[int], size: int = 2) -> int:
    domains.append(size)
    return len(domains) - 1


def _gate(
    kind: NodeKind,
    inputs: tuple[int, ...],
    k: int,
    out: int,
    domains: list[int],
    factors: list[Factor],
    heads: Heads | None,
) -> None:
    if kind is NodeKind.AT_LEAST:
        _counter(inputs, k, out, domains, factors)
        return
    # A wide gate is a chain of gates with two inputs: small tables.
    neutral = 0 if kind is NodeKind.ANY_OF else 1
    if len(inputs) == 1:
        factors.append(_table((inputs[0], out), {(0, 0): ONE, (1, 1): ONE}))
        return
    left = inputs[0]
    for n, right in enumerate(inputs[1:], start=2):
        head = (kind, 0, inputs[:n])
        if heads is not None and n < len(inputs) and head in heads:
            left = heads[head]
            continue
        result = out if n == len(inputs) else _new(domains)
        if heads is not None:
            heads[head] = result
        if left == right:
            factors.append(_table((left, result), {(v, v): ONE for v in (0, 1)}))
        else:
            wide: dict[tuple[int, ...], int] = {
                (a, b, (a | b) if neutral == 0 else (a & b)): ONE for a in (0, 1) for b in (0, 1)
            }
            factors.append(_table((left, right, result), wide))
        left = result


def _counter(
    inputs: tuple[int, ...], k: int, out: int, domains: list[int], factors: list[Factor]
) -> None:
    """A running count that stops at k: exact for any k-out-of-n without listing combinations."""
    count = inputs[0]
    top = 1
    for n, nxt in enumerate(inputs[1:], start=2):
        last = n == len(inputs)
        new_top = min(k, n)
        result = out if last else _new(domains, new_top + 1)
        table: dict[tuple[int, ...], int] = {}
        for c in range(top + 1):
            for b in (0, 1):
                total = min(c + b, k)
                table[(c, b, int(total >= k) if last else total)] = ONE
        factors.append(_table((count, nxt, result), table))
        count, top = result, new_top
    if len(inputs) == 1:
        factors.append(_table((inputs[0], out), {(0, 0): ONE, (1, 1): ONE}))


def _sign(
    rows: tuple[int, ...], slots: tuple[int, ...], domains: list[int], factors: list[Factor]
) -> list[int | None]:
    """The first true row decides: a chain over 'nothing has decided yet', given back row by row."""
    if not rows:
        factors.append(Factor((), {(): slots[0]}))
        return []
    chain: list[int | None] = []
    open_before: int | None = None
    for j, row in enumerate(rows):
        chain.append(open_before)
        last = j == len(rows) - 1
        after = None if last else _new(domains)
        table: dict[tuple[int, ...], int] = {}
        for undecided in (1,) if open_before is None else (0, 1):
            for value in (0, 1):
                decides = undecided and value
                still = undecided and not value
                weight = slots[j] if decides else slots[-1] if still and last else ONE
                head = () if open_before is None else (undecided,)
                tail = () if after is None else (int(still),)
                table[(*head, value, *tail)] = weight
        scope = [v for v in (open_before, row, after) if v is not None]
        factors.append(_table(tuple(scope), table))
        open_before = after
    return chain


def _table(scope: tuple[int, ...], table: dict[tuple[int, ...], int]) -> Factor:
    """A factor with its scope sorted; a variable named twice must agree with itself."""
    names = tuple(sorted(set(scope)))
    place = [scope.index(v) for v in names]
    sorted_table = {
        tuple(key[p] for p in place): node
        for key, node in table.items()
        if all(key[i] == key[scope.index(v)] for i, v in enumerate(scope))
    }
    return Factor(names, sorted_table)


def multiply(ops: Ops, a: Factor, b: Factor) -> Factor:
    """Natural join of two factors, entries multiplied."""
    if not a.scope:
        a, b = b, a
    shared = [v for v in b.scope if v in a.scope]
    scope = tuple(sorted({*a.scope, *b.scope}))
    in_a = [a.scope.index(v) for v in shared]
    in_b = [b.scope.index(v) for v in shared]
    from_a = {v: i for i, v in enumerate(a.scope)}
    from_b = {v: i + len(a.scope) for i, v in enumerate(b.scope)}
    pick = [from_a.get(v, from_b.get(v, 0)) for v in scope]
    groups: dict[tuple[int, ...], list[tuple[tuple[int, ...], int]]] = {}
    for key, node in b.table.items():
        groups.setdefault(tuple([key[i] for i in in_b]), []).append((key, node))
    table: dict[tuple[int, ...], int] = {}
    for key, node in a.table.items():
        for other, second in groups.get(tuple([key[i] for i in in_a]), ()):
            both = key + other
            table[tuple([both[p] for p in pick])] = ops.mul(node, second)
    return Factor(scope, table)


def sum_out(ops: Ops, f: Factor, v: int) -> Factor:
    """The factor with variable ``v`` summed away."""
    at = f.scope.index(v)
    table: dict[tuple[int, ...], int] = {}
    for key, node in f.table.items():
        rest = key[:at] + key[at + 1 :]
        before = table.get(rest)
        table[rest] = node if before is None else ops.add(before, node)
    return Factor(f.scope[:at] + f.scope[at + 1 :], table)


def restrict(ops: Ops, f: Factor, clamps: dict[int, tuple[int, ...]]) -> Factor:
    """The factor with clamped variables turned into inputs: entry × the switch of its value, summed."""
    for v in f.scope:
        if v in clamps:
            switch = Factor((v,), {(x,): slot for x, slot in enumerate(clamps[v])})
            f = sum_out(ops, multiply(ops, f, switch), v)
    return f


def fix(factors: Sequence[Factor], fixed: Mapping[int, int]) -> tuple[list[Factor], dict[int, int]]:
    """Factors with variables at the values known, and all values that follow factor by factor.

    A variable with one value left in some factor has that value everywhere.
    """
    known = dict(fixed)
    tables = [dict(f.table) for f in factors]
    holders: dict[int, list[int]] = {}
    for n, f in enumerate(factors):
        for v in f.scope:
            holders.setdefault(v, []).append(n)
    todo = {n for v in known for n in holders.get(v, ())}
    while todo:
        n = todo.pop()
        scope = factors[n].scope
        at = [(i, known[v]) for i, v in enumerate(scope) if v in known]
        table = tables[n] = {k: x for k, x in tables[n].items() if all(k[i] == value for i, value in at)}
        for i, v in enumerate(scope):
            if v not in known and len(values := {k[i] for k in table}) == 1:
                known[v] = values.pop()
                todo.update(holders[v])
    out = []
    for f, table in zip(factors, tables, strict=True):
        left = [i for i, v in enumerate(f.scope) if v not in known]
        scope = tuple(f.scope[i] for i in left)
        out.append(Factor(scope, {tuple([k[i] for i in left]): x for k, x in table.items()}))
    return out, known
