"""The pre-commit hooks name commands that exist, and the recipe in DEVELOPERS.md runs as it stands."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from faultkit.cli import main

ROOT = Path(__file__).resolve().parents[2]
HOOKS = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("## Trees in version control")[1].split("\n## ")[0]


@pytest.fixture
def trees(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    assert main(["new", "equipment", "reach_in", "--in", "my_trees"]) == 0
    return tmp_path / "my_trees" / "reach_in" / "reach_in.yaml"


@pytest.mark.parametrize("hook", HOOKS, ids=lambda h: h["id"])
def test_a_hook_passes_good_trees_and_stops_a_wrong_one(hook: dict[str, str], trees: Path) -> None:
    program, *arguments = shlex.split(hook["entry"])
    assert program == "faultkit"
    assert main([*arguments, "my_trees"]) == 0
    trees.write_text(trees.read_text(encoding="utf-8").replace("{no: always}", "{no: never}"), encoding="utf-8")
    assert main([*arguments, "my_trees"]) != 0


def test_the_guide_shows_the_hooks_there_are() -> None:
    shown = yaml.safe_load(re.findall(r"```yaml\n(.*?)```", GUIDE, re.DOTALL)[0])
    assert [h["id"] for h in shown["repos"][0]["hooks"]] == [h["id"] for h in HOOKS]


@pytest.mark.slow
def test_the_commands_of_the_recipe_run(trees: Path) -> None:
    top = trees.parents[2]
    (top / "my_calls").mkdir()
    (top / "my_calls" / "mine.cases.yaml").write_bytes(trees.with_name("reach_in.cases.yaml").read_bytes())
    before = top.parent / "before" / "my_trees"
    before.mkdir(parents=True)
    (before / "reach_in.yaml").write_bytes(trees.read_bytes())
    recipe = re.findall(r"```bash\n(.*?)```", GUIDE, re.DOTALL)[0]
    lines = [line for line in recipe.splitlines() if line.startswith((".venv/bin/faultkit ", "built_in="))]
    assert len(lines) == 4
    python = shlex.quote(sys.executable)
    script = "\n".join(["set -e", *lines]).replace(".venv/bin/faultkit", ".venv/bin/python -m faultkit")
    done = subprocess.run(
        ["/bin/sh", "-c", script.replace(".venv/bin/python", python)],
        cwd=top, capture_output=True, text=True, check=False, env=os.environ | {"PYTHONPATH": str(ROOT)},
    )
    assert done.returncode == 0, done.stderr
    assert (top / "check.sarif").stat().st_size > 0
    assert "<testsuite" in (top / "cases.xml").read_text(encoding="utf-8")
    assert "the catalogues say the same" in (top / "changes.txt").read_text(encoding="utf-8")
