"""Corners of the network: configuration, damage, what comes and goes, rare events, passes of the circuit."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest

from faultkit.call import Call
from faultkit.circuit.circuit import HOT
from faultkit.circuit.compile import compile_network
from faultkit.diagnosis.result import Verdict
from faultkit.model.site import SitePlan, Unit
from faultkit.model.types import Common, EquipmentType, Event, Gate, HouseEvent, Link, Reading, Ref
from faultkit.network.join import join_site
from tests.engine.small import OPENED, basic, call_of, gate, one_unit, words
from tests.engine.strategies import make_case

YES_NO = ("yes", "no")


def with_switch(events: tuple[Event, ...], readings: tuple[Reading, ...] = (), *, on: bool) -> Call:
    kind = EquipmentType(
        "kind",
        house_events={"switch": HouseEvent("switch", default=False)},
        events={e.name: e for e in events},
        readings={r.name: r for r in readings},
    )
    plan = SitePlan("place", units={"u": Unit("u", "kind", "u", "kitchen", {"switch": on})})
    return Call(join_site(plan, {"kind": kind}, Common()), OPENED)


def test_damage_by_a_cause_that_the_configuration_makes_true() -> None:
    cause = gate("set", Gate.ANY_OF, "switch")
    worn = basic("worn", 0.1, broken_by=(Link(Ref("set"), 0.5),))
    off, on = (with_switch((cause, worn), on=on).diagnose().events["u.worn"] for on in (False, True))
    assert off.prior == pytest.approx(0.1, rel=1e-12)
    assert on.prior == pytest.approx(1 - 0.9 * 0.5, rel=1e-12)
    always = replace(worn, broken_by=(Link(Ref("set")),))
    assert "u.worn" not in with_switch((cause, always), on=True).diagnose().events


@pytest.mark.parametrize("on", [False, True])
def test_a_gate_that_the_configuration_decides_leaves_no_inhibitor_behind(on: bool) -> None:
    events = (
        basic("b", 0.3),
        gate("both", Gate.ALL_OF, ("b", 0.5), "switch"),
        gate("either", Gate.ANY_OF, ("b", 0.5), "switch"),
    )
    found = with_switch(events, on=on).diagnose()
    assert set(found.events) == {"u.b", "u.both" if on else "u.either"}
    assert found.most_probable_chance.low == pytest.approx(0.7 * 0.5, rel=1e-12)


def test_a_site_with_nothing_to_find_has_a_diagnosis() -> None:
    off = replace(basic("b", 0.3), only_with=("switch",))
    found = with_switch((off,), on=False).diagnose()
    assert found.consistent
    assert not found.events
    assert found.most_probable_chance.low == 1.0


def test_a_sign_missing_of_what_comes_and_goes_rules_nothing_out() -> None:
    loose = replace(basic("loose", 0.2), intermittent=True)
    tells = (("loose", (0.0, 1.0)), (None, (1.0, 0.0)))
    site = one_unit((loose,), (words("r", YES_NO, *tells), words("s", YES_NO, *tells)))
    missing = call_of(site).record("u.r", "yes")
    event = missing.diagnose().events["u.loose"]
    assert event.verdict is Verdict.OPEN
    assert event.probability.low == pytest.approx(0.1 / 0.9, rel=1e-12)
    twice = missing.record("u.s", "yes").diagnose().events["u.loose"]
    assert twice.probability.low == pytest.approx(0.05 / 0.85, rel=1e-12)
    assert missing.record("u.s", "no").diagnose().events["u.loose"].verdict is Verdict.CONFIRMED


def test_the_chance_of_the_most_probable_world_does_not_hang_on_signs_nobody_looked_at() -> None:
    loose = replace(basic("loose", 0.2), intermittent=True)
    tells = (("loose", (0.0, 1.0)), (None, (1.0, 0.0)))
    few = one_unit((loose,), (words("r", YES_NO, *tells),))
    many = one_unit((loose,), tuple(words(f"r{n}", YES_NO, *tells) for n in range(5)))
    chances = [call_of(s).diagnose().most_probable_chance.low for s in (few, many)]
    assert chances[0] == chances[1]


@pytest.mark.parametrize("prior", [1e-3, 1e-6, 1e-10, 1e-17])
def test_rare_events_keep_their_digits(prior: float) -> None:
    events = (
        *(basic(f"b{n}", prior) for n in range(3)),
        gate("all", Gate.ALL_OF, "b0", "b1", "b2"),
        gate("two", Gate.AT_LEAST, "b0", "b1", "b2", k=2),
        gate("some", Gate.ANY_OF, "b0", "b1", "b2", other=0.02),
    )
    call = call_of(one_unit(events, (words("r", YES_NO, ("some", (0.9, 0.1)), (None, (0.2, 0.8))),)))
    found = call.record("u.r", "yes").diagnose(advice=False).events
    p = Fraction(prior)
    listed = 1 - (1 - p) ** 3
    leak = Fraction(0.02) * listed
    some = 1 - (1 - listed) * (1 - leak)
    seen = some * Fraction(0.9) + (1 - some) * Fraction(0.2)
    wanted = {
        "b0": p * Fraction(0.9) / seen,
        "all": p**3 * Fraction(0.9) / seen,
        "two": (3 * p**2 * (1 - p) + p**3) * Fraction(0.9) / seen,
        "some": some * Fraction(0.9) / seen,
        "some.other": leak * Fraction(0.9) / seen,
    }
    for name, exact in wanted.items():
        given = found[f"u.{name}"].probability.low
        assert abs(Fraction(given) - exact) <= exact / 10**10, name


@pytest.mark.parametrize("seed", range(8))
def test_generated_code_gives_the_same_bits_as_the_loops(seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311
    network = make_case(rng).site().network(7)
    compiled = compile_network(network, list(network.signs.values()))
    assert compiled is not None
    circuit = compiled.circuit
    if not circuit.args:
        return
    weights = [rng.random() for _ in range(circuit.inputs)]
    masks = [rng.getrandbits(64) for _ in range(circuit.inputs)]
    first = (circuit.value(weights), circuit.derivatives(weights), circuit.possible(masks))
    # After this many passes generated code has taken over.
    for _ in range(HOT + 1):
        last = (circuit.value(weights), circuit.derivatives(weights), circuit.possible(masks))
        assert last == first
    assert circuit._made


def test_only_what_a_gate_lists_is_its_only_listed_cause() -> None:
    deep = basic("deep", 0.01)
    worn = replace(basic("worn", 0.2), broken_by=(Link(Ref("deep")),), intermittent=True)
    events = (deep, worn, basic("other", 0.1), gate("top", Gate.ANY_OF, ("worn", 0.9), "other", other=0.05))
    seen = (("top", (1.0, 0.0)), (None, (0.0, 1.0)))
    gone = (("other", (1.0, 0.0)), (None, (0.0, 1.0)))
    call = call_of(one_unit(events, (words("r", YES_NO, *seen), words("s", YES_NO, *gone))))
    found = call.record("u.r", "yes").record("u.s", "no").diagnose().events
    assert {n for n, e in found.items() if e.only_listed_cause_of} == {"u.worn"}
    assert found["u.worn"].only_listed_cause_of == "u.top"
