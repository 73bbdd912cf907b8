"""The contests under pytest-benchmark: ``pytest tests/benchmarks``. Nothing here asserts a time.

pytest-benchmark times one contender after the other; ``table.py`` times them in turn.
"""

from __future__ import annotations

from typing import Any

import pytest

pytest.importorskip("pytest_benchmark")  # what follows cannot be imported without these
pytest.importorskip("pyagrum")
pytest.importorskip("pysdd")
pytest.importorskip("zen")
pytest.importorskip("dd.cudd")
from tests.benchmarks.contest import Contest, repeats_of, warm
from tests.benchmarks.everything import GROUPS

CONTESTS = [contest for make in GROUPS.values() for contest in make()]
ROUNDS = [
    pytest.param(contest, name, id=f"{contest.name} - {name}") for contest in CONTESTS for name in contest.contenders
]


@pytest.mark.parametrize("contest", CONTESTS, ids=[c.name for c in CONTESTS])
def test_all_get_the_same_result(contest: Contest) -> None:
    contest.check()


@pytest.mark.parametrize(("contest", "name"), ROUNDS)
def test_how_long_it_takes(contest: Contest, name: str, benchmark: Any) -> None:
    run = contest.contenders[name]
    benchmark.group = contest.name
    warm(run)
    benchmark.pedantic(run, rounds=3 if contest.slow else 7, iterations=repeats_of(run))
