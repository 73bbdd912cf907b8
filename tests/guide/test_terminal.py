"""The session in a terminal, in a pipe, killed and gone on with."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

import faultkit
from faultkit.record import read_record

if str(Path(__file__).parents[2]) not in sys.path:
    sys.path.append(str(Path(__file__).parents[2]))

from tests.guide.terminal import ROOT, Terminal

SITE = str(ROOT / "examples" / "site.yaml")
ANSWERS = (ROOT / "examples" / "guide_answers.txt").read_text(encoding="utf-8").splitlines()


def piped(record: Path, lines: str | bytes, *more: str, code: int = 0) -> tuple[str, str]:
    data = lines if isinstance(lines, bytes) else lines.encode()
    run = subprocess.run(
        [sys.executable, "-m", "faultkit", "guide", SITE, "--record", str(record), *more], input=data,
        capture_output=True, check=False, env={**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "60"}, timeout=120,
    )
    out, err = run.stdout.decode(), run.stderr.decode()
    assert run.returncode == code, err
    assert "Traceback" not in err
    return out, err


def test_answers_piped_in_read_like_a_talk(tmp_path: Path) -> None:
    path = tmp_path / "call.jsonl"
    typed = "base warm\nWarm again.\ncheck base.measure_box\n46.8 F\nstop\n"
    out, _ = piped(path, typed, "--opened", "2026-07-14T10:05")
    assert "> base warm\n" in out
    assert "Recorded: 46.8 degF" in out
    assert "\x1b" not in out
    assert max(map(len, out.splitlines())) < 60
    kinds = [e.kind for e in read_record(path).entries]
    assert kinds == ["complaint", "fact"]


def test_the_end_of_the_input_and_bytes_that_are_no_text(tmp_path: Path) -> None:
    out, _ = piped(tmp_path / "call.jsonl", b"\xff\xfe\x00\x1b[2J\nhelp\n")
    assert "The input ends here" in out
    assert "\x1b" not in out


def test_bad_input_on_the_command_line(tmp_path: Path) -> None:
    _, err = piped(tmp_path / "a.jsonl", "", "--complaint", "rail.pans_hot", code=2)
    assert "rail.pans_hot" in err
    _, err = piped(tmp_path / "b.jsonl", "", "--opened", "noon", code=2)
    assert "noon" in err
    (tmp_path / "c.jsonl").write_text("not a record\n")
    _, err = piped(tmp_path / "c.jsonl", "", code=2)
    assert "c.jsonl" in err


def test_a_second_session_on_one_record_is_told_who_is_first(tmp_path: Path) -> None:
    path = tmp_path / "call.jsonl"
    first = Terminal(SITE, "--record", str(path))
    first.wait()
    _, err = piped(path, "", code=2)
    assert str(first.pid) in err
    first.kill()


@pytest.mark.parametrize(
    ("args", "env", "colour"), [((), {}, True), (("--plain",), {}, False), ((), {"NO_COLOR": "1"}, False),
                                ((), {"TERM": "dumb"}, False)],
)
def test_colour_is_for_terminals_that_want_it(
    tmp_path: Path, args: tuple[str, ...], env: dict[str, str], colour: bool
) -> None:
    t = Terminal(SITE, "--record", str(tmp_path / "call.jsonl"), *args, columns=60, env=env)
    t.wait()
    t.type("help")
    assert t.coloured is colour
    assert all(len(line) <= 60 for line in t.text.splitlines()) or colour
    t.type("stop")
    assert t.end() == 0


@pytest.mark.slow
def test_a_whole_call_with_four_faults_killed_and_gone_on_with(tmp_path: Path) -> None:
    """Capacitor weak, fan motor burnt by it, condenser packed, high-pressure switch tripped by both."""
    path = tmp_path / "call.jsonl"
    args = (SITE, "--record", str(path), "--plain")
    t = Terminal(*args, "--opened", "2026-07-14T10:05", columns=60)
    t.wait()
    cut = ANSWERS.index("psig") + 1
    for line in ANSWERS[:cut]:
        t.type(line)
    before = read_record(path).entries
    t.kill()
    assert read_record(path).entries == before  # each was on the disk before the next question
    t = Terminal(*args, columns=60)
    again = t.wait()
    assert "KNOWN" in again
    assert ANSWERS[cut - 2] + "g" in t.type("look")
    # The check that was cut off is begun again.
    for line in ("check roof_unit.read_gauges", "yes", ANSWERS[cut - 2] + "g", *ANSWERS[cut:]):
        t.type(line)
    assert t.end() == 0
    wide = [line for line in t.text.splitlines() if len(line) > 60]
    assert [line for line in wide if not any(line.endswith(a) for a in ANSWERS if a)] == []  # but for what was typed
    with faultkit.open_record(path, site=SITE) as record:
        call = record.call
    d = call.diagnose(advice=False)
    ended = {e.event: e for r in d.repairs for e in r.ends}
    for event in ("high_pressure_tripped", "fan.left.capacitor_weak", "condenser_dirty"):
        assert ended[f"roof_unit.{event}"].was is faultkit.Verdict.CONFIRMED
    assert ended["roof_unit.high_pressure_tripped"].outcome == "repaired"
    assert [(r.remedy, r.proved) for r in d.repairs][:2] == [
        ("roof_unit.reset_high_pressure", True), ("roof_unit.fan.left.replace_motor", True),
    ]
    assert d.events["base.base_warm"].verdict is faultkit.Verdict.RULED_OUT
    assert call.closing is not None
    assert call.closing.outcome == "left_open_by_decision"
