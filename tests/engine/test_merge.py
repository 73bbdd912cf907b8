"""Entries from two phones, late entries, and corrections of corrections."""

from __future__ import annotations

import itertools
import json
import random
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from faultkit.call import Call
from faultkit.diagnosis.result import Verdict
from faultkit.evidence.corrections import effective
from faultkit.model.entries import Fact, RemedyDone, entry_from_data
from faultkit.problems import InputError
from tests.engine.small import OPENED, call_of, rig
from tests.engine.strategies import examples

SITE = rig()
Data = dict[str, Any]


def at(minute: int) -> str:
    return f"2026-07-14T10:{minute:02}"


def text_of(call: Call) -> str:
    return json.dumps(call.diagnose().to_dict())


@st.composite
def logs(draw: st.DrawFn) -> list[Data]:
    """Complete entries, many of one minute: facts of five readings, notes, complaints, corrections of all of them."""
    values = {
        "u.suction": ["10 psig", "40 psig"], "u.box": ["30 degF", "39.5 degF"], "u.feed": ["5 V", "10.2 V", "200 V"],
        "u.turns": ["yes", "no"], "u.frost": ["none", "part"],
    }
    out: list[Data] = []
    for n in range(draw(st.integers(2, 9))):
        more: Data = {"id": f"{draw(st.sampled_from('ab'))}{n}", "time": at(draw(st.integers(10, 14)))}
        kind = draw(st.sampled_from(["fact", "fact", "fact", "complaint", "correction", "correction", "setup"]))
        if kind == "correction" and out:
            target = draw(st.sampled_from(out))
            root = target
            while root["kind"] == "correction":
                root = next(e for e in out if e["id"] == root["corrects"])
            more |= {"kind": "correction", "corrects": target["id"]}
            if root["kind"] == "fact" and draw(st.booleans()):
                more["value"] = draw(st.sampled_from(values[root["reading"]]))
            else:
                more["retract"] = "yes"
        elif kind == "complaint":
            more |= {"kind": "complaint", "event": "u.worn", "by": "customer"}
        elif kind == "setup":
            more |= {"kind": "setup", "unit": "u", draw(st.sampled_from(["on", "off"])): ["gauges_on"]}
        else:
            reading = draw(st.sampled_from(sorted(values)))
            more |= {"kind": "fact", "reading": reading, "value": draw(st.sampled_from(values[reading]))}
            more["by"] = draw(st.sampled_from(["technician", "customer"]))
            if reading == "u.suction":
                more["state"] = "running"
            if reading in {"u.box", "u.feed"}:
                more["instrument"] = "probe" if reading == "u.box" else draw(st.sampled_from(["", "meter"]))
        out.append(more)
    return out


def in_any_order(entries: list[Data], rng: random.Random) -> list[Data]:
    """A shuffle in which a correction still comes after what it corrects."""
    left = list(entries)
    out: list[Data] = []
    while left:
        known = {e["id"] for e in out}
        ready = [e for e in left if e.get("corrects", None) in known or e["kind"] != "correction"]
        out.append(rng.choice(ready))
        left.remove(out[-1])
    return out


@examples(150)
@given(logs(), st.randoms(use_true_random=False))
def test_the_order_of_arrival_changes_no_byte_of_the_diagnosis(entries: list[Data], rng: random.Random) -> None:
    start = Call(SITE, OPENED)
    try:
        whole = start.merge(entries)
        for n in range(len(entries)):  # two looks that contradict may stand together only once one is corrected
            start.merge(entries[: n + 1])
    except InputError as fault:
        assume("at the same time by the same instrument" not in str(fault))
        raise
    assert start.merge(entries[::-1]) == whole
    arriving = in_any_order(entries, rng)
    call = start
    try:
        while arriving:
            n = rng.randint(1, len(arriving))
            batch, arriving = arriving[:n], arriving[n:]
            call = call.merge(rng.sample(batch, len(batch)))
    except InputError as fault:
        assume("at the same time by the same instrument" not in str(fault))
        raise
    assert call.entries == whole.entries
    assert text_of(call) == text_of(whole)
    assert call.merge(entries) == call
    assert call.merge(e.to_dict() for e in call.entries) == call


def test_three_entries_in_all_six_orders() -> None:
    three = [
        {"kind": "fact", "id": "a1", "reading": "u.turns", "value": "yes", "time": at(20)},
        {"kind": "fact", "id": "b1", "reading": "u.turns", "value": "no", "time": at(21)},
        {"kind": "fact", "id": "b2", "reading": "u.feed", "value": "5 V", "time": at(20), "instrument": "meter"},
    ]
    found = set()
    for order in itertools.permutations(three):
        call = Call(SITE, OPENED)
        for entry in order:
            call = call.merge([entry])
        found.add(text_of(call))
        assert call.diagnose().events["u.worn"].verdict is Verdict.CONFIRMED
    assert len(found) == 1


