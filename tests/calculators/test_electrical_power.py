"""Capacitors, power, heaters, protection and coils: what is told and what is refused."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators.electrical.capacitors import (
    capacitance,
    capacitance_deviation,
    capacitor_check,
    capacitor_current,
)
from faultkit.calculators.electrical.control import contactor_coil_check, ptc_check
from faultkit.calculators.electrical.power import (
    apparent_power,
    heater_bank_check,
    heater_bank_current,
    heater_current,
    heater_power,
    heater_resistance,
    open_heaters,
    power_factor,
    real_power,
)
from faultkit.calculators.electrical.protection import (
    branch_device_ceiling,
    branch_device_check,
    branch_device_size,
)
from faultkit.problems import InputError


def bad_order(name: str) -> pytest.RaisesExc[InputError]:
    return pytest.raises(InputError, match=rf"{name}(.|\n)*expected: the low(er one|est) first")


# -- capacitors ----------------------------------------------------------------------


@given(st.floats(1e-6, 200e-6), st.floats(100.0, 450.0), st.floats(45.0, 65.0))
def test_capacitance_comes_back_from_its_amps(farads: float, volts: float, hertz: float) -> None:
    amps = capacitor_current(farads, volts, hertz)
    assert isclose(capacitance(amps, volts, hertz), farads, rel_tol=1e-9)
    assert isclose(capacitance_deviation(farads, farads), 0.0, abs_tol=1e-12)


@pytest.mark.parametrize(("microfarads", "verdict"), [
    (40.0, "within"), (37.6, "within"), (42.4, "within"), (37.5, "low"), (36.0, "low"), (35.9, "weak"), (0.0, "weak"),
    (42.5, "high"),
])
def test_a_capacitor_of_forty_microfarads_and_six_percent(microfarads: float, verdict: str) -> None:
    assert capacitor_check(microfarads * 1e-6, 40e-6).verdict == verdict


def test_a_wider_label_needs_a_wider_limit() -> None:
    with pytest.raises(InputError, match="weak 10 % is less than below 20 %"):
        capacitor_check(36e-6, 40e-6, below=0.2)


# -- power and heaters -----------------------------------------------------------------


@given(st.sampled_from(("single", "three")), st.floats(100.0, 500.0), st.floats(0.1, 100.0), st.floats(0.0, 1.0))
def test_power_factor_comes_back_from_power(phase: str, volts: float, amps: float, factor: float) -> None:
    watts = real_power(phase, volts, amps, factor)
    assert watts <= apparent_power(phase, volts, amps) * (1.0 + 1e-12)
    assert isclose(power_factor(phase, watts, volts, amps), factor, abs_tol=1e-9)


def test_more_power_than_apparent_power_is_refused() -> None:
    assert power_factor("single", 1250.0, 120.0, 10.0) == 1.0  # meters a few percent apart
    with pytest.raises(InputError, match="1400 W at 120 V and 10 A is more than all of the apparent power"):
        power_factor("single", 1400.0, 120.0, 10.0)


@given(st.floats(100.0, 20e3), st.floats(100.0, 480.0), st.floats(0.5, 1.1))
def test_a_heater_is_a_resistor(watts: float, rated: float, share: float) -> None:
    volts = share * rated
    ohm = heater_resistance(watts, rated)
    assert isclose(heater_power(watts, rated, volts), volts * volts / ohm, rel_tol=1e-9)
    assert isclose(heater_current(watts, rated, volts), volts / ohm, rel_tol=1e-9)


@given(st.integers(1, 12), st.data(), st.floats(0.5, 40.0))
def test_open_heaters_are_counted(count: int, data: st.DataObject, each: float) -> None:
    opened = data.draw(st.integers(0, count))
    amps = heater_bank_current(each, float(count), float(opened))
    assert isclose(open_heaters(amps, each, float(count)), opened, abs_tol=1e-9)
    found = heater_bank_check(amps, each, float(count))
    assert found.open == opened
    assert found.verdict == ("all heat" if opened == 0 else f"{opened} of {count} open")
    # Directions: more amps, fewer open; more heaters or more amps each, more open.
    assert open_heaters(0.9 * amps, each, float(count)) >= open_heaters(amps, each, float(count))
    assert open_heaters(amps, each, float(count + 1)) > open_heaters(amps, each, float(count))
    assert open_heaters(amps, 1.1 * each, float(count)) >= open_heaters(amps, each, float(count))
    assert heater_bank_current(each, float(count + 1), float(opened)) > amps
    assert heater_bank_current(1.1 * each, float(count), float(opened)) >= amps


def test_heater_readings_that_fit_nothing() -> None:
    assert heater_bank_check(7.2, 4.8, 3.0).open is None
    for heaters, opened, told in ((2.5, 0.0, "heaters is 2.5"), (3.0, 0.5, "open_heaters is 0.5"),
                                  (3.0, 4.0, "open_heaters is 4, heaters 3")):
        with pytest.raises(InputError, match=told):
            heater_bank_current(4.8, heaters, opened)
    with pytest.raises(InputError, match=r"current is 20 A, all 3 together 14.4 A"):
        open_heaters(20.0, 4.8, 3.0)


# -- protection and control ---------------------------------------------------------------


def test_small_compressors_may_have_fifteen_amps() -> None:
    assert branch_device_ceiling(3.0) == branch_device_size(3.0) == 15.0


@given(st.floats(0.1, 400.0), st.floats(0.0, 100.0))
def test_a_standard_size_never_passes_the_ceiling(amps: float, others: float) -> None:
    normal = branch_device_size(amps, "normal", others)
    assert normal <= branch_device_ceiling(amps, "normal", others) * (1.0 + 1e-9)
    assert branch_device_size(amps, "will_not_carry_start", others) >= normal


@pytest.mark.parametrize(("rating", "verdict"), [
    (20.0, "too small for the load"), (35.0, "allowed"), (45.0, "allowed only if"), (50.0, "too large"),
])
def test_devices_found_are_judged(rating: float, verdict: str) -> None:
    assert branch_device_check(rating, 20.0, 2.5).verdict.startswith(verdict)


@pytest.mark.parametrize(("volts", "verdict"), [
    (0.5, "no voltage"), (12.0, "lets go"), (18.0, "may not pull in"), (20.4, "enough"), (26.4, "enough"),
    (28.0, "too high"),
])
def test_coil_voltage(volts: float, verdict: str) -> None:
    assert contactor_coil_check(volts, 24.0).verdict.startswith(verdict)
    with bad_order("drop_out"):
        contactor_coil_check(volts, 24.0, pick_up=0.5, drop_out=0.6)


@pytest.mark.parametrize(("ohm", "kelvin", "verdict"), [
    (0.2, 295.0, "shorted"), (6.0, 295.0, "good"), (200.0, 295.0, "too high"), (5e3, 340.0, "too warm to judge"),
    (1e8, 295.0, "open"), (1e8, 340.0, "too warm to judge"), (6.0, 340.0, "good"),
])
def test_starting_devices(ohm: float, kelvin: float, verdict: str) -> None:
    assert ptc_check(ohm, kelvin).verdict == verdict
    with bad_order("least"):
        ptc_check(ohm, kelvin, least=60.0)
