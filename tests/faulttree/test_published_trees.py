"""Small trees with published answers."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import chain, combinations, product
from math import floor, log10

import pytest

from faultkit.faulttree import (
    FaultTree,
    Gate,
    all_of,
    any_of,
    at_least,
    importances,
    minimal_cut_sets,
    minimal_hitting_sets,
    negation,
    top_probability,
)

ABC = {"a": 0.1, "b": 0.2, "c": 0.3}


def sets_of(tree: FaultTree) -> set[frozenset[str]]:
    return {frozenset(s) for s in minimal_cut_sets(tree)}


def words(text: str) -> set[frozenset[str]]:
    """``"a bc"`` → {{a}, {b, c}}; names longer than one letter are joined by dots."""
    return {frozenset(w.split(".") if "." in w else (w,) if w[1:].isdigit() else w) for w in text.split()}


# NUREG-0492, the pressure tank example. Structure and probabilities from memory of the handbook;
# it rounds the top event to about 3.4e-5. Other digits: rare-event sum by hand, exact value from a
# separate diagram program.
TANK = FaultTree.build(
    "top",
    {
        "top": any_of("T", "E2"),
        "E2": any_of("K2", "E3"),
        "E3": all_of("S", "E4"),
        "E4": any_of("S1", "E5"),
        "E5": any_of("K1", "R"),
    },
    {"T": 5e-6, "K2": 3e-5, "S": 1e-4, "S1": 3e-5, "K1": 3e-5, "R": 1e-4},
)


def test_pressure_tank() -> None:
    sets = minimal_cut_sets(TANK)
    assert sets_of(TANK) == {frozenset(s) for s in (("T",), ("K2",), ("S", "S1"), ("S", "K1"), ("S", "R"))}
    assert sets.rare_event_sum() == pytest.approx(3.5016e-5, rel=1e-12)
    assert f"{top_probability(TANK):.9e}" == "3.501584875e-05"
    found = importances(TANK)
    assert f"{found['K2'].fussell_vesely:.6f}" == "0.856751"
    assert f"{found['T'].fussell_vesely:.6f}" == "0.142792"
    assert f"{found['S'].fussell_vesely:.5e}" == "4.56934e-04"
    assert f"{found['R'].fussell_vesely:.5e}" == "2.85584e-04"
    assert f"{found['S1'].fussell_vesely:.4e}" == "8.5675e-05"
    assert found["K1"].fussell_vesely == found["S1"].fussell_vesely


# Numbers only, from the test folder of rakhimov/scram, commit b85b789: probability, rare-event sum, cut sets.
SMALL: dict[str, tuple[Mapping[str, Gate], float, float, str]] = {
    "a or b or c": ({"t": any_of("a", "b", "c")}, 0.496, 0.6, "a b c"),
    "ab or bc": ({"t": any_of("x", "y"), "x": all_of("a", "b"), "y": all_of("b", "c")}, 0.074, 0.08, "ab bc"),
    "2 of 3": ({"t": at_least(2, "a", "b", "c")}, 0.098, 0.11, "ab bc ac"),
    "ab or not a and c": (  # non-coherent: minimal p-cuts
        {"t": any_of("x", "y"), "x": all_of("a", "b"), "y": all_of("n", "c"), "n": negation("a")},
        0.29,
        0.32,
        "ab c",
    ),
}


@pytest.mark.parametrize("name", SMALL)
def test_small_tree(name: str) -> None:
    gates, p, rare, cuts = SMALL[name]
    tree = FaultTree.build("t", gates, ABC)
    assert tree.coherent is ("not" not in name)
    assert top_probability(tree) == pytest.approx(p, rel=1e-12)
    assert minimal_cut_sets(tree).rare_event_sum() == pytest.approx(rare, rel=1e-12)
    assert sets_of(tree) == words(cuts)


def test_a_or_not_b() -> None:
    tree = FaultTree.build("t", {"t": any_of("a", "n"), "n": negation("b")}, {"a": 0.1, "b": 0.2})
    assert top_probability(tree) == pytest.approx(0.82, rel=1e-12)
    assert list(minimal_cut_sets(tree)) == [()]  # true with no event at all
    assert minimal_cut_sets(tree).rare_event_sum() == 1.0


def test_a_or_not_a_is_unity() -> None:
    tree = FaultTree.build("t", {"t": any_of("a", "n"), "n": negation("a")}, {"a": 0.1})
    assert top_probability(tree) == 1.0
    assert list(minimal_cut_sets(tree)) == [()]
    assert importances(tree)["a"].birnbaum == 0.0


TWO_TRAINS = {
    "top": all_of("one", "two"),
    "one": any_of("valve_one", "pump_one"),
    "two": any_of("valve_two", "pump_two"),
}


def test_two_trains_of_equal_parts() -> None:
    parts = {"valve_one": 0.5, "valve_two": 0.5, "pump_one": 0.7, "pump_two": 0.7}
    tree = FaultTree.build("top", TWO_TRAINS, parts)
    assert top_probability(tree) == pytest.approx(0.7225, rel=1e-12)
    sets = minimal_cut_sets(tree)
    assert sets.count_by_order() == {2: 4}
    assert min(1.0, sets.rare_event_sum()) == 1.0  # the source cuts the sum off at 1


def agrees(value: float, printed: str) -> bool:
    """Whether the value rounds to the digits printed (half a unit of the last one)."""
    decimals = len(printed.partition(".")[2])
    return abs(value - float(printed)) <= 0.5 * 10.0**-decimals * (1 + 1e-9)


# Same source, importance table of the two-train model. Inputs implied by its numbers.
# occurrence, Birnbaum, criticality, diagnostic, achievement worth, reduction worth
TRAIN_TABLE = {
    "pump_one": (2, ".51", ".4737", ".7895", "1.316", "1.9"),
    "pump_two": (2, ".38", ".4118", ".8235", "1.176", "1.7"),
    "valve_one": (2, ".34", ".2105", ".5263", "1.316", "1.267"),
    "valve_two": (2, ".228", ".1765", ".5882", "1.176", "1.214"),
}


def test_two_train_importances() -> None:
    parts = {"valve_one": 0.4, "valve_two": 0.5, "pump_one": 0.6, "pump_two": 0.7}
    tree = FaultTree.build("top", TWO_TRAINS, parts)
    assert top_probability(tree) == pytest.approx(0.646, rel=1e-12)
    found = importances(tree)
    for event, (occurrence, *printed) in TRAIN_TABLE.items():
        row = found[event]
        values = (
            row.birnbaum,
            row.criticality,
            row.diagnostic,
            row.risk_achievement,
            row.risk_reduction,
        )
        assert row.occurrence == occurrence
        assert all(map(agrees, values, printed)), (event, values)


# --- consistency-based diagnosis: minimal diagnoses are the minimal hitting sets of the minimal conflicts


def test_reiter_hitting_sets() -> None:
    # Reiter 1987, the hitting-set tree example
    sets = minimal_hitting_sets(["245", "123", "135", "246", "24", "235", "16"])
    assert {"".join(sorted(s)) for s in sets} == {"12", "134", "145", "236", "256", "346"}


def test_polybox_conflicts() -> None:
    # the example of de Kleer and Williams 1987 (from memory): A3 B2 C2 D3 E3, F seen 10, G seen 12
    sets = minimal_hitting_sets([["A1", "M1", "M2"], ["A1", "A2", "M1", "M3"]])
    assert {frozenset(s) for s in sets} == {
        frozenset(s) for s in (["A1"], ["M1"], ["A2", "M2"], ["M2", "M3"])
    }


Component = tuple[str, Callable[..., int], tuple[str, ...]]


def minimal_conflicts(components: list[Component], known: Mapping[str, int]) -> list[frozenset[str]]:
    """Minimal sets of components that cannot all work, by trying every set and every signal."""
    names = [name for name, _, _ in components]
    free = [n for n in names if n not in known]
    worlds = [dict(known) | dict(zip(free, bits, strict=True)) for bits in product((0, 1), repeat=len(free))]
    working = [
        {n for n, f, inputs in components if world[n] == f(*(world[i] for i in inputs))} for world in worlds
    ]
    found: list[frozenset[str]] = []
    for some in chain.from_iterable(combinations(names, r) for r in range(len(names) + 1)):
        chosen = frozenset(some)
        if not any(c <= chosen for c in found) and not any(chosen <= w for w in working):
            found.append(chosen)
    return found


def diagnoses(components: list[Component], known: Mapping[str, int]) -> set[frozenset[str]]:
    return {frozenset(s) for s in minimal_hitting_sets(minimal_conflicts(components, known))}


def test_full_adder() -> None:
    # Reiter 1987: a 1, b 0, carry in 1; sum seen 1, carry seen 0. A signal has its component's name.
    adder: list[Component] = [
        ("X1", lambda x, y: x ^ y, ("a", "b")),
        ("X2", lambda x, y: x ^ y, ("X1", "c")),
        ("A1", lambda x, y: x & y, ("a", "b")),
        ("A2", lambda x, y: x & y, ("X1", "c")),
        ("O1", lambda x, y: x | y, ("A1", "A2")),
    ]
    known = {"a": 1, "b": 0, "c": 1, "X2": 1, "O1": 0}
    assert diagnoses(adder, known) == {frozenset(s) for s in (["X1"], ["X2", "A2"], ["X2", "O1"])}


# ISCAS-85 circuit c17 (from memory), inputs 1 2 3 6 7; diagnoses worked out by a separate program.
C17 = {"10": "1 3", "11": "3 6", "16": "2 11", "19": "11 7", "22": "10 16", "23": "16 19"}
C17_CASES = [
    ("11111", "00", "10 22"),
    ("11111", "11", "11 16 19 23"),
    ("11111", "01", "10.19 10.23 11.22 16.22 19.22 22.23 10.11.16"),
    ("00000", "10", "10 22 16.23"),
    ("00000", "01", "19 23 16.22"),
    ("00000", "11", "16 10.19 10.23 19.22 22.23"),
    ("10101", "00", "10.11 10.19 10.23 11.22 19.22 22.23"),
]


@pytest.mark.parametrize(("given", "seen", "want"), C17_CASES)
def test_c17(given: str, seen: str, want: str) -> None:
    nand: list[Component] = [(n, lambda x, y: 1 - (x & y), tuple(i.split())) for n, i in C17.items()]
    known = dict(zip("12367", map(int, given), strict=True))
    known |= {"22": int(seen[0]), "23": int(seen[1])}
    assert diagnoses(nand, known) == {frozenset(w.split(".")) for w in want.split()}


def test_diagnoses_ranked_by_probability() -> None:
    # polybox, each component 0.01: the two single faults come first, the double faults are 99 times rarer
    chances = dict.fromkeys(("A1", "A2", "M1", "M2", "M3"), 0.01)
    sets = minimal_hitting_sets([["A1", "M1", "M2"], ["A1", "A2", "M1", "M3"]], chances)
    ranked = sets.most_probable(3)
    assert {s for _, s in ranked[:2]} == {("A1",), ("M1",)}
    assert floor(log10(ranked[2][0])) == -4


def test_hitting_sets_at_the_edges() -> None:
    nothing: Iterable[list[str]] = []
    assert list(minimal_hitting_sets(nothing)) == [()]
    assert list(minimal_hitting_sets([["a"], []])) == []
    assert minimal_hitting_sets([["a"], []]).count == 0
