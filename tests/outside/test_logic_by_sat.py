"""The logic checks against python-sat, on random equipment types with every feature of the format."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultkit.consistency.rules import BY_CODE
from faultkit.consistency.subject import Subject
from faultkit.model.catalogue import Catalogue
from faultkit.model.types import EquipmentType, Gate, Join
from tests.engine.maker import Maker

pytest.importorskip("pysat")

from tests.outside.satisfy import Sat, configurations


def draw(seed: int) -> EquipmentType:
    maker = Maker(random.Random(seed), "thing", 5)  # noqa: S311
    if maker.often(0.4):
        maker.join(Join("fed_by", events=("dead", "low")))
    return maker.build(5, 4)


def found(kind: EquipmentType, code: str) -> list[tuple[str, object]]:
    run = BY_CODE[code].run
    assert run is not None
    findings = run(Subject(Catalogue({kind.name: kind})))
    return sorted(((f.name, next(iter(f.data.values()), None)) for f in findings), key=str)


def everywhere(kind: EquipmentType) -> list[Sat]:
    return [Sat(kind, house) for house in configurations(kind)]


def never_by_sat(kind: EquipmentType) -> list[tuple[str, object]]:
    sats = everywhere(kind)
    bands = [
        (o.name, band)
        for o in kind.observables().values()
        for n, band in enumerate(o.bands if o.rows else ())
        if not any(s.exists(o) and s.possible(s.allowed(o, n)) for s in sats)
    ]
    gates = []
    for e in kind.events.values():
        there = [s for s in sats if not s.left_out(e.only_with)]
        if e.gate is not Gate.BASIC and there and not any(s.possible(s.event(e.name)) for s in there):
            gates.append((e.name, None))
    return sorted([*bands, *gates], key=str)


def always_by_sat(kind: EquipmentType) -> list[str]:
    sats = everywhere(kind)
    found = []
    for o in kind.observables().values():
        seen = {n for s in sats for n in range(len(o.bands)) if o.rows and s.exists(o) and s.possible(s.allowed(o, n))}
        found += [o.name] * (len(seen) == 1)
    for e in kind.events.values():
        there = [s for s in sats if not s.left_out(e.only_with)]
        if e.gate is not Gate.BASIC and there and not any(s.possible(-s.event(e.name)) for s in there):
            found.append(e.name)
    return sorted(found)


def implied_by_sat(kind: EquipmentType) -> list[tuple[str, object]]:
    """Inputs without which the gate means the same in every configuration that leaves it open."""
    found: list[tuple[str, object]] = []
    for e in kind.events.values():
        if e.gate is Gate.BASIC or len(e.inputs) < 2:
            continue
        open_ = [s for s in everywhere(kind) if not s.left_out(e.only_with) and s.given(e.name) is None]
        inputs = range(len(e.inputs) if open_ else 0)
        found += [(e.name, n) for n in inputs if all(_same_without(s, e.name, n) for s in open_)]
    return sorted(found, key=str)


def _same_without(s: Sat, name: str, n: int) -> bool:
    e = s.kind.events[name]
    parts = [s.link(x, name) for x in e.inputs]
    rest = parts[:n] + parts[n + 1 :]
    k = {Gate.ANY_OF: 1, Gate.ALL_OF: len(parts)}.get(e.gate, e.k)
    if len(rest) < k and e.gate is Gate.AT_LEAST:
        return False
    whole, less = s.at_least(k, parts), s.at_least(len(rest) if e.gate is Gate.ALL_OF else k, rest)
    return not s.possible(whole, -less) and not s.possible(-whole, less)


def shadowed_by_sat(kind: EquipmentType) -> list[tuple[str, object]]:
    found = []
    for o in kind.observables().values():
        for n in range(len(o.rows)):
            there = [s for s in everywhere(kind) if s.exists(o) and s.possible(s.rows(o)[n])]
            if there and not any(s.possible(s.reached(o)[n]) for s in there):
                found.append((o.name, n))
    return sorted(found, key=str)


def unprovable_by_sat(kind: EquipmentType) -> list[str]:
    s = Sat(kind, next(configurations(kind)))
    home = kind.observables()
    found = []
    for r in kind.remedies.values():
        ends = [e.name for e in r.ends if s.given(e.name) is None]
        proofs = [(home[ref.name], band) for ref, band in r.prove if s.exists(home[ref.name])]
        read = [s.allowed(o, o.bands.index(band)) for o, band in proofs]
        if not s.left_out(r.only_with) and ends and proofs and not s.possible(*read, *(-s.event(e) for e in ends)):
            found.append(r.name)
    return sorted(found)


@settings(max_examples=150)
@given(st.integers(0, 2**32))
def test_what_can_never_be(seed: int) -> None:
    kind = draw(seed)
    assert found(kind, "L401") == never_by_sat(kind)


@settings(max_examples=150)
@given(st.integers(0, 2**32))
def test_what_is_always_the_same(seed: int) -> None:
    kind = draw(seed)
    assert [name for name, _ in found(kind, "L402")] == always_by_sat(kind)


@settings(max_examples=150)
@given(st.integers(0, 2**32))
def test_inputs_that_others_imply(seed: int) -> None:
    kind = draw(seed)
    mine = [(name, n) for name, n in found(kind, "L403") if n is not None]
    assert mine == implied_by_sat(kind)


@settings(max_examples=150)
@given(st.integers(0, 2**32))
def test_rows_that_never_decide(seed: int) -> None:
    kind = draw(seed)
    assert found(kind, "L404") == shadowed_by_sat(kind)


@settings(max_examples=150)
@given(st.integers(0, 2**32))
def test_proofs_that_cannot_be_read(seed: int) -> None:
    kind = draw(seed)
    assert [name for name, _ in found(kind, "L408")] == unprovable_by_sat(kind)


@settings(max_examples=150)
@given(st.integers(0, 2**32))
def test_gates_that_some_configurations_decide(seed: int) -> None:
    """In some but not all in which they stand; a house event in an all_of is a switch and meant."""
    kind = draw(seed)
    expected = []
    for e in kind.events.values():
        there = [s for s in everywhere(kind) if not s.left_out(e.only_with)]
        taken = [s.given(e.name) for s in there if s.given(e.name) is not None]
        switched = e.gate is Gate.ALL_OF and any(x.ref.name in kind.house_events for x in e.inputs)
        if e.gate is not Gate.BASIC and 0 < len(taken) < len(there) and (taken[0] or not switched):
            expected.append(e.name)
    assert [name for name, _ in found(kind, "L406")] == sorted(expected)


def test_the_drawn_types_have_all_of_these() -> None:
    """Otherwise the tests above would compare nothing with nothing."""
    counts = dict.fromkeys(("L401", "L402", "L403", "L404", "L406", "L408"), 0)
    for seed in range(60):
        kind = draw(seed)
        for code in counts:
            counts[code] += bool(found(kind, code))
    assert all(n >= 3 for n in counts.values()), counts
