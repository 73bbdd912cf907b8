"""What FaultTree.build refuses, house events, constants, great depth."""

from __future__ import annotations

import math
import sys

import pytest

from faultkit.faulttree import (
    CutSets,
    FaultTree,
    Gate,
    all_of,
    any_of,
    at_least,
    importances,
    minimal_cut_sets,
    minimal_hitting_sets,
    modules,
    top_probability,
    xor,
)
from faultkit.faulttree.compiled import compile_bdd, compile_cut_sets
from faultkit.faulttree.diagram import TooLargeError
from faultkit.problems import InputError

HALF = {"a": 0.5, "b": 0.5, "c": 0.5}


def refused(
    top: str, gates: dict[str, Gate], chances: dict[str, float], **more: dict[str, bool]
) -> list[str]:
    with pytest.raises(InputError) as caught:
        FaultTree.build(top, gates, chances, **more)
    return [p.render() for p in caught.value.problems]


def test_every_problem_is_reported_at_once() -> None:
    text = refused(
        "topp",
        {
            "top": any_of("a", "bb"),
            "k": at_least(4, "a", "b", "c"),
            "e": Gate("any_of", ()),
            "o": Gate("orr", ("a",)),
        },
        {"a": 0.5, "b": 1.5, "c": 0.5},
    )
    assert len(text) == 6
    assert any("topp" in t and "did you mean 'top'" in t for t in text)
    assert any("'bb' is not defined" in t for t in text)
    assert any("at_least 4 of 3" in t and "from 1 to 3" in t for t in text)
    assert any("'e' has no inputs" in t for t in text)
    assert any("'orr'" in t for t in text)
    assert any("probability of 'b' is 1.5" in t for t in text)


def test_loop_is_printed() -> None:
    text = refused("x", {"x": any_of("a", "y"), "y": all_of("z", "b"), "z": any_of("c", "x")}, HALF)
    assert len(text) == 1
    assert "x → y → z → x" in text[0]


def test_gate_shared_by_two_is_no_loop() -> None:
    tree = FaultTree.build(
        "t", {"t": all_of("x", "y"), "x": any_of("s", "a"), "y": any_of("s"), "s": any_of("b")}, HALF
    )
    assert [set(s) for s in minimal_cut_sets(tree)] == [{"b"}]


@pytest.mark.parametrize("bad", [-0.1, 1.0000001, math.nan, math.inf, True, "0.1", None])
def test_probability_out_of_range(bad: object) -> None:
    assert "'a'" in refused("a", {}, {"a": bad})[0]  # type: ignore[dict-item]


@pytest.mark.parametrize("k", [0, 3, -1, True, 1.0])
def test_k_out_of_range(k: object) -> None:
    assert "from 1 to 2" in refused("g", {"g": Gate("at_least", ("a", "b"), k)}, HALF)[0]  # type: ignore[arg-type]


def test_name_used_twice_and_input_twice() -> None:
    assert "both a gate and a basic event" in refused("a", {"a": any_of("b")}, HALF)[0]
    assert "both a basic event and a house event" in refused("b", {}, HALF, house={"a": True})[0]
    assert "twice" in refused("g", {"g": at_least(2, "a", "a", "b")}, HALF)[0]
    assert "twice" in refused("g", {"g": xor("a", "a")}, HALF)[0]
    assert "one input" in refused("g", {"g": Gate("not", ("a", "b"))}, HALF)[0]
    assert "True or False" in refused("a", {}, HALF, house={"h": 1})[0]  # type: ignore[dict-item]


def test_other_spellings() -> None:
    assert Gate("or", ("a",)) == any_of("a")
    assert Gate("and", ("a", "b")) == all_of("a", "b")
    assert Gate("atleast", ("a", "b"), 2) == at_least(2, "a", "b")


