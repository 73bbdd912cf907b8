"""Wire, voltage drop and joints: what is told and what is refused."""

from __future__ import annotations

from math import isclose, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators.electrical.drop import (
    excess_voltage_drop,
    splice_check,
    splice_drop,
    splice_resistance,
    splice_watts,
    voltage_drop,
    voltage_drop_check,
    voltage_drop_impedance,
)
from faultkit.calculators.electrical.wires import loop_resistance, read_wire, wire_impedance, wire_resistance
from faultkit.problems import InputError
from faultkit.units import to_si

AMPS = st.floats(0.5, 200.0)


# -- wire and joints ----------------------------------------------------------------


@pytest.mark.parametrize("text", ["12", "#12", "12 AWG", "AWG 12", "12awg", "No. 12", "12 ga"])
def test_wire_sizes_as_they_are_written(text: str) -> None:
    assert read_wire(text) == "12"


def test_wire_not_in_the_tables_is_named() -> None:
    with pytest.raises(InputError, match="'13' is no wire size of the tables"):
        read_wire("13")
    with pytest.raises(InputError, match=r"solid wire of 6 AWG is not in the table(.|\n)*18 to 8 AWG"):
        wire_resistance("6", 10.0, "solid")
    with pytest.raises(InputError, match="18 AWG is not in the table of impedances"):
        wire_impedance("18", 10.0)


def test_printed_drops_come_out() -> None:
    assert round(voltage_drop("single", "12", to_si(120.0, "ft"), 12.0, "solid"), 2) == 5.56
    assert round(voltage_drop("three", "10", to_si(150.0, "ft"), 20.0), 2) == 6.44
    assert round(wire_resistance("12", to_si(1000.0, "ft"), conductor_temperature=293.15), 2) == 1.63


@given(
    st.sampled_from(("14", "12", "10", "8", "6", "4", "2", "1/0", "4/0")), st.floats(1.0, 300.0), AMPS,
    st.floats(1.0, 4.0),
)
def test_drop_goes_with_length_and_amps_and_is_less_on_three_phase(
    wire: str, length: float, amps: float, scale: float
) -> None:
    drop = voltage_drop("single", wire, length, amps)
    assert isclose(voltage_drop("single", wire, scale * length, amps), scale * drop, rel_tol=1e-9)
    assert isclose(voltage_drop("single", wire, length, scale * amps), scale * drop, rel_tol=1e-9)
    assert isclose(voltage_drop("three", wire, length, amps) * 2.0, sqrt(3.0) * drop, rel_tol=1e-9)
    # At power factor 1 the table of impedances is its ac resistance, printed to two digits.
    assert isclose(voltage_drop_impedance("single", wire, length, amps, 1.0), drop, rel_tol=0.06)


def test_cold_wire_has_less_resistance_than_hot() -> None:
    assert isclose(loop_resistance("12", 30.0) / (2.0 * wire_resistance("12", 30.0)), 0.82, abs_tol=0.003)


@given(st.floats(0.001, 1.0), AMPS)
def test_a_joint_is_one_thing_seen_three_ways(ohm: float, amps: float) -> None:
    volts = splice_drop(ohm, amps)
    assert isclose(splice_resistance(volts, amps), ohm, rel_tol=1e-9)
    assert isclose(splice_watts(volts, amps), ohm * amps * amps, rel_tol=1e-9)


@pytest.mark.parametrize(("volts", "verdict"), [
    (0.05, "good"), (0.1, "good"), (0.3, "watch"), (0.5, "bad"), (3.0, "bad"),
])
def test_joints_are_judged(volts: float, verdict: str) -> None:
    assert splice_check(volts, 12.0).verdict == verdict
    with pytest.raises(InputError, match=r"good 0.6 V is above bad 0.5 V"):
        splice_check(volts, 12.0, good=0.6)


def test_a_run_that_loses_what_its_wire_explains_is_good() -> None:
    metres = to_si(50.0, "ft")
    found = voltage_drop_check("single", "12", metres, 12.0, 120.0, 120.0 - voltage_drop("single", "12", metres, 12.0))
    assert found.verdict == "good"
    assert found.resistance is None or abs(found.resistance) < 1e-9
    bad = voltage_drop_check("single", "12", metres, 12.0, 120.0, 112.0)
    assert bad.verdict == "bad joint, contact or wire on the way"
    assert bad.resistance is not None
    assert bad.watts is not None
    assert isclose(bad.watts, bad.excess * 12.0)
    assert isclose(bad.excess, excess_voltage_drop("single", "12", metres, 12.0, 120.0, 112.0))
    three = voltage_drop_check("three", "12", metres, 12.0, 208.0, 200.0)
    assert three.watts is None


def test_ends_exchanged_and_runs_that_cannot_be_are_refused() -> None:
    with pytest.raises(InputError, match="load_voltage 120 V is above source_voltage 110 V"):
        voltage_drop_check("single", "12", 10.0, 12.0, 110.0, 120.0)
    with pytest.raises(InputError, match="load_voltage 120 V is above source_voltage 110 V"):
        excess_voltage_drop("single", "12", 10.0, 12.0, 110.0, 120.0)
    with pytest.raises(InputError, match="3000 ft of 14 AWG would lose 283 V at 15 A"):
        voltage_drop_check("single", "14", to_si(3000.0, "ft"), 15.0, 120.0, 110.0)
