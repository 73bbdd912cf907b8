"""Exceptions in comments and in the settings file, and what a run speaks of."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from faultkit.cli import main
from faultkit.consistency import check_catalogue
from faultkit.consistency.exceptions import comments
from faultkit.problems import InputError
from faultkit.reading.resources import builtin_catalogue, data_folder
from tests.consistency.pages import Page


@pytest.fixture
def folder(page: Page, tmp_path: Path) -> Path:
    """A tree with one event that nothing moves."""
    (tmp_path / "shelf.yaml").write_text(page("E604").bad_texts[0], encoding="utf-8")
    return tmp_path


def settings(folder: Path, text: str) -> None:
    (folder / ".faultkit-check.yaml").write_text(text, encoding="utf-8")


def codes(folder: Path) -> list[str]:
    return [f.code for f in check_catalogue([folder], alone=True).findings]


def edited(folder: Path, old: str, new: str) -> None:
    file = folder / "shelf.yaml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_on_the_line_or_above_it(folder: Path) -> None:
    assert codes(folder) == ["E604"]
    line = "  socket_worn: {how_common: rare}"
    edited(folder, line, f"{line}  # faultkit: allow E604 because nobody looks there")
    assert codes(folder) == []
    edited(folder, f"{line}  # faultkit: allow E604 because nobody looks there",
           f"  # faultkit: allow R207, E604 because nobody looks there\n\n  # another comment\n{line}")
    assert codes(folder) == ["X902"]  # R207 is not found, so that half is unused
    (meant,) = check_catalogue([folder], alone=True).meant
    assert meant[1].reason == "nobody looks there"


def test_a_comment_counts_for_its_line_only(folder: Path) -> None:
    edited(folder, "readings:\n", "# faultkit: allow E604 because it is far away\nreadings:\n")
    assert sorted(codes(folder)) == ["E604", "X902"]


def test_a_comment_is_a_comment_only_behind_a_space() -> None:
    lines = ["title: a#faultkit: allow E604 because no comment", "x: 1 # faultkit: allow E604 because one"]
    found, bad = comments({"f.yaml": lines})
    assert [(a.line, a.reason) for a in found] == [(2, "one")]
    assert bad == []


@pytest.mark.parametrize(
    "entry",
    [
        "{code: E604, because: meant}",
        "{code: E604, name: socket_*, because: meant}",
        "{code: E604, file: shelf.yaml, name: socket_worn, because: meant}",
    ],
)
def test_configured(folder: Path, entry: str) -> None:
    settings(folder, f"schema: 1\nallow:\n  - {entry}\n")
    assert codes(folder) == []


@pytest.mark.parametrize("entry", ["{code: E604, name: other, because: meant}", "{code: R207, because: meant}"])
def test_configured_for_something_else(folder: Path, entry: str) -> None:
    settings(folder, f"schema: 1\nallow:\n  - {entry}\n")
    assert sorted(codes(folder)) == ["E604", "X902"]
    unused = next(f for f in check_catalogue([folder], alone=True).findings if f.code == "X902")
    assert unused.where is not None
    assert unused.where.file.endswith(".faultkit-check.yaml")
    assert unused.where.line == 3


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("schema: 1\nallow: [{code: E604}]\n", "without a reason"),
        ("schema: 1\nallow: [{code: E604, because: ' '}]\n", "without a reason"),
        ("schema: 1\nallow: [{code: E699, because: x}]\n", "no check 'E699'"),
        ("schema: 1\nallow: [{code: F101, because: x}]\n", "allows no exception"),
        ("schema: 1\nallow: [E604]\n", "no exception"),
        ("schema: 1\nignore: []\n", "no key of the settings"),
        ("allow: []\n", "do not say their format"),
        ("schema: 1\nallow: [{code: E604, line: 3, because: x}]\n", "no exception"),
        ("schema: [1\n", ""),
    ],
)
def test_bad_settings_are_bad_input(
    folder: Path, capsys: pytest.CaptureFixture[str], text: str, said: str
) -> None:
    settings(folder, text)
    with pytest.raises(InputError):
        check_catalogue([folder], alone=True)
    assert main(["check", str(folder), "--alone"]) == 2
    shown = capsys.readouterr()
    assert said in shown.err
    assert ".faultkit-check.yaml:" in shown.err
    assert shown.out == ""


def test_exit_codes(folder: Path, page: Page, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(folder), "--alone"]) == 1
    assert main(["check", str(tmp_path / "nowhere")]) == 2
    assert "there is no" in capsys.readouterr().err
    (tmp_path / "empty").mkdir()
    assert main(["check", str(tmp_path / "empty"), "--alone"]) == 2
    assert "holds no catalogue file" in capsys.readouterr().err
    clean = tmp_path / "clean"
    clean.mkdir()
    (clean / "shelf.yaml").write_text(page("T503").bad_texts[0], encoding="utf-8")
    assert main(["check", str(clean), "--alone"]) == 0  # notes alone do not fail
    assert "2 notes" in capsys.readouterr().out


def test_a_report_to_a_file(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "report.json"
    assert main(["check", str(folder), "--alone", "--format", "json", "--output", str(out)]) == 1
    assert json.loads(out.read_text(encoding="utf-8"))["kind"] == "check"
    assert capsys.readouterr().out == ""


def test_what_cannot_be_written(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(folder), "--alone", "--output", str(tmp_path / "no" / "such")]) == 2
    assert "cannot be written" in capsys.readouterr().err
    assert main(["check", str(folder / "shelf.yaml"), "--alone", "--update-baseline"]) == 2
    assert "no baseline was written" in capsys.readouterr().err
    (folder / "testability.baseline.json").mkdir()
    assert main(["check", str(folder), "--alone", "--update-baseline"]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_only_what_lies_below_the_paths_is_spoken_of(folder: Path) -> None:
    report = check_catalogue([folder])  # beside the installed catalogue
    assert {f.code for f in report.findings} == {"E604"}
    assert report.types == ("lit_shelf",)
    assert report.meant == ()


def test_one_file_of_a_catalogue() -> None:
    section = builtin_catalogue() / "sections" / "forced_air_coil.yaml"
    report = check_catalogue([section])
    assert report.clean
    assert report.types == ()  # a section is looked at through the types that include it
    assert report.meant
    assert {Path(f.where.file).name for f, _ in report.meant if f.where} == {section.name}


def test_sites_and_calls(tmp_path: Path) -> None:
    examples = data_folder("examples")
    assert check_catalogue([examples / "site.yaml", examples / "one_fault.call.yaml"]).clean
    shutil.copy(examples / "site.yaml", tmp_path)
    site = tmp_path / "site.yaml"
    site.write_text(site.read_text(encoding="utf-8").replace("supply_voltage: 208 V", "supply_voltage: 12 V"))
    findings = check_catalogue([site]).findings
    assert {f.code for f in findings} == {"F101"}
    assert all("'12 V'" in f.what and f.cure == "100 V to 480 V" for f in findings)
    assert findings[0].where is not None
    assert findings[0].where.text.strip().startswith(("settings", "supply_voltage"))


def test_a_broken_plugin_is_said(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    from importlib.metadata import EntryPoint, EntryPoints

    point = EntryPoint("bad", "no_such_module_here", "faultkit")
    monkeypatch.setattr("importlib.metadata.entry_points", lambda **_: EntryPoints((point,)))
    assert main(["check"]) == 0
    assert "plugin 'bad' is broken" in capsys.readouterr().err
    assert main(["check", "--strict"]) == 2
