"""Food logs against the model code: exact boundaries, gaps, probe accuracy, cooling, cabinets."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from faultkit.calculators import Calculator
from faultkit.calculators.arguments import Rows
from faultkit.calculators.ask import ask
from faultkit.calculators.food import FOOD
from faultkit.calculators.food.cabinets import (
    cabinet_test,
    prep_table_check,
    room_check,
)
from faultkit.calculators.food.cooling import CoolingCheck, cooling_check, cooling_time
from faultkit.calculators.food.holding import (
    TimeControl,
    cold_holding,
    highest_product_temperature,
    longest_time_above,
    time_above,
    time_control,
    unknown_log_time,
)
from faultkit.calculators.food.limits import food_limit, food_margin, food_temperature_check
from faultkit.calculators.food.terms import CEILING_K, COLD_K, FROM_HOT_K
from faultkit.problems import InputError
from faultkit.units import to_si
from tests.calculators.directions import declared, moves_as_declared

BY_NAME = {c.name: c for c in FOOD}
H = 3600.0
HALF_HOUR = 1800.0
NARROW = {"room": (280.0, 310.0), "temperature": (265.0, 278.0), "limit": (277.0, 279.0), "time": (0.0, 1e5)}


def f(degrees: float) -> float:
    return to_si(degrees, "degF")


def log(*pairs: tuple[float, float]) -> Rows:
    """Rows from (hours, °F)."""
    return tuple((hours * H, f(degrees)) for hours, degrees in pairs)


@st.composite
def readings(draw: st.DrawFn) -> Rows:
    steps = draw(st.lists(st.tuples(st.floats(60.0, 7200.0), st.floats(265.0, 300.0)), min_size=2, max_size=12))
    at, rows = 0.0, []
    for step, temperature in steps:
        at += step
        rows.append((at, temperature))
    return tuple(rows)


@pytest.mark.parametrize(("calculator", "argument"), declared(FOOD), ids=lambda v: getattr(v, "name", v))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(data=st.data())
def test_every_declared_direction_holds(calculator: Calculator, argument: str, data: st.DataObject) -> None:
    moves_as_declared(calculator, argument, data, NARROW, {"readings": readings()})


@pytest.mark.parametrize("calculator", FOOD, ids=lambda c: c.name)
def test_every_example_runs_and_names_its_source(calculator: Calculator) -> None:
    answer = ask(calculator, dict(calculator.example))
    assert answer.figures
    assert calculator.source
    assert ">>>" in (calculator.function.__doc__ or "")


def test_limits_are_those_of_the_units_table() -> None:
    assert (f(41.0), f(70.0), f(135.0)) == (COLD_K, CEILING_K, FROM_HOT_K)
    assert to_si(5.0, "degC") == COLD_K


# -- cold holding ----------------------------------------------------------------


def test_forty_one_is_held() -> None:
    found = cold_holding(log((0.0, 41.0), (0.5, 41.0), (1.0, 40.0)), COLD_K, 0.0, HALF_HOUR)
    assert (found.verdict, found.above, found.surely_above, found.possibly_above) == ("held", 0.0, 0.0, 0.0)


def test_a_tenth_more_is_not() -> None:
    found = cold_holding(log((0.0, 41.1), (0.5, 41.1)), COLD_K, 0.0, HALF_HOUR)
    assert (found.verdict, found.above) == ("above the limit", HALF_HOUR)
    assert "no time is allowed without written procedures" in found.section


@pytest.mark.parametrize(
    ("degrees", "verdict"), [(39.0, "held"), (40.0, "held"), (40.5, "cannot say"), (42.0, "cannot say"),
                             (42.1, "above the limit")],
)
def test_probe_accuracy_of_one_degree(degrees: float, verdict: str) -> None:
    found = cold_holding(log((0.0, degrees), (0.5, degrees)), COLD_K, 1.0 / 1.8, HALF_HOUR)
    assert found.verdict == verdict
    assert found.surely_above <= found.above <= found.possibly_above


def test_a_gap_is_unknown_not_interpolated() -> None:
    rows = log((0.0, 38.0), (0.5, 39.0), (3.5, 39.0), (4.0, 38.0))
    found = cold_holding(rows, COLD_K, 0.0, HALF_HOUR)
    assert (found.above, found.surely_above, found.possibly_above, found.unknown) == (0.0, 0.0, 3.0 * H, 3.0 * H)
    assert found.verdict == "cannot say"
    assert found.longest_possible == 3.0 * H


def test_a_gap_between_warm_rows_is_not_counted_as_sure() -> None:
    rows = log((0.0, 50.0), (0.5, 50.0), (3.5, 50.0), (4.0, 50.0))
    found = cold_holding(rows, COLD_K, 0.0, HALF_HOUR)
    assert (found.surely_above, found.possibly_above, found.longest, found.longest_possible) == (
        H, 4.0 * H, HALF_HOUR, 4.0 * H
    )
    assert found.verdict == "above the limit"


def test_a_gap_of_the_longest_length_is_still_known() -> None:
    assert unknown_log_time(log((0.0, 38.0), (0.5, 38.0)), HALF_HOUR) == 0.0
    assert unknown_log_time(log((0.0, 38.0), (0.51, 38.0)), HALF_HOUR) == pytest.approx(0.51 * H)


def test_crossing_the_limit_between_rows() -> None:
    rows = log((0.0, 40.0), (0.5, 42.0), (1.0, 42.0), (1.5, 40.0))
    assert time_above(rows, COLD_K, HALF_HOUR) == pytest.approx(H, abs=0.1)
    assert longest_time_above(rows, COLD_K, HALF_HOUR) == pytest.approx(H, abs=0.1)
    assert highest_product_temperature(rows) == f(42.0)


@given(rows=readings(), accuracy=st.floats(0.0, 5.0), gap=st.floats(60.0, 7200.0))
def test_sure_read_and_possible_are_in_order(rows: Rows, accuracy: float, gap: float) -> None:
    found = cold_holding(rows, COLD_K, accuracy, gap)
    assert found.surely_above <= found.above + 1e-6
    assert found.above <= found.possibly_above + 1e-6
    assert found.longest <= found.above + 1e-6
    assert found.longest_possible <= found.possibly_above + 1e-6
    whole = rows[-1][0] - rows[0][0]
    assert found.possibly_above <= whole + 1e-6
    assert found.unknown <= whole + 1e-6
    if found.verdict == "held":
        assert found.possibly_above == 0.0
    if found.surely_above > 0.0:
        assert found.verdict == "above the limit"


@given(rows=readings(), shift=st.floats(0.0, 1e6))
def test_the_clock_has_no_zero(rows: Rows, shift: float) -> None:
    moved = tuple((t + shift, k) for t, k in rows)
    assert time_above(moved, COLD_K, 7200.0) == pytest.approx(time_above(rows, COLD_K, 7200.0), abs=1e-3)


@given(rows=readings())
def test_a_row_on_the_line_changes_nothing(rows: Rows) -> None:
    (a, first), (b, second) = rows[0], rows[1]
    between = ((a + b) / 2.0, (first + second) / 2.0)
    more = (rows[0], between, *rows[1:])
    assert time_above(more, COLD_K, 7200.0) == pytest.approx(time_above(rows, COLD_K, 7200.0), abs=0.5)


def test_a_probe_in_the_wrong_unit_is_refused() -> None:
    with pytest.raises(InputError, match=r"row 2 of 'readings' is -389 degF") as fault:
        time_above(((0.0, 278.0), (60.0, 39.0)), COLD_K, HALF_HOUR)
    assert "-100 degF to 400 degF" in str(fault.value)


def test_a_log_written_in_trade_units() -> None:
    answer = ask(BY_NAME["cold_holding"], {
        "readings": "time, temperature (degF)\n22:00, 38\n22:30, 43\n23:00, 44\n23:30, 43\n00:00, 39",
        "accuracy": "2 delta_degF",
    })
    assert answer["verdict"].value == "above the limit"
    assert answer["surely_above"].value == pytest.approx(1.0 * H, abs=0.1)  # read above 43
    assert answer["above"].value == pytest.approx(1.45 * H, abs=0.1)
    assert answer["possibly_above"].value == pytest.approx(1.9 * H, abs=0.1)  # read above 39
    assert answer["highest"].value == f(44.0)


# -- time as a public health control --------------------------------------------------


def control(rows: Rows, accuracy: float = 0.0, procedures: str = "written", gap: float = HALF_HOUR) -> TimeControl:
    return time_control(rows, procedures, COLD_K, CEILING_K, accuracy, gap)


def out(hours: float, start: float = 41.0, end: float = 60.0) -> Rows:
    """From start to end in half-hour rows, straight."""
    steps = max(1, round(hours * 2))
    return log(*((hours * n / steps, start + (end - start) * n / steps) for n in range(steps + 1)))


@pytest.mark.parametrize(
    ("rows", "verdict"),
    [
        (out(4.0), "within the 4 hours"),
        (out(4.0, end=85.0), "within the 4 hours"),
        (out(4.5), "within the 6 hours"),
        (out(6.0, end=70.0), "within the 6 hours"),
        (out(6.5), "to be discarded by the code"),
        (out(5.0, end=70.1), "to be discarded by the code"),
        (out(2.0, start=41.1), "to be discarded by the code"),
        (out(3.0, start=140.0, end=90.0), "within the 4 hours"),
        (out(5.0, start=140.0, end=90.0), "to be discarded by the code"),
    ],
)
def test_four_and_six_hours(rows: Rows, verdict: str) -> None:
    assert control(rows).verdict == verdict


def test_without_written_procedures_there_is_no_allowance() -> None:
    found = control(out(1.0), procedures="none")
    assert found.verdict == "no time allowed"
    assert "no written procedures" in found.section


def test_a_second_over_four_hours_is_over() -> None:
    rows = (*out(4.0)[:-1], (4.0 * H + 1.0, f(75.0)))
    assert control(rows, gap=H).four_hours == "not met"


def test_a_gap_may_hide_the_ceiling() -> None:
    rows = log((0.0, 40.0), (0.5, 45.0), (4.2, 60.0))
    assert (control(rows).six_hours, control(rows).verdict) == ("cannot say", "cannot say")


def test_a_start_within_the_probe_of_the_limit_cannot_be_said() -> None:
    found = control(out(2.0, start=40.5), accuracy=1.0 / 1.8)
    assert (found.four_hours, found.verdict) == ("cannot say", "cannot say")


# -- cooling ---------------------------------------------------------------------------


def cooled(
    rows: Rows, accuracy: float = 0.0, food: str = "cooked", gap: float = H
) -> CoolingCheck:
    return cooling_check(rows, food, accuracy, gap)


QUICK = log((0.0, 150.0), (0.5, 120.0), (1.0, 95.0), (1.5, 80.0), (2.0, 68.0), (3.0, 55.0), (4.0, 46.0), (5.0, 40.0))
SLOW = log((0.0, 150.0), (1.0, 125.0), (2.0, 100.0), (3.0, 80.0), (4.0, 68.0), (5.0, 50.0), (6.0, 42.0), (7.0, 40.0))


def test_quick_and_slow_cooling() -> None:
    assert cooled(QUICK).verdict == "met"
    assert cooled(SLOW).verdict == "not met"


@pytest.mark.parametrize(("minutes", "verdict"), [(0.0, "met"), (1.0, "not met")])
def test_two_hours_count_themselves(minutes: float, verdict: str) -> None:
    late = minutes / 60.0
    rows = log((0.0, 135.0), (1.0, 100.0), (2.0 + late, 70.0), (3.0, 60.0), (4.0, 50.0), (5.0, 41.0))
    assert cooled(rows, gap=2.0 * H).verdict == verdict


@pytest.mark.parametrize(("hours", "verdict"), [(6.0, "met"), (6.05, "not met")])
def test_six_hours_count_themselves(hours: float, verdict: str) -> None:
    rows = log((0.0, 135.0), (1.0, 90.0), (1.9, 70.0), (3.0, 60.0), (4.0, 55.0), (5.0, 48.0), (hours, 41.0))
    assert cooled(rows, gap=2.0 * H).verdict == verdict


def test_a_log_that_begins_too_cool_cannot_say() -> None:
    found = cooled(log((0.0, 120.0), (0.5, 90.0), (1.0, 70.0), (2.0, 50.0), (3.0, 41.0)))
    assert (found.verdict, found.to_70) == ("cannot say", None)


def test_a_log_that_begins_too_cool_and_takes_too_long_has_failed() -> None:
    assert cooled(log((0.0, 130.0), (1.0, 110.0), (2.0, 90.0), (2.5, 80.0))).verdict == "not met"


def test_still_cooling_in_time_cannot_be_said() -> None:
    assert cooled(QUICK[:5]).verdict == "cannot say"


def test_the_probe_leaves_it_open() -> None:
    rows = log((0.0, 140.0), (1.0, 100.0), (2.0, 71.0), (2.5, 66.0), (3.0, 60.0), (4.0, 50.0), (5.0, 40.0))
    assert cooled(rows).verdict == "met"
    assert cooled(rows, accuracy=2.0 / 1.8).verdict == "cannot say"


def test_reaching_it_in_a_gap_leaves_it_open() -> None:
    rows = log((0.0, 140.0), (0.5, 110.0), (1.0, 90.0), (3.0, 60.0), (4.0, 50.0), (5.0, 40.0))
    assert cooled(rows).verdict == "cannot say"


@pytest.mark.parametrize("food", ["made at room temperature", "received warmer by law"])
def test_four_hours_from_room_temperature(food: str) -> None:
    rows = log((0.0, 70.0), (1.0, 60.0), (2.0, 52.0), (3.0, 46.0), (4.0, 41.0))
    assert cooled(rows, food=food).verdict == "met"
    assert cooled((*rows[:-1], (4.1 * H, f(41.0))), food=food, gap=2 * H).verdict == "not met"
    assert cooled(rows, food=food).section.startswith("3-501.14(")


@given(rows=readings(), accuracy=st.floats(0.0, 3.0))
def test_a_less_accurate_probe_never_makes_it_certain(rows: Rows, accuracy: float) -> None:
    plain = cooled(rows, food="made at room temperature").verdict
    doubted = cooled(rows, accuracy=accuracy, food="made at room temperature").verdict
    assert doubted in (plain, "cannot say")


def test_cooling_time_needs_both_ends() -> None:
    with pytest.raises(InputError, match="does not show when the product passed its end, 41 degF"):
        cooling_time(QUICK[:4], FROM_HOT_K, COLD_K, H)
    with pytest.raises(InputError, match="does not show when the product passed its start, 135 degF"):
        cooling_time(QUICK[2:], FROM_HOT_K, COLD_K, H)
    with pytest.raises(InputError, match="is not below the start"):
        cooling_time(QUICK, COLD_K, FROM_HOT_K, H)


# -- limits and cabinets ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("degrees", "step", "verdict"),
    [
        (41.0, "cold holding", "meets the limit"), (41.1, "cold holding", "does not meet the limit"),
        (45.0, "air around raw shell eggs", "meets the limit"),
        (45.1, "receiving raw shell eggs, air", "does not meet the limit"),
        (135.0, "hot holding", "meets the limit"), (134.9, "receiving hot", "does not meet the limit"),
        (41.0, "receiving cold", "meets the limit"),
    ],
)
def test_readings_against_their_limit(degrees: float, step: str, verdict: str) -> None:
    found = food_temperature_check(f(degrees), step)
    assert found.verdict == verdict
    assert abs(food_margin(f(degrees), step)) == pytest.approx(abs(f(degrees) - food_limit(step)))
    assert found.section.startswith("3-")


@pytest.mark.parametrize(
    ("degrees", "verdict"),
    [(86.0, "no hotter than the room it is tested for"), (88.0, "no hotter than the room it is tested for"),
     (88.1, "hotter than the room it is tested for")],
)
def test_kitchens(degrees: float, verdict: str) -> None:
    assert room_check(f(degrees), "open-top preparation table", 2.0 / 1.8).verdict == verdict


@pytest.mark.parametrize(
    ("low", "high", "hours", "verdict"),
    [(33.0, 41.0, 4.0, "keeps 33 to 41 degF"), (33.0, 41.1, 4.0, "too warm"),
     (32.9, 40.0, 4.0, "too cold: product freezes"), (36.0, 40.0, 3.5, "cannot say: log too short or with gaps")],
)
def test_preparation_tables(low: float, high: float, hours: float, verdict: str) -> None:
    steps = round(hours * 2)
    rows = log(*((n / 2.0, low + (high - low) * n / steps) for n in range(steps + 1)))
    assert prep_table_check(rows, f(84.0), 0.0, HALF_HOUR).verdict == verdict


def test_a_hot_kitchen_is_named() -> None:
    rows = log(*((n / 2.0, 43.0) for n in range(9)))
    found = prep_table_check(rows, f(95.0), 0.0, HALF_HOUR)
    assert (found.verdict, found.note) == ("too warm", "room hotter than 86 degF, for which it is tested")


def test_probe_accuracy_at_the_preparation_table() -> None:
    rows = log(*((n / 2.0, 40.5) for n in range(9)))
    assert prep_table_check(rows, f(80.0), 1.0 / 1.8, HALF_HOUR).verdict == "too close to call"


def test_tests_that_give_no_product_temperature() -> None:
    assert cabinet_test("display refrigerator, type I").warmest is None
