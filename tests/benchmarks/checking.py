"""``faultkit check``, cold: the built-in catalogue, and one ten times as large made of it."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from tempfile import mkdtemp

from faultkit.reading.resources import builtin_catalogue
from tests.benchmarks.contest import Contest, Later

__all__ = ["contests", "enlarged"]

_TIMES = 10
_NAME = re.compile(r"^equipment: (\w+)$", re.MULTILINE)
#: A quantity or percent in a ruler: moved a little, so that no type is another's twin.
_PERCENT = re.compile(r"\b(\d\d) % of ")


def enlarged(folder: Path, times: int = _TIMES) -> Path:
    """The built-in catalogue with every equipment type ``times`` times, names and percentages changed."""
    for file in sorted(builtin_catalogue().rglob("*.yaml")):
        text = file.read_text(encoding="utf-8")
        for n in range(times if _NAME.search(text) else 1):
            changed = _NAME.sub(rf"equipment: \1_{n}", text)
            if n:
                changed = _PERCENT.sub(lambda m, n=n: f"{m[1]}.{n} % of ", changed)  # type: ignore[misc]
            (folder / f"{file.stem}_{n}.yaml").write_text(changed, encoding="utf-8")
    return folder


def _check(*arguments: str) -> bool:
    done = subprocess.run(
        [sys.executable, "-m", "faultkit", "check", *arguments], capture_output=True, check=False
    )
    if done.returncode not in {0, 1}:
        raise RuntimeError(done.stderr.decode())
    return b"equipment types" in done.stdout


def _tenfold() -> Callable[[], object]:
    return partial(_check, str(enlarged(Path(mkdtemp()))), "--alone")


def _both_ran(expected: object, found: object) -> bool:
    return expected is True and found is True


def contests() -> list[Contest]:
    runs: dict[str, Callable[[], object]] = {"faultkit": _check, "faultkit, 10 times": Later(_tenfold)}
    notes = {"faultkit, 10 times": "40 equipment types, each compiled on its own"}
    return [Contest("check: a whole catalogue, cold", runs, _both_ran, notes, slow=True)]
