"""Remedies in small calls, with numbers worked out by hand."""

from __future__ import annotations

import pytest

from faultkit.call import Call
from faultkit.diagnosis.result import Diagnosis, Verdict
from faultkit.model.site import SitePlan, Unit
from faultkit.model.types import Check, Common, EquipmentType, Event, Gate, Link, Reading, Ref, Remedy
from faultkit.network.join import join_site
from faultkit.network.site import Site
from faultkit.problems import InputError
from tests.engine.small import basic, call_of, gate, one_unit, words


def see(event: str) -> Reading:
    """A reading that shows an event as it is."""
    return words(f"see_{event}", ("gone", "there"), (event, (0.0, 1.0)), (None, (1.0, 0.0)))


def done(call: Call, remedy: str, **more: str) -> Call:
    return call.add({"kind": "remedy", "unit": "u", "remedy": remedy, **more})


def chance(found: Diagnosis, event: str) -> float:
    return found.events[f"u.{event}"].probability.low


def before(found: Diagnosis, event: str) -> float:
    """Chance that the event was there before any remedy."""
    return found.events[f"u.{event}"].past[0].probability.low


def two_causes(*, noisy: bool = True) -> Site:
    turns = (("stopped", (0.1, 0.9)), (None, (0.95, 0.05))) if noisy else (("stopped", (0.0, 1.0)), (None, (1.0, 0.0)))
    return one_unit(
        (basic("worn", 0.01), basic("other", 0.02), gate("stopped", Gate.ANY_OF, "worn", "other")),
        (words("turns", ("yes", "no"), *turns),),
        remedies=(Remedy("swap", (Ref("worn"),), 20.0, fails=0.03),),
    )


def test_a_swap_on_suspicion_and_a_look_is_a_test() -> None:
    """By hand: see the four states of (worn, other) before the swap, with both looks at ``turns``."""
    seen = call_of(two_causes()).record("u.turns", "no")
    # P(worn | no) = .01 * .9 / (.01 * .9 + .99 * .02 * .9 + .99 * .98 * .05)
    assert chance(seen.diagnose(), "worn") == pytest.approx(0.009 / 0.07533, rel=1e-9)
    swapped = done(seen, "swap")
    # Not there any more but for a failed repair (.03) or a new part that is bad itself (.01).
    old = 0.009 / 0.07533
    assert chance(swapped.diagnose(), "worn") == pytest.approx(1 - (1 - 0.03 * old) * (1 - 0.01), rel=1e-9)
    found = swapped.record("u.turns", "yes").diagnose()
    # Looks decided by the same row agree for nine tenths: no, then yes, has .1 p q; else .9 * .95 and .05 * .1.
    stays = 1 - 0.97 * 0.99
    none = 0.9702 * (0.99 * 0.1 * 0.95 * 0.05 + 0.01 * 0.05 * 0.1)
    worn = 0.0098 * (stays * 0.1 * 0.1 * 0.9 + (1 - stays) * 0.9 * 0.95)
    other, both = 0.0198 * 0.1 * 0.1 * 0.9, 0.0002 * 0.1 * 0.1 * 0.9
    whole = none + worn + other + both
    assert before(found, "worn") == pytest.approx((worn + both) / whole, rel=1e-9)
    assert before(found, "worn") > 5 * old
    assert before(found, "worn") == pytest.approx(0.627, abs=5e-4)


def test_a_swap_that_changes_nothing_clears_the_part() -> None:
    seen = call_of(two_causes(noisy=False)).record("u.turns", "no")
    found = done(seen, "swap").record("u.turns", "no").diagnose()
    # worn alone: the repair failed or the new part is bad; else the other cause.
    worn, other, both = 0.0098 * (1 - 0.97 * 0.99), 0.0198, 0.0002
    assert before(found, "worn") == pytest.approx((worn + both) / (worn + other + both), rel=1e-9)
    assert before(found, "worn") < 0.03
    assert chance(seen.diagnose(), "worn") > 0.33
    gone = done(seen, "swap").record("u.turns", "yes").diagnose()
    assert gone.events["u.worn"].past[0].verdict is Verdict.CONFIRMED
    assert [e.outcome for e in gone.repairs[0].ends] == ["repaired"]
    assert gone.events["u.other"].verdict is Verdict.RULED_OUT


def test_a_repeat_look_is_hardly_fresh_evidence() -> None:
    site = one_unit(
        (basic("worn", 0.01), basic("else_", 0.01)),
        (words("hums", ("yes", "no"), ("worn", (0.6, 0.4)), (None, (0.1, 0.9))),),
        remedies=(Remedy("other_job", (Ref("else_"),), 5.0),),
    )
    once = call_of(site).record("u.hums", "yes")
    twice = done(once, "other_job").record("u.hums", "yes")
    # Within a row two looks agree with .9 + .1 p: the ratio grows from 6 by (.9 + .06) / (.9 + .01).
    odds = 0.01 / 0.99 * 6 * 0.96 / 0.91
    assert chance(twice.diagnose(), "worn") == pytest.approx(odds / (1 + odds), rel=1e-9)
    assert [f.status for f in twice.diagnose().facts] == ["used", "used"]


