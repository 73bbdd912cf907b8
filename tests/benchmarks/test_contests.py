"""The contests under pytest-benchmark: ``pytest tests/benchmarks``. Nothing here asserts a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

for name in ("pytest_benchmark", "pyagrum", "pysdd", "zen", "dd.cudd"):
    pytest.importorskip(name)
from tests.benchmarks.contest import Contest, table
from tests.benchmarks.everything import GROUPS


@pytest.fixture(scope="module", params=GROUPS)
def contests(request: pytest.FixtureRequest) -> Iterator[list[Contest]]:
    yield GROUPS[request.param]()


def test_all_get_the_same_result_and_how_long_they_take(
    contests: list[Contest], capsys: pytest.CaptureFixture[str]
) -> None:
    for contest in contests:
        contest.check()
        with capsys.disabled():
            print(f"\n{table(contest, 5)}")
