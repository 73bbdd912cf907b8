"""Small texts of a report."""

from __future__ import annotations

import pytest

from faultkit.diagnosis.result import Probability
from faultkit.reports.words import percent, wrapped


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        (1.0, "over 99.9 %"),  # a number never says that something is certain
        (0.9995, "over 99.9 %"),
        (0.0, "under 0.1 %"),
        (0.004, "0.4 %"),
        (0.994, "99.4 %"),
        (0.376, "38 %"),
        (Probability(0.2, 0.2), "20 %"),
        (Probability(0.1, 0.7), "10 % to 70 %"),
    ],
)
def test_percent(chance: float | Probability, said: str) -> None:
    assert percent(chance) == said


def test_wrapped_lines_keep_to_the_width() -> None:
    lines = wrapped("word " * 60, 4, 8)
    assert max(map(len, lines)) <= 92
    assert lines[0].startswith("    word")
    assert lines[1].startswith("        word")
