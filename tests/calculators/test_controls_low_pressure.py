"""Low-pressure controls: settings worked out and found, each conflict by name and with its numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from faultkit.calculators import CalculatorRegistry
from faultkit.calculators.ask import ask
from faultkit.calculators.controls import CONTROLS
from faultkit.calculators.controls.conflicts import JOBS, Duty, conflicts_of
from faultkit.calculators.controls.low_pressure import LowPressure, job_name, low_pressure_check, low_pressure_settings
from faultkit.calculators.controls.settings import (
    box_temperature_at_cut_out,
    cut_in_winter_margin,
    low_pressure_cut_in,
    low_pressure_cut_out,
    setting_saturation_temperature,
)
from faultkit.calculators.refrigerants import refrigerant
from faultkit.problems import InputError
from faultkit.units import atmosphere, from_si, to_si

REGISTRY = CalculatorRegistry(CONTROLS)
PSI, SEA = 6894.757293168362, 101_325.0


def degf(value: float) -> float:
    return to_si(value, "degF")


COOLER: dict[str, Any] = {
    "refrigerant": "R-134a", "job": "temperature_control", "box_temperature": degf(35),
    "temperature_difference": 20 / 1.8, "restart_temperature": degf(38), "ambient_temperature": degf(60),
    "suction_line_drop": 0.0, "margin": 2 * PSI, "least_differential": 5 * PSI, "lowest_cut_out": 0.0,
    "frost_clear_temperature": degf(36), "atmosphere": SEA,
}
PUMP = {**COOLER, "refrigerant": "R-404A", "job": "pump_down", "temperature_difference": 10 / 1.8}


def check(cut_in: float, cut_out: float, **changed: Any) -> LowPressure:
    """Found settings in psig."""
    return low_pressure_check(**{**COOLER, **changed, "cut_in": cut_in * PSI, "cut_out": cut_out * PSI})


def advise(**changed: Any) -> LowPressure:
    return low_pressure_settings(**{**COOLER, "differential": None, "pumped_down": 5 * PSI, **changed})


def only(found: LowPressure) -> str:
    assert len(found.conflicts) == 1, found.conflicts
    assert found.conflicts[0].startswith(found.verdict + ": ")
    return found.conflicts[0]


def test_good_settings_have_no_conflict() -> None:
    assert check(33, 15).verdict == "no conflict"
    assert check(33, 15).conflicts == ()


def test_winter_is_named_with_both_pressures() -> None:
    told = only(check(33, 15, ambient_temperature=degf(0)))
    assert told.startswith("will not restart in winter: cut-in 33 psig is not below the 6.47 psig")
    assert "0 degF, the coldest ambient" in told


def test_a_narrow_winter_is_named_otherwise() -> None:
    told = only(check(33, 15, ambient_temperature=degf(39.3)))
    assert told.startswith("may not restart in winter: cut-in 33 psig lies only 1.37 psi below")


def test_a_vacuum_is_named_in_inches_of_mercury() -> None:
    found = check(33, -4)
    assert "cut-out in a vacuum" in found.verdict
    assert any("at 8.14 inHg_vac a leak draws in air" in c for c in found.conflicts)


def test_a_lowest_cut_out_above_zero_is_kept() -> None:
    assert "cut-out too low: 3 psig, not below 5 psig wanted" in check(
        20, 3, **{**PUMP, "lowest_cut_out": 5 * PSI}
    ).conflicts


def test_stopping_before_the_box_is_cold_is_named() -> None:
    told = only(check(33, 22))
    assert told.startswith("stops before the box is cold: cut-out 22 psig is above the 15 psig at the control")
    assert told.endswith("the coil gets to 24.9 degF only")
    pump = only(check(70, 63, **PUMP))
    assert "cut-out 63 psig is not below the 62.1 psig" in pump
    assert "lies only 1.07 psi below" in only(check(70, 61, **PUMP))


def test_a_temperature_control_that_cools_too_far_is_named() -> None:
    told = only(check(33, 8))
    assert told == "cools too far: cut-out 8 psig is a coil of 2.98 degF, 12 delta_degF below the 15 degF wanted"


def test_a_small_differential_is_short_cycling() -> None:
    told = only(check(9, 6, **PUMP))
    assert told == "short cycling: differential 3 psi, from 6 psig to 9 psig; at least 5 psi wanted"


def test_a_restart_above_the_box_is_named_by_job() -> None:
    warm = only(check(45, 15))
    assert warm.startswith("restarts too warm: cut-in 45 psig is above the 33.1 psig of a coil at 38 degF")
    assert warm.endswith("the box warms to 49.6 degF")
    assert only(check(85, 10, **PUMP)).startswith("will not restart at box temperature: cut-in 85 psig is not below")
    assert only(check(81, 10, **PUMP)).startswith("may not restart at box temperature: cut-in 81 psig lies only 0.99")


def test_frost_is_named_where_the_off_cycle_must_clear_it() -> None:
    told = only(check(30, 15))
    assert told.startswith("frost does not clear between cycles: the coil warms to 34.6 degF only before the restart")
    cold_box = {"box_temperature": degf(32), "restart_temperature": degf(34)}
    assert "frost" in check(20, 5, **{**PUMP, **cold_box}).verdict
    for job in ("pump_down_freezer", "loss_of_charge"):
        assert "frost" not in check(20, 5, **{**PUMP, **cold_box, "job": job}).verdict
    # A coil that never freezes has no frost to clear.
    warm = {"box_temperature": degf(55), "restart_temperature": degf(56), "frost_clear_temperature": degf(50)}
    assert "frost" not in check(50, 32, **warm).verdict


def test_conflicts_come_together() -> None:
    found = check(75, -3, **{**PUMP, "ambient_temperature": degf(-20)})
    assert found.verdict == "will not restart in winter; cut-out in a vacuum"


# -- settings worked out ----------------------------------------------------------


@pytest.mark.parametrize(("refrigerant_name", "cut_in", "cut_out"), [
    ("R-134a", 33, 15), ("R-404A", 82, 49), ("R-290", 61, 36), ("R-448A", 68, 38),
])
def test_temperature_control_of_a_cooler(refrigerant_name: str, cut_in: int, cut_out: int) -> None:
    found = advise(refrigerant=refrigerant_name)
    assert (round(found.cut_in / PSI), round(found.cut_out / PSI)) == (cut_in, cut_out)
    assert found.box_at_cut_out == pytest.approx(degf(35), abs=1e-3)


def test_the_bubble_side_would_be_wrong_by_many_psi() -> None:
    fluid = refrigerant("R-448A")
    assert fluid.bubble_pressure(degf(38)) - SEA - advise(refrigerant="R-448A").cut_in > 15 * PSI


def test_a_given_differential_is_counted_from_the_cut_in_down() -> None:
    found = advise(differential=10 * PSI)
    assert found.differential == pytest.approx(10 * PSI)
    assert found.cut_in == advise().cut_in
    assert found.verdict == "stops before the box is cold"
    assert advise(**{**PUMP, "differential": 12 * PSI}).differential == pytest.approx(12 * PSI)


def test_an_outdoor_temperature_control_has_its_winter_named() -> None:
    assert advise(ambient_temperature=degf(10)).verdict == "will not restart in winter"


def test_a_pump_down_is_set_below_winter_and_below_the_running_pressure() -> None:
    found = advise(**{**PUMP, "ambient_temperature": degf(0)})
    assert found.cut_in == pytest.approx(found.winter_limit - 2 * PSI)
    assert found.cut_out == pytest.approx(5 * PSI)
    assert found.verdict == "no conflict"
    assert found.box_at_cut_out is None


def test_in_mild_weather_the_box_limits_the_cut_in() -> None:
    found = advise(**{**PUMP, "ambient_temperature": degf(60)})
    assert found.cut_in == pytest.approx(found.restart_limit - 2 * PSI)


def test_a_hard_winter_lowers_the_cut_out_too() -> None:
    found = advise(**{**PUMP, "ambient_temperature": degf(-30)})
    assert found.cut_out == pytest.approx(found.cut_in - 5 * PSI)
    assert 0.0 < found.cut_out < 5 * PSI
    assert found.verdict == "no conflict"


def test_a_vacuum_is_never_advised_but_what_that_costs_is_named() -> None:
    found = advise(**{**PUMP, "refrigerant": "R-134a", "ambient_temperature": degf(-10)})
    assert found.cut_out == 0.0
    assert found.verdict == "no setting fits"
    assert "-0.0" not in found.conflicts[0]
    freezer = {"box_temperature": degf(-10), "restart_temperature": degf(-5), "job": "pump_down_freezer"}
    cold = advise(**{**PUMP, **freezer, "refrigerant": "R-134a", "ambient_temperature": degf(60)})
    assert "stops before the box is cold" in cold.verdict


def test_the_drop_of_the_suction_line_lowers_the_cut_out_only() -> None:
    far, near = advise(suction_line_drop=2 * PSI), advise()
    assert near.cut_out - far.cut_out == pytest.approx(2 * PSI)
    assert far.cut_in == near.cut_in
    assert far.box_at_cut_out == pytest.approx(degf(35), abs=1e-3)


def test_by_coil_and_by_box_agree() -> None:
    box = ask(REGISTRY["low_pressure_settings"], {
        "refrigerant": "R-404A", "job": "pump-down", "box_temperature": "35 degF",
        "temperature_difference": "10 delta_degF", "restart_temperature": "38 degF", "ambient_temperature": "10 degF",
    })
    coil = ask(REGISTRY["low_pressure_settings_by_coil"], {
        "refrigerant": "R-404A", "job": "pump-down", "evaporating_temperature": "25 degF",
        "restart_temperature": "38 degF", "ambient_temperature": "10 degF",
    })
    for name in ("cut_in", "cut_out", "running_limit"):
        assert box[name].value == pytest.approx(coil[name].value, abs=1e-3)


def test_at_altitude_the_gauge_reads_more_for_the_same_coil() -> None:
    air = atmosphere(to_si(5000, "ft"))
    high = advise(atmosphere=air)
    assert high.cut_in - advise().cut_in == pytest.approx(SEA - air)
    assert high.coil_at_cut_out == pytest.approx(degf(15), abs=1e-3)
    answer = ask(REGISTRY["low_pressure_cut_in"], {"restart_temperature": "38 degF", "refrigerant": "R-134a"}, air)
    assert answer.value == high.cut_in


# -- bad input --------------------------------------------------------------------


@pytest.mark.parametrize(("changed", "message"), [
    ({"cut_in": 10 * PSI, "cut_out": 10 * PSI}, "'cut_in' is 10 psig, 'cut_out' 10 psig"),
    ({"restart_temperature": degf(30)}, "'restart_temperature' is 30 degF, 'box_temperature' 35 degF"),
    ({"cut_out": -98_000.0, "atmosphere": 84_000.0}, "deeper than a full vacuum at 12.18 psia outside"),
    ({"refrigerant": "R-12x"}, "refrigerant 'R-12x' is not known"),
    ({"ambient_temperature": 200.0}, "R-134a at -99.7 degF"),
])
def test_what_has_no_meaning_is_told(changed: dict[str, Any], message: str) -> None:
    with pytest.raises(InputError) as caught:
        low_pressure_check(**{**COOLER, "cut_in": 33 * PSI, "cut_out": 15 * PSI, **changed})
    assert message in str(caught.value)


def test_a_vacuum_below_the_fits_has_no_coil_temperature() -> None:
    assert check(20, -12, **PUMP).coil_at_cut_out is None


@pytest.mark.parametrize(("text", "job"), [
    ("Temperature control", "temperature_control"), ("pump-down", "pump_down"), ("PUMPDOWN", "pump_down"),
    ("pump-down freezer", "pump_down_freezer"), ("loss-of-charge safety", "loss_of_charge"),
])
def test_jobs_are_read_however_written(text: str, job: str) -> None:
    assert job_name(text) == job


def test_an_unknown_job_gets_the_list() -> None:
    with pytest.raises(InputError, match=r"'job' is 'defrost'"):
        job_name("defrost")


# -- properties -------------------------------------------------------------------

NAMES = st.sampled_from(["R-134a", "R-22", "R-290", "R-404A", "R-448A", "R-600a", "R-454C"])


@settings(deadline=None)
@given(
    NAMES, st.sampled_from(JOBS), st.floats(-20, 60), st.floats(5, 25), st.floats(0.5, 8), st.floats(-30, 80),
    st.floats(0, 3), st.floats(65e3, 105e3),
)
def test_advice_without_a_conflict_keeps_every_limit(
    name: str, job: str, box: float, td: float, rise: float, ambient: float, drop: float, air: float
) -> None:
    given = {
        "refrigerant": name, "job": job, "box_temperature": degf(box), "temperature_difference": td / 1.8,
        "restart_temperature": degf(box + rise), "ambient_temperature": degf(ambient), "suction_line_drop": drop * PSI,
        "atmosphere": air,
    }
    try:
        found = advise(**given)
    except InputError:
        assume(condition=False)
    assume(found.verdict == "no conflict")
    fluid = refrigerant(name)
    assert fluid.dew_temperature(found.cut_in + air) < degf(ambient)
    assert found.cut_out >= 0.0
    assert found.cut_in - found.cut_out >= 5 * PSI - 1.0
    if job == "temperature_control":
        assert fluid.dew_temperature(found.cut_in + air) == pytest.approx(degf(box + rise), abs=0.01)
    else:
        assert fluid.dew_temperature(found.cut_in + air) < degf(box + rise)
        assert found.cut_out + drop * PSI + air < fluid.dew_pressure(degf(box) - td / 1.8)
    again = low_pressure_check(**{**COOLER, **given, "cut_in": found.cut_in, "cut_out": found.cut_out})
    assert replace(again) == found


@settings(deadline=None)
@given(NAMES, st.floats(1, 90), st.floats(0, 60), st.floats(-30, 80), st.floats(0, 60), st.floats(5, 25))
def test_conflicts_by_pressure_are_those_by_temperature(
    name: str, low: float, differential: float, ambient: float, box: float, td: float
) -> None:
    """The same conditions asked of saturation temperatures instead of pressures."""
    fluid = refrigerant(name)
    restart, coil = degf(box + 3), degf(box) - td / 1.8
    duty = Duty(fluid, "pump_down_freezer", coil, restart, degf(ambient), 0.0, 2 * PSI, 5 * PSI, 0.0, degf(36), SEA)
    cut_in, cut_out = (low + differential) * PSI, low * PSI
    named = {c.partition(":")[0] for c in conflicts_of(duty, cut_in, cut_out)}
    at = [fluid.dew_temperature(p + SEA) for p in (cut_in + 2 * PSI, cut_out + 2 * PSI)]
    for pressure, temperature in ((at[0], degf(ambient)), (at[0], restart), (at[1], coil)):
        assume(abs(pressure - temperature) > 0.02)
    assert bool({"will not restart in winter", "may not restart in winter"} & named) == (at[0] > degf(ambient))
    assert bool({"will not restart at box temperature", "may not restart at box temperature"} & named) == (
        at[0] > restart
    )
    assert ("stops before the box is cold" in named) == (at[1] > coil)
    assume(abs(differential - 5) > 0.01)
    assert bool({"short cycling", "no setting fits"} & named) == (differential < 5)


@given(NAMES, st.floats(-40, 60), st.floats(0, 5))
def test_cut_out_and_box_temperature_are_each_others_inverse(name: str, box: float, drop: float) -> None:
    cut_out = low_pressure_cut_out(degf(box), 5.0, name, drop * PSI, SEA)
    back = box_temperature_at_cut_out(cut_out + SEA, 5.0, name, drop * PSI)
    assert back == pytest.approx(degf(box), abs=0.01)


@given(NAMES, st.floats(-40, 60))
def test_cut_in_and_its_saturation_are_each_others_inverse(name: str, restart: float) -> None:
    cut_in = low_pressure_cut_in(degf(restart), name, SEA) + SEA
    assert from_si(setting_saturation_temperature(cut_in, name), "degF") == pytest.approx(restart, abs=0.02)
    assert cut_in_winter_margin(cut_in, degf(restart), name) == pytest.approx(0.0, abs=1e-6)
