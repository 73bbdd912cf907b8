"""Defrost and its clock: values, verdicts, bad input."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators import CalculatorRegistry
from faultkit.calculators.ask import Answer, ask
from faultkit.calculators.controls import CONTROLS
from faultkit.calculators.controls.clock import clock_text, parse_clock, parse_starts, starts_text
from faultkit.calculators.controls.defrost import defrost_ending, fail_safe_share, frost_melt_time
from faultkit.problems import InputError

REGISTRY = CalculatorRegistry(CONTROLS)


def told(name: str, **given: str) -> Answer:
    return ask(REGISTRY[name], given)


def verdict(name: str, **given: str) -> str:
    return str(told(name, **given)["verdict"].value)


# -- defrost ----------------------------------------------------------------------

HEATED = {
    "evaporating_temperature": "-20 degF", "termination_temperature": "50 degF", "fan_delay_temperature": "25 degF",
    "fail_safe": "45 min", "drip_time": "2 min",
}


@pytest.mark.parametrize(("changed", "name"), [
    ({}, "no conflict"),
    ({"termination_temperature": "40 degF"}, "terminates too early"),
    ({"termination_temperature": "80 degF"}, "terminates too warm"),
    ({"fan_delay_temperature": "40 degF"}, "fans blow water"),
    ({"fan_delay_temperature": "-20 degF"}, "fans do not start"),
    ({"fail_safe": "10 min"}, "fail-safe too short"),
    ({"fail_safe": "2 h"}, "fail-safe too long"),
    ({"drip_time": "0 min"}, "drip time too short"),
    ({"drip_time": "20 min"}, "drip time too long"),
])
def test_defrost_setting_conflicts(changed: dict[str, str], name: str) -> None:
    assert verdict("defrost_settings_check", **{**HEATED, **changed}) == name


def test_too_little_of_the_day_left_is_named() -> None:
    a = told("defrost_day", defrosts="6 count", length="60 min", heater_power="1 kW")
    assert a["conflicts"].value == ("too little time to refrigerate: 17.5 h of the day left, sized for 18 h",)


@pytest.mark.parametrize(("lengths", "words"), [
    ((2700, 2650, 2700), "ended by the fail-safe every time: termination not working"),
    ((2700, 1500, 1300), "ended by the fail-safe now and then"),
    ((1500, 1520, 1490), "equally long every time: looks ended by time, not by temperature"),
    ((900, 1500, 1300), "ended by temperature"),
    ((90, 100, 200), "cut short every time"),
    ((2700, 3000, 1300), "ran past the fail-safe: clock or heater contactor does not end it"),
    ((2700, 2700), "too few defrosts to tell"),
])
def test_how_defrosts_ended(lengths: tuple[float, ...], words: str) -> None:
    rows = tuple((n * 21_600.0, float(length)) for n, length in enumerate(lengths))
    assert defrost_ending(rows, 2700.0, 60.0, 300.0, 3.0).verdict == words


def test_a_defrost_that_ends_just_before_the_fail_safe_counts_as_ended_by_it() -> None:
    rows = ((0.0, 2650.0), (21_600.0, 2639.0))
    assert fail_safe_share(rows, 2700.0, 60.0) == 0.5
    assert fail_safe_share(rows, 2700.0, 0.0) == 0.0


@pytest.mark.parametrize(("rows", "message"), [
    (((0.0, 4000.0), (3600.0, 60.0)), "defrosts that end before the next begins"),
    (((0.0, -1.0),), "a length below zero"),
    ((), "has no row"),
])
def test_a_log_of_defrosts_without_meaning(rows: tuple[tuple[float, ...], ...], message: str) -> None:
    with pytest.raises(InputError, match=message):
        fail_safe_share(rows, 2700.0, 60.0)


@given(st.floats(0.01, 20), st.floats(220, 273), st.floats(100, 5000), st.floats(0.1, 1.0))
def test_melting_scales_with_frost_and_heat(mass: float, coil: float, power: float, share: float) -> None:
    time = frost_melt_time(mass, coil, power, share)
    assert frost_melt_time(2 * mass, coil, power, share) == pytest.approx(2 * time)
    assert frost_melt_time(mass, coil, 2 * power, share) == pytest.approx(time / 2)
    assert time * power * share > mass * 333e3


@pytest.mark.parametrize(("name", "given", "message"), [
    ("defrost_heater_time", {"defrosts": "24 count", "length": "70 min"}, "make 28 h a day"),
    ("share_not_refrigerating", {"defrosts": "24 count", "length": "58 min"}, "make 25.2 h a day"),
    ("longest_time_between_defrosts", {"starts": "02:00 02:30", "length": "30 min"}, "as close as 30 min"),
    ("defrost_settings_check", {**HEATED, "least_drip": "11 min"}, "a least value lies above its most"),
])
def test_defrost_without_meaning(name: str, given: dict[str, str], message: str) -> None:
    with pytest.raises(InputError, match=message):
        told(name, **given)


# -- clock ------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "seconds"), [
    ("14:05", 50_700), ("2:05 PM", 50_700), ("2:05pm", 50_700), ("2 p.m.", 50_400), ("12:00 AM", 0), ("12 pm", 43_200),
    ("00:00", 0), ("23:59:30", 86_370),
])
def test_times_of_day_are_read(text: str, seconds: float) -> None:
    assert parse_clock(text) == seconds
    assert parse_clock(clock_text(text)) == seconds


@pytest.mark.parametrize("text", ["24:00", "7", "13 pm", "0:30 am", "noon", "12:60", "", "1:2:3:4", "-1:00"])
def test_what_is_no_time_of_day_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="no time of day"):
        parse_clock(text)


@given(st.sets(st.integers(0, 1439), min_size=1, max_size=8), st.sampled_from([" ", ", ", "; "]))
def test_starts_are_read_in_any_order(minutes: set[int], between: str) -> None:
    text = between.join(f"{m // 60}:{m % 60:02d}" for m in sorted(minutes, reverse=True))
    assert parse_starts(text) == tuple(60.0 * m for m in sorted(minutes))
    assert parse_starts(starts_text(text)) == parse_starts(text)


def test_starts_with_am_and_pm() -> None:
    assert starts_text("2 AM 8:00 am, 2 pm 8:00 p.m.") == "02:00 08:00 14:00 20:00"


@pytest.mark.parametrize("text", ["", "02:00 02:00", "02:00 and 08:00", "25:00", "02:00 8"])
def test_starts_without_meaning_are_refused(text: str) -> None:
    with pytest.raises(InputError):
        parse_starts(text)


@pytest.mark.parametrize(("shown", "true", "hours", "direction", "likely"), [
    ("10:05", "10:00", 5 / 60, "right", ""),
    ("11:00", "10:00", 1.0, "fast", "daylight saving"),
    ("04:00", "16:00", 12.0, "slow", "AM and PM swapped"),
    ("23:30", "00:15", 0.75, "slow", "power off for 45 min"),
    ("00:15", "21:30", 2.75, "fast", "set wrong"),
])
def test_clock_errors(shown: str, true: str, hours: float, direction: str, likely: str) -> None:
    a = told("clock_error", shown=shown, true=true)
    assert a["error"].value == pytest.approx(hours * 3600)
    if hours != 12.0:
        assert a["direction"].value == direction
    assert likely in a["likely"].value
    assert bool(likely) == bool(a["likely"].value)


def test_a_twelve_hour_dial_cannot_show_am_and_pm() -> None:
    a = told("clock_error", shown="04:00", true="16:00", dial="12_hour")
    assert a["error"].value == 0.0
    assert a["direction"].value == "right"


def drift(shown: str, true: str, days: str, **given: str) -> Answer:
    first = {"shown_first": "08:00", "true_first": "08:00"}
    return told("clock_drift", **first, shown_last=shown, true_last=true, days=days, **given)


def test_drift_names_what_fits() -> None:
    assert drift("12:48", "08:00", "1 count")["fits"].value == ("a 50 Hz clock on 60 Hz",)
    assert "stopped: no power to the clock motor, or the motor dead" in drift("08:00", "11:00", "0 count")["fits"].value
    assert drift("13:30", "16:00", "0 count")["fits"].value == ("power off for 2.5 h between the looks",)
    hand = ("set by hand between the looks, or a worn or slipping drive",)
    assert drift("16:40", "16:00", "0 count")["fits"].value == hand


def test_a_look_after_exactly_a_turn_of_the_dial_proves_nothing() -> None:
    fits = drift("08:00", "08:00", "1 count")["fits"].value
    assert fits[0] == "keeps time"
    assert fits[1].startswith("stopped")


def test_whole_turns_that_a_dial_hides_are_noted() -> None:
    assert drift("08:00", "10:00", "2 count")["note"].value == ""
    assert "whole turn" in drift("08:00", "08:00", "6 count")["note"].value
    assert "a 60 Hz clock on 50 Hz" in drift("08:00", "08:00", "6 count")["fits"].value


@pytest.mark.parametrize(("name", "given", "message"), [
    ("clock_drift", {"shown_last": "08:00", "true_last": "07:00", "days": "0 count"}, "is not after the first"),
    ("clock_drift", {"shown_last": "08:00", "true_last": "09:00", "days": "1.5 count"}, "a whole number of dates"),
])
def test_looks_in_the_wrong_order(name: str, given: dict[str, str], message: str) -> None:
    with pytest.raises(InputError, match=message):
        told(name, shown_first="08:00", true_first="08:00", **given)


def test_service_past_midnight_and_a_defrost_that_reaches_into_it() -> None:
    given = {"shown": "00:00", "true": "00:00", "length": "40 min", "service_start": "22:00", "service_end": "02:00"}
    a = told("defrost_times", starts="01:30 02:00 12:00 21:30", **given)
    assert [row[2] for row in a["rows"].value] == [1.0, 0.0, 0.0, 1.0]
    assert a["told"].value[0] == "01:30 on the dial is 01:30, in service"


def test_service_of_no_length_is_refused() -> None:
    with pytest.raises(InputError, match="begins and ends at 09:00"):
        told("defrosts_in_service", starts="01:30", shown="00:00", true="00:00", length="40 min",
             service_start="09:00", service_end="9 am")
