"""Common files, one and several."""

from __future__ import annotations

import pytest

from faultkit.model.types import Basis, Common, Hazard, Setup
from faultkit.problems import Problem
from faultkit.reading.common import read_common
from faultkit.reading.nodes import Node
from faultkit.reading.parse import parse_text
from faultkit.reading.validate import validate
from faultkit.units import Kind

GOOD = """\
schema: 1
common: trade
source: common practice
hazards:
  live_voltage: {caution: Shock and arc.}
  roof_edge: {caution: Stay back., source: site rules}
setups:
  gauges_on: {title: Gauges on, minutes: 6, hazards: [live_voltage]}
  power_locked_out: {minutes: 4.5}
instruments:
  pocket_thermometer: {accuracy: 2 delta_degF}
  meter: {title: Multimeter, accuracy: 1 % + 0.5 V, source: data sheet}
  scale: {accuracy: 1 %}
  gauge: {accuracy: ±1 psi}
tools:
  multimeter: Multimeter, CAT III
"""


def read(*texts: str) -> tuple[Common, list[Problem]]:
    problems: list[Problem] = []
    nodes: list[Node] = []
    for number, text in enumerate(texts):
        node = parse_text(text, f"c{number}.yaml", problems)
        assert node is not None
        assert validate(node, "common", problems), problems
        nodes.append(node)
    return read_common(nodes, problems), problems


def test_everything_is_read() -> None:
    common, problems = read(GOOD)
    assert problems == []
    inherited = Basis("common practice", inherited=True)
    assert common.hazards == {
        "live_voltage": Hazard("live_voltage", "Shock and arc.", inherited),
        "roof_edge": Hazard("roof_edge", "Stay back.", Basis("site rules")),
    }
    assert common.setups == {
        "gauges_on": Setup("gauges_on", 6.0, "Gauges on", ("live_voltage",), inherited),
        "power_locked_out": Setup("power_locked_out", 4.5, "Power locked out", (), inherited),
    }
    assert common.tools == {"multimeter": "Multimeter, CAT III"}


@pytest.mark.parametrize(
    ("name", "percent", "absolute", "measures"),
    [
        ("pocket_thermometer", 0.0, 2 / 1.8, Kind.TEMPERATURE_DIFFERENCE),
        ("meter", 1.0, 0.5, Kind.VOLTAGE),
        ("scale", 1.0, 0.0, None),
        ("gauge", 0.0, 6894.757293168362, Kind.PRESSURE_DIFFERENCE),  # 1 lbf/in², exact by definition
    ],
)
def test_the_bound_of_an_instrument(name: str, percent: float, absolute: float, measures: Kind | None) -> None:
    instrument = read(GOOD)[0].instruments[name]
    assert instrument.accuracy.percent == percent
    assert instrument.accuracy.absolute == pytest.approx(absolute, rel=1e-12)
    assert instrument.measures is measures


def test_titles_come_from_names() -> None:
    instruments = read(GOOD)[0].instruments
    assert instruments["pocket_thermometer"].title == "Pocket thermometer"
    assert instruments["meter"].title == "Multimeter"


def test_several_files_make_one() -> None:
    other = "schema: 1\ncommon: more\nhazards: {ice: {caution: Slippery.}}\n"
    other += "setups: {s: {minutes: 1, hazards: [live_voltage]}}\n"
    common, problems = read(other, GOOD)
    assert problems == []
    assert list(common.hazards) == ["ice", "live_voltage", "roof_edge"]
    assert list(common.setups) == ["s", "gauges_on", "power_locked_out"]
    assert common.hazards["ice"].basis is None


@pytest.mark.parametrize("key", ["hazards", "setups", "instruments", "tools"])
def test_a_name_in_two_files_names_both_places(key: str) -> None:
    member = {"hazards": "{caution: a}", "setups": "{minutes: 1}", "instruments": "{accuracy: 1 V}", "tools": "a"}[key]
    texts = [f"schema: 1\ncommon: c{i}\n{key}:\n  same: {member}\n" for i in range(2)]
    _, [problem] = read(*texts)
    assert problem.where is not None
    assert str(problem.where) == "c1.yaml:4:3"
    assert "'same'" in problem.what
    assert "c0.yaml:4:3" in problem.what


def test_an_unknown_hazard_of_a_setup() -> None:
    _, [problem] = read(GOOD.replace("hazards: [live_voltage]", "hazards: [live_voltag]"))
    assert str(problem.where) == "c0.yaml:8:55"
    assert "no hazard 'live_voltag'" in problem.what
    assert "did you mean 'live_voltage'?" in problem.expected


@pytest.mark.parametrize(
    ("accuracy", "part"),
    [
        ("2 degF", "delta_degF"),
        ("good", "number"),
        ("1 % + 1 %", "same part twice"),
        ("-1 V", "negative"),
        ("1 vlt", "unknown unit"),
    ],
)
def test_an_accuracy_that_cannot_be_read(accuracy: str, part: str) -> None:
    common, [problem] = read(f"schema: 1\ncommon: c\ninstruments:\n  meter: {{accuracy: {accuracy}}}\n")
    assert str(problem.where) == "c0.yaml:4:21"
    assert problem.what.startswith("instrument 'meter': ")
    assert part in problem.what + problem.expected
    assert common.instruments == {}
