"""Pull-down: what it says of clean logs, and that it says so when a log tells nothing."""

from __future__ import annotations

from math import exp, inf
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators.arguments import Rows
from faultkit.calculators.ask import ask
from faultkit.calculators.load import LOAD
from faultkit.calculators.load.fit import allowed, best_line, leverages
from faultkit.calculators.load.pulldown import (
    CANNOT_SAY,
    WILL_MAKE_IT,
    WILL_NOT,
    PullDown,
    pull_down,
    pull_down_settles_at,
    pull_down_time_constant,
    pull_down_time_left,
)
from faultkit.calculators.load.student import student_quantile
from faultkit.problems import InputError
from faultkit.units import from_si, to_si

CALCULATOR = next(c for c in LOAD if c.name == "pull_down")
HOUR = 3600.0


def f(degrees: float) -> float:
    return to_si(degrees, "degF")


def fall(
    count: int, minutes: float, *, start: float = 70.0, settles: float = 35.0, hours: float = 1.0, noise: float = 0.0,
    seed: int = 1,
) -> list[tuple[float, float]]:
    """s and K of a box that pulls down."""
    random = Random(seed)  # noqa: S311 - a simulation
    return [
        (t * HOUR, f(settles + (start - settles) * exp(-t / hours) + random.gauss(0.0, noise)))
        for t in (i * minutes / 60.0 for i in range(count))
    ]


def asked(rows: list[tuple[float, float]], goal: float, **given_: float) -> PullDown:
    return pull_down(tuple(rows), f(goal), **{"accuracy": to_si(0.5, "delta_degF"), **given_})


def degrees(value: float | None) -> float:
    assert value is not None
    return from_si(value, "degF")


def test_a_good_box_will_make_it() -> None:
    found = asked(fall(13, 10.0, noise=0.2, seed=2), goal=38.0)
    assert found.verdict == WILL_MAKE_IT
    assert degrees(found.settle_low) < 35.0 < degrees(found.settle_high) < 38.0
    # 70 to 38 with 35 at the end takes 2.46 h; two are over.
    assert found.time_left_low is not None
    assert found.time_left_high is not None
    assert found.time_left_low < 0.457 * HOUR < found.time_left_high
    assert found.time_constant_low is not None
    assert found.time_constant_high is not None
    assert found.time_constant_low < HOUR < found.time_constant_high


def test_a_box_that_stops_at_45_for_hours_will_not() -> None:
    rows = fall(49, 15.0, settles=45.0, noise=0.2)
    found = asked(rows, goal=38.0)
    assert found.verdict == WILL_NOT
    assert "or warmer" in found.because
    assert found.time_left is None
    assert degrees(found.coldest) > 38.0
    # In twice the time a fall hidden in the scatter may still get there from nearer by.
    assert asked(rows, goal=44.4, within=48 * HOUR).verdict == CANNOT_SAY


def test_with_little_time_will_not_is_said_sooner() -> None:
    rows = fall(19, 10.0, settles=45.0, noise=0.1)
    assert asked(rows, goal=38.0, within=HOUR).verdict == WILL_NOT
    late = asked(fall(13, 10.0, noise=0.1), goal=36.0, within=0.1 * HOUR)
    assert late.verdict == WILL_NOT
    assert late.settle_high is not None
    assert degrees(late.settle_high) < 36.0


def test_around_the_set_point_it_cannot_say() -> None:
    found = asked(fall(13, 10.0, noise=0.2), goal=35.2)
    assert found.verdict == CANNOT_SAY
    assert "around 35.2 degF" in found.because


def test_a_worse_probe_says_less() -> None:
    rows = fall(13, 10.0, noise=0.1)
    assert asked(rows, goal=36.0).verdict == WILL_MAKE_IT
    wide = asked(rows, goal=36.0, accuracy=to_si(2.0, "delta_degF"))
    near = asked(rows, goal=36.0)
    assert wide.verdict == CANNOT_SAY
    assert degrees(wide.settle_high) - degrees(near.settle_high) == pytest.approx(1.5, abs=1e-6)


