"""Every kind of bad input: one clear message with place and cure, exit code 2, never a traceback."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from faultkit.cli import main

#: Diagnoses with some files replaced: exit code and standard error.
Run = Callable[..., tuple[int, str]]

TYPE = """\
schema: 1
equipment: box
source: common practice
settings: {supply: 115 V}
states: {running: The box has run}
joins:
  fed_by: {optional: yes, events: [dead]}
readings:
  air: {unit: degF, range: [-40 degF, 150 degF], bands: [cold, 41 degF, warm]}
  suction: {unit: psig, in: running, bands: [low, 20 psig, normal]}
  volts: {unit: V, bands: [none, 10 V, low, 90 % of supply, good]}
  turns: yes_no
events:
  dead: {any_of: [warm, {no_power: often}]}
  warm: {any_of: [fan_off, leak], complete: only two}
  fan_off: {how_common: common}
  leak: {how_common: rare}
  no_power: {how_common: rare}
tells:
  air: [{warm: {warm: always}}, {otherwise: {cold: nearly_always}}]
  suction: [{leak: {low: usually}}, {otherwise: {normal: nearly_always}}]
  volts: [{no_power: {none: always}}, {otherwise: {good: nearly_always}}]
  turns: [{fan_off: {"no": always}}, {otherwise: {"yes": always}}]
checks:
  measure: {gives: [air], minutes: 3}
"""

SITE = """\
schema: 1
site: here
units:
  left: {equipment: box, place: kitchen}
  right: {equipment: box, place: kitchen}
"""

CALL = """\
schema: 1
call: one
site: site.yaml
opened: 2026-07-14T10:05
entries:
  - {kind: fact, id: f1, reading: left.air, value: 50 degF}
"""


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Diagnose with one or more files replaced; exit code and standard error."""

    def go(type_: str = TYPE, site: str = SITE, call: str | bytes = CALL) -> tuple[int, str]:
        (tmp_path / "trees").mkdir(exist_ok=True)
        (tmp_path / "trees" / "box.yaml").write_text(type_, encoding="utf-8")
        (tmp_path / "site.yaml").write_text(site, encoding="utf-8")
        path = tmp_path / "call.yaml"
        if isinstance(call, bytes):
            path.write_bytes(call)
        else:
            path.write_text(call, encoding="utf-8")
        code = main(["diagnose", str(path), "--catalogue", str(tmp_path / "trees")])
        return code, capsys.readouterr().err

    return go


def test_the_files_as_they_are_give_a_diagnosis(run: Run) -> None:
    assert run() == (0, "")


def with_fact(text: str) -> str:
    return CALL.replace("reading: left.air, value: 50 degF", text)


@pytest.mark.parametrize(
    ("call", "place", "parts"),
    [
        (with_fact("reading: left.air_, value: 50 degF"), "6:", ["left.air_", "did you mean 'left.air'"]),
        (with_fact("reading: left.air, value: 50 psig"), "6:", ["50 psig", "gauge pressure", "temperature"]),
        (with_fact("reading: left.air, value: 50 degX"), "6:", ["degX"]),
        (with_fact("reading: left.air, value: 50 delta_degF"), "6:", ["temperature difference"]),
        (with_fact("reading: left.suction, value: 30 psi, state: running"), "6:", ["psig"]),
        (with_fact("reading: left.air, value: -500 degF"), "6:", ["-500 degF"]),
        (with_fact("reading: left.air, value: 400 degF"), "6:", ["400 degF", "150"]),
        (with_fact("reading: left.air, value: 50"), "6:", ["without a unit", "50 degF"]),
        (with_fact("reading: left.turns, value: perhaps"), "6:", ["perhaps", "one of yes, no"]),
        (with_fact("reading: left.suction, value: 30 psig, state: runing"), "6:", ["runing", "running"]),
        (with_fact("reading: left.air, value: 50 degF, instrument: prob"), "6:", ["instrument 'prob'"]),
        (CALL.replace("kind: fact", "kind: fakt"), "6:", ["fakt", "did you mean 'fact'"]),
        (CALL.replace("opened: 2026-07-14T10:05", "opened: yesterday"), "4:", ["yesterday", "2026-07-14T10:05"]),
    ],
)
def test_a_wrong_entry_is_shown_with_its_line(run: Run, call: str, place: str, parts: list[str]) -> None:
    code, said = run(call=call)
    assert code == 2
    assert f"call.yaml:{place}" in said
    assert "^" in said
    for part in parts:
        assert part in said
    assert "Traceback" not in said


def test_two_values_at_one_time_by_one_instrument(run: Run) -> None:
    two = "".join(
        f"  - {{kind: fact, id: f{n}, reading: left.air, value: {n}0 degF, time: '10:10'}}\n" for n in (4, 5)
    )
    code, said = run(call=CALL.partition("  - ")[0] + two)
    assert code == 2
    assert "at the same time by the same instrument" in said
    assert "'f4'" in said


