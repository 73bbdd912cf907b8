"""The figures of IEEE 1522 on an example worked by hand.

Six faults, four signs, 1 where a sign comes out of the usual:

    fault   s1 s2 s3 s4   common   remedy
    a        1  0  0  0     0.4      P
    b        1  0  0  0     0.1      Q
    c        1  1  0  0     0.2      R
    d        0  0  1  0     0.1      S
    e        0  0  1  0     0.1      S
    f        0  0  0  0     0.1      T

Detected: a to e, five of six, 0.9 of 1.0 by frequency. Groups: {a, b}, {c}, {d, e}. To one fault: c, one of
five. To one remedy: {c} and {d, e}, three of five. Mean size 5/3. Expected size, each fault as often as
it is met: (0.5 * 2 + 0.2 * 1 + 0.2 * 2) / 0.9 = 1.6 / 0.9. Remedies in a group: (2 + 1 + 1) / 3.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from faultkit.consistency.testability.matrix import Matrix
from faultkit.consistency.testability.metrics import metrics

ROWS = {
    "a": (1, 0, 0, 0), "b": (1, 0, 0, 0), "c": (1, 1, 0, 0), "d": (0, 0, 1, 0), "e": (0, 0, 1, 0), "f": (0, 0, 0, 0),
}
SHARES = (0.4, 0.1, 0.2, 0.1, 0.1, 0.1)


def matrix(rows: Mapping[str, tuple[int, ...]], shares: tuple[float, ...], remedies: str) -> Matrix:
    signs = ("s1", "s2", "s3", "s4")
    return Matrix(
        faults=tuple(rows),
        signs=signs,
        band_names=(("no", "yes"),) * 4,
        usual=(0, 0, 0, 0),
        bands=tuple(rows.values()),
        chances=tuple(tuple((1.0 - b, float(b)) for b in row) for row in rows.values()),
        ways=tuple((frozenset({f"look_at_{s}"}),) for s in signs),
        minutes={f"look_at_{s}": 1.0 for s in signs},
        remedy=tuple(remedies),
        share=shares,
        index={f: n for n, f in enumerate(rows)},
    )


def test_the_worked_example() -> None:
    m = metrics(matrix(ROWS, SHARES, "PQRSST"))
    assert (m.faults, m.detected, m.groups) == (6, 5, 3)
    assert m.fraction_detected == pytest.approx(5 / 6)
    assert m.weighted_fraction_detected == pytest.approx(0.9)
    assert m.fraction_isolated == pytest.approx((1 / 5, 1.0, 1.0))
    assert m.fraction_isolated_to_remedies == pytest.approx((3 / 5, 1.0, 1.0))
    assert m.mean_group_size == pytest.approx(5 / 3)
    assert m.expected_group_size == pytest.approx(1.6 / 0.9)
    assert m.mean_remedies_in_group == pytest.approx(4 / 3)


def test_nothing_detected_and_nothing_at_all() -> None:
    nothing = metrics(matrix({"a": (0, 0, 0, 0)}, (1.0,), "P"))
    assert (nothing.fraction_detected, nothing.groups) == (0.0, 0)
    assert nothing.fraction_isolated == (1.0, 1.0, 1.0)  # of no detected fault none is left ambiguous
    assert metrics(matrix({}, (), "")).fraction_detected == 1.0