def test_more_confidence_is_wider() -> None:
    rows = fall(20, 6.0, noise=0.2)
    widths = []
    for confidence in (0.5, 0.8, 0.95, 0.99):
        found = asked(rows, goal=30.0, confidence=confidence)
        widths.append(degrees(found.settle_high) - degrees(found.settle_low))
    assert widths == sorted(widths)
    assert widths[0] < widths[-1]


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        (fall(4, 10.0), "4 readings show no curve: take at least 5"),
        ([(i * 600.0, f(45.0)) for i in range(10)], "the log is flat"),
        ([(i * 600.0, f(40.0 + 0.5 * i)) for i in range(10)], "it is not falling"),
        ([(i * 600.0, f(70.0 - 0.1 * i * i)) for i in range(12)], "it falls faster and faster"),
        (fall(12, 10.0, settles=66.0, noise=2.0, seed=3), "too short or too flat"),
        ([(i * 600.0, f(60.0 - 0.5 * i)) for i in range(8)], "does not slow down enough"),
    ],
    ids=["few", "flat", "rising", "bent", "noise", "straight"],
)
def test_a_log_that_tells_nothing(rows: list[tuple[float, float]], why: str) -> None:
    found = asked(rows, goal=36.0)
    assert found.verdict == CANNOT_SAY
    assert why in found.because


def test_a_defrost_is_named_with_its_time() -> None:
    rows = fall(25, 10.0, noise=0.1)
    warmed = [(t, v + (4.0 * exp(-(t - 2 * HOUR) / (0.5 * HOUR)) if t >= 2 * HOUR else 0.0)) for t, v in rows]
    found = asked(warmed, goal=34.0)
    assert found.verdict == CANNOT_SAY
    assert "to the reading at 120 min" in found.because
    assert found.settle_low is None
    assert asked(warmed[18:], goal=60.0).verdict == WILL_MAKE_IT  # from after it


def test_one_reading_apart_is_named() -> None:
    rows = fall(20, 6.0, noise=0.1)
    rows[9] = (rows[9][0], rows[9][1] + 3.0)
    found = asked(rows, goal=30.0)
    assert found.verdict == CANNOT_SAY
    assert "54 min" in found.because
    del rows[9]
    assert asked(rows, goal=38.0).verdict == WILL_MAKE_IT


def test_product_behind_the_air_is_no_proof_of_failure() -> None:
    """Two paces pass for one that settles too warm; 'will not' must not be said of a box that gets there."""
    wrong = []
    for seed in range(60):
        random = Random(seed)  # noqa: S311 - a simulation
        rows = [
            (t, f(35.0 + 24.0 * exp(-t / HOUR) + 16.0 * exp(-t / (6 * HOUR))) + random.gauss(0.0, 0.15))
            for t in (600.0 * i for i in range(random.choice((9, 13, 19, 25))))
        ]
        # It is at 38 degF after ten hours.
        wrong.append(asked(rows, goal=38.0).verdict == WILL_NOT)
    assert sum(wrong) <= 1


def test_below_the_set_point_it_has_made_it() -> None:
    assert asked(fall(4, 60.0, hours=0.5), goal=38.0).verdict == WILL_MAKE_IT
    cycling = [(t, f(36.0 + (1.0 if i % 3 else -1.0))) for i, t in enumerate(600.0 * j for j in range(20))]
    found = asked(cycling, goal=41.0)
    assert (found.verdict, found.time_left) == (WILL_MAKE_IT, 0.0)


@given(
    st.floats(240.0, 300.0), st.floats(3.0, 60.0), st.floats(0.3, 3.0), st.integers(8, 40), st.floats(-30.0, 30.0),
    st.floats(0.1, 10.0),
)
def test_clean_curves_come_back_and_scale(
    settles: float, drop: float, lengths: float, count: int, shift: float, slower: float
) -> None:
    tau = HOUR
    rows = tuple(
        (t, settles + drop * exp(-t / tau)) for t in (lengths * tau * i / (count - 1) for i in range(count))
    )
    assert pull_down_settles_at(rows) == pytest.approx(settles, abs=1e-3)
    assert pull_down_time_constant(rows) == pytest.approx(tau, rel=1e-3)
    moved = tuple((t * slower, v + shift) for t, v in rows)
    assert pull_down_settles_at(moved) == pytest.approx(settles + shift, abs=1e-3)
    assert pull_down_time_constant(moved) == pytest.approx(tau * slower, rel=1e-3)
    # A tenth of what is left after the last reading is gone after 0.105 time constants.
    goal = settles + 0.9 * (rows[-1][1] - settles)
    assert pull_down_time_left(rows, goal) == pytest.approx(0.10536 * tau, rel=1e-2, abs=1.0)


def test_bounds_hold_the_best_estimate() -> None:
    for seed in range(30):
        found = asked(fall(12, 10.0, noise=0.3, seed=seed), goal=37.0)
        if found.settles_at is not None:
            assert (found.settle_low or -inf) <= found.settles_at <= (found.settle_high or inf)
        if found.time_left is not None:
            assert (found.time_left_low or 0.0) <= found.time_left <= (found.time_left_high or inf)


