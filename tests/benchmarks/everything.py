"""All contests, by the name of their group."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from tests.benchmarks import calculators, checking, cutsets, inference, rules, startup
from tests.benchmarks.contest import Contest

__all__ = ["GROUPS"]

#: '200 wide' has shared events far apart: the widest of the first five seeds at that size. PySDD needs
#: more than a minute for a diagram with all 40 signs of it, so it takes no part in the next checks there.
GROUPS: Mapping[str, Callable[[], list[Contest]]] = {
    "150": partial(inference.contests, "150", 1, 150),
    "200": partial(inference.contests, "200", 3, 200),
    "200 wide": partial(inference.contests, "200 wide", 1, 200, all_signs=False),
    "rules": lambda: [rules.contest()],
    "cutsets": cutsets.contests,
    "calculators": calculators.contests,
    "start": startup.contests,
    "check": checking.contests,
}
