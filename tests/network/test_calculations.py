"""Calculated readings of a site: gauge and absolute pressures, altitude, words, joined settings."""

from __future__ import annotations

from pathlib import Path

import pytest

import faultkit
from faultkit.diagnosis.result import Diagnosis
from faultkit.problems import InputError
from faultkit.units import to_si

TYPE = """\
schema: 1
equipment: cooler
source: common practice
settings: {refrigerant: {words: [R-134a, R-404A, R-12]}}
joins: {served_by: {optional: yes, settings: [refrigerant]}}
sections: {coil: {use: part, settings: {refrigerant: served_by.refrigerant}}}
states: {running: Has run}
readings:
  suction: {unit: psig, accuracy: 0 psi, range: [-14.6 psig, 300 psig]}
  pipe: {unit: degF, accuracy: 0 delta_degF}
  superheat:
    unit: delta_degF
    calculate: {use: superheat, suction_pressure: suction, line_temperature: pipe, refrigerant: refrigerant}
    bands: [low, 5 delta_degF, high]
  wanted: {unit: degF, accuracy: 0 delta_degF}
  should_be:
    unit: psig
    calculate: {use: dew_pressure, temperature: wanted, refrigerant: R-134a}
    bands: [low, 20 psig, high]
events: {starved: {how_common: rare}}
tells:
  superheat: [{starved: {high: always}}, {otherwise: {low: nearly_always}}]
  should_be: [{starved: {high: usually}}, {otherwise: {low: nearly_always}}]
"""

SECTION = """\
schema: 1
section: part
source: common practice
settings: {refrigerant: {words: [R-134a, R-404A]}}
readings:
  pressure: {unit: psig, accuracy: 0 psi}
  pipe: {unit: degF, accuracy: 0 delta_degF}
  superheat:
    unit: delta_degF
    calculate: {use: superheat, suction_pressure: pressure, line_temperature: pipe, refrigerant: refrigerant}
    bands: [low, 5 delta_degF, high]
events: {dirty: {how_common: rare}}
tells: {superheat: [{dirty: {high: usually}}, {otherwise: {low: nearly_always}}]}
"""

SITE = """\
schema: 1
site: here
altitude: {altitude}
units:
  plant: {{equipment: cooler, place: roof, settings: {{refrigerant: R-404A}}}}
  box: {{equipment: cooler, place: kitchen, settings: {{refrigerant: {refrigerant}}}, joins: {{served_by: plant}}}}
"""

CALL = """\
schema: 1
call: one
site: site.yaml
opened: 2026-03-04T10:00
entries:{more}
"""


def diagnosed(
    folder: Path, *facts: str, refrigerant: str = "R-134a", altitude: str = "0 ft", type_: str = TYPE
) -> Diagnosis:
    (folder / "trees").mkdir()
    (folder / "trees" / "cooler.yaml").write_text(type_)
    (folder / "trees" / "part.yaml").write_text(SECTION)
    (folder / "site.yaml").write_text(SITE.format(altitude=altitude, refrigerant=refrigerant))
    entries = (
        f"  - {{kind: fact, id: f{n}, reading: {fact.split('=')[0]}, value: {fact.split('=')[1]}}}\n"
        for n, fact in enumerate(facts)
    )
    (folder / "call.yaml").write_text(CALL.replace("{more}", "" if facts else " []") + "".join(entries))
    catalogue = faultkit.load_catalogue([folder / "trees"], installed=False)
    return faultkit.load_call(folder / "call.yaml", catalogue).diagnose()


def band(diagnosis: Diagnosis, sign: str) -> tuple[tuple[str, float], ...]:
    (found,) = [look for look in diagnosis.looks if look.sign == sign]
    return found.bands


def result(diagnosis: Diagnosis, sign: str) -> float:
    (found,) = [look for look in diagnosis.looks if look.sign == sign]
    assert found.calculated
    assert found.value is not None
    low, high = found.value
    assert low == pytest.approx(high, abs=1e-9)
    return low


