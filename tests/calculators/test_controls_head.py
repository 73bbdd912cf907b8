"""Head-pressure controls and thermostats: values, conflicts by name, bad input."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators import CalculatorRegistry
from faultkit.calculators.ask import Answer, ask
from faultkit.calculators.controls import CONTROLS
from faultkit.calculators.controls.head_pressure import SIDE, high_pressure_check
from faultkit.calculators.controls.settings import head_pressure_setting, high_pressure_ceiling
from faultkit.calculators.controls.thermostat import probe_offset_effect, set_point_settings, true_set_point
from faultkit.calculators.refrigerants import refrigerant
from faultkit.problems import InputError
from faultkit.units import from_si, to_si

REGISTRY = CalculatorRegistry(CONTROLS)
PSI, SEA = 6894.757293168362, 101_325.0


def told(name: str, **given: str) -> Answer:
    return ask(REGISTRY[name], given)


def verdict(name: str, **given: str) -> str:
    return str(told(name, **given)["verdict"].value)


FANS = {"refrigerant": "R-404A", "cut_in": "205 psig", "cut_out": "155 psig"}
HIGH = {
    "refrigerant": "R-404A", "cut_out": "395 psig", "condensing_temperature": "140 degF",
    "rated_pressure": "450 psig", "relief_pressure": "450 psig", "highest_normal_temperature": "120 degF",
}


# -- fans and valve ---------------------------------------------------------------


def test_the_side_of_the_glide_is_told_and_is_bubble() -> None:
    a = told("fan_cycling_settings", refrigerant="R-448A", on_temperature="90 degF", off_temperature="70 degF")
    assert a["side"].value == SIDE
    assert SIDE.startswith("bubble point")
    assert a["cut_in"].value == pytest.approx(refrigerant("R-448A").bubble_pressure(to_si(90, "degF")) - SEA)


@pytest.mark.parametrize(("changed", "name"), [
    ({}, "no conflict"),
    ({"valve_setting": "150 psig"}, "no conflict"),
    ({"valve_setting": "180 psig"}, "fan off below the valve setting"),
    ({"valve_setting": "205 psig"}, "fan cycling below the valve setting"),
    ({"cut_out": "180 psig"}, "fan short-cycles"),
    ({"cut_out": "140 psig"}, "head falls too far"),
    ({"high_pressure_cut_out": "240 psig"}, "too near the high-pressure cut-out"),
    ({"high_pressure_cut_out": "260 psig"}, "no conflict"),
])
def test_fan_cycling_conflicts(changed: dict[str, str], name: str) -> None:
    assert verdict("fan_cycling_check", **{**FANS, **changed}) == name


def test_a_fan_conflict_gives_its_numbers() -> None:
    a = told("fan_cycling_check", **FANS, valve_setting="180 psig")
    assert a["conflicts"].value[0].startswith(
        "fan off below the valve setting: the flooding valve holds 180 psig, so the head hardly falls to the fan's "
        "155 psig"
    )


def test_found_and_worked_out_fans_agree() -> None:
    a = told("fan_cycling_settings", refrigerant="R-449A", on_temperature="92 degF", off_temperature="71 degF")
    b = told("fan_cycling_check", refrigerant="R-449A", **{
        n: f"{from_si(a[n].value, 'psig')} psig" for n in ("cut_in", "cut_out")
    })
    assert b["on_temperature"].value == pytest.approx(to_si(92, "degF"), abs=0.01)
    assert b["verdict"].value == a["verdict"].value == "no conflict"


@pytest.mark.parametrize(("name", "given", "message"), [
    ("fan_cycling_check", {**FANS, "cut_out": "205 psig"}, "a cut-in above the cut-out"),
    ("fan_cycling_settings", {"refrigerant": "R-404A", "on_temperature": "70 degF", "off_temperature": "70 degF"},
     "a condensing temperature for fan on above that for fan off"),
    ("head_pressure_setting", {"refrigerant": "R-744", "condensing_temperature": "90 degF"}, "R-744 at 90 degF"),
])
def test_head_settings_without_meaning(name: str, given: dict[str, str], message: str) -> None:
    with pytest.raises(InputError) as caught:
        told(name, **given)
    assert message in str(caught.value)


@pytest.mark.parametrize(("changed", "name"), [
    ({}, "no conflict"),
    ({"valve_setting": "95 psig"}, "fan start below the valve setting"),
    ({"valve_setting": "140 psig"}, "fan speed below the valve setting"),
    ({"high_pressure_cut_out": "150 psig"}, "too near the high-pressure cut-out"),
])
def test_fan_speed_conflicts(changed: dict[str, str], name: str) -> None:
    given = {"refrigerant": "R-134a", "condensing_temperature": "80 degF", **changed}
    assert verdict("fan_speed_settings", **given) == name


def test_full_speed_near_the_critical_point_has_no_temperature() -> None:
    a = told("fan_speed_settings", refrigerant="R-404A", condensing_temperature="140 degF", band="80 psi")
    assert a["full_speed_temperature"].value is None


@pytest.mark.parametrize(("setting", "name"), [
    ("180 psig", "no conflict"), ("130 psig", "too little head"), ("240 psig", "floods all year"),
    ("20 psig", "too little head; never acts"),
])
def test_flooding_valve_conflicts(setting: str, name: str) -> None:
    assert verdict(
        "flooding_valve_check", refrigerant="R-404A", setting=setting, ambient_temperature="0 degF"
    ) == name


# -- high-pressure cut-out --------------------------------------------------------


@pytest.mark.parametrize(("changed", "name"), [
    ({}, "no conflict"),
    ({"cut_out": "404 psig"}, "above the compressor limit"),
    ({"relief_pressure": "400 psig"}, "too near the relief pressure"),
    ({"rated_pressure": "390 psig"}, "above the rated pressure"),
    ({"cut_out": "330 psig"}, "trips on a hot day"),
    ({"cut_out": "460 psig"}, "above the rated pressure; above the compressor limit; too near the relief pressure"),
])
def test_high_pressure_conflicts(changed: dict[str, str], name: str) -> None:
    assert verdict("high_pressure_check", **{**HIGH, **changed}) == name


def test_a_cut_out_beyond_the_fits_has_no_condensing_temperature() -> None:
    assert told("high_pressure_check", **{**HIGH, "cut_out": "460 psig"})["condensing_temperature"].value is None


@given(
    st.sampled_from(["R-134a", "R-404A", "R-448A", "R-290"]), st.floats(310, 330), st.floats(1.5e6, 4e6),
    st.floats(1.5e6, 4e6), st.floats(0.7, 1.0), st.floats(1e6, 4e6),
)
def test_nothing_above_the_ceiling_is_ever_passed(
    name: str, limit: float, rated: float, relief: float, share: float, cut_out: float
) -> None:
    ceiling = high_pressure_ceiling(limit, rated, relief, name, share, SEA)
    assert ceiling <= min(rated, share * relief, refrigerant(name).dew_pressure(limit) - SEA)
    found = high_pressure_check(name, cut_out, limit, rated, relief, 300.0, share, 0.0, SEA)
    assert found.room == ceiling - cut_out
    above = {"above the rated pressure", "above the compressor limit", "too near the relief pressure"}
    assert bool(above & set(found.verdict.split("; "))) == (cut_out > ceiling)


@given(st.sampled_from(["R-134a", "R-404A", "R-448A"]), st.floats(280, 330), st.floats(60e3, 110e3))
def test_absolute_pressure_does_not_know_the_altitude(name: str, temperature: float, air: float) -> None:
    sea = head_pressure_setting(temperature, name, SEA)
    assert head_pressure_setting(temperature, name, air) + air == pytest.approx(sea + SEA)


# -- thermostats ------------------------------------------------------------------

AIR = {"cut_in": "39 degF", "cut_out": "36 degF", "product_low": "33 degF", "product_high": "41 degF"}


@pytest.mark.parametrize(("changed", "name"), [
    ({}, "no conflict"),
    ({"cut_in": "41 degF"}, "product too warm"),
    ({"cut_out": "33 degF"}, "product too cold"),
    ({"position_offset": "-2 delta_degF"}, "product too warm"),
    ({"position_offset": "3 delta_degF"}, "product too cold"),
    ({"cut_out": "38 degF"}, "differential too small"),
    ({"cut_in": "45 degF", "product_high": "60 degF"}, "differential too large"),
    ({"cut_in": "36 degF", "cut_out": "34 degF"}, "frost does not clear"),
    ({"cut_in": "36 degF", "cut_out": "34 degF", "defrost": "heated"}, "no conflict"),
    ({"cut_in": "37 degF", "cut_out": "34 degF"}, "no conflict"),
])
def test_thermostat_conflicts(changed: dict[str, str], name: str) -> None:
    assert verdict("thermostat_check", **{**AIR, **changed}) == name


def test_thermostat_conflicts_give_numbers() -> None:
    a = told("thermostat_check", **{**AIR, "cut_in": "42 degF", "probe_accuracy": "2 delta_degF"})
    assert a["conflicts"].value[0] == "product too warm: air up to 44 degF, limit 41 degF"


@pytest.mark.parametrize(("changed", "name"), [
    ({}, "no conflict"), ({"cut_in": "35 degF"}, "frost does not clear"), ({"cut_out": "20 degF"}, "product too cold"),
    ({"cut_in": "42 degF"}, "product too warm"),
])
def test_coil_thermostat_conflicts(changed: dict[str, str], name: str) -> None:
    given = {
        "cut_in": "38 degF", "cut_out": "25 degF", "temperature_difference": "10 delta_degF", "product_low": "33 degF",
        "product_high": "41 degF", **changed,
    }
    assert verdict("coil_thermostat_check", **given) == name


@pytest.mark.parametrize(("changed", "message"), [
    ({"cut_in": "36 degF"}, "'cut_in' is 36 degF, 'cut_out' 36 degF"),
    ({"product_low": "41 degF"}, "'product_low' is 41 degF, 'product_high' 41 degF"),
    ({"probe_accuracy": "-1 delta_degF"}, "'probe_accuracy' of 'thermostat_check'"),
])
def test_a_thermostat_without_meaning(changed: dict[str, str], message: str) -> None:
    with pytest.raises(InputError) as caught:
        told("thermostat_check", **{**AIR, **changed})
    assert message in str(caught.value)


@given(st.floats(250, 290), st.floats(0, 8), st.sampled_from(["above", "below", "around"]))
def test_the_differential_is_kept_wherever_it_lies(point: float, differential: float, scheme: str) -> None:
    s = set_point_settings(point, differential, scheme)
    assert s.cut_in - s.cut_out == pytest.approx(differential)
    assert s.cut_out - 1e-9 <= point <= s.cut_in + 1e-9


@given(st.floats(250, 290), st.floats(-5, 5), st.floats(-5, 5))
def test_a_probe_that_reads_warm_makes_the_box_cold(point: float, error: float, offset: float) -> None:
    found: Any = probe_offset_effect(point, error, offset)
    assert found.air == true_set_point(point, error, offset)
    if abs(error + offset) > 0.02:
        assert ("colder" in found.effect) == (error + offset > 0.0)
    elif abs(error + offset) < 0.005:
        assert found.effect.startswith("no effect")


def test_an_unknown_scheme_is_refused_from_python_too() -> None:
    with pytest.raises(InputError, match="one of above, below, around"):
        set_point_settings(275.0, 2.0, "beside")
