"""Cold starts, each in a process of its own."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from functools import partial

from tests.benchmarks.contest import Contest

__all__ = ["contests"]

#: Exit codes of a diagnosis made: facts that agree, facts that conflict.
DONE = {0, 1}


def ran(*arguments: str) -> bool:
    done = subprocess.run([sys.executable, *arguments], capture_output=True, check=False)
    if done.returncode not in DONE:
        raise RuntimeError(done.stderr.decode())
    return True


def _both_ran(expected: object, found: object) -> bool:
    return expected is True and found is True


def contests() -> list[Contest]:
    imports: dict[str, Callable[[], object]] = {
        "faultkit": partial(ran, "-c", "import faultkit"),
        "nothing": partial(ran, "-c", "pass"),
        "pyagrum": partial(ran, "-c", "import pyagrum"),
        "pint": partial(ran, "-c", "import pint"),
        "jsonschema": partial(ran, "-c", "import jsonschema"),
    }
    diagnose: dict[str, Callable[[], object]] = {
        "faultkit": partial(ran, "-m", "faultkit", "diagnose", "--example", "three_faults"),
        "faultkit, one_fault": partial(ran, "-m", "faultkit", "diagnose", "--example", "one_fault"),
        "faultkit, conflict": partial(ran, "-m", "faultkit", "diagnose", "--example", "conflict"),
        "nothing": partial(ran, "-c", "pass"),
    }
    return [
        Contest("start: python -c 'import ...'", imports, _both_ran, {"nothing": "the interpreter itself"}, slow=True),
        Contest("start: faultkit diagnose --example, cold", diagnose, _both_ran, {}, slow=True),
    ]
