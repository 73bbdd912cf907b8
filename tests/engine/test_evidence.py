"""Facts against their readings: every way one can be wrong, and what the right ones come to."""

from __future__ import annotations

import re
from typing import Any

import pytest

from faultkit.call import Call
from faultkit.diagnosis.result import Diagnosis, Verdict
from faultkit.model.entries import Fact
from faultkit.problems import InputError
from tests.engine.small import call_of, rig

RUNNING = {"state": "running"}
AT = "2026-07-14T10:10"


@pytest.fixture
def call() -> Call:
    return call_of(rig()).record("u.feed", "200 V", id="f1", instrument="meter", time=AT)


def fact(reading: str, value: str | float | bool, **more: str) -> dict[str, Any]:
    return {"kind": "fact", "reading": reading, "value": value, **more}


BAD = [
    (fact("u.sucton", "8 psig"), "reading 'u.sucton' is not known at this site", "did you mean 'u.suction'?"),
    (
        fact("u.suction", "8 psi", **RUNNING),
        "u.suction is '8 psi', a pressure difference",
        "a gauge pressure, for example '20 psig'",
    ),
    (fact("u.suction", "8 V", **RUNNING), "u.suction is '8 V', a voltage", "a gauge pressure, for example '20 psig'"),
    (
        fact("u.box", "8 delta_degF"),
        "u.box is '8 delta_degF', a temperature difference",
        "a temperature, for example '33 degF'",
    ),
    (fact("u.feed", "8 vlots"), "u.feed: unknown unit 'vlots'", "did you mean 'V'"),
    (fact("u.box", "-500 degF"), "u.box: '-500 degF' cannot be a temperature", "at least -459.67 degF"),
    (fact("u.box", "300 degF"), "u.box is '300 degF', which cannot be", "a value from -60 degF to 200 degF"),
    (fact("u.suction", "-15 psig", **RUNNING), "u.suction is '-15 psig', which cannot be", "a value from -14.7 psig"),
    (fact("u.suction", "8 psig", state="runing"), "state 'runing' is not known to unit 'u'", "did you mean 'running'?"),
    (
        fact("u.suction", "8 psig", state="defrost"),
        "u.suction has no meaning in state 'defrost'",
        "state: running or off",
    ),
    (fact("u.feed", "200 V", instrument="metre"), "instrument 'metre' is not known", "did you mean 'meter'?"),
    (fact("u.feed", 200.0), "u.feed is 200 without a unit", "'200 V'"),
    (fact("u.feed", "200"), "u.feed is 200 without a unit", "'200 V'"),
    (fact("u.feed", "nan V"), "u.feed: 'nan V' is not a finite number", "write a number and its unit"),
    (fact("u.frost", "parts"), "u.frost is 'parts'", "one of none, part, full"),
    (fact("u.turns", "maybe"), "u.turns is 'maybe'", "one of yes, no"),
    (fact("u.turns", True), "'value' of a fact entry is True", "the word yes or no in quotes"),
    (
        fact("u.feed", "190 V", instrument="meter", time=AT),
        "u.feed is '190 V', and '200 V' in entry 'f1' at the same time by the same instrument",
        "one value, a later time, or the instrument that took the other one",
    ),
    ({"kind": "fact", "reading": "u.feed"}, "a fact entry has no 'value'", "value: …"),
    (fact("u.feed", "3 V", valu="x"), "'valu' is not a key of a fact entry", "did you mean 'value'?"),
    (fact("u.feed", "3 V", time="noon"), "'time' of a fact entry is 'noon'", "a date and time as in 2026-07-14T10:05"),
    ({**fact("u.feed", "3 V"), "kind": "fakt"}, "an entry of kind 'fakt' is not known", "kind: did you mean 'fact'?"),
    ({"kind": "complaint", "event": "u.wron"}, "event 'u.wron' is not known at this site", "did you mean 'u.worn'?"),
    ({"kind": "location", "place": "kitchn"}, "place 'kitchn' is not known at this site", "did you mean 'kitchen'?"),
    ({"kind": "setup", "unit": "v"}, "unit 'v' is not known at this site", "one of u"),
    (
        {"kind": "setup", "unit": "u", "on": ["gauge_on"]},
        "set-up 'gauge_on' is not known at this site",
        "did you mean 'gauges_on'?",
    ),
    (
        {"kind": "remedy", "unit": "u", "remedy": "mends"},
        "remedy 'mends' is not known at this site",
        "did you mean 'mend'?",
    ),
    (
        {"kind": "decision", "unit": "u", "remedy": "mend", "answer": "maybe"},
        "'answer' of a decision entry is 'maybe'",
        "one of approved, declined, deferred",
    ),
    (
        {"kind": "conditions", "forbid": {"hazards": ["live_volt"]}},
        "hazard 'live_volt' is not known at this site",
        "did you mean 'live_voltage'?",
    ),
    (
        {"kind": "conditions", "forbid": {"power": ["of"]}},
        "power state 'of' is not known at this site",
        "one of any, on, live, locked_out",
    ),
    (
        {"kind": "conditions", "missing_tools": ["multi"]},
        "tool 'multi' is not known at this site",
        "did you mean 'multimeter'?",
    ),
    ({"kind": "correction", "corrects": "f9", "value": "3 V"}, "'f9' is not an earlier entry", "one of f1"),
    ({"kind": "correction", "corrects": "f1"}, "a correction changes nothing", "a new 'value', or 'retract: yes'"),
    (
        {"kind": "correction", "corrects": "f1", "value": "3 A"},
        "u.feed is '3 A', a current",
        "a voltage, for example '10 V'",
    ),
]


