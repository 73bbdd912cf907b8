"""All contests, by the name of their group."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from tests.benchmarks import cutsets, inference, rules, startup
from tests.benchmarks.contest import Contest

__all__ = ["GROUPS"]

#: The last case has shared events far apart: the widest of the first five seeds at that size.
#: PySDD does not finish it in a minute, so it is left out there.
GROUPS: Mapping[str, Callable[[], list[Contest]]] = {
    "150": partial(inference.contests, "150", 1, 150),
    "200": partial(inference.contests, "200", 3, 200),
    "200 wide": partial(inference.contests, "200 wide", 1, 200, diagrams=False),
    "rules": lambda: [rules.contest()],
    "cutsets": cutsets.contests,
    "start": startup.contests,
}
