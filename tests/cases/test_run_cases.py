"""Each expectation, met and unmet, on a tree solved by hand: a fan stands for want of feed or by its motor."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from faultkit.cases.bench import Bench
from faultkit.cases.model import Case, Failure, Outcome
from faultkit.cases.run import first_steps, run_case, run_cases
from faultkit.cases.words import result_lines, summary
from faultkit.loading import load_catalogue
from tests.cases.conftest import BURNT, HEAD, TREE

Load = Callable[..., tuple[Case, ...]]

#: A fan that stands, and cold air.
CLASH = """\
  clash:
    story: The fan stands, and the air is cold all the same.
    entries:
      - {kind: fact, id: one, reading: b.turns, value: "no"}
      - {kind: fact, id: two, reading: b.air, value: 30 degF}
      - {kind: fact, id: three, reading: b.volts, value: 115 V}
    expect: """
#: Only the air is known.
WARM = """\
  warm:
    story: It is warm.
    entries: [{kind: fact, id: air, reading: b.air, value: 50 degF}]
    expect: """


def failures(cases: Load, text: str) -> tuple[Failure, ...]:
    [case] = cases(text)
    return run_case(case).failures


@pytest.mark.parametrize(
    "expect",
    [
        "{confirmed: [b.motor_failed, b.stopped, b.warm]}",
        "{ruled_out: [b.no_feed]}",
        "{open: [b.door_open]}",
        "{not_confirmed: [b.no_feed, b.door_open]}",
        "{first_suspect: [b.no_feed, b.door_open]}",
    ],
)
def test_what_is_so_passes(cases: Load, expect: str) -> None:
    assert failures(cases, BURNT + expect) == ()


@pytest.mark.parametrize(
    ("expect", "key", "came", "decided"),
    [
        ("{confirmed: [b.door_open]}", "confirmed", "open, chance", ""),
        ("{confirmed: [b.no_feed]}", "confirmed", "proved absent", "[volts]"),
        ("{ruled_out: [b.motor_failed]}", "ruled_out", "proved", "[volts]"),
        ("{ruled_out: [b.door_open]}", "ruled_out", "open, chance", ""),
        ("{open: [b.stopped]}", "open", "proved", "[turns]"),
        ("{open: [b.no_feed]}", "open", "proved absent", "[volts]"),
        ("{not_confirmed: [b.motor_failed]}", "not_confirmed", "proved", "[volts]"),
        ("{first_suspect: [b.no_feed]}", "first_suspect", "[b.door_open]", ""),
        ("{conflict: [turns]}", "conflict", "no conflict", ""),
    ],
)
def test_what_is_not_so_fails_at_its_place(cases: Load, expect: str, key: str, came: str, decided: str) -> None:
    [failure] = failures(cases, BURNT + expect)
    assert failure.key == key
    assert came in failure.came
    assert failure.decided_by.endswith(decided)
    assert failure.where is not None
    column = len("    expect: ") + expect.index("[b" if "[b" in expect else "[t") + 2
    assert (failure.where.line, failure.where.column) == (13, column)


def test_a_proof_names_facts_and_gates(cases: Load) -> None:
    [failure] = failures(cases, BURNT + "{not_confirmed: [b.motor_failed]}")
    said = "\n".join(failure.why)
    assert "Fan turns = no [turns]" in said
    assert "Volts = 115 V [volts]" in said
    assert "[air]" not in said  # the least set: the air decides nothing here
    assert "Motor burnt: yes (the only one left" in said
    assert "Fan stands" in said


def test_an_open_event_says_what_would_decide_it(cases: Load) -> None:
    [failure] = failures(cases, WARM + "{confirmed: [b.stopped]}")
    assert any(line.startswith("would prove it: Box: Fan turns no") for line in failure.why)
    assert any("db by Box: Air = 50 degF [air]" in line for line in failure.why)
    assert failure.decided_by == "Box: Air = 50 degF [air]"


def test_a_conflict_must_be_said_and_named(cases: Load) -> None:
    # A standing fan makes the box warm, always: cold air and a standing fan cannot both be.
    assert failures(cases, CLASH + "{conflict: [one, two]}") == ()
    [unsaid] = failures(cases, CLASH + "{not_confirmed: [b.motor_failed]}")
    assert (unsaid.key, unsaid.came) == ("conflict", "a conflict")
    assert "cannot all be true" in unsaid.why[0]
    assert unsaid.decided_by == "Box: Air = 30 degF [two]"
    [wrong] = failures(cases, CLASH + "{conflict: [three]}")
    assert wrong.came == "a conflict without it"
    # What clashes is taken again first.
    [case] = cases(CLASH + "{conflict: [one], next: [b.probe]}")
    result = run_case(case)
    assert result.failures == ()
    assert set(first_steps(result.diagnosis)) == {"b.look", "b.probe"}


def test_next_is_the_first_check_or_else_the_first_repair(cases: Load) -> None:
    [failure] = failures(cases, WARM + "{next: [b.shut_door]}")
    steps = first_steps(cases(WARM + "{next: [b.look]}")[0].call.diagnose())
    assert len(steps) == 1
    assert steps[0] in {"b.look", "b.see_door"}
    assert steps[0] in failure.came
    assert any(line.startswith("saves ") for line in failure.why)
    assert failures(cases, WARM + "{next: [b.look, b.see_door]}") == ()
    # The motor is proved, the door was seen shut: nothing is left to check.
    done = BURNT.replace("    expect:", "      - {kind: fact, id: d, reading: b.door, value: shut}\n    expect:")
    [case] = cases(done + "{next: [b.new_motor]}")
    assert first_steps(case.call.diagnose()) == ("b.new_motor",)
    assert run_case(case).failures == ()


def test_a_check_that_the_call_forbids_is_said_to_be(folder: Path) -> None:
    forbid = "{kind: conditions, missing_tools: [ladder]}, {kind: fact,"
    tree = folder / "box.yaml"
    tree.write_text(TREE.replace("look: {gives", "look: {tools: [ladder], gives"), encoding="utf-8")
    common = "schema: 1\ncommon: all\nsource: common practice\ntools: {ladder: Ladder}\n"
    (folder / "common.yaml").write_text(common, encoding="utf-8")
    (folder / "box.cases.yaml").write_text(HEAD + WARM.replace("{kind: fact,", forbid) + "{next: [b.look]}\n")
    [case] = Bench(load_catalogue([folder], installed=False)).load("box.cases.yaml")
    [failure] = run_case(case).failures
    assert "not allowed: Box: Look at the fan [b.look]" in failure.why


def test_known_to_fail_must_fail(cases: Load) -> None:
    [known] = cases(BURNT + "{open: [b.stopped]}\n    known_to_fail: the fan is no fan\n")
    result = run_case(known)
    assert result.outcome is Outcome.KNOWN
    assert result.good
    assert "known to fail: the fan is no fan" in "\n".join(result_lines(result))
    [fixed] = cases(BURNT + "{confirmed: [b.stopped]}\n    known_to_fail: the fan is no fan\n")
    result = run_case(fixed)
    assert result.outcome is Outcome.FIXED
    assert not result.good
    assert "take 'known_to_fail' out" in "\n".join(result_lines(result))
    assert summary([result], 0.5) == "1 case: 1 no longer fails; 0.5 s, 2.0 cases a second"


def test_failures_come_in_the_order_of_the_file(cases: Load) -> None:
    expect = "{not_confirmed: [b.stopped], conflict: [air], confirmed: [b.no_feed], open: [b.warm]}"
    found = failures(cases, BURNT + expect)
    assert [f.key for f in found] == ["not_confirmed", "conflict", "confirmed", "open"]


def test_a_failure_reads_as_a_person_would_say_it(cases: Load) -> None:
    [case] = cases(BURNT + "{ruled_out: [b.motor_failed]}")
    said = "\n".join(result_lines(run_case(case)))
    assert said.startswith("FAILED  box.burnt  (box.cases.yaml:7:3)\n  The fan stands with voltage at its leads.")
    assert "expected    Box: Motor burnt [b.motor_failed] is proved absent" in said
    assert "came        proved" in said
    assert "decided by  Box: Volts = 115 V [volts]" in said
    assert said.endswith("at box.cases.yaml:13:26")


def test_cases_share_their_site_and_its_circuits(cases: Load) -> None:
    more = BURNT.replace("burnt:", "again:").replace("115 V", "117 V")
    first, second = cases(BURNT + "{open: [b.door_open]}\n" + more + "{open: [b.door_open]}\n")
    assert first.call.site is second.call.site
    run_case(first)
    kept = dict(first.call.site.memo["circuits"])
    run_case(second)
    assert second.call.site.memo["circuits"] == kept  # the same signs: nothing was compiled again


def test_more_processes_give_the_same_results_in_the_same_order(cases: Load) -> None:
    text = "".join(
        BURNT.replace("burnt:", f"case_{n}:") + ("{open" if n % 3 else "{confirmed") + ": [b.stopped]}\n"
        for n in range(20)
    )
    ready = cases(text)
    alone, shared = (list(run_cases(ready, jobs)) for jobs in (1, 2))
    assert [r.case.name for r in shared] == [f"case_{n}" for n in range(20)]
    assert [(r.outcome, r.failures, r.diagnosis) for r in shared] == [
        (r.outcome, r.failures, r.diagnosis) for r in alone
    ]
    assert {r.outcome for r in shared} == {Outcome.PASSED, Outcome.FAILED}


@pytest.mark.usefixtures("folder")
def test_a_site_file_is_joined_once_for_all_case_files(bench: Bench) -> None:
    Path("s.yaml").write_text("schema: 1\nsite: s\nunits:\n  b: {equipment: box}\n")
    head = HEAD.replace("units:\n  b: {equipment: box, title: Box, place: kitchen}\n", "site: s.yaml\n")
    for name in ("one", "two"):
        text = head.replace("cases: box", f"cases: {name}") + BURNT + "{confirmed: [b.motor_failed]}\n"
        Path(f"{name}.cases.yaml").write_text(text)
    first, second = bench.load_all(["one.cases.yaml", "two.cases.yaml"])
    assert first.call.site is second.call.site
