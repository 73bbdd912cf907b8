"""Vacuum, decay test and nitrogen test."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultkit.calculators.ask import ask
from faultkit.calculators.charge import CHARGE
from faultkit.calculators.charge.decay import DecayTest, decay_test, vacuum_rise
from faultkit.calculators.charge.nitrogen import nitrogen_pressure, nitrogen_pressure_lost, nitrogen_test
from faultkit.calculators.charge.straight import levels_off_fits, line_slopes
from faultkit.calculators.charge.vacuum import (
    vacuum_reading,
    water_boiling_pressure,
    water_boiling_temperature,
    water_under_vacuum,
)
from faultkit.problems import InputError
from faultkit.units import from_si, to_si
from tests.calculators.decay_logs import decay_log, water_pressure

BY_NAME = {c.name: c for c in CHARGE}
EVERY_MINUTE = tuple(float(m) for m in range(41))
FEW = (0.0, 2.0, 4.0, 6.0, 8.0, 10.0)
ROUGH = (0.01, -0.012, 0.004, -0.006, 0.015, -0.01, 0.0)


def micron(value: float) -> float:
    return to_si(value, "micron")


def decided(rows: tuple[tuple[float, ...], ...], degrees: float = 70.0, **other: float) -> DecayTest:
    given = {
        "limit": micron(1000.0), "hold": 600.0, "settling": 120.0, "accuracy": 0.1, "scatter": 0.02,
        "moisture_level": micron(2500.0), **other,
    }
    return decay_test(rows, to_si(degrees, "degF"), **given)


# -- vacuum and water -----------------------------------------------------------


def test_five_hundred_microns_is_nearly_thirty_inches() -> None:
    reading = vacuum_reading(micron(500.0), 101_325.0)
    assert from_si(reading.depth, "inHg_vac") == pytest.approx(29.90, abs=0.005)
    assert from_si(reading.torr, "mmHg_abs") == pytest.approx(0.5)


@given(t=st.floats(200.0, 390.0))
def test_boiling_temperature_and_pressure_are_inverse(t: float) -> None:
    assert water_boiling_temperature(water_boiling_pressure(t)) == pytest.approx(t, abs=1e-5)


@pytest.mark.parametrize(
    ("microns", "degrees", "state"),
    [(29_000.0, 70.0, "water stays"), (10_000.0, 70.0, "water boils"),
     (500.0, 70.0, "water boils, and freezes as it cools"), (1500.0, 0.0, "ice stays"),
     (500.0, 0.0, "ice turns to vapor")],
)
def test_water_under_vacuum(microns: float, degrees: float, state: str) -> None:
    assert water_under_vacuum(micron(microns), to_si(degrees, "degF")).state == state


# -- lines through bands ---------------------------------------------------------


@given(
    slope=st.floats(-5.0, 5.0), base=st.floats(1.0, 100.0),
    times=st.lists(st.integers(0, 100), min_size=2, unique=True), width=st.floats(1e-6, 0.5), data=st.data(),
)
def test_a_line_that_goes_through_is_found(
    slope: float, base: float, times: list[int], width: float, data: st.DataObject
) -> None:
    bands = []
    for t in sorted(times):
        off = data.draw(st.floats(0.0, 1.0)) * width
        at = base + slope * t
        bands.append((float(t), at - off, at - off + width))
    found = line_slopes(bands)
    assert found is not None
    assert found[0] - 1e-6 <= slope <= found[1] + 1e-6


def test_no_line_through_a_bend() -> None:
    assert line_slopes([(0.0, 0.0, 0.1), (1.0, 1.0, 1.1), (2.0, 1.0, 1.1)]) is None


def test_a_curve_that_levels_off_is_one() -> None:
    from math import exp

    bands = [(t, p - 0.1, p + 0.1) for t in range(20) if (p := 100.0 - 90.0 * exp(-0.3 * t))]
    assert levels_off_fits(bands, 100.0)
    assert not levels_off_fits(bands, 200.0)
    assert not levels_off_fits(bands, 90.0)


# -- decay test --------------------------------------------------------------------


@pytest.mark.parametrize("scatter", [(), ROUGH], ids=["smooth", "rough"])
@pytest.mark.parametrize(
    ("made", "verdict"),
    [
        ({}, "tight"),
        ({"wet": 0.3, "level": 90.0}, "tight"),
        ({"leak": 12.0}, "leak"),
        ({"leak": 400.0}, "leak"),
        ({"wet": 0.15, "level": 300.0}, "moisture"),
        ({"wet": 0.1, "level": 2000.0}, "moisture"),
    ],
    ids=["dry", "a little gas", "small leak", "large leak", "damp oil", "wet"],
)
def test_logs_made_from_physics(made: dict[str, float], verdict: str, scatter: tuple[float, ...]) -> None:
    assert decided(decay_log(minutes=EVERY_MINUTE, scatter=scatter, **made)).verdict == verdict


def test_water_at_its_own_pressure_is_moisture() -> None:
    rows = decay_log(minutes=EVERY_MINUTE, wet=2.0, level=water_pressure(to_si(70.0, "degF")))
    assert decided(rows).verdict == "moisture"


def test_ice_in_a_freezer_levels_off_low() -> None:
    ice = water_pressure(to_si(10.0, "degF"))  # about 1600 microns
    rows = decay_log(minutes=EVERY_MINUTE, start=30.0, wet=0.3, level=ice)
    assert decided(rows, 10.0).verdict == "moisture"


def test_more_than_ice_can_give_is_air() -> None:
    rows = decay_log(minutes=EVERY_MINUTE, leak=6.0, wet=0.4, level=water_pressure(to_si(10.0, "degF")))
    found = decided(rows, 10.0)
    assert found.last > found.water * 1.1
    assert found.verdict in {"leak", "cannot say"}


def test_a_short_log_cannot_say() -> None:
    assert decided(decay_log(minutes=FEW, leak=10.0)).verdict == "cannot say"
    assert decided(decay_log(minutes=FEW, wet=0.02, level=800.0)).verdict == "cannot say"


def test_too_few_rows_cannot_say() -> None:
    found = decided(((0.0, 60.0), (60.0, 400.0), (600.0, 900.0)))
    assert found.verdict == "cannot say"
    assert "fewer than three" in found.why


def test_not_watched_for_long_enough() -> None:
    found = decided(decay_log(minutes=(0.0, 2.0, 3.0, 4.0, 5.0)))
    assert (found.verdict, "watch for 10 min" in found.why) == ("cannot say", True)


def test_a_slow_leak_below_the_limit_is_watched_on() -> None:
    found = decided(decay_log(minutes=FEW, start=60.0, leak=5.0))
    assert found.verdict == "cannot say"
    assert "still rising in a straight line" in found.why


def test_within_the_gauge_of_the_limit() -> None:
    found = decided(decay_log(minutes=EVERY_MINUTE, start=128.0))
    assert (found.verdict, "accuracy" in found.why) == ("cannot say", True)


def test_never_evacuated() -> None:
    assert decided(decay_log(minutes=EVERY_MINUTE, start=5000.0)).verdict == "cannot say"


@given(leak=st.floats(8.0, 2000.0), start=st.floats(20.0, 80.0), degrees=st.floats(40.0, 110.0))
@settings(max_examples=40, deadline=None)
def test_a_leak_is_never_called_tight_or_wet(leak: float, start: float, degrees: float) -> None:
    rows = decay_log(minutes=EVERY_MINUTE, start=start, leak=leak)
    assert decided(rows, degrees).verdict in {"leak", "cannot say"}


@given(
    wet=st.floats(0.01, 3.0), share=st.floats(0.05, 1.0), start=st.floats(20.0, 80.0), degrees=st.floats(40.0, 110.0)
)
@settings(max_examples=60, deadline=None)
def test_water_is_never_called_a_leak(wet: float, share: float, start: float, degrees: float) -> None:
    level = share * water_pressure(to_si(degrees, "degF"))
    rows = decay_log(minutes=EVERY_MINUTE, start=start, wet=wet, level=level)
    # A wide belief about bound moisture: with the default, a straight start towards much water may pass for a leak.
    assert decided(rows, degrees, moisture_level=1e4).verdict != "leak"


def test_rise_is_a_slope_whatever_the_settling() -> None:
    rows = decay_log(minutes=EVERY_MINUTE, leak=10.0)
    assert vacuum_rise(rows, 120.0) == pytest.approx(600.0, rel=1e-3)
    assert vacuum_rise(rows, 0.0) == pytest.approx(600.0, rel=1e-3)


def test_a_log_that_ends_while_settling() -> None:
    with pytest.raises(InputError, match="1 rows are left after 5 min of settling"):
        vacuum_rise(((0.0, 50.0), (60.0, 60.0), (400.0, 70.0)), 300.0)


def test_zero_pressure_is_no_reading() -> None:
    with pytest.raises(InputError, match=r"row 2 of 'readings' is 0 Pa"):
        decided(((0.0, 50.0), (60.0, 0.0), (400.0, 70.0)))


# -- nitrogen -----------------------------------------------------------------------


@given(p=st.floats(2e5, 4.4e6), t=st.floats(245.0, 335.0), there=st.floats(245.0, 335.0))
def test_nitrogen_comes_back(p: float, t: float, there: float) -> None:
    assert nitrogen_pressure(nitrogen_pressure(p, t, there), there, t) == pytest.approx(p, rel=1e-9)


@given(p=st.floats(2e5, 4.4e6), t=st.floats(245.0, 335.0))
def test_nitrogen_that_stays_as_warm_loses_nothing(p: float, t: float) -> None:
    assert nitrogen_pressure_lost(p, t, p, t) == pytest.approx(0.0, abs=1e-6 * p)


@pytest.mark.parametrize(
    ("later", "verdict"),
    [(143.9, "no loss beyond the instruments' accuracy"), (142.5, "no loss beyond the instruments' accuracy"),
     (141.0, "leak"), (147.0, "rose: temperature not even, or gauge or thermometer wrong")],
)
def test_nitrogen_in_words(later: float, verdict: str) -> None:
    found = nitrogen_test(
        to_si(164.696, "psia"), to_si(90.0, "degF"), to_si(later + 14.696, "psia"), to_si(70.0, "degF"),
        to_si(0.5, "psi"), 1.0 / 1.8,
    )
    assert found.verdict == verdict


def test_nitrogen_at_altitude_uses_the_air_there() -> None:
    given = {"pressure": "150 psig", "temperature": "90 degF", "later_temperature": "70 degF"}
    here, high = (ask(BY_NAME["nitrogen_pressure"], given, atmosphere=a) for a in (101_325.0, 80_000.0))
    drop_here, drop_high = 150.0 - from_si(here.value - 101_325.0, "psi"), 150.0 - from_si(high.value - 80e3, "psi")
    assert drop_here == pytest.approx(6.1, abs=0.1)
    assert drop_high < drop_here - 0.1


def test_a_gauge_beyond_the_test_is_refused() -> None:
    with pytest.raises(InputError, match=r"'pressure' of 'nitrogen_pressure' is 914\.7 psia"):
        ask(BY_NAME["nitrogen_pressure"], {
            "pressure": "900 psig", "temperature": "70 degF", "later_temperature": "60 degF",
        })
