"""The README keeps its word: its Python blocks run, its commands exist."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from faultkit.cli import main

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_its_python_blocks_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "examples").symlink_to(ROOT / "examples")  # one of them writes a record
    monkeypatch.chdir(tmp_path)
    blocks = re.findall(r"```python\n(.*?)```", README, re.DOTALL)
    assert len(blocks) == 6
    for block in blocks:
        exec(compile(block, "README.md", "exec"), {})  # noqa: S102 - our own text
    said = capsys.readouterr().out
    assert "0.012475" in said  # 1 - 0.99 * (1 - 0.05 * 0.05), by hand
    assert "'kim-1'" in said
    assert "roof_unit" in said or "rail." in said


def test_its_commands_are_known(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(ROOT)
    lines = re.findall(r"^faultkit ((?:list|calculate)[^#\n]*)", README, re.MULTILINE)
    assert len(lines) > 6
    for line in lines:
        if "my_trees" not in line:
            assert main(shlex.split(line)) == 0
    assert capsys.readouterr().out


def test_the_job_stands_at_the_top() -> None:
    first = README.split("\n\n")[1]
    assert "not\nholding temperature" in first
    assert "fault trees written in YAML" in first.replace("\n", " ")


def test_the_tree_in_the_guide_loads_and_diagnoses(tmp_path: Path) -> None:
    """The walk through a first tree in DEVELOPERS.md is a tree that works."""
    import faultkit
    from faultkit.model.site import SitePlan, Unit
    from faultkit.network.join import join_site

    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    tree = re.search(r"```yaml\n(# yaml-language.*?)```", guide, re.DOTALL)
    assert tree
    (tmp_path / "ice_bin.yaml").write_text(tree[1], encoding="utf-8")
    catalogue = faultkit.load_catalogue([tmp_path])
    plan = SitePlan("bar", units={"bin": Unit("bin", "ice_bin", place="bar")})
    site = join_site(plan, catalogue.types, catalogue.common)
    call = faultkit.Call(site, "2026-07-01T10:00").record("bin.bin_air", "45 degF").record("bin.lid_shuts", "no")
    diagnosis = call.diagnose()
    cases = re.search(r"```yaml\n(# yaml-language[^\n]*/cases.*?)```", guide, re.DOTALL)
    assert cases
    (tmp_path / "ice_bin.cases.yaml").write_text(cases[1], encoding="utf-8")
    assert main(["test", str(tmp_path)]) == 0
    assert diagnosis.events["bin.lid_hangs"].verdict is faultkit.Verdict.CONFIRMED
    assert diagnosis.events["bin.gasket_torn"].verdict is faultkit.Verdict.OPEN
