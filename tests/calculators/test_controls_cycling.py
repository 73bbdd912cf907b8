"""Logs of on and off, the cycling model, time delays."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators import CalculatorRegistry
from faultkit.calculators.ask import ask
from faultkit.calculators.controls import CONTROLS
from faultkit.calculators.controls.cycling import cycling_log, run_fraction, shortest_run, starts_per_hour
from faultkit.calculators.controls.cycling_model import cycling_rate, most_cycling_rate, run_fraction_by_meter
from faultkit.calculators.controls.timers import last_restart_time, next_restart_delay
from faultkit.problems import InputError

REGISTRY = CalculatorRegistry(CONTROLS)
DAY = 86_400.0


def log_of(*rows: tuple[float, float]) -> tuple[tuple[float, ...], ...]:
    return tuple((float(t), float(s)) for t, s in rows)


def test_cut_off_cycles_at_the_ends_do_not_bias_the_rate() -> None:
    """Ten minutes of period, cut at every place: the rate stays six an hour."""
    switches = [(600.0 * n + d, s) for n in range(12) for d, s in ((0.0, 1.0), (240.0, 0.0))]
    for begin in range(10, 600, 70):
        for end in range(3000, 6000, 490):
            inside = [(t, s) for t, s in switches if begin < t < end]
            before = [s for t, s in switches if t <= begin][-1]
            last = [s for t, s in switches if t <= end][-1]
            log = log_of((begin, before), *inside, (end, last))
            assert starts_per_hour(log) * 3600 == pytest.approx(6.0)
            assert run_fraction(log) == pytest.approx(0.4)
            assert shortest_run(log) == 240.0


def test_partial_ends_count_as_longest_never_as_shortest() -> None:
    a = cycling_log(log_of((0, 1), (50, 0), (300, 1), (500, 0), (900, 0)), 12 / 3600, 120.0, 180.0)
    assert (a.shortest_run, a.longest_run, a.shortest_off, a.longest_off) == (200.0, 200.0, 250.0, 400.0)
    assert a.starts_per_hour is None
    assert a.run_fraction == pytest.approx(250 / 900)
    assert a.verdict == "too short a log to tell"


def test_a_log_that_never_changes() -> None:
    a = cycling_log(log_of((0, 1), (600, 1), (7200, 1)), 12 / 3600, 120.0, 180.0)
    assert (a.starts, a.whole_cycles, a.run_fraction, a.longest_run, a.longest_off) == (0, 0, 1.0, 7200.0, None)


def test_a_log_that_ends_on_a_change_has_seen_the_last_time_whole() -> None:
    log = log_of((0, 0), (100, 1), (400, 0))
    assert shortest_run(log) == 300.0
    assert cycling_log(log_of((0, 1), (100, 0), (400, 1)), 1.0, 1.0, 1.0).starts == 1


def test_samples_and_changes_read_alike() -> None:
    changes = log_of((0, 0), (60, 1), (180, 0), (360, 1), (480, 0), (600, 0))
    samples = log_of(*((t, [s for b, s in changes if b <= t][-1]) for t in range(0, 601, 20)))
    assert cycling_log(samples, 12 / 3600, 120.0, 180.0) == cycling_log(changes, 12 / 3600, 120.0, 180.0)


def test_short_cycling_names_what_and_how_often() -> None:
    rows = [(300.0 * n + d, s) for n in range(12) for d, s in ((0.0, 0.0), (240.0, 1.0))]
    a = cycling_log(log_of(*rows, (3600, 0)), 10 / 3600, 120.0, 300.0)
    assert a.verdict == (
        "short cycling, too many starts; short cycling, runs too short; short cycling, off times too short"
    )
    assert a.conflicts[0] == "short cycling, too many starts: 12 per_h, 12 in the busiest hour; at most 10 per_h"
    assert a.conflicts[1] == "short cycling, runs too short: 12 of 12, shortest 1 min; at least 2 min"


def test_the_busiest_hour_is_no_longer_than_an_hour() -> None:
    rows = [(1800.0 * n + d, s) for n in range(6) for d, s in ((0.0, 0.0), (900.0, 1.0))]
    assert cycling_log(log_of(*rows, (10_800, 0)), 1.0, 0.0, 0.0).busiest_hour == 2


def test_a_busy_hour_in_a_quiet_day_is_seen() -> None:
    busy = [(3600.0 + 200 * n + d, s) for n in range(16) for d, s in ((0.0, 1.0), (100.0, 0.0))]
    a = cycling_log(log_of((0, 0), *busy, (80_000, 1), (86_400, 0)), 12 / 3600, 0.0, 0.0)
    assert a.busiest_hour == 16
    assert a.starts_per_hour is not None
    assert a.starts_per_hour * 3600 < 1.0
    assert a.verdict == "short cycling, too many starts"


@pytest.mark.parametrize(("rows", "message"), [
    (((0.0, 0.5), (1.0, 1.0)), "row 1 of the log has the state 0.5"),
    (((0.0, 0.0),), "the log has 1 row"),
    (((0.0, 0.0), (0.0, 1.0)), "row 2 of the log is not later"),
    (((0.0, 0.0), (5.0, 1.0), (9.0, 1.0)), "a log with at least 2 starts"),
])
def test_logs_without_meaning(rows: tuple[tuple[float, ...], ...], message: str) -> None:
    with pytest.raises(InputError) as caught:
        starts_per_hour(rows)
    assert message in str(caught.value)


def test_a_log_without_a_whole_run_has_no_shortest() -> None:
    with pytest.raises(InputError, match="no run from start to stop"):
        shortest_run(log_of((0, 0), (5, 1), (9, 1)))


TIMES = st.lists(st.integers(1, 5000), min_size=4, max_size=40)


@given(TIMES, st.booleans(), st.floats(0.1, 100))
def test_a_log_in_other_units_of_time_scales(steps: list[int], first: bool, scale: float) -> None:
    times = [0.0, *(float(sum(steps[:i + 1])) for i in range(len(steps)))]
    log = log_of(*((t, float((i + first) % 2)) for i, t in enumerate(times)))
    slow = log_of(*((t * scale, s) for t, s in log))
    a, b = (cycling_log(x, 1.0, 0.0, 0.0) for x in (log, slow))
    assert b.run_fraction == pytest.approx(a.run_fraction)
    assert (a.shortest_run or 0.0) * scale == pytest.approx(b.shortest_run or 0.0)
    assert 0.0 <= a.run_fraction <= 1.0
    if a.whole_cycles:
        assert a.starts_per_hour is not None
        assert b.starts_per_hour is not None
        assert a.starts_per_hour == pytest.approx(b.starts_per_hour * scale)
        assert a.mean_run is not None
        assert a.mean_off is not None


@given(st.floats(0.02, 0.98), st.floats(0.5 / 3600, 30 / 3600))
def test_the_model_and_its_inverse(share: float, most: float) -> None:
    rate = cycling_rate(share, most)
    assert rate <= most * (1 + 1e-12)
    assert rate == pytest.approx(cycling_rate(1.0 - share, most))
    assert most_cycling_rate(rate, share) == pytest.approx(most)


def test_a_meter_cannot_run_faster_than_time() -> None:
    with pytest.raises(InputError, match="counted 30 h in 24 h"):
        run_fraction_by_meter(0.0, 30 * 3600.0, DAY)
    with pytest.raises(InputError, match="between nothing"):
        run_fraction_by_meter(10.0, 5.0, DAY)


# -- delays -----------------------------------------------------------------------


@pytest.mark.parametrize(("given", "name"), [
    ({"set_delay": "5 min"}, "no conflict"),
    ({"set_delay": "3 min"}, "delay may be too short"),
    ({"set_delay": "2 min"}, "delay is too short"),
    ({"set_delay": "10 min"}, "delay may be too long"),
    ({"set_delay": "12 min"}, "delay is too long"),
])
def test_delay_conflicts(given: dict[str, str], name: str) -> None:
    assert ask(REGISTRY["delay_relay_check"], given)["verdict"].value == name


@given(st.floats(1, 600), st.floats(0, 0.4), st.floats(0, 10), st.integers(1, 8))
def test_units_restart_one_after_the_other(first: float, tolerance: float, start: float, units: int) -> None:
    delays = [first]
    for _ in range(units - 1):
        delays.append(next_restart_delay(delays[-1], tolerance, start))
    for one, two in pairwise(delays):
        assert two * (1 - tolerance) >= one * (1 + tolerance) + start - 1e-6
    assert last_restart_time(float(units), first, tolerance, start) == pytest.approx(delays[-1] * (1 + tolerance))


def test_half_a_unit_does_not_restart() -> None:
    with pytest.raises(InputError, match="a whole number"):
        last_restart_time(2.5, 60.0, 0.1, 2.0)