def numbers(ids: tuple[str, ...]) -> tuple[str, ...]:
    """Ids without the hash of their content."""
    return tuple(i.partition("-")[0] for i in ids)


def test_what_was_observed_before_a_remedy_belongs_before_it_whenever_it_is_entered() -> None:
    site = two_causes(noisy=False)
    call = done(call_of(site), "swap", time="2026-07-14T11:00")
    late = call.record("u.turns", "no", time="2026-07-14T10:30").diagnose()
    assert late.facts[0].stage == 0
    assert late.events["u.stopped"].past[0].verdict is Verdict.CONFIRMED
    assert late.events["u.stopped"].verdict is Verdict.OPEN
    assert [(r.sign, r.reason, numbers(r.facts)) for r in late.retake] == [("u.turns", "changed", ("e2",))]
    now = call.record("u.turns", "no", time="2026-07-14T11:30").diagnose()
    assert now.facts[0].stage == 1
    assert now.events["u.stopped"].verdict is Verdict.CONFIRMED
    assert not now.retake


def chain(**more: object) -> Site:
    """A cause that breaks a part, and what both bring about."""
    return one_unit(
        (
            basic("low_volts", 0.01),
            basic("burnt", 0.01, broken_by=(Link(Ref("low_volts"), 0.15),)),
            gate("warm", Gate.ANY_OF, "burnt"),
        ),
        (see("low_volts"), see("burnt"), see("warm")),
        remedies=(
            Remedy("raise_volts", (Ref("low_volts"),), 20.0, prove=((Ref("see_low_volts"), "gone"),)),
            Remedy("rewind", (Ref("burnt"),), 60.0, prove=((Ref("see_burnt"), "gone"),), **more),  # type: ignore[arg-type]
        ),
    )


def test_ending_the_cause_does_not_undo_the_damage() -> None:
    call = call_of(chain()).record("u.see_low_volts", "there").record("u.see_burnt", "there")
    found = done(call, "raise_volts").record("u.see_low_volts", "gone").diagnose()
    assert found.events["u.low_volts"].verdict is Verdict.RULED_OUT
    assert found.events["u.burnt"].verdict is Verdict.CONFIRMED
    assert [(x.cause, x.effect, x.damage) for x in found.chain("u.burnt")[0]] == [("u.low_volts", "u.burnt", True)]
    assert [(x.cause, x.effect, x.damage) for x in found.chain("u.burnt")[1]] == [("u.burnt", "u.warm", False)]


def test_a_call_is_closed_when_cause_and_damage_are_ended_and_proved() -> None:
    call = call_of(chain()).add({"kind": "complaint", "event": "u.warm", "by": "customer"})
    call = call.record("u.see_burnt", "there").record("u.see_warm", "there")

    def missing(c: Call) -> list[tuple[str, str, tuple[str, ...]]]:
        return [(m.kind, m.what, m.needs) for m in c.diagnose().closing.missing]

    complaint, cause = ("complaint", "u.warm", ()), ("damage", "u.burnt", ("u.low_volts",))
    assert missing(call) == [complaint, cause]
    call = done(call, "rewind")
    assert missing(call) == [("unproved_repair", "u.rewind", ("u.see_burnt",)), complaint, cause]
    call = call.record("u.see_burnt", "gone").record("u.see_warm", "gone")
    assert missing(call) == [cause]
    # Each of three ways settles the cause: ruled out, put off by the customer, or found and ended.
    assert call.record("u.see_low_volts", "gone").diagnose().closing.closable
    off = {"kind": "decision", "unit": "u", "remedy": "raise_volts", "answer": "deferred"}
    assert call.add(off).diagnose().closing.closable
    assert not call.add({**off, "answer": "approved"}).diagnose().closing.closable
    found = call.record("u.see_low_volts", "there")
    assert missing(found) == [cause]
    ended = done(found, "raise_volts").record("u.see_low_volts", "gone")
    assert ended.diagnose().closing.closable


def test_a_repair_is_proved_by_what_is_seen_after_it_alone() -> None:
    call = call_of(chain()).record("u.see_burnt", "gone")
    found = done(call, "rewind").diagnose()
    assert [(p.sign, p.status) for p in found.repairs[0].prove] == [("u.see_burnt", "missing")]
    assert found.repairs[0].ends[0].outcome == "was_not_there"
    again = done(call, "rewind").record("u.see_burnt", "there").diagnose()
    assert [(p.status, numbers(p.facts)) for p in again.repairs[0].prove] == [("other", ("e3",))]
    assert not again.repairs[0].proved


