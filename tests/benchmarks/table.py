"""Ratios against other programs, timed in turn: ``python tests/benchmarks/table.py [GROUP ...]``."""

from __future__ import annotations

import sys
from pathlib import Path

ROUNDS = 7


def main(chosen: list[str]) -> None:
    sys.path[0] = str(Path(__file__).parents[2])  # the repository instead of this folder
    from tests.benchmarks.contest import table
    from tests.benchmarks.everything import GROUPS

    for name in chosen or GROUPS:
        for contest in GROUPS[name]():
            contest.check()
            print(table(contest, ROUNDS), end="\n\n", flush=True)  # noqa: T201 - it is a table to read


if __name__ == "__main__":
    main(sys.argv[1:])