def test_house_events_switch_branches() -> None:
    gates = {"t": any_of("x", "y"), "x": all_of("winter", "a"), "y": all_of("b", "c")}
    tree = FaultTree.build("t", gates, HALF, {"winter": True})
    assert {frozenset(s) for s in minimal_cut_sets(tree)} == {frozenset("a"), frozenset("bc")}
    assert top_probability(tree) == 0.625
    off = tree.with_house({"winter": False})
    assert {frozenset(s) for s in minimal_cut_sets(off)} == {frozenset("bc")}
    assert top_probability(off) == 0.25
    assert tree.events == ("a", "b", "c")
    row = importances(off)["a"]  # cut off by the house event
    assert (row.birnbaum, row.occurrence, row.fussell_vesely, row.risk_reduction) == (0.0, 0, 0.0, 1.0)
    assert row.diagnostic == 0.5


def test_house_event_counts_in_at_least() -> None:
    gates = {"t": at_least(2, "a", "b", "c", "h")}
    on = FaultTree.build("t", gates, HALF, {"h": True})
    assert {frozenset(s) for s in minimal_cut_sets(on)} == {frozenset(x) for x in "abc"}
    assert minimal_cut_sets(on.with_house({"h": False})).count_by_order() == {2: 3}


@pytest.mark.parametrize("value", [True, False])
def test_constant_top(value: bool) -> None:
    for top, gates in (("h", {}), ("g", {"g": any_of("p"), "p": any_of("h")})):
        tree = FaultTree.build(top, gates, HALF, {"h": value})
        assert top_probability(tree) == float(value)
        assert list(minimal_cut_sets(tree)) == ([()] if value else [])
        assert minimal_cut_sets(tree).upper_bound() == float(value)
        assert importances(tree) == {}
        assert modules(tree) == ()


def test_top_that_cannot_happen_has_no_shares() -> None:
    tree = FaultTree.build("t", {"t": all_of("a", "h")}, {"a": 0.5}, {"h": False})
    row = importances(tree)["a"]
    assert row.birnbaum == 0.0
    assert all(
        math.isnan(x) for x in (row.criticality, row.diagnostic, row.fussell_vesely, row.risk_achievement)
    )


def test_top_may_be_a_basic_event() -> None:
    tree = FaultTree.build("a", {}, {"a": 0.25})
    assert list(minimal_cut_sets(tree)) == [("a",)]
    assert top_probability(tree) == 0.25
    row = importances(tree)["a"]
    assert (row.birnbaum, row.risk_achievement, row.risk_reduction) == (1.0, 4.0, math.inf)


def test_xor_with_constants() -> None:
    tree = FaultTree.build("t", {"t": xor("a", "b", "h")}, {"a": 0.25, "b": 0.5}, {"h": True})
    assert top_probability(tree) == pytest.approx(1 - (0.25 * 0.5 + 0.75 * 0.5), rel=1e-12)
    assert top_probability(tree.with_house({"h": False})) == pytest.approx(0.5, rel=1e-12)
    assert not tree.coherent


def test_modules() -> None:
    gates = {
        "t": all_of("m", "n"),
        "m": any_of("a", "x"),
        "x": all_of("b", "c"),
        "n": any_of("y", "z"),
        "y": all_of("d", "e"),
        "z": all_of("d", "f"),
    }
    tree = FaultTree.build("t", gates, dict.fromkeys("abcdef", 0.5))
    assert set(modules(tree)) == {"t", "m", "x", "n"}  # y and z share d


def test_event_without_the_top_is_infinite_reduction() -> None:
    tree = FaultTree.build(
        "t", {"t": all_of("a", "x"), "x": any_of("b", "c")}, {"a": 1e-9, "b": 0.3, "c": 0.7}
    )
    assert importances(tree)["a"].risk_reduction == math.inf


def test_small_rest_keeps_its_digits() -> None:
    # P0 of a is 1e-20 under P of about 0.5: a plain difference of the two would lose it
    tree = FaultTree.build(
        "t", {"t": any_of("a", "x"), "x": all_of("b", "c")}, {"a": 0.5, "b": 1e-10, "c": 1e-10}
    )
    assert importances(tree)["a"].risk_reduction == pytest.approx(0.5 / 1e-20, rel=1e-9)