@pytest.mark.parametrize(("entry", "what", "expected"), BAD, ids=[w[:40] for _, w, _ in BAD])
def test_a_bad_entry_is_refused_with_what_to_write_instead(
    call: Call, entry: dict[str, Any], what: str, expected: str
) -> None:
    with pytest.raises(InputError) as caught:
        call.add(entry)
    (problem,) = caught.value.problems
    assert problem.what.startswith(what)
    assert problem.expected.startswith(expected)


def test_all_problems_of_all_entries_come_at_once(call: Call) -> None:
    bad = [fact("u.feed", "3 A", instrument="metre"), {"kind": "location", "place": "attic"}, fact("u.frost", "none")]
    with pytest.raises(InputError) as caught:
        call.add_all(bad)
    assert len(caught.value.problems) == 3
    assert {p.what.split()[0] for p in caught.value.problems} == {"u.feed", "instrument", "place"}


def test_opened_must_be_a_date() -> None:
    with pytest.raises(InputError, match=re.escape("the call was opened at 'today'")):
        Call(rig(), "today")


def probability(d: Diagnosis) -> float:
    return d.events["u.worn"].probability.low


def bands(d: Diagnosis, sign: str) -> dict[str, float]:
    return dict(next(k.bands for k in d.looks if k.sign == sign))


def test_gauge_and_absolute_meet_at_the_height_of_the_site() -> None:
    # 34.7 psia is 20 psig at sea level, and more than that where the air is thin.
    low = call_of(rig()).record("u.suction", "34.6 psia", **RUNNING).diagnose()
    high = call_of(rig(altitude=2000.0)).record("u.suction", "34.6 psia", **RUNNING).diagnose()
    assert low.events["u.worn"].verdict is Verdict.CONFIRMED
    assert high.events["u.worn"].verdict is Verdict.RULED_OUT


def test_a_value_on_a_cut_belongs_to_the_band_above() -> None:
    below, on = (call_of(rig()).record("u.feed", v).diagnose() for v in ("9.99 V", "10 V"))
    assert set(bands(below, "u.feed")) == {"low"}
    assert set(bands(on, "u.feed")) == {"normal"}


def test_an_interval_over_a_cut_is_too_close_to_call() -> None:
    # 33.5 ± 1 degF: a quarter of the interval lies below 33 degF. (Units keep 12 digits of a value in kelvin.)
    found = call_of(rig()).record("u.box", "33.5 degF").diagnose()
    assert bands(found, "u.box") == pytest.approx({"low": 0.25, "normal": 0.75}, rel=1e-8)
    assert found.looks[0].too_close
    assert found.events["u.worn"].verdict is Verdict.OPEN
    assert probability(found) == pytest.approx(0.01 * 0.25 / (0.01 * 0.25 + 0.99 * 0.75), rel=1e-8)


@pytest.mark.parametrize("value", ["34 degF", "40 degF"])
def test_an_interval_that_ends_on_a_cut_lies_in_its_band(value: str) -> None:
    found = call_of(rig()).record("u.box", value).diagnose()
    assert bands(found, "u.box") == {"normal": 1.0}
    assert found.events["u.worn"].verdict is Verdict.RULED_OUT