def test_two_phones_do_not_give_the_same_id() -> None:
    start = call_of(SITE).record("u.turns", "yes", time=at(10))
    one = start.record("u.feed", "200 V", time=at(12)).record("u.frost", "none", time=at(14))
    two = start.record("u.frost", "part", time=at(12)).record("u.feed", "5 V", time=at(13), instrument="meter")
    both = one.merge(two.entries)
    assert len(both.entries) == 5
    assert both == two.merge(one.entries)
    assert [e.time for e in both.entries] == [at(10), at(12), at(12), at(13), at(14)]


def test_a_late_fact_belongs_to_its_own_time() -> None:
    """Entered after the remedy, observed before it."""
    call = call_of(SITE).record("u.turns", "no", id="a", time=at(10))
    call = call.add({"kind": "remedy", "id": "r", "unit": "u", "remedy": "mend", "time": at(30)})
    call = call.merge([{"kind": "fact", "id": "b", "reading": "u.feed", "value": "5 V", "time": at(20)}])
    call = call.record("u.turns", "yes", id="c", time=at(40))
    live, _ = effective(call.entries)
    assert [e.id for e in live] == ["a", "b", "r", "c"]
    assert isinstance(live[2], RemedyDone)


BAD = [
    ({"kind": "note", "text": "x", "time": at(10)}, "a note entry has no 'id': an entry made elsewhere"),
    ({"kind": "note", "text": "x", "id": "n"}, "entry 'n' has no 'time'"),
    ({"kind": "note", "text": "x", "id": "n", "time": at(10) + "+02:00"}, "has a time zone, unlike that of the call"),
    ({"kind": "note", "text": "x", "id": "f", "time": at(10)}, "id 'f' is taken by a different entry"),
    ({"kind": "correction", "id": "k", "corrects": "g", "retract": "yes", "time": at(10)}, "'g' is not an earlier"),
    ({"kind": "correction", "id": "k", "corrects": "k", "retract": "yes", "time": at(10)}, "lead to no entry"),
    ({"kind": "fact", "id": "g", "reading": "u.turns", "value": "no", "time": at(10)}, "'no', and 'yes' in entry 'f'"),
    ({"kind": "fact", "id": "g", "reading": "u.turn", "value": "no", "time": at(10)}, "did you mean 'u.turns'"),
    ({"kind": "opened", "site": "elsewhere", "time": OPENED}, "is of site 'elsewhere', this one is of site 'place'"),
    ({"kind": "opened", "site": "place", "time": at(7)}, "was opened at '2026-07-14T10:07', this one was opened"),
    ({"kind": "opened", "site": "place", "time": OPENED, "call": "two"}, "is of call 'two', this one is of call ''"),
    (
        {"kind": "refrigerant", "id": "m", "time": at(9), "unit": "u", "way": "in", "refrigerant": "x", "mass": "4 ft"},
        "'4 ft' is a length",
    ),
    (
        {
            "kind": "refrigerant", "id": "m", "time": at(9), "unit": "u", "way": "in", "refrigerant": "x",
            "mass": "4 lb", "accuracy": "1 V",
        },
        "1 V",
    ),
    ({"kind": "product", "id": "m", "time": at(9), "food": "x", "action": "kept", "temperature": "4 psig"}, "4 psig"),
    ({"kind": "product", "id": "m", "time": at(9), "food": "x", "action": "kept", "unit": "w"}, "unit 'w'"),
    ({"kind": "part", "id": "m", "time": at(9), "unit": "u", "part": "x", "remedy": "mnd"}, "did you mean 'mend'"),
]  # fmt: skip


@pytest.mark.parametrize(("entry", "what"), BAD, ids=[w[:40] for _, w in BAD])
def test_what_cannot_be_merged_is_said_and_changes_nothing(entry: Data, what: str) -> None:
    call = call_of(SITE).record("u.turns", "yes", id="f", time=at(10))
    kept = call.entries
    with pytest.raises(InputError) as caught:
        call.merge([entry])
    assert what in str(caught.value)
    assert call.entries == kept


def test_corrections_that_correct_each_other_end() -> None:
    ring = [
        {"kind": "correction", "id": "k", "corrects": "l", "value": "yes", "time": at(10)},
        {"kind": "correction", "id": "l", "corrects": "k", "value": "no", "time": at(11)},
    ]
    with pytest.raises(InputError, match="they correct each other"):
        call_of(SITE).merge(ring)
    live, withdrawn = effective([entry_from_data(e) for e in ring])  # unchecked, it still ends
    assert (live, withdrawn) == ([], set())


