"""The session as a state machine: lines in, blocks and entries out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

import faultkit
from faultkit.guide import answer, layout, start

NOW = "2026-07-14T10:06:00"
Play = Callable[..., Any]


def last(player: Any) -> dict[str, Any]:
    found: dict[str, Any] = player.call.entries[-1].to_dict()
    return found


def test_the_complaint_is_asked_first_by_number_or_words(play: Play) -> None:
    p = play(complaint=False, role="")
    assert "What does the customer say is wrong?" in p.said
    assert "too warm" in p.said.split("2.")[0]  # those with most causes come first
    p.type("base warm")
    assert "own words" in p.prompt
    p.type("It is warm. \x1b[31mhelp")
    assert last(p)["kind"] == "complaint"
    assert "\x1b" not in last(p)["words"]
    assert last(p)["by"] == "customer"
    assert "NEXT CHECK" in p.said
    assert "if " in p.said  # what each answer would mean


def test_a_complaint_of_several_meanings_is_asked_back(play: Play) -> None:
    p = play(complaint=False, role="")
    said = p.type("too warm")
    assert "fits several complaints" in said
    assert not p.call.entries[-1:] or last(p)["kind"] != "complaint"


def test_psi_is_asked_back_and_taken_once_it_is_clear(play: Play) -> None:
    p = play()
    p.type("check roof_unit.read_gauges")
    assert "CAUTION pressurized refrigerant" in p.said
    assert "(common practice)" in p.said
    p.type("yes", "yes", "yes")  # on the roof, gauges on, running
    assert "Suction pressure" in p.prompt
    said = p.type("58 psi")
    assert "gauge or absolute?" in p.prompt
    assert "Recorded" not in said
    p.type("psig")
    assert (last(p)["value"], last(p)["state"]) == ("58 psig", "running")
    p.type("300")
    assert "300 what?" in p.prompt
    p.type("yes")  # three units are offered: yes is not clear, so it is read as a value and refused
    assert "Head pressure" in p.prompt
    p.type("314 psia")
    assert last(p)["value"] == "314 psia"
    p.type("14.2 C")  # a line temperature: C can only mean one thing
    assert last(p)["value"] == "14.2 degC"
    p.type("190°F with pipe clamp")
    assert (last(p)["value"], last(p)["instrument"]) == ("190 degF", "pipe_clamp")


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("46 V", "voltage"), ("900 degF", "cannot be"), ("warm", "does not start with a number"), ("", "empty line"),
        ("46 degF with spoon", "spoon"), ("46 zorks", "unknown unit"), ("x" * 600, "too long"), ("1e999 degF", "large"),
        ("4,6 degF", "comma"), ("nan degF", "finite"),
    ],
)
def test_a_wrong_value_is_asked_back_with_the_reason(play: Play, line: str, reason: str) -> None:
    p = play()
    p.type("check base.measure_box")
    before, prompt = p.call.entries, p.prompt
    assert reason in p.type(line)
    assert p.call.entries == before
    assert p.prompt == prompt


def test_a_value_that_clashes_is_asked_back(play: Play) -> None:
    p = play()
    p.type("check roof_unit.look_at_fans", "yes", "yes", "stopped", "full speed")
    p.type("check roof_unit.fan.left.clamp_motor", "yes", "yes")
    p.type("leave", "check roof_unit.fan.left.measure_leads", "yes", "0 V")
    before = p.call.entries
    p.type("leave", "check roof_unit.fan.left.clamp_motor", "yes")
    said = p.type("1.1 A")
    assert "cannot hold together with" in said
    assert len(p.call.entries) == len(before)
    p.type("no")
    assert "Motor current" in p.prompt or "motor current" in p.prompt
    p.type("1.1 A", "yes")
    assert last(p)["value"] == "1.1 A"
    assert "cannot all be true" in p.said


def test_skip_and_cannot_reach_are_kept_and_not_proposed_again(play: Play) -> None:
    p = play()
    first = p.reply.session.todo[0].job
    p.type("skip no light")
    assert last(p)["text"] == f"Not done: {first}: no light"
    second = p.reply.session.todo[0].job
    assert second != first
    p.type("yes", "can't reach")
    assert last(p)["text"] == f"Not done: {second}: can't reach"
    again = start(p.call, NOW)  # after a crash
    assert again.session.todo[0].job not in {first, second}


def test_power_locked_out_is_recorded_first_and_taken_off_before_live_work(play: Play) -> None:
    p = play()
    p.type("check roof_unit.fan.left.measure_capacitor", "yes")
    assert "locked out" in p.prompt
    p.type("weak")
    assert "no answer" in p.said  # no reading before the lock-out is confirmed
    p.type("no")
    assert "waits" in p.said
    p.type("yes")
    assert last(p)["on"] == ["power_locked_out"]
    p.type("yes", "weak")
    assert "PROVED" in p.said
    p.type("check roof_unit.fan.left.measure_leads")
    assert "power back on" in p.prompt
    p.type("yes")
    assert last(p)["off"] == ["power_locked_out"]


def test_cautions_are_said_once_per_state(play: Play) -> None:
    p = play()
    p.type("check roof_unit.look_at_unit")
    assert "CAUTION roof edge" in p.said
    p.type("leave", "check roof_unit.look_at_unit")
    assert "CAUTION roof edge" not in p.said
    assert "still hold: roof edge" in p.said


def test_an_unlicensed_person_is_refused_licensed_work(play: Play) -> None:
    p = play(role="unlicensed")
    p.type("mend roof_unit.weigh_in_charge")
    assert "Refused: it needs a licensed person" in p.said
    p.type("refrigerant roof_unit in R-404A 1 lb")
    assert "refused" in p.said
    asked = play(role="")
    asked.type("mend roof_unit.weigh_in_charge", "approved", "unlicensed")
    assert "Refused" in asked.said
    assert not any(e.kind == "remedy" for e in asked.call.entries)


def test_a_remedy_with_decision_parts_and_what_was_read_before(play: Play) -> None:
    p = play()
    p.type("mend roof_unit.fan.left.replace_capacitor", "approved", "yes", "yes", "yes", "yes", "yes RC-35")
    kinds = [e.kind for e in p.call.entries]
    assert kinds[-6:] == ["decision", "location", "setup", "setup", "remedy", "part"]
    assert last(p)["number"] == "RC-35"
    assert "It proves the repair" in p.said


def test_a_declined_remedy_is_kept_and_not_done(play: Play) -> None:
    p = play()
    p.type("decide roof_unit.clean_condenser declined")
    assert (last(p)["remedy"], last(p)["answer"]) == ("clean_condenser", "declined")
    assert "declined by the customer" in p.type("known")
    assert "is no decision" in p.type("decide roof_unit.clean_condenser perhaps")


def test_look_back_correct_and_withdraw(play: Play) -> None:
    p = play()
    p.type("check base.measure_box", "46.8 degF")
    n = len(p.call.entries)
    assert f"{n}. 10:0" in p.type("look")
    p.type(f"correct {n} 38 F")
    assert p.call.diagnose(advice=False).events["base.base_warm"].verdict is faultkit.Verdict.RULED_OUT
    assert "corrected to 38 degF" in p.type("look")
    p.type(f"withdraw {n} wrong box")
    assert "(withdrawn)" in p.type("look")
    assert "no entry '99'" in p.type("correct 99 4 degF")


def test_why_why_not_and_what_if_record_nothing(play: Play) -> None:
    p = play()
    before = p.call.entries
    assert "What each answer would mean" in p.type("why")
    assert "chance" in p.type("why roof_unit.condenser_dirty")
    assert "would prove it" in p.type("why roof_unit.condenser_dirty")
    assert "speaks against it" in p.type("why not roof_unit.condenser_dirty")
    assert "fits several events" in p.type("why capacitor_weak")
    assert "proved" in p.type("what if condenser_face matted")
    assert "gauge or absolute" in p.type("what if suction_pressure 58 psi")
    assert p.call.entries == before


def test_closing_says_what_is_missing_and_can_be_done_anyway(play: Play) -> None:
    p = play()
    p.type("close")
    assert "complaint not shown to be gone" in p.said
    assert "Close anyway?" in p.prompt
    p.type("perhaps")
    assert "Close anyway?" in p.prompt
    p.type("cause_not_proved")
    assert last(p)["outcome"] == "cause_not_proved"
    assert p.reply.session.over
    assert "was closed" in "\n".join(b.text for b in start(p.call, NOW).blocks)


def test_what_was_moved(play: Play) -> None:
    p = play()
    p.type("food discarded two pans of tomatoes")
    assert (last(p)["food"], last(p)["action"]) == ("two pans of tomatoes", "discarded")
    p.type("refrigerant roof_unit in R-404A 1.2 lb")
    assert last(p)["mass"] == "1.2 lb"
    p.type("part rail fan_motor 2")
    assert last(p)["count"] == 2
    p.type("note the lids are cracked")
    assert last(p)["text"] == "the lids are cracked"
    n = len(p.call.entries)
    for line in ("food", "food eaten pie", "refrigerant roof_unit in R-404A much", "part rail", "note", "crew none",
                 "weather", "missing anvil", "role king", "go moon", "setup rail", "check", "check 99", "mend nothing",
                 "list zebra", "why zebra", "what", "correct", "withdraw x", "decide", "zebra", "yes please"):
        assert "? " in p.type(line), line
    assert len(p.call.entries) == n


def test_conditions_add_up_and_block_checks(play: Play) -> None:
    p = play()
    p.type("weather rain", "missing multimeter", "crew 2")
    entry = last(p)
    assert (entry["weather"], entry["missing_tools"], entry["crew"], entry["role"]) == (
        "rain", ["multimeter"], 2, "licensed",
    )
    assert "nobody is sent outdoors in rain" in p.type("check roof_unit.fan.left.clamp_motor")


def test_the_same_entries_give_the_same_prompts(play: Play) -> None:
    lines = ("check base.measure_box", "46.8 degF", "known", "list")
    one, two = play(), play()
    for line in lines:
        assert one.type(line) == two.type(line)
    assert start(one.call, NOW).blocks == start(two.call, "2030-01-01T00:00:00").blocks


def test_any_line_at_any_prompt_is_survived(play: Play) -> None:
    bad = ("", "%", "\x00\x1b]0;x\x07", "yes no", "-1", "ü" * 90, "58 psi psi", "with", " with x", "with probe_7")
    p = play()
    prompts = [p.reply.session]
    p.type("check roof_unit.read_gauges")
    prompts.append(p.reply.session)
    p.type("yes", "yes", "yes")
    prompts.append(p.reply.session)
    p.type("58 psi")
    prompts.append(p.reply.session)
    p.type("leave", "mend roof_unit.clean_condenser")
    prompts.append(p.reply.session)
    p.type("close")
    prompts.append(p.reply.session)
    for session in prompts:
        for line in bad:
            reply = answer(session, line, NOW)
            assert reply.blocks[-1].style == "prompt"
            assert not reply.entries


@pytest.mark.parametrize("width", [40, 59, 91])
def test_nothing_is_wider_than_the_terminal(play: Play, width: int) -> None:
    p = play()
    for line in ("help", "list fan", "known", "check roof_unit.read_gauges"):
        p.type(line)
        assert all(len(text) <= width for _, text in layout(p.reply.blocks, width))
