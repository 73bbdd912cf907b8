"""Motors, windings, overload and insulation: what is told and what is refused."""

from __future__ import annotations

from itertools import permutations
from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators.ask import ask
from faultkit.calculators.electrical import ELECTRICAL
from faultkit.calculators.electrical.insulation import (
    ground_limit,
    hermetic_insulation_check,
    insulation_check,
    insulation_minimum,
    insulation_resistance_at_40c,
)
from faultkit.calculators.electrical.motors import (
    locked_rotor_current,
    locked_rotor_ratio,
    motor_current_at_voltage,
    motor_state,
    starting_torque_ratio,
)
from faultkit.calculators.electrical.overload import (
    overload_pattern,
    winding_resistance,
    winding_temperature,
    winding_temperature_rise,
)
from faultkit.calculators.electrical.windings import (
    single_phase_winding_check,
    three_phase_winding_check,
    winding_sum_error,
    winding_terminals,
)
from faultkit.problems import InputError

BY_NAME = {c.name: c for c in ELECTRICAL}
OHMS = st.floats(0.3, 50.0)
WARMTH = st.floats(250.0, 400.0)


def bad_order(name: str) -> pytest.RaisesExc[InputError]:
    return pytest.raises(InputError, match=rf"{name}(.|\n)*expected: the low(er one|est) first")


# -- motors -------------------------------------------------------------------------


@pytest.mark.parametrize(("amps", "seconds", "verdict"), [
    (0.1, 10.0, "no current"), (3.0, 10.0, "runs light"), (11.0, 10.0, "runs"), (14.5, 10.0, "runs overloaded"),
    (52.0, 1.0, "starting, too early to say"), (52.0, 3.5, "stalled"), (46.0, 5.0, "stalled"),
])
def test_what_a_motor_does(amps: float, seconds: float, verdict: str) -> None:
    assert motor_state(amps, 12.0, 60.0, 230.0, 207.0, seconds).verdict == verdict


def test_nameplate_numbers_exchanged_are_refused() -> None:
    with pytest.raises(InputError, match="rated_locked_rotor_current 12 A is not above rated_load_current 60 A"):
        motor_state(11.0, 60.0, 12.0, 230.0, 230.0, 10.0)
    with bad_order("light_to"):
        motor_state(11.0, 12.0, 60.0, 230.0, 230.0, 10.0, heavy_from=0.5, light_to=0.9)


def test_the_rule_of_constant_load_ends_where_the_motor_gives_up() -> None:
    with pytest.raises(InputError, match=r"other_voltage 170 V against 230 V(.|\n)*184 V to 276 V"):
        motor_current_at_voltage(12.0, 230.0, 170.0)


@given(st.floats(5.0, 200.0), st.floats(190.0, 250.0), st.floats(0.8, 1.2))
def test_low_voltage(amps: float, volts: float, share: float) -> None:
    assert isclose(motor_current_at_voltage(amps, volts, share * volts) * share, amps, rel_tol=1e-9)
    assert isclose(starting_torque_ratio(share * volts, volts), share * share, rel_tol=1e-9)
    locked = locked_rotor_current(amps, volts, share * volts)
    assert isclose(locked_rotor_ratio(locked, amps, volts, share * volts), 1.0, rel_tol=1e-9)


# -- windings -----------------------------------------------------------------------


@given(OHMS, OHMS, st.permutations("123"))
def test_terminals_are_found_in_any_order(run: float, more: float, order: list[str]) -> None:
    start = run + more
    at = dict(zip(order, "CRS", strict=True))
    ohms = {frozenset("CR"): run, frozenset("CS"): start, frozenset("RS"): run + start}
    found = winding_terminals(*(ohms[frozenset((at[a], at[b]))] for a, b in ("12", "13", "23")))
    assert found.verdict == "told"
    assert (found.common, found.run, found.start) == tuple(order)


def test_terminals_too_close_to_call_are_not_told() -> None:
    alike = winding_terminals(6.0, 3.0, 3.0)
    assert (alike.verdict, alike.common, alike.run) == ("common told, run and start too close to call", "3", None)
    assert winding_terminals(2.0, 2.0, 0.05).verdict == "too close to call"
    wrong = winding_terminals(6.0, 8.0, 7.0)
    assert wrong.verdict.startswith("the largest is not the sum")
    assert wrong.common is None


@given(OHMS, OHMS, st.floats(0.0, 1.0))
def test_windings_in_series_add_up(run: float, more: float, off: float) -> None:
    start = run + more
    assert isclose(winding_sum_error(run, start, run + start), 0.0, abs_tol=1e-12)
    assert isclose(winding_sum_error(run, start, (run + start) * (1.0 + off)), off, abs_tol=1e-9)
    assert single_phase_winding_check(run, start, run + start).verdict == "good"


def test_readings_that_do_not_fit_are_told() -> None:
    assert single_phase_winding_check(1.5, 4.5, 7.0).verdict.startswith("do not add up")
    assert single_phase_winding_check(4.5, 1.5, 6.0).verdict.startswith("start not above run")
    # A tenth of an ohm is the meter, not the motor.
    assert single_phase_winding_check(0.4, 0.9, 1.4).verdict == "good"


