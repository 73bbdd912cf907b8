"""faultkit report on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from faultkit.cli import main

EXAMPLES = Path(__file__).parents[2] / "examples"
CALL = str(EXAMPLES / "leak_and_declined_cleaning.call.yaml")


def test_it_writes_each_format(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["report", CALL]) == 0
    assert capsys.readouterr().out.startswith("Rail and base warm")
    assert main(["report", CALL, "--for", "shop", "--format", "markdown"]) == 0
    assert capsys.readouterr().out.split("\n")[0].startswith("# Rail and base warm")
    assert main(["report", CALL, "--format", "json", "--prices", str(EXAMPLES / "prices.json")]) == 0
    assert json.loads(capsys.readouterr().out)["money"]["currency"] == "USD"
    out = tmp_path / "report.html"
    assert main(["report", CALL, "--format", "html", "--out", str(out)]) == 0
    assert capsys.readouterr().out == ""
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_a_record_gives_the_report_of_its_call(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    record = str(tmp_path / "call.jsonl")
    assert main(["record", "from-yaml", CALL, record]) == 0
    capsys.readouterr()
    assert main(["report", CALL, "--for", "shop"]) == 0
    one = capsys.readouterr().out
    assert main(["report", record, "--for", "shop"]) == 0
    assert capsys.readouterr().out == one
    with Path(record).open("ab") as stream:
        stream.write(b'{"line": 99, "ent')
    assert main(["report", record, "--for", "shop"]) == 0
    said = capsys.readouterr()
    assert said.out == one
    assert "warning" in said.err


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (["missing.call.yaml"], "missing.call.yaml"),
        ([CALL, "--out", CALL], "is read"),
        ([CALL, "--out", "no_such_folder/report.txt"], "cannot be written"),
        ([CALL, "--prices", "no_such_book.json"], "no_such_book.json"),
        ([CALL, "--prices", CALL], "no price book"),
    ],
)
def test_bad_input_is_said(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, more: list[str], says: str
) -> None:
    before = Path(CALL).read_bytes()
    monkeypatch.chdir(tmp_path)
    assert main(["report", *more]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert says in said.err
    assert "Traceback" not in said.err
    assert Path(CALL).read_bytes() == before
