# ruff: noqa: E501 - tables: one case in each line
"""Call files: ids and times of entries."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from faultkit.model.entries import entry_from_data
from faultkit.problems import Problem
from faultkit.reading.call import CallPlan, read_call
from faultkit.reading.parse import parse_text
from faultkit.reading.validate import validate

HEAD = """\
schema: 1
call: warm_rail
site: ../sites/corner_kitchen.yaml
opened: 2026-07-14T10:05
entries:
"""
GOOD = (
    HEAD
    + """\
  - {kind: complaint, id: c1, event: rail.pans_warm, words: It is warm, by: customer, time: 09:40}
  - {kind: fact, reading: rail.box_air, value: 51 degF, instrument: probe_7, state: running, time: 10:12}
  - {kind: fact, reading: rail.fan.left.turns, value: no}
  - {kind: fact, reading: rail.box_air, value: 51.5, unit: degF}
  - {kind: conditions, forbid: {hazards: [live_voltage], power: [locked_out]}, missing_tools: [gauges], crew: 1, weather: rain}
  - {kind: location, place: roof, time: 2026-07-15T08:00}
  - {kind: setup, unit: roof_unit, on: [gauges_on], off: []}
  - {kind: remedy, id: r1, unit: roof_unit, remedy: clean_coil}
  - {kind: decision, unit: roof_unit, remedy: clean_coil, answer: approved}
  - {kind: correction, corrects: e2, value: 41 degF}
  - {kind: correction, corrects: e3, retract: yes}
  - {kind: note, text: Back tomorrow}
"""
)


def read(text: str) -> tuple[CallPlan, list[Problem]]:
    problems: list[Problem] = []
    node = parse_text(text, "c.yaml", problems)
    assert node is not None, problems
    assert validate(node, "call", problems), problems
    return read_call(node, problems), problems


def test_everything_is_read() -> None:
    plan, problems = read(GOOD)
    assert problems == []
    assert (plan.name, plan.title) == ("warm_rail", "Warm rail")
    assert (plan.site, plan.opened) == ("../sites/corner_kitchen.yaml", "2026-07-14T10:05")
    data, where = plan.entries[1]
    assert data == {
        "kind": "fact", "id": "e2", "reading": "rail.box_air", "value": "51 degF", "instrument": "probe_7",
        "state": "running", "time": "2026-07-14T10:12",
    }  # fmt: skip
    assert str(where) == "c.yaml:7:5"


def test_ids_are_given_by_position() -> None:
    assert [data["id"] for data, _ in read(GOOD)[0].entries] == [
        "c1", "e2", "e3", "e4", "e5", "e6", "e7", "r1", "e9", "e10", "e11", "e12",
    ]  # fmt: skip


def test_clock_times_are_on_the_day_opened_and_others_stay() -> None:
    times = [data.get("time") for data, _ in read(GOOD)[0].entries]
    assert times[:3] == ["2026-07-14T09:40", "2026-07-14T10:12", None]
    assert times[5] == "2026-07-15T08:00"


def test_every_entry_is_one_for_the_model() -> None:
    plan, _ = read(GOOD)
    assert [entry_from_data(data, where).kind for data, where in plan.entries] == [d["kind"] for d, _ in plan.entries]


ZONES: st.SearchStrategy[Any] = st.timezones() | st.none()


@given(st.datetimes(min_value=datetime(1000, 1, 1), timezones=ZONES), st.times())  # noqa: DTZ001
def test_a_clock_time_keeps_the_day_and_time_zone(opened: datetime, clock: object) -> None:
    hhmm = f"{clock:%H:%M}"
    # Offsets from before standard time have seconds, which no file would say.
    assume((opened.utcoffset() or timedelta(0)).total_seconds() % 60 == 0)
    text = HEAD.replace("2026-07-14T10:05", opened.isoformat()) + f"  - {{kind: note, text: x, time: {hhmm}}}\n"
    plan, problems = read(text)
    assert problems == []
    found = datetime.fromisoformat(plan.entries[0][0]["time"])
    assert (found.date(), found.utcoffset()) == (opened.date(), opened.utcoffset())
    assert f"{found:%H:%M}" == hhmm


ZONED = HEAD.replace("T10:05", "T10:05+02:00")


@pytest.mark.parametrize(
    ("text", "place", "what", "expected"),
    [
        (HEAD.replace("07-14", "02-30") + "  []\n", "4:9", "no such date and time: '2026-02-30T10:05'", "2026-07-14T10:05"),
        (HEAD + "  - {kind: note, text: x, time: 2026-02-30T10:05}", "6:33", "no such date and time", "2026-07-14T10:05"),
        (HEAD + "  - {kind: note, text: x, time: 2026-07-14T10:05:75}", "6:33", "no such date and time", "2026"),
        (HEAD + "  - {kind: note, text: x, time: 2026-07-14T10:05Z}", "6:33", "has a time zone, unlike 'opened'", "both"),
        (ZONED + "  - {kind: note, text: x, time: 2026-07-14T10:05}", "6:33", "has no time zone, unlike 'opened'", "+02:00"),
        (HEAD + "  - {kind: note, id: a, text: x}\n  - {kind: note, id: a, text: y}", "7:22", "first at c.yaml:6:22", "own"),
        (HEAD + "  - {kind: note, id: e2, text: x}\n  - {kind: note, text: y}", "7:5", "its position) stands twice", "own"),
    ],
)  # fmt: skip
def test_mistakes(text: str, place: str, what: str, expected: str) -> None:
    _, [problem] = read(text)
    assert str(problem.where) == f"c.yaml:{place}"
    assert what in problem.what
    assert expected in problem.expected
