"""What cases reach, counted by hand on the small tree."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from faultkit.cases.coverage import Coverage, coverage_of, shortfalls
from faultkit.cases.model import Case
from faultkit.cases.run import run_cases
from faultkit.cases.words import coverage_lines
from faultkit.loading import load_catalogue
from faultkit.problems import InputError, Where
from tests.cases.conftest import BURNT

Load = Callable[..., tuple[Case, ...]]


@pytest.fixture
def covered(cases: Load, folder: Path) -> Callable[[str], Coverage]:
    types = load_catalogue([folder], installed=False).types

    def run(text: str) -> Coverage:
        return coverage_of(run_cases(cases(text)), types)["box"]

    return run


def test_a_proof_reaches_its_gates(covered: Callable[[str], Coverage]) -> None:
    found = covered(BURNT + "{confirmed: [b.motor_failed]}")
    # The proof of the motor passes the gate that stands; that the box is warm is not part of it.
    assert found.reached["events"] == {"motor_failed", "stopped"}
    # Rows that decided: warm, stopped, and otherwise for the voltage that is there. The door was not looked at.
    assert found.reached["rows"] == {"air: warm", "turns: stopped", "volts: otherwise"}
    assert found.reached["checks"] == {"look", "measure", "probe"}
    assert found.reached["remedies"] == {"new_motor"}
    assert found.whole["rows"] == (
        "air: warm", "air: otherwise", "turns: stopped", "turns: otherwise", "volts: no_feed", "volts: otherwise",
        "door: door_open", "door: otherwise",
    )
    assert found.percent("rows") == 100 * 3 / 8
    assert found.missed("events") == ("warm", "no_feed", "door_open")


def test_what_was_not_asked_for_is_not_reached(covered: Callable[[str], Coverage]) -> None:
    found = covered(BURNT + "{not_confirmed: [b.no_feed]}")
    assert found.reached["events"] == set()
    assert found.reached["remedies"] == set()
    assert found.reached["checks"] == {"look", "measure", "probe"}


@pytest.mark.parametrize("more", ["", "\n    known_to_fail: because"])
def test_a_case_that_does_not_pass_reaches_nothing(covered: Callable[[str], Coverage], more: str) -> None:
    found = covered(BURNT + "{confirmed: [b.motor_failed, b.door_open]}" + more)
    assert not any(found.reached.values())


def test_first_suspect_and_next_reach_what_came(covered: Callable[[str], Coverage]) -> None:
    text = BURNT.replace("    expect:", "      - {kind: fact, id: d, reading: b.door, value: open}\n    expect:")
    found = covered(text + "{first_suspect: [b.no_feed, b.door_open]}")
    assert found.reached["events"] == {"door_open"}  # what came first, not all that would have been accepted
    assert found.reached["remedies"] == {"shut_door"}
    found = covered(BURNT + "{next: [b.see_door, b.new_motor]}")
    assert found.reached["remedies"] == {"new_motor"}
    assert "see_door" not in found.reached["checks"]


def test_told_facts_decide_no_row(covered: Callable[[str], Coverage]) -> None:
    found = covered(BURNT.replace("value: 50 degF}", "value: 50 degF, by: customer}") + "{confirmed: [b.motor_failed]}")
    assert "air: warm" not in found.reached["rows"]


def test_shortfalls_have_their_place(covered: Callable[[str], Coverage]) -> None:
    found = {"box": covered(BURNT + "{confirmed: [b.motor_failed]}")}
    where = Where("coverage.yaml", 4, 8)
    assert shortfalls(found, {"box": {"rows": (37.5, where)}}) == ()
    [short] = shortfalls(found, {"box": {"rows": (37.6, where), "checks": (75.0, where)}})
    assert (short.part, short.reached, short.least, short.where) == ("rows", 37.5, 37.6, where)
    said = "\n".join(coverage_lines(found, [short], missed=True))
    assert "38 % of 8" in said
    assert "no case for remedies: mend_feed, shut_door" in said
    assert "TOO LITTLE  37.5 % of the rows of box reached by cases, 37.6 % wanted" in said
    with pytest.raises(InputError, match=r"equipment type 'bix' is not known\n.*did you mean 'box'"):
        shortfalls(found, {"bix": {"rows": (1.0, where)}})