def test_a_latched_gate_outlives_its_causes_and_ends_by_its_own_remedy() -> None:
    site = one_unit(
        (
            basic("draft", 0.01),
            Event("iced", Gate.ANY_OF, "iced", "iced", inputs=(Link(Ref("draft")),), complete="a test", stays=True),
            gate("windy", Gate.ANY_OF, "draft"),
        ),
        (see("draft"), see("iced")),
        remedies=(
            Remedy("shut", (Ref("draft"),), 5.0, fails=0.0),
            Remedy("thaw", (Ref("iced"),), 45.0, fails=0.03),
        ),
    )
    shut = done(call_of(site).record("u.see_draft", "there"), "shut").record("u.see_draft", "gone")
    assert shut.diagnose().events["u.windy"].verdict is Verdict.RULED_OUT
    assert shut.diagnose().events["u.iced"].verdict is Verdict.CONFIRMED
    thawed = done(shut, "thaw")
    assert chance(thawed.diagnose(), "iced") == pytest.approx(0.03, rel=1e-9)
    # The thaw comes first: the draft ices it again, for as long as it is there.
    first = done(call_of(site).record("u.see_draft", "there"), "thaw")
    assert first.diagnose().events["u.iced"].verdict is Verdict.CONFIRMED


def test_a_remedy_may_leave_a_fault_and_may_unsettle_another() -> None:
    site = one_unit(
        (basic("plugged", 0.01), basic("leak", 0.001), basic("charge_low", 0.01)),
        (see("plugged"), see("leak"), see("charge_low")),
        remedies=(
            Remedy(
                "replace", (Ref("plugged"),), 60.0, may_leave=(Link(Ref("leak"), 0.03),), unsettles=(Ref("charge_low"),)
            ),
        ),
    )
    call = call_of(site).record("u.see_leak", "gone").record("u.see_charge_low", "there")
    found = done(call, "replace").diagnose()
    assert chance(found, "leak") == pytest.approx(0.03, rel=1e-9)
    assert chance(found, "charge_low") == pytest.approx(1 - 0.5 * 0.99, rel=1e-9)
    assert {r.sign for r in found.retake} == {"u.see_leak", "u.see_charge_low"}


def test_a_missing_sign_of_what_comes_and_goes_rules_nothing_out_later() -> None:
    site = one_unit(
        (basic("wet", 0.01, intermittent=True), basic("else_", 0.01), gate("stopped", Gate.ANY_OF, "wet")),
        (see("stopped"),),
        remedies=(Remedy("other_job", (Ref("else_"),), 5.0),),
    )
    call = call_of(site).record("u.see_stopped", "gone")
    assert call.diagnose().events["u.stopped"].verdict is Verdict.RULED_OUT
    later = done(call, "other_job").diagnose()
    wet = 0.005 / 0.995  # it is there and did not show
    assert chance(later, "wet") == pytest.approx(wet, rel=1e-9)
    assert chance(later, "stopped") == pytest.approx(wet / 2, rel=1e-9)
    assert not later.retake  # no remedy touched it


def test_a_disturbed_reading_is_to_be_taken_again_and_is_offered_again() -> None:
    site = one_unit(
        (basic("low", 0.01), basic("worn", 0.01)),
        (see("low"), see("worn")),
        checks=(Check("look", (Ref("see_low"),), 3.0),),
        remedies=(Remedy("swap", (Ref("worn"),), 5.0, disturbs=(Ref("see_low"),)),),
    )
    call = call_of(site).record("u.see_low", "gone").record("u.see_worn", "there", id="w")
    assert not call.diagnose().retake
    found = done(call, "swap", id="r").diagnose()
    assert [(r.sign, r.reason, r.by, r.checks) for r in found.retake] == [
        ("u.see_low", "disturbed", "r", ("u.look",)),
        ("u.see_worn", "changed", "r", ()),
    ]
    assert not done(call, "swap").record("u.see_low", "gone").record("u.see_worn", "gone").diagnose().retake


def test_a_remedy_cannot_change_a_gate_that_holds_by_its_causes() -> None:
    kind = EquipmentType(
        "kind",
        events={e.name: e for e in (basic("worn", 0.01), gate("stopped", Gate.ANY_OF, "worn"))},
        remedies={"mend": Remedy("mend", (Ref("stopped"),), 5.0)},
    )
    with pytest.raises(InputError, match="changes the gate"):
        join_site(SitePlan("place", units={"u": Unit("u", "kind", "u", "kitchen")}), {"kind": kind}, Common())