def test_gauge_readings_become_superheat(tmp_path: Path) -> None:
    found = diagnosed(tmp_path, "box.suction=22.1 psig", "box.pipe=35 degF")
    assert result(found, "box.superheat") == pytest.approx(to_si(10.0, "delta_degF"), abs=0.06)
    assert band(found, "box.superheat") == (("high", 1.0),)


def test_the_air_of_the_place_counts(tmp_path: Path) -> None:
    """5000 ft: R-134a at 22.1 psig is 21.7 degF instead of 25.0 (U.S. Standard Atmosphere, worked by hand)."""
    found = diagnosed(tmp_path, "box.suction=22.1 psig", "box.pipe=35 degF", altitude="5000 ft")
    assert result(found, "box.superheat") == pytest.approx(to_si(13.3, "delta_degF"), abs=0.06)


def test_the_refrigerant_of_the_nameplate_counts(tmp_path: Path) -> None:
    found = diagnosed(tmp_path, "box.suction=62.1 psig", "box.pipe=35 degF", refrigerant="R-404A")
    assert result(found, "box.superheat") == pytest.approx(to_si(10.0, "delta_degF"), abs=0.06)


def test_a_section_takes_a_setting_of_the_joined_unit(tmp_path: Path) -> None:
    found = diagnosed(tmp_path, "box.coil.pressure=62.1 psig", "box.coil.pipe=35 degF")
    assert result(found, "box.coil.superheat") == pytest.approx(to_si(10.0, "delta_degF"), abs=0.06)


def test_an_absolute_result_is_read_in_gauge_pressure(tmp_path: Path) -> None:
    found = diagnosed(tmp_path, "box.wanted=25 degF")
    assert result(found, "box.should_be") == pytest.approx(to_si(22.1, "psig"), abs=400.0)


def test_a_reading_beyond_the_fits_is_kept_and_the_reason_told(tmp_path: Path) -> None:
    found = diagnosed(tmp_path, "box.suction=-14.5 psig", "box.pipe=35 degF")
    assert not [look for look in found.looks if look.sign == "box.superheat"]
    (told,) = {f.why for f in found.facts if f.why}
    assert "R-134a at" in told
    assert "has no dew temperature here" in told


def test_a_refrigerant_without_saturation_curves_is_said_where_it_stands(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        diagnosed(tmp_path, refrigerant="R-12")
    told = str(caught.value)
    assert "refrigerant 'R-12' is not known" in told
    assert "site.yaml:6:" in told


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("use: dew_pressure", "use: dew_presure", "did you mean 'dew_pressure'"),
        ("refrigerant: R-134a}", "refrigerant: R-13}", "refrigerant 'R-13' is not known"),
        ("refrigerant: R-134a}", "refrigerant: pipe}", "argument 'refrigerant' of 'dew_pressure' is a temperature"),
        ("temperature: wanted", "temperature: suction", "'temperature' of 'dew_pressure' is a gauge pressure"),
        ("temperature: wanted", "temperature: R-134a", "'temperature' of 'dew_pressure' is a word"),
        ("use: dew_pressure, temperature: wanted, refrigerant: R-134a", "use: refrigerant_facts, refrigerant: R-134a",
         "'refrigerant_facts' gives several results"),
        ("use: dew_pressure, temperature", "use: dew_temperature, pressure",
         "'pressure' of 'dew_temperature' is a temperature"),
        ("use: dew_pressure, temperature: wanted", "use: dew_temperature, pressure: suction",
         "'dew_temperature' gives a temperature, the reading 'should_be' is in psig"),
    ],
)
def test_what_does_not_fit_a_calculator(tmp_path: Path, old: str, new: str, told: str) -> None:
    assert old in TYPE
    with pytest.raises(InputError, match=told):
        diagnosed(tmp_path, type_=TYPE.replace(old, new))
