# ruff: noqa: E501 - tables: one case in each line
"""Site files."""

from __future__ import annotations

import pytest

from faultkit.model.site import SitePlan
from faultkit.problems import Problem
from faultkit.reading.parse import parse_text
from faultkit.reading.site import read_site
from faultkit.reading.validate import validate
from faultkit.units import Kind, Quantity

GOOD = """\
schema: 1
site: corner_kitchen
altitude: 1200 ft
travel:
  - {between: [kitchen, roof], minutes: 6}
instruments:
  probe_7: {accuracy: 0.5 delta_degF}
units:
  rail:
    equipment: prep_rail
    place: kitchen
    settings: {supply_voltage: 115 V, lid_switch: yes, fan_switch: no, refrigerant: R-404A, coil.fan_volts: 24 V}
    joins: {served_by: roof_unit}
  roof_unit: {equipment: condenser, title: Unit on the roof, place: roof}
  spare: {equipment: condenser}
"""


def read(text: str) -> tuple[SitePlan, list[Problem]]:
    problems: list[Problem] = []
    node = parse_text(text, "s.yaml", problems)
    assert node is not None
    assert validate(node, "site", problems), problems
    return read_site(node, problems), problems


def test_everything_is_read() -> None:
    plan, problems = read(GOOD)
    assert problems == []
    assert (plan.name, plan.title, plan.hemisphere) == ("corner_kitchen", "Corner kitchen", "north")
    assert plan.altitude == pytest.approx(1200 * 0.3048, rel=1e-12)  # the international foot, exact by definition
    assert [(t.between, t.minutes) for t in plan.travel] == [(("kitchen", "roof"), 6.0)]
    assert plan.instruments["probe_7"].accuracy.absolute == pytest.approx(0.5 / 1.8, rel=1e-12)
    assert list(plan.units) == ["rail", "roof_unit", "spare"]
    rail = plan.units["rail"]
    assert (rail.name, rail.equipment, rail.title, rail.place) == ("rail", "prep_rail", "Rail", "kitchen")
    assert rail.joins == {"served_by": "roof_unit"}
    assert plan.units["roof_unit"].title == "Unit on the roof"


def test_nameplate_values_are_quantities_words_and_flags() -> None:
    assert read(GOOD)[0].units["rail"].settings == {
        "supply_voltage": Quantity(115.0, Kind.VOLTAGE, "115 V"),
        "lid_switch": True,
        "fan_switch": False,
        "refrigerant": "R-404A",
        "coil.fan_volts": Quantity(24.0, Kind.VOLTAGE, "24 V"),
    }


def test_settings_and_joins_know_their_place() -> None:
    unit = read(GOOD)[0].units["rail"]
    assert str(unit.where) == "s.yaml:9:3"
    assert {k: str(unit.places[k]) for k in ("equipment", "refrigerant", "served_by")} == {
        "equipment": "s.yaml:10:16",
        "refrigerant": "s.yaml:12:85",
        "served_by": "s.yaml:13:24",
    }


def test_a_bare_site_has_defaults() -> None:
    plan, problems = read("schema: 1\nsite: s\nunits: {a: {equipment: b}}\n")
    assert problems == []
    assert (plan.altitude, plan.travel, plan.instruments, plan.hemisphere) == (0.0, (), {}, "north")


@pytest.mark.parametrize(
    ("old", "new", "place", "what", "expected"),
    [
        ("served_by: roof_unit", "served_by: rail", "13:24", "'rail' is joined to itself under 'served_by'", "another unit"),
        ("served_by: roof_unit", "served_by: roof_unti", "13:24", "no unit 'roof_unti'", "did you mean 'roof_unit'?"),
        ("[kitchen, roof]", "[kitchn, roof]", "5:16", "place 'kitchn'", "did you mean 'kitchen'?"),
        ("[kitchen, roof]", "[roof, roof]", "5:22", "from 'roof' to itself", "two places"),
        ("minutes: 6}", "minutes: 6}\n  - {between: [roof, kitchen], minutes: 5}", "6:5", "first at s.yaml:5:5", "once"),
        ("1200 ft", "1200 V", "3:11", "altitude: '1200 V' is a voltage", "a length"),
        ("1200 ft", "high", "3:11", "altitude: 'high'", "a number"),
        ("0.5 delta_degF", "0.5 degF", "7:23", "instrument 'probe_7'", "delta_degF"),
    ],
)  # fmt: skip
def test_mistakes(old: str, new: str, place: str, what: str, expected: str) -> None:
    assert old in GOOD
    _, [problem] = read(GOOD.replace(old, new, 1))
    assert str(problem.where) == f"s.yaml:{place}"
    assert what in problem.what
    assert expected in problem.expected


def test_a_unit_does_not_suggest_itself_for_a_join() -> None:
    _, [problem] = read(GOOD.replace("served_by: roof_unit", "served_by: rial"))
    assert "'rail'" not in problem.expected