def test_all_wrong_entries_are_said_at_once(run: Run) -> None:
    more = "  - {kind: fact, reading: left.aire, value: 1 V}\n  - {kind: location, place: roof}\n"
    code, said = run(call=CALL + more)
    assert code == 2
    assert "left.aire" in said
    assert "place 'roof'" in said
    assert "2 problems" in said


@pytest.mark.parametrize(
    ("site", "parts"),
    [
        (SITE.replace("place: kitchen}", "place: kitchen, joins: {fed_by: left}}", 1), ["joined to itself"]),
        (SITE.replace("equipment: box", "equipment: bax", 1), ["'bax'", "did you mean 'box'?"]),
        (
            SITE.replace("place: kitchen}", "place: kitchen, settings: {suply: 9 V}}", 1),
            ["suply", "did you mean 'supply'?"],
        ),
        (SITE.replace("place: kitchen}", "place: kitchen, settings: {supply: 9 A}}", 1), ["9 A", "a value in V"]),
        (SITE.replace("place: kitchen}", "place: kitchen, settings: {supply: 9 V}}", 1), ["do not rise", "left.volts"]),
    ],
)
def test_a_wrong_site_is_shown_with_its_line(run: Run, site: str, parts: list[str]) -> None:
    code, said = run(site=site)
    assert code == 2
    for part in parts:
        assert part in said


def test_a_loop_through_two_units_is_printed_with_the_way_out(run: Run) -> None:
    site = SITE.replace("place: kitchen}", "place: kitchen, joins: {fed_by: right}}", 1)
    right = "right: {equipment: box, place: kitchen"
    site = site.replace(right, f"{right}, joins: {{fed_by: left}}")
    loop = TYPE.replace("dead: {any_of: [warm, ", "dead: {any_of: [warm, fed_by.dead, ")
    code, said = run(type_=loop, site=site)
    assert code == 2
    assert "left.dead -> right.dead -> left.dead" in said or "right.dead -> left.dead -> right.dead" in said
    assert "one of these links must go" in said


@pytest.mark.parametrize(
    ("change", "parts"),
    [
        (("warm: {any_of: [fan_off, leak]", "warm: {any_of: [fan_off, dead]"), ["loop", "dead", "must go"]),
        (("how_common: common", "how_comon: common"), ["how_comon", "did you mean 'how_common'?"]),
        (("tells:\n", "tells:\n  fed_by.air: [{warm: {warm: always}}, {otherwise: {cold: always}}]\n"), ["fed_by.air"]),
        (("gives: [air]", "gives: [air, air]"), ["air", "twice"]),
        (("{warm: {warm: always}}", "{warm: {warm: always, warm: never}}"), ["warm", "twice"]),
        (("{warm: {warm: always}}", "{warm: {warm: always}}, {warm: {cold: always}}"), ["warm", "twice"]),
        (("any_of: [fan_off, leak]", "any_of: [fan_off, fan_off]"), ["fan_off", "twice"]),
    ],
)
def test_a_wrong_tree_is_shown_with_its_line(run: Run, change: tuple[str, str], parts: list[str]) -> None:
    assert change[0] in TYPE
    code, said = run(type_=TYPE.replace(*change, 1))
    assert code == 2
    assert "box.yaml:" in said
    for part in parts:
        assert part in said


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (b"", "empty"),
        (b"\x00\x01\x1b[31mbinary\xff", "this is no text file"),
        (b"schema: 1\ncall: one\nentries: " + b"[" * 2000 + b"]" * 2000, "too many levels"),
        (b"a: &x 1\nb: *x\n", "anchor"),
        (b"schema: 1\nschema: 1\n", "twice"),
    ],
)
def test_files_that_are_no_call(run: Run, call: bytes, part: str) -> None:
    code, said = run(call=call)
    assert code == 2
    assert part in said
    assert "Traceback" not in said
    assert all(c.isprintable() or c == "\n" for c in said)  # nothing of the file drives the terminal


def test_fifty_megabytes_are_refused_unread(run: Run) -> None:
    code, said = run(call=b"- x\n" * (50_000_000 // 4))
    assert code == 2
    assert "call.yaml:1:1: the file is too large: 50 000 000 bytes, and 5 000 000 are read at most" in said
    assert len(said) < 1000


def test_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", "nowhere.yaml"]) == 2
    assert "nowhere.yaml" in capsys.readouterr().err


def test_no_call_and_an_unknown_example(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose"]) == 2
    assert "faultkit diagnose CALL.yaml" in capsys.readouterr().err
    assert main(["diagnose", "--example", "thre_faults"]) == 2
    assert "did you mean 'three_faults'" in capsys.readouterr().err


def test_an_unknown_type_in_a_listing(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list", "checks", "--type", "branch_circuits"]) == 2
    assert "did you mean 'branch_circuit'?" in capsys.readouterr().err


def test_a_missing_catalogue_folder(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list", "--catalogue", "nowhere"]) == 2
    assert "nowhere" in capsys.readouterr().err
