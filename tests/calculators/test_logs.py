"""Logs: tables of readings over time as text, files and rows."""

from __future__ import annotations

import pytest

from faultkit.calculators import Column, Log
from faultkit.calculators.logs import read_log
from faultkit.problems import InputError
from faultkit.units import Kind, to_si

LOG = Log("log", (
    Column("time", Kind.TIME, unit="min", rising=True), Column("temperature", Kind.TEMPERATURE, unit="degF"),
))
VACUUM = Log("log", (Column("time", Kind.TIME, rising=True), Column("pressure", Kind.ABSOLUTE_PRESSURE)))
SWITCH = Log("log", (Column("time", Kind.TIME, rising=True), Column("running", Kind.COUNT)))


def f(value: float) -> float:
    return to_si(value, "degF")


@pytest.mark.parametrize(
    "text",
    [
        "time (min), temperature (degF)\n0, 70\n5, 64.5\n",
        "temperature [degF];time [min]\n70;0\n\n64.5;5\n",
        "# a note\ntime\ttemperature\n0 min\t70 degF\n5 min\t64.5 °F\n",
        "Time, Temperature (F°)\n".replace("F°", "degF") + "14:00, 70\n14:05, 64.5\n",
        "time, temperature (degF)\n2026-03-04 23:58, 70\n2026-03-05 00:03, 64.5\n",
    ],
)
def test_the_same_log_however_written(text: str) -> None:
    (a, first), (b, second) = read_log(text, LOG)
    assert b - a == 300.0
    assert (first, second) == (f(70.0), f(64.5))


def test_a_clock_goes_on_past_midnight() -> None:
    rows = read_log("time, temperature (degF)\n23:50, 40\n00:10, 41\n23:00, 42\n00:30, 43", LOG)
    assert [t / 60.0 for t, _ in rows] == [0.0, 20.0, 1390.0, 1480.0]


def test_rows_hold_si_numbers_or_texts() -> None:
    assert read_log([(0.0, 300.0), ("5 min", "41 degF")], LOG) == ((0.0, 300.0), (300.0, f(41.0)))


def test_a_gauge_pressure_in_a_log_becomes_absolute() -> None:
    rows = read_log("time (min), pressure\n0, 500 micron\n1, 10 inHg_vac\n", VACUUM, atmosphere=100_000.0)
    assert rows[0][1] == pytest.approx(66.66, abs=0.01)
    assert rows[1][1] == pytest.approx(100_000.0 - 33_863.9, abs=0.1)


def test_on_and_off() -> None:
    assert read_log("time (min), running\n0, on\n3, off\n9, yes\n", SWITCH) == ((0.0, 1.0), (180.0, 0.0), (540.0, 1.0))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "log is empty"),
        ("time (min)\n1\n", "there is no column 'temperature'"),
        ("time (min), temp (degF)\n1, 2\n", "column 'temp (degF)' is not known"),
        ("time (min), time (h), temperature (degF)\n", "column 'time' stands twice"),
        ("time (min), temperature (psig)\n0, 1\n", "is a gauge pressure, not a temperature"),
        ("time (min), temperature (delta_degF)\n0, 1\n", "is a temperature difference"),
        ("time (min), temperature (degF)\n0, 70, 3\n", "line 2 of log has 3 cells, the head line 2"),
        ("time, temperature (degF)\n0, 70\n", "'0' has no unit"),
        ("time (min), temperature (degF)\n0, warm\n", "line 2 of log, temperature"),
        ("time (min), temperature (degF)\n25:00, 70\n", "'25:00' is no time of day"),
        ("time (min), temperature (degF)\nlater:on, 70\n", "'later:on' is no time"),
        ("time (min), temperature (degF)\n0, -900\n", "temperature"),
    ],
)
def test_a_log_that_cannot_be_read(text: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        read_log(text, LOG)
    assert told in str(caught.value)


def test_every_bad_cell_is_told_with_its_line() -> None:
    with pytest.raises(InputError) as caught:
        read_log("time (min), temperature (degF)\n0, x\n1, 70\n2, y\n", LOG, file="pull.csv")
    assert [str(p.where).partition(" ")[0] for p in caught.value.problems] == ["pull.csv:2:1", "pull.csv:4:1"]


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ((), "'log' of 'fit' has 0 rows"),
        (((0.0, 300.0),), "'log' of 'fit' has 1 row"),
        (((0.0, 300.0), (0.0, 301.0)), "time does not rise"),
        (((0.0, 300.0), (1.0, float("nan"))), "row 2 of 'log' of 'fit'"),
        (((0.0, 300.0), (1.0,)), "row 2 of 'log' of 'fit'"),
        ("warm", "is no log"),
    ],
)
def test_rows_that_are_no_log(rows: object, told: str) -> None:
    assert any(told in p.what for p in LOG.problems("fit", rows))
