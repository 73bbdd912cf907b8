"""The order of entries and the ids they get."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from faultkit.model.entries import Note
from faultkit.model.order import content_id, has_zone, moment, place, same_entry, sort_key

OPENED = "2026-07-14T10:05"


def note(text: str = "x", **more: object) -> Note:
    return Note(text=text, **more)  # type: ignore[arg-type]


def test_ids_are_ordered_as_people_count() -> None:
    ids = ["f10", "f9", "a2b10", "a2b9", "f1", "10", "9"]
    found = sorted((note(id=i, time=OPENED) for i in ids), key=sort_key)
    assert [e.id for e in found] == ["9", "10", "a2b9", "a2b10", "f1", "f9", "f10"]


def test_time_comes_before_order_and_order_before_id() -> None:
    early = note(id="z", time="2026-07-14T10:00:59")
    second = note(id="a", time="2026-07-14T10:01", order=1)
    first = note(id="b", time="2026-07-14T10:01")
    assert sorted([second, first, early], key=sort_key) == [early, first, second]


def test_offsets_are_compared_as_times() -> None:
    assert moment("2026-07-14T10:30:00+02:00") < moment("2026-07-14T09:00:00+00:00")
    assert has_zone("2026-07-14T10:30Z")
    assert not has_zone("2026-07-14T10:30")


@given(st.lists(st.text("f01-", min_size=1, max_size=4), unique=True, min_size=2, max_size=8))
def test_no_two_ids_are_equal_in_order(ids: list[str]) -> None:
    keys = {sort_key(note(id=i, time=OPENED)) for i in ids}
    assert len(keys) == len(ids)


def test_an_id_says_what_the_entry_says() -> None:
    one = note("fan hums", time=OPENED, by="technician")
    others = [replace(one, text="fan hum"), replace(one, time="2026-07-14T10:06"), replace(one, who="Kim")]
    ids = [content_id(e, 7) for e in [one, *others]]
    assert len(set(ids)) == 4
    assert all(i.startswith("e7-") for i in ids)
    assert content_id(replace(one, id="other"), 7) == ids[0]
    assert content_id(one, 8) != ids[0]


def test_a_new_entry_comes_last_of_its_time() -> None:
    kept = [note(id="f5", time=OPENED)]
    assert place(note(id="f6", time=OPENED), kept[-1], kept, OPENED).order == 0   # its id says so already
    assert place(note(id="f4", time=OPENED), kept[-1], kept, OPENED).order == 1
    untimed = place(note(id="g"), kept[-1], kept, OPENED)
    assert (untimed.time, untimed.order) == (OPENED, 1)
    first = place(note(id="g"), None, [], OPENED)
    assert (first.time, first.order) == (OPENED, 0)
    assert place(note(id="a", order=9, time=OPENED), kept[-1], kept, OPENED).order == 9


def test_the_same_entry_may_lack_what_was_filled_in() -> None:
    kept = note(id="g", time=OPENED, order=1)
    assert same_entry(note(id="g"), kept)
    assert not same_entry(note(id="g", order=2), kept)
    assert not same_entry(note("y", id="g"), kept)
