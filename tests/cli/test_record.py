"""``faultkit record``, and diagnoses of records."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import faultkit
from faultkit.cli import main
from faultkit.record.yaml_text import yaml_text

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("one_fault", "three_faults", "conflict")


@pytest.fixture
def record(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """The built-in example as a record."""
    path = tmp_path / "call.jsonl"
    assert main(["record", "from-yaml", str(EXAMPLES / "three_faults.call.yaml"), str(path)]) == 0
    assert capsys.readouterr().out.startswith(f"{path}: 27 lines, last sum ")
    return path


def outcome(capsys: pytest.CaptureFixture[str], *argv: str | Path) -> tuple[int, str, str]:
    code = main([str(a) for a in argv])
    said = capsys.readouterr()
    assert "Traceback" not in said.err
    return code, said.out, said.err


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("form", ["text", "json"])
def test_yaml_record_and_yaml_again_give_the_same_diagnosis(
    name: str, form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first, log, again = EXAMPLES / f"{name}.call.yaml", tmp_path / "a.jsonl", tmp_path / "sub" / "b.call.yaml"
    again.parent.mkdir()
    assert outcome(capsys, "record", "from-yaml", first, log)[0] == 0
    assert outcome(capsys, "record", "to-yaml", log, again)[0] == 0
    told = [outcome(capsys, "diagnose", f, "--format", form) for f in (first, log, again)]
    assert told[0] == told[1] == told[2]
    assert told[0][0] == (1 if name == "conflict" else 0)
    calls = [faultkit.load_call(f) for f in (first, log, again)]
    assert calls[0].entries == calls[1].entries == calls[2].entries
    assert calls[0].title == calls[1].title == calls[2].title


def test_a_yaml_call_without_times_and_with_odd_words_comes_back(tmp_path: Path) -> None:
    """Untimed entries, ids out of order, and texts that YAML would take for something else."""
    text = (EXAMPLES / "one_fault.call.yaml").read_text(encoding="utf-8")
    site = EXAMPLES / "site.yaml"
    head = f"schema: 1\ncall: odd\nsite: {site}\nopened: 2026-07-14T10:05\nentries:\n"
    assert "site: site.yaml" in text
    words = ["yes", "1e3", "010", "2026-07-14", "- a", "{b}", "#c", "'", '"', "a: b", "null", "~", " ", "\\n", "°"]
    body = "".join(f"  - {{kind: note, id: z{99 - n}, text: {json.dumps(w)}}}\n" for n, w in enumerate(words))
    body += "  - {kind: fact, reading: rail.lids, value: left_open}\n  - {kind: location, place: roof, time: '11:00'}\n"
    body += "  - {kind: location, id: a, place: kitchen, time: '11:00'}\n"
    (tmp_path / "odd.yaml").write_text(head + body, encoding="utf-8")
    call = faultkit.load_call(tmp_path / "odd.yaml")
    assert [e.to_dict().get("text") for e in call.entries[: len(words)]] == words
    assert call.entries[-1].id == "a"  # the last of its time by the file, not by its id
    with faultkit.record_of_call(tmp_path / "odd.yaml", tmp_path / "odd.jsonl") as record:
        assert record.call.entries == call.entries
    again = faultkit.load_call(tmp_path / "odd.jsonl")
    assert again.entries == call.entries
    (tmp_path / "again.yaml").write_text(yaml_text(again, str(site)), encoding="utf-8")
    assert faultkit.load_call(tmp_path / "again.yaml").entries == call.entries


def test_a_record_goes_on_where_it_was(record: Path) -> None:
    with faultkit.open_record(record) as opened:
        before = opened.call
        opened.append({"kind": "fact", "reading": "rail.lids", "value": "left_open", "time": "2026-07-14T12:20"})
    call = faultkit.load_call(record)
    assert call.entries[:-1] == before.entries
    assert call.diagnose().changes_since(before.diagnose())


def test_verify(record: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = outcome(capsys, "record", "verify", record)
    assert (code, err) == (0, "")
    assert "27 lines, each as it was written; last sum " in out
    code, out, _ = outcome(capsys, "record", "verify", record, "--format", "json")
    data = json.loads(out)
    assert (data["lines"], data["notices"]) == (27, [])
    assert data["sum"] == json.loads(record.read_bytes().splitlines()[-1])["sum"]


def test_verify_says_which_lines(record: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = record.read_bytes().splitlines(keepends=True)
    lines[7] = lines[7].replace(b"slow", b"fast") if b"slow" in lines[7] else lines[7].replace(b"10:50", b"10:51")
    record.write_bytes(b"".join(lines[:20] + lines[21:]))
    code, out, err = outcome(capsys, "record", "verify", record)
    assert (code, out) == (2, "")
    assert f"{record}:8:1: line 8 was changed after it was written" in err
    assert f"{record}:21:1: line 21 was line 22 when it was written: 1 line before it is missing" in err
    assert "2 problems; nothing was done" in err
    assert outcome(capsys, "diagnose", record)[0] == 2
    assert outcome(capsys, "record", "show", record)[0] == 2


def test_a_torn_end_is_said_and_the_rest_diagnosed(record: Path, capsys: pytest.CaptureFixture[str]) -> None:
    whole = outcome(capsys, "diagnose", record)
    with record.open("ab") as stream:
        stream.write(b'{"line": 28, "entry": {"ki')
    data = record.read_bytes()
    for command in (("record", "verify"), ("record", "show"), ("diagnose",)):
        code, out, err = outcome(capsys, *command, record)
        assert code == 0
        assert "line 28 was cut off while it was written (26 bytes); the 27 before it are whole" in err
    assert out == whole[1]
    assert record.read_bytes() == data


def test_show(record: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with faultkit.open_record(record) as opened:
        opened.append({"kind": "correction", "id": "k", "corrects": "f1", "value": "46 degF", "reason": "misread"})
        opened.append({"kind": "correction", "corrects": "f2", "retract": "yes"})
        opened.append({"kind": "note", "text": "bell \x07 and \x1b[31mred", "who": "Kim"})
    code, out, _ = outcome(capsys, "record", "show", record)
    assert code == 0
    lines = out.splitlines()
    assert len(lines) == 30
    assert lines[0].startswith("2026-07-14 10:05  opened")
    assert "47.3 degF" in next(x for x in lines if " f1 " in x)
    assert "(corrected: reading rail.warmest_pan, value 46 degF" in next(x for x in lines if " f1 " in x)
    assert next(x for x in lines if " f2 " in x).endswith("(withdrawn)")
    assert "technician Kim: note" in out
    assert all(c.isprintable() or c in "\n\ufffd" for c in out)
    code, out, _ = outcome(capsys, "record", "show", record, "--format", "json")
    assert [e["kind"] for e in json.loads(out)["entries"]][:2] == ["opened", "complaint"]


def test_a_record_that_lies_elsewhere_takes_another_site(
    record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    moved = tmp_path / "a" / "b" / "moved.jsonl"
    moved.parent.mkdir(parents=True)
    moved.write_bytes(record.read_bytes())
    code, _, err = outcome(capsys, "diagnose", moved)
    assert code == 2
    assert "site.yaml" in err
    assert outcome(capsys, "diagnose", moved, "--site", EXAMPLES / "site.yaml") == outcome(capsys, "diagnose", record)
    other = tmp_path / "other.yaml"
    text = (EXAMPLES / "site.yaml").read_text(encoding="utf-8")
    assert "site: corner_kitchen" in text
    other.write_text(text.replace("site: corner_kitchen", "site: another_kitchen"), encoding="utf-8")
    code, _, err = outcome(capsys, "diagnose", record, "--site", other)
    assert code == 2
    assert f"{record}:1:1: this record is of site 'corner_kitchen', the site given is 'another_kitchen'" in err


def test_a_record_without_a_site_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "call.jsonl"
    site = faultkit.load_site(EXAMPLES / "site.yaml")
    with faultkit.Record.create(path, site, "2026-07-14T10:05", name="Job 7") as record:
        record.append({"kind": "fact", "reading": "rail.lids", "value": "left_open"})
    assert "names no site file" in outcome(capsys, "diagnose", path)[2]
    assert outcome(capsys, "diagnose", path, "--site", EXAMPLES / "site.yaml")[0] == 0
    assert outcome(capsys, "record", "verify", path)[0] == 0
    assert "names no site file" in outcome(capsys, "record", "to-yaml", path, tmp_path / "c.yaml")[2]


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        (("record", "verify", "nowhere.jsonl"), "'nowhere.jsonl' does not exist"),
        (("diagnose", "nowhere.jsonl"), "'nowhere.jsonl' does not exist"),
        (("record", "show", EXAMPLES / "one_fault.call.yaml"), "line 1 is no line of a record"),
        (("record", "from-yaml", "nowhere.yaml", "new.jsonl"), "there is no such file"),
        (("record", "from-yaml", EXAMPLES / "one_fault.call.yaml", EXAMPLES / "site.yaml"), "exists already"),
        (("record", "from-yaml", EXAMPLES / "one_fault.call.yaml", "no/where.jsonl"), "cannot be created"),
    ],
)
def test_bad_input(
    argv: tuple[str | Path, ...], told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    code, _, err = outcome(capsys, *argv)
    assert code == 2
    assert told in err
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_overwritten(record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kept = record.read_bytes()
    assert "exists already" in outcome(capsys, "record", "from-yaml", EXAMPLES / "one_fault.call.yaml", record)[2]
    (tmp_path / "c.yaml").write_text("mine", encoding="utf-8")
    assert "file exists" in outcome(capsys, "record", "to-yaml", record, tmp_path / "c.yaml")[2]
    assert (record.read_bytes(), (tmp_path / "c.yaml").read_text(encoding="utf-8")) == (kept, "mine")