@pytest.mark.parametrize(("n", "road"), [pytest.param(600, 2, marks=pytest.mark.slow), (800, 400_000)])
def test_deep_tree_stays_off_the_call_stack(n: int, road: int) -> None:
    # alternating gates, 2 n of them over 2 n events: x_i and (y_i or next)
    assert sys.getrecursionlimit() <= 2 * n
    gates: dict[str, Gate] = {}
    chances: dict[str, float] = {}
    for i in range(n):
        gates[f"g{i}"] = all_of(f"x{i}", f"o{i}")
        gates[f"o{i}"] = any_of(f"y{i}", f"g{i + 1}") if i + 1 < n else any_of(f"y{i}")
        chances |= {f"x{i}": 0.9, f"y{i}": 0.2}
    tree = FaultTree.build("g0", gates, chances)
    zbdd, root, events = compile_cut_sets(tree, diagram_limit=road)
    sets = CutSets(events, tree.probabilities, None, zbdd, root)
    assert sets.count == n
    assert sets.count_by_order() == dict.fromkeys(range(2, n + 2), 1)
    want = 0.0
    for _ in range(n):
        want = 0.9 * (1 - 0.8 * (1 - want))
    assert top_probability(tree) == pytest.approx(want, rel=1e-9)
    assert importances(tree, sets)["x0"].diagnostic == pytest.approx(1.0, rel=1e-9)


@pytest.mark.parametrize("road", [2, 400_000])
def test_at_least_is_not_listed(road: int) -> None:
    names = [f"e{i}" for i in range(120)]
    tree = FaultTree.build("t", {"t": at_least(40, *names)}, dict.fromkeys(names, 0.3))
    zbdd, root, events = compile_cut_sets(tree, diagram_limit=road)
    assert CutSets(events, tree.probabilities, None, zbdd, root).count == math.comb(120, 40)
    want = math.fsum(math.comb(120, j) * 0.3**j * 0.7 ** (120 - j) for j in range(40, 121))
    assert top_probability(tree) == pytest.approx(want, rel=1e-9)


def test_upper_bound_of_many_sets() -> None:
    # 4,455,100 sets of equal probability: the product has a closed form
    names = [f"e{i}" for i in range(300)]
    tree = FaultTree.build("t", {"t": at_least(3, *names)}, dict.fromkeys(names, 0.004))
    sets = minimal_cut_sets(tree)
    assert sets.count == math.comb(300, 3)
    want = -math.expm1(sets.count * math.log1p(-(0.004**3)))
    assert sets.upper_bound() == pytest.approx(want, rel=1e-12)


def test_upper_bound_with_likely_sets() -> None:
    chances = {"a": 0.9, "b": 0.6, "c": 0.5, "d": 0.999}
    tree = FaultTree.build(
        "t", {"t": any_of("a", "x", "y"), "x": all_of("b", "d"), "y": all_of("c", "d")}, chances
    )
    want = 1 - (1 - 0.9) * (1 - 0.6 * 0.999) * (1 - 0.5 * 0.999)
    assert minimal_cut_sets(tree).upper_bound() == pytest.approx(want, rel=1e-12)
    assert minimal_cut_sets(tree.with_probabilities({"a": 1.0})).upper_bound() == 1.0


def test_limits() -> None:
    names = [f"e{i}" for i in range(40)]
    tree = FaultTree.build("t", {"t": at_least(20, *names)}, dict.fromkeys(names, 0.3))
    with pytest.raises(TooLargeError, match="100 diagram nodes"):
        compile_bdd(tree, node_limit=100)
    with pytest.raises(TooLargeError, match="90 diagram nodes"):
        compile_cut_sets(tree, node_limit=90, diagram_limit=50)
    with pytest.raises(InputError, match="order limit -1"):
        minimal_cut_sets(tree, -1)
    with pytest.raises(InputError, match="no probabilities"):
        minimal_hitting_sets([["a"]]).rare_event_sum()
    with pytest.raises(InputError, match="'b'"):
        minimal_hitting_sets([["a", "b"]], {"a": 0.5})