@pytest.mark.parametrize(("ohms", "verdict"), [
    ((1.02, 1.00, 1.01), "alike"), ((1.0, 1.0, 2.0), "one phase of a delta open"),
    ((2.0, 1.4, 1.4), "unlike: shorted turns or a bad joint"), ((1e9, 1e9, 2.0), "open at T2"),
    ((1e9, 1e9, 1e9), "open: two leads or more"), ((1e9, 1.0, 1.0), "contradictory"), ((0.5, 0.45, 0.5), "alike"),
])
def test_three_phase_readings(ohms: tuple[float, float, float], verdict: str) -> None:
    for order in permutations(ohms):
        found = three_phase_winding_check(*order).verdict
        assert found.startswith(verdict[:4])
    assert three_phase_winding_check(*ohms).verdict.startswith(verdict)


# -- overload and winding temperature -------------------------------------------------


def test_a_hot_compressor_is_not_condemned() -> None:
    hot = overload_pattern("open", "open", "reads", 350.0)
    assert hot.verdict == "too hot to judge"
    assert "cool" in hot.next
    cool = overload_pattern("open", "open", "reads", 300.0)
    assert cool.verdict == "overload open on a cool shell"
    assert overload_pattern("open", "open", "reads", 320.0, cool_below=310.0).verdict == "too hot to judge"


def test_a_winding_is_not_taken_for_the_overload() -> None:
    for shell in (300.0, 350.0):
        assert overload_pattern("open", "reads", "open", shell).verdict == "run winding open"
        assert overload_pattern("reads", "open", "open", shell).verdict == "start winding open"
        assert overload_pattern("open", "open", "open", shell).verdict == "a winding open"
        assert overload_pattern("reads", "reads", "reads", shell).verdict == "nothing open"
    for pattern in permutations(("open", "reads", "reads")):
        assert overload_pattern(pattern[0], pattern[1], pattern[2], 350.0).verdict == "contradictory"


def test_near_the_limit_of_heat_the_other_verdict_is_named_too() -> None:
    answer = ask(BY_NAME["overload_pattern"], {
        "common_run": "open", "common_start": "open", "run_start": "reads",
        "shell_temperature": "128 degF ± 5 delta_degF",
    })
    assert answer["verdict"].value == "overload open on a cool shell"
    assert "too hot to judge" in answer["verdict"].others


@given(OHMS, st.floats(270.0, 320.0), st.floats(270.0, 450.0))
def test_winding_temperature_comes_back_from_its_resistance(ohm: float, cold: float, hot: float) -> None:
    there = winding_resistance(ohm, cold, hot)
    assert isclose(winding_temperature(ohm, cold, there), hot, rel_tol=1e-9)
    assert isclose(winding_temperature_rise(ohm, cold, there, cold), hot - cold, abs_tol=1e-6)


def test_a_winding_that_cannot_be_so_hot_is_refused() -> None:
    with pytest.raises(InputError, match=r"3 ohm hot against 1 ohm cold would be .* degF(.|\n)*to 572 degF"):
        winding_temperature(1.0, 293.15, 3.0)


# -- insulation ----------------------------------------------------------------------


def test_least_insulation() -> None:
    assert insulation_minimum(230.0) == 5e6
    assert round(insulation_minimum(230.0, "before_1970")) == 1_230_000
    assert insulation_check(2e6, 313.15, 230.0).verdict.startswith("too low")
    assert insulation_check(2e6, 313.15, 230.0, "before_1970").verdict == "good"


@given(st.floats(1e5, 1e10), st.floats(284.0, 322.0))
def test_insulation_halves_every_ten_kelvin(ohm: float, temperature: float) -> None:
    colder = insulation_resistance_at_40c(ohm, temperature)
    assert isclose(insulation_resistance_at_40c(ohm, temperature + 10.0), 2.0 * colder, rel_tol=1e-9)
    for kind in ("thermoplastic", "thermosetting"):
        assert isclose(insulation_resistance_at_40c(ohm, 313.15, kind), ohm, rel_tol=1e-9)


def test_no_correction_outside_its_temperatures() -> None:
    with pytest.raises(InputError, match=r"winding_temperature is 158 degF(.|\n)*50 degF to 140 degF for thermo"):
        insulation_resistance_at_40c(20e6, 343.15)
    assert insulation_resistance_at_40c(20e6, 343.15, "thermosetting") > 20e6


@pytest.mark.parametrize(("megohms", "verdict"), [
    (0.2, "failed"), (0.6, "contaminated or moist"), (20.0, "watch"), (100.0, "good"),
])
def test_the_scale_for_hermetics(megohms: float, verdict: str) -> None:
    assert hermetic_insulation_check(megohms * 1e6, 230.0).verdict == verdict
    with bad_order("failed"):
        hermetic_insulation_check(megohms * 1e6, 230.0, good=1e6)


def test_a_dead_ground_fails_whatever_the_scale() -> None:
    assert ground_limit(230.0) == 230e3
    assert ground_limit(230.0, 0.5e-3) == 460e3
    assert hermetic_insulation_check(0.55e6, 600.0).verdict == "failed"