def test_an_entry_made_by_hand_is_checked_like_any_other() -> None:
    with pytest.raises(InputError, match="'time' of a fact entry is 'noon'"):
        call_of(rig()).add(Fact(reading="u.turns", value="no", time="noon"))


def test_the_instrument_s_accuracy_goes_before_the_reading_s() -> None:
    # 34.5 degF: within 1 degF of no cut, but within the 2 degF of the probe.
    assert not call_of(rig()).record("u.box", "34.5 degF").diagnose().looks[0].too_close
    assert call_of(rig()).record("u.box", "34.5 degF", instrument="probe").diagnose().looks[0].too_close


def test_without_its_state_a_fact_is_kept_and_asked_for() -> None:
    found = call_of(rig()).record("u.suction", "10 psig").diagnose()
    assert [(f.status, f.why) for f in found.facts] == [
        ("needs_state", "the operating state was not given: running or off")
    ]
    assert probability(found) == pytest.approx(0.01)


def test_hearsay_is_soft_and_gives_way_to_a_measurement() -> None:
    told = call_of(rig()).record("u.turns", "no", by="customer")
    found = told.diagnose()
    assert found.events["u.worn"].verdict is Verdict.OPEN
    # 0.8 of the time what is so, else either answer: 0.9 against 0.1.
    assert probability(found) == pytest.approx(0.009 / (0.009 + 0.099), rel=1e-9)
    measured = told.record("u.turns", "yes").diagnose()
    assert measured.events["u.worn"].verdict is Verdict.RULED_OUT
    assert [f.status for f in measured.facts] == ["superseded", "used"]


def test_a_retracted_fact_counts_no_more_and_a_retracted_correction_undoes_itself() -> None:
    call = call_of(rig()).record("u.turns", "no", id="f")
    wrong = call.add({"kind": "correction", "id": "k", "corrects": "f", "value": "yes"})
    assert call.diagnose().events["u.worn"].verdict is Verdict.CONFIRMED
    assert wrong.diagnose().events["u.worn"].verdict is Verdict.RULED_OUT
    undone = wrong.add({"kind": "correction", "id": "l", "corrects": "k", "retract": "yes"})
    assert undone.diagnose().events["u.worn"].verdict is Verdict.CONFIRMED
    gone = call.add({"kind": "correction", "id": "k", "corrects": "f", "retract": "yes"})
    assert gone.diagnose().events["u.worn"].verdict is Verdict.OPEN
    assert gone.diagnose().facts[0].status == "withdrawn"
    back = gone.add({"kind": "correction", "id": "l", "corrects": "k", "retract": "yes"})
    assert back.diagnose().events["u.worn"].verdict is Verdict.CONFIRMED


def test_a_remedy_entered_by_mistake_can_be_taken_back() -> None:
    call = call_of(rig()).record("u.turns", "no")
    mended = call.add({"kind": "remedy", "id": "r", "unit": "u", "remedy": "mend"})
    assert mended.diagnose().events["u.worn"].verdict is Verdict.OPEN
    undone = mended.add({"kind": "correction", "corrects": "r", "retract": "yes"}).diagnose()
    assert undone.events == call.diagnose().events


def test_the_later_of_two_looks_counts_by_time_not_by_entry() -> None:
    call = call_of(rig()).record("u.turns", "yes", time="2026-07-14T10:30")
    found = call.record("u.turns", "no", time="2026-07-14T10:20").diagnose()
    assert found.events["u.worn"].verdict is Verdict.RULED_OUT


def test_times_in_different_spellings_are_compared_as_times() -> None:
    call = call_of(rig()).record("u.turns", "yes", time="2026-07-14T10:30:00+02:00")
    found = call.record("u.turns", "no", time="2026-07-14T09:00:00+00:00").diagnose()
    assert found.events["u.worn"].verdict is Verdict.CONFIRMED


def test_two_readings_that_cannot_both_be_are_a_conflict() -> None:
    call = call_of(rig()).record("u.turns", "yes", id="a").record("u.feed", "5 V", id="b")
    found = call.record("u.frost", "none", id="c").diagnose()
    assert {frozenset(c.facts) for c in found.conflicts} == {frozenset("ab"), frozenset("bc")}
    assert found.events["u.worn"].verdict is Verdict.OPEN
