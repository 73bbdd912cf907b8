"""faultkit show on the command line, and its watcher over HTTP."""

from __future__ import annotations

import argparse
import http.client
import json
import os
import re
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from faultkit.cli import main
from faultkit.cli.main import _parser
from faultkit.cli.watch import Watcher

ROOT = Path(__file__).parents[2]
TREE = """\
schema: 1
equipment: lamp
title: Lamp
source: common practice
readings: {light: yes_no}
events:
  dark: {title: No light, any_of: [bulb, cord], complete: nothing else}
  bulb: {how_common: common, title: Bulb burnt out}
  cord: {how_common: rare, title: Cord broken}
tells:
  light: [{dark: {no: always}}, {otherwise: {yes: always}}]
checks: {look: {gives: [light], minutes: 1}}
remedies: {new_bulb: {ends: [bulb], minutes: 2}}
"""


@pytest.fixture
def lamp(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "trees").mkdir()
    path = tmp_path / "trees" / "lamp.yaml"
    path.write_text(TREE, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("what", "format_", "starts", "holds"),
    [
        ("branch_circuit", "svg", "<?xml", "Breaker tripped"),
        ("branch_circuit", "mermaid", "flowchart TD", "Breaker tripped"),
        ("branch_circuit", "dot", "graph", "breaker_tripped"),
        ("branch_circuit", "json", "{", "breaker_tripped"),
        ("forced_air_coil", "json", "{", '"about": "section"'),
        (str(ROOT / "examples" / "site.yaml"), "json", "{", "rail.coil.fan.left.stopped"),
        (str(ROOT / "catalogue" / "branch_circuit" / "branch_circuit.yaml"), "dot", "graph", "breaker_tripped"),
        (str(ROOT / "catalogue" / "sections" / "forced_air_coil.yaml"), "dot", "graph", "starved"),
    ],
)
def test_formats(what: str, format_: str, starts: str, holds: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", what, "--format", format_]) == 0
    said = capsys.readouterr().out
    assert said.startswith(starts)
    assert holds in said
    if format_ == "json":
        json.loads(said)


def test_a_page_is_written_beside(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", "trees/lamp.yaml"]) == 0
    assert capsys.readouterr().out == "lamp.html written\n"
    page = (lamp.parents[1] / "lamp.html").read_text(encoding="utf-8")
    assert "Bulb burnt out" in page
    assert main(["show", "lamp", "--catalogue", "trees", "--out", "-"]) == 0
    assert capsys.readouterr().out == page


def test_one_event(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", str(lamp), "--event", "bulb", "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert list(data["events"]) == data["tops"] == ["bulb"]
    assert list(data["remedies"]) == ["new_bulb"]


def test_a_folder(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", "--all", "--catalogue", str(lamp.parent), "--out", "web"]) == 0
    files = {p.relative_to("web").as_posix() for p in Path("web").rglob("*.html")}
    assert {"index.html", "common.html", "types/lamp.html", "types/branch_circuit.html"} <= files
    assert f"{len(files)} pages in web" in capsys.readouterr().out
    index = Path("web/index.html").read_text(encoding="utf-8")
    row = re.search(r'<a href="types/lamp.html">Lamp</a>.*?</tr>', index, re.DOTALL)
    assert row
    assert re.findall(r"<td>(\d+)</td>", row[0]) == ["1", "2", "1", "1", "1", "1"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "nothing to show"),
        (["lamb"], "did you mean 'lamp'?"),
        (["lamp", "--event", "darc"], "did you mean 'dark'?"),
        (["trees/none.yaml"], "no such file"),
        (["call.yaml"], "a file of kind 'call' has no tree"),
        (["--all"], "--out FOLDER"),
        (["lamp", "--all", "--out", "x"], "--all alone"),
        (["--all", "--format", "dot", "--out", "x"], "no format dot"),
        (["lamp", "--depth", "-1"], "0 or more"),
        (["lamp", "--out", "trees"], "cannot write trees"),
        (["lamp", "--watch", "--format", "svg"], "--watch serves pages"),
    ],
)
def test_what_cannot_be_shown_is_said(
    arguments: list[str], said: str, lamp: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copy(ROOT / "examples" / "one_fault.call.yaml", lamp.parents[1] / "call.yaml")
    assert main(["show", *arguments, "--catalogue", "trees"]) == 2
    assert said in capsys.readouterr().err


def test_mistakes_of_a_file_come_with_their_place(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lamp.write_text(TREE.replace("any_of: [bulb, cord]", "any_of: [blub, cord]"), encoding="utf-8")
    assert main(["show", "trees/lamp.yaml"]) == 2
    said = capsys.readouterr().err
    assert "trees/lamp.yaml:7:36" in said
    assert "did you mean 'bulb'" in said


# -- the watcher ----------------------------------------------------------------


def options(*arguments: str) -> argparse.Namespace:
    return _parser().parse_args(["show", "--watch", *arguments])


def changed(path: Path, text: str) -> None:
    """Write, and let the clock of the file move whatever its steps."""
    before = path.stat().st_mtime_ns
    path.write_text(text, encoding="utf-8")
    os.utime(path, ns=(before + 10**9, before + 10**9))


def test_the_last_good_picture_stays_with_the_problem_above(lamp: Path) -> None:
    watcher = Watcher(options("trees/lamp.yaml", "--out", "page.html"))
    assert watcher.look()
    assert not watcher.look()
    first = watcher.version
    assert "Bulb burnt out" in watcher.pages[""]
    assert f'data-version="{first}"' in watcher.pages[""]

    changed(lamp, TREE.replace("any_of: [bulb, cord]", "any_of: [blub, cord]"))
    assert watcher.look()
    page = watcher.pages[""]
    assert watcher.version != first
    assert "Bulb burnt out" in page
    assert "trees/lamp.yaml:7:36" in page
    assert "any_of: [blub, cord]" in page
    assert "did you mean &#39;bulb&#39;?" in page
    written = Path("page.html").read_text(encoding="utf-8")
    assert "trees/lamp.yaml:7:36" in written
    assert "data-version" not in written

    changed(lamp, TREE.replace("Bulb burnt out", "Bulb dark"))
    assert watcher.look()
    assert "Bulb dark" in watcher.pages[""]
    assert "problem" not in re.sub(r"<(style|script)>.*?</\1>", "", watcher.pages[""], flags=re.DOTALL)


def test_a_file_broken_from_the_start_is_shown_as_its_problems(lamp: Path) -> None:
    changed(lamp, "schema: 1\nequipment: [")
    watcher = Watcher(options("trees/lamp.yaml"))
    watcher.look()
    assert "trees/lamp.yaml:2" in watcher.pages[""]
    changed(lamp, TREE)
    watcher.look()
    assert "Bulb burnt out" in watcher.pages[""]


@pytest.fixture
def served(lamp: Path) -> Iterator[tuple[Watcher, int]]:
    watcher = Watcher(options(str(lamp)))
    watcher.look()
    server = watcher.server(0)
    thread = threading.Thread(target=server.serve_forever, args=(0.05,))
    thread.start()
    yield watcher, server.server_port
    server.shutdown()
    thread.join()
    server.server_close()


def get(port: int, path: str, host: str = "") -> tuple[int, str, str]:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    connection.request("GET", path, headers={"Host": host} if host else {})
    answer = connection.getresponse()
    out = answer.status, answer.headers.get("Content-Type", ""), answer.read().decode()
    connection.close()
    return out


def test_the_server_gives_pages_and_nothing_else(served: tuple[Watcher, int]) -> None:
    watcher, port = served
    status, kind, page = get(port, "/")
    assert (status, kind) == (200, "text/html; charset=utf-8")
    assert page == watcher.pages[""]
    assert get(port, "/version")[2] == watcher.version
    assert get(port, "/trees/lamp.yaml")[0] == 404
    assert get(port, "/../trees/lamp.yaml")[0] == 404


def test_a_request_under_another_name_is_refused(served: tuple[Watcher, int]) -> None:
    _, port = served
    assert get(port, "/", host="elsewhere.example")[0] == 403
    assert get(port, "/version", host=f"localhost:{port}")[0] == 200


def test_all_pages_can_be_watched(lamp: Path) -> None:
    watcher = Watcher(options("--all", "--catalogue", str(lamp.parent)))
    watcher.look()
    assert all("data-version" in page for page in watcher.pages.values())
    assert "types/lamp.html" in watcher.pages