def corrected(*more: Data) -> str:
    """What a first value of 'no' has become."""
    call = call_of(SITE).record("u.turns", "no", id="f", time=at(10))
    call = call.merge([{"kind": "correction", "time": at(10 + n), **c} for n, c in enumerate(more, 1)])
    live, withdrawn = effective(call.entries)
    fact = live[0]
    assert isinstance(fact, Fact)
    return "withdrawn" if "f" in withdrawn else str(fact.value)


def test_what_corrections_of_corrections_do() -> None:
    new = {"id": "k", "corrects": "f", "value": "yes"}
    gone = {"id": "k", "corrects": "f", "retract": "yes"}
    assert corrected(new) == "yes"
    assert corrected(gone) == "withdrawn"
    # A correction replaces what the correction it names said, or undoes it.
    assert corrected(new, {"id": "l", "corrects": "k", "value": "no"}) == "no"
    assert corrected(new, {"id": "l", "corrects": "k", "retract": "yes"}) == "no"
    assert corrected(gone, {"id": "l", "corrects": "k", "retract": "yes"}) == "no"
    assert corrected(gone, {"id": "l", "corrects": "k", "value": "yes"}) == "yes"
    assert corrected(
        new, {"id": "l", "corrects": "k", "retract": "yes"}, {"id": "m", "corrects": "l", "retract": "yes"}
    ) == "yes"
    # Of several corrections of one entry the latest counts.
    assert corrected(gone, {"id": "l", "corrects": "f", "value": "yes"}) == "yes"
    assert corrected(new, {"id": "l", "corrects": "f", "retract": "yes"}) == "withdrawn"
    # Undone, it uncovers the one before it.
    assert corrected(
        new, {"id": "l", "corrects": "f", "value": "no"}, {"id": "m", "corrects": "l", "retract": "yes"}
    ) == "yes"


def test_a_long_chain_of_corrections_is_followed_to_its_end() -> None:
    chain: list[Data] = [
        {"kind": "correction", "id": f"k{n}", "corrects": f"k{n - 1}" if n else "f", "retract": "yes", "time": at(11)}
        for n in range(3000)
    ]
    call = call_of(SITE).record("u.turns", "no", id="f", time=at(10)).merge(chain)
    _, withdrawn = effective(call.entries)
    assert "f" not in withdrawn  # an even number of times
    _, withdrawn = effective(call.entries[:-1])
    assert "f" in withdrawn


def test_a_correction_may_stand_before_its_fact_by_another_clock() -> None:
    call = call_of(SITE).record("u.turns", "no", id="f", time=at(20))
    call = call.merge([{"kind": "correction", "id": "k", "corrects": "f", "value": "yes", "time": at(15)}])
    assert call.diagnose().events["u.worn"].verdict is Verdict.RULED_OUT
    assert call_of(SITE).add_all(call.entries).entries == call.entries


def test_two_values_at_one_time_are_fine_once_one_is_withdrawn() -> None:
    call = call_of(SITE).record("u.turns", "no", id="f", time=at(10))
    call = call.add({"kind": "correction", "id": "k", "corrects": "f", "retract": "yes", "time": at(11)})
    both = call.record("u.turns", "yes", id="g", time=at(10))
    assert both.diagnose().events["u.worn"].verdict is Verdict.RULED_OUT
    with pytest.raises(InputError, match="at the same time by the same instrument"):
        both.add({"kind": "correction", "id": "l", "corrects": "k", "retract": "yes", "time": at(12)})


def test_looking_again_in_the_same_minute_is_said_by_order() -> None:
    call = call_of(SITE).record("u.turns", "no", id="f", time=at(10))
    again = call.add({"kind": "fact", "id": "g", "reading": "u.turns", "value": "yes", "time": at(10), "order": 1})
    assert again.diagnose().events["u.worn"].verdict is Verdict.RULED_OUT
    with pytest.raises(InputError, match="at the same time"):
        call.record("u.turns", "yes", id="e", time=at(10))  # also where its id sorts before


def test_the_latest_closing_counts() -> None:
    call = call_of(SITE)
    assert call.closing is None
    call = call.add({"kind": "closed", "id": "z", "outcome": "repaired", "time": at(50)})
    call = call.merge([{"kind": "closed", "id": "y", "outcome": "handed_over", "time": at(40)}])
    assert call.closing is not None
    assert call.closing.outcome == "repaired"
    call = call.add({"kind": "correction", "corrects": "z", "retract": "yes"})
    assert call.closing is not None
    assert call.closing.outcome == "handed_over"
