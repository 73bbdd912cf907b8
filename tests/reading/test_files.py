"""Files that cannot be read, and how messages name them."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from faultkit.problems import Problem
from faultkit.reading.parse import parse_file
from faultkit.reading.text import SIZE_LIMIT, read_bytes, shown_path


def only(path: Path | str) -> Problem:
    problems: list[Problem] = []
    assert parse_file(path, problems) is None
    [problem] = problems
    assert problem.where is not None
    assert (problem.where.line, problem.where.column) == (1, 1)
    return problem


def test_a_good_file_is_read(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("schema: 1\n")
    problems: list[Problem] = []
    node = parse_file(tmp_path / "a.yaml", problems)
    assert node is not None
    assert node.plain() == {"schema": 1}
    assert problems == []


def test_a_missing_file_names_what_lies_beside_it(tmp_path: Path) -> None:
    (tmp_path / "kitchen.yaml").write_text("schema: 1\n")
    problem = only(tmp_path / "kitchn.yaml")
    assert "no such file" in problem.what
    assert "did you mean 'kitchen.yaml'?" in problem.expected


def test_a_file_below_a_file_and_a_missing_folder(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("schema: 1\n")
    assert "no such file" in only(tmp_path / "a.yaml" / "b.yaml").what
    assert "no such file" in only(tmp_path / "none" / "b.yaml").what


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    assert "folder" in only(tmp_path).what


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    assert "no plain file" in only(tmp_path / "pipe.yaml").what


def test_an_endless_device_is_not_read() -> None:
    assert "no plain file" in only("/dev/zero").what


def test_a_name_that_no_file_can_have() -> None:
    assert "cannot be read" in only("a\0b.yaml").what


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_without_permission(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("schema: 1\n")
    path.chmod(0)
    assert "permission denied" in only(path).what


def test_permission_denied_is_said_whoever_runs_this(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("schema: 1\n")

    def denied(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", denied)
    problem = only(path)
    assert "cannot be read: permission denied" in problem.what


def test_fifty_megabytes_fail_at_once(tmp_path: Path) -> None:
    path = tmp_path / "large.yaml"
    with path.open("wb") as stream:
        stream.truncate(50_000_000)
    start = time.perf_counter()
    problem = only(path)
    assert time.perf_counter() - start < 0.05  # seconds; reading it takes longer than that
    assert "50 000 000 bytes" in problem.what
    assert "5 000 000" in problem.what


def test_the_limit_itself_is_read(tmp_path: Path) -> None:
    path = tmp_path / "full.yaml"
    path.write_bytes(b"a: 1\n#".ljust(SIZE_LIMIT, b"x"))
    problems: list[Problem] = []
    assert parse_file(path, problems) is not None
    path.write_bytes(b"a: 1\n#".ljust(SIZE_LIMIT + 1, b"x"))
    assert "too large" in only(path).what


def test_a_file_of_unknown_size_is_cut_off() -> None:
    # Files of the kernel say size 0 and hold more.
    path = Path("/proc/self/status")
    if not path.is_file():
        pytest.skip("no /proc here")
    problems: list[Problem] = []
    assert read_bytes(path, problems, limit=10) is None
    assert "too large" in problems[0].what


def test_names_are_relative_below_the_current_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "here" / "sub").mkdir(parents=True)
    monkeypatch.chdir(tmp_path / "here")
    assert shown_path("sub/a.yaml") == "sub/a.yaml"
    assert shown_path(tmp_path / "here" / "sub" / "a.yaml") == "sub/a.yaml"
    assert shown_path("sub/../a.yaml") == "a.yaml"
    assert shown_path(tmp_path / "other.yaml") == str(tmp_path / "other.yaml")
    assert shown_path("../other.yaml") == "../other.yaml"