def test_whole_degrees_do_not_pass_for_certainty() -> None:
    """Five rounded readings that happen to lie on a curve are still rounded."""
    rows = [(i * HOUR, f(35.0 + 60.0 * 0.5**i)) for i in range(6)]
    exact = asked(rows, goal=30.0, accuracy=0.0)
    rounded = asked([(t, f(round(from_si(v, "degF")))) for t, v in rows], goal=30.0, accuracy=0.0)
    assert degrees(exact.settle_high) - degrees(exact.settle_low) < 0.3
    assert degrees(rounded.settle_high) - degrees(rounded.settle_low) > 1.0


@pytest.mark.parametrize("single", [pull_down_settles_at, pull_down_time_constant])
@pytest.mark.parametrize(
    ("rows", "why"),
    [
        (((0.0, 290.0),), "log has 1 row"),
        (((0.0, 290.0), (600.0, 285.0), (1200.0, 281.0)), "3 readings do not tell"),
        (((0.0, 290.0), (600.0, 285.0), (600.0, 281.0)), "out of order of time"),
        (((0.0, 290.0), (600.0, float("nan"))), "out of order of time, or without a number"),
        (tuple((60.0 * i, 290.0 + i) for i in range(9)), "it is not falling"),
        (tuple((60.0 * i, 290.0 - 0.01 * i * i) for i in range(9)), "does not slow down"),
    ],
)
def test_single_numbers_say_why_there_is_none(single: object, rows: Rows, why: str) -> None:
    assert callable(single)
    with pytest.raises(InputError, match=why):
        single(rows)


def test_time_left_where_it_does_not_get() -> None:
    with pytest.raises(InputError, match="does not come down to 30 degF"):
        pull_down_time_left(tuple(fall(12, 10.0, noise=0.1)), f(30.0))
    assert pull_down_time_left(tuple(fall(12, 10.0)), f(60.0)) == 0.0


@pytest.mark.parametrize(
    ("log", "told"),
    [
        ("time (min), temperature (degF)\n0, 70\n", "has 1 row"),
        ("time (min), temperature (degF)\n0, 70\n5, 66\n5, 64\n", "does not rise"),
        ("time (min), temperature (psig)\n0, 70\n5, 66\n", "temperature"),
        ("time (min), temperature (degF)\n0, 70\n5, nan\n", "nan"),
        ("time (min), temperature (degF)\n0, 70, 3\n5, 66\n", "cells"),
    ],
)
def test_a_bad_log_is_refused_before_it_is_fitted(log: str, told: str) -> None:
    with pytest.raises(InputError, match=told):
        ask(CALCULATOR, {"log": log, "set_point": "38 degF"})


def test_impossible_demands_are_refused() -> None:
    with pytest.raises(InputError, match="confidence"):
        ask(CALCULATOR, {**CALCULATOR.example, "confidence": "100 %"})
    with pytest.raises(InputError, match="accuracy -1 K"):
        asked(fall(12, 10.0), goal=38.0, accuracy=-1.0)


# -- the fit itself ------------------------------------------------------------


def test_bounds_are_the_extremes_of_all_curves_that_fit_well_enough() -> None:
    """Brute force: a grid of curves, those with a sum of squares within the limit, their lowest and highest end."""
    rows = fall(12, 10.0, noise=0.5)
    s = [t / rows[-1][0] for t, _ in rows]
    y = [v for _, v in rows]
    best = best_line(s, y)
    limit = best.squares * 1.6
    found = allowed(s, y, best, limit).settles()
    low, high = inf, -inf
    rates = [0.3 * (8.0 / 0.3) ** (i / 150) for i in range(151)]
    for rate in rates:
        decay = [exp(-rate * x) for x in s]
        for i in range(161):
            settles = 260.0 + 0.15 * i
            # Best start for this end and rate, in closed form.
            span = sum(d * (v - settles) for d, v in zip(decay, y, strict=True)) / sum(d * d for d in decay)
            squares = sum((v - settles - span * d) ** 2 for d, v in zip(decay, y, strict=True))
            if squares <= limit:
                low, high = min(low, settles), max(high, settles)
    assert found[0] == pytest.approx(low, abs=0.3)
    assert found[1] == pytest.approx(high, abs=0.3)


def test_leverages_count_the_constants() -> None:
    s = [i / 11 for i in range(12)]
    best = best_line(s, [v for _, v in fall(12, 10.0, noise=0.3)])
    assert sum(leverages(best, s)) == pytest.approx(3.0)


def test_students_t_printed() -> None:
    """The two-sided 95 % column of every table."""
    printed = {1: 12.706, 2: 4.303, 3: 3.182, 5: 2.571, 10: 2.228, 30: 2.042, 120: 1.980}
    for freedom, value in printed.items():
        assert student_quantile(0.975, freedom) == pytest.approx(value, abs=5e-4)
