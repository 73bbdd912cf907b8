"""The whole type: order, names, what a mistake costs, and inputs of the wrong shape."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from faultkit.model.types import Common, EquipmentType
from faultkit.problems import InputError, Problem
from faultkit.reading.expand import check_section, expand_type
from faultkit.reading.nodes import Node
from faultkit.reading.parse import parse_text

Expand = Callable[..., EquipmentType]

SECTION = """\
schema: 1
section: coil_kind
source: common practice
settings: {fan_volts: {unit: V}, glycol: {words: [none, some], default: none}}
house_events: {lid_switch: {default: no}}
states: {running: Runs}
needs: {events: {power_lost: Fans have no supply}}
readings: {volts: {unit: V, in: running, bands: [none, 10 V, low, 90 % of fan_volts, good]}}
tells: {volts: [{power_lost: {none: always}}, {otherwise: {good: usually}}]}
events:
  iced: {any_of: [power_lost, damper_shut]}
  damper_shut: {how_common: {winter: rare, otherwise: rare}}
"""
RIG = """\
schema: 1
equipment: prep_rail
title: Prep rail
plain: the cold table
source: common practice
settings: {supply: 208 V, amps: {unit: A}, finish: {words: [white, steel]}}
house_events: {switch: {default: yes, title: Switch}}
states: {running: Runs, stopped: Stands}
joins:
  fed_by: {title: Branch circuit, events: [dead], readings: [volts], settings: [supply]}
  serves: {reverse_of: served_by, events: [starved]}
sections:
  coil: {use: coil_kind, title: Coil, settings: {fan_volts: supply, glycol: some},
         events: {power_lost: fed_by.dead}, house_events: {lid_switch: switch}}
readings:
  air: {unit: degF, accuracy: 1 delta_degF, in: [running, stopped], range: [0 degF, 99 degF],
        bands: [cold, 33 degF, good, {at: 41 degF, source: menu}, warm]}
  current: {unit: A, bands: [none, 0.1 A, low, amps - 1 A, good, amps + 1 A, high], only_with: [switch]}
  rise: {unit: delta_degF, calculate: {use: difference, a: air, b: supply, c: 3 degF}}
  frost: {one_of: [none, partial, full]}
parts:
  fan:
    copies: [left, right]
    title: Fan
    readings: {turns: yes_no}
    events:
      dead: {how_common: common, broken_by: {coil.iced: seldom}}
      still: {any_of: [dead, {switch: often}]}
    tells: {turns: [{still: {no: always}}, {otherwise: {yes: nearly_always}}]}
tells:
  air in running:
    - warm: {warm: nearly_always, cold: never}
      source: notebook
    - otherwise: {good: usually}
events:
  warm: {any_of: [each fan.still, coil.iced], other: 5 %, title: Too warm, plain: The food is warm, source: x}
  both: {at_least: 2, of: [each fan.still, each serves.starved]}
  cold: {all_of: [both, coil.damper_shut], only_with: switch}
checks:
  look: {gives: [each fan.turns, air in running, fed_by.volts], minutes: 3, place: fed_by,
         setups: [], power: live, tools: [], hazards: [], crew: 1, outdoors: no,
         who: anyone, steps: [Look], only_with: switch}
remedies:
  mend: {ends: [each fan.dead], minutes: 20, parts: [fan], may_leave: {warm: rarely}, disturbs: [air],
         prove: {fan.left.turns: yes, air in running: good}, steps: Do it, power: locked_out}
"""


def node(text: str) -> Node:
    problems: list[Problem] = []
    made = parse_text(text, "x.yaml", problems)
    assert made is not None
    return made


def test_the_type_itself(expand: Expand) -> None:
    rig = expand(RIG.removeprefix("schema: 1\nequipment: prep_rail\n"), SECTION.removeprefix("schema: 1\n"))
    assert (rig.name, rig.title, rig.plain) == ("rig", "Prep rail", "the cold table")
    assert list(rig.readings) == [
        "air", "current", "rise", "frost", "fan.left.turns", "fan.right.turns", "coil.volts",
    ]  # fmt: skip
    assert list(rig.observables()) == [
        "air in running", "air in stopped", "current", "frost",
        "fan.left.turns", "fan.right.turns", "coil.volts",
    ]  # fmt: skip
    assert rig.where is not None
    assert (rig.where.line, rig.where.column) == (2, 1)


def test_titles_come_from_the_name(expand: Expand) -> None:
    rig = expand("events: {a: {how_common: rare}}")
    assert (rig.title, rig.plain) == ("Rig", "rig")


def test_reading_the_same_twice_gives_equal_types() -> None:
    problems: list[Problem] = []
    first, second = (
        expand_type(node(RIG), {"coil_kind": node(SECTION)}, Common(), problems) for _ in range(2)
    )
    assert problems == []
    assert first is not None
    assert first == second


def test_one_mistake_does_not_hide_another_and_costs_the_type() -> None:
    problems: list[Problem] = [Problem("an earlier one")]
    bad = RIG.replace("how_common: common, broken", "how_common: comon, broken").replace(
        "place: fed_by", "place: fedby"
    )
    assert expand_type(node(bad), {"coil_kind": node(SECTION)}, Common(), problems) is None
    assert [p.what.split("'")[1] for p in InputError(problems).problems[1:]] == ["comon", "fedby"]
    # An earlier problem of another file is no reason to refuse this one.
    assert expand_type(node(RIG), {"coil_kind": node(SECTION)}, Common(), problems) is not None


WRONG_VALUES: tuple[object, ...] = (None, True, 7, "each fan.still", [], {"x": "y"}, [{"a": ["b"]}])


def as_node(value: object, at: Node) -> Node:
    if isinstance(value, dict):
        return Node(at.where, {k: as_node(v, at) for k, v in value.items()}, dict.fromkeys(value, at.where))
    return Node(at.where, [as_node(v, at) for v in value] if isinstance(value, list) else value)


def copied(tree: Node) -> Node:
    value = tree.value
    if isinstance(value, dict):
        value = {k: copied(n) for k, n in value.items()}
    elif isinstance(value, list):
        value = [copied(n) for n in value]
    return Node(tree.where, value, tree.keys)


def places(root: Node) -> Iterator[tuple[Node, object]]:
    """Every parent and key (or index) in a tree."""
    pairs = root.value.items() if root.is_map else enumerate(root.value) if root.is_list else ()
    for key, child in pairs:
        yield root, key
        yield from places(child)


def mutants(text: str) -> Iterator[Node]:
    """The tree with each of its values replaced by each wrong one, or left out; one at a time."""
    count = len(list(places(node(text))))
    original = node(text)
    for i in range(count):
        for wrong in (*WRONG_VALUES, ...):
            tree = copied(original)
            parent, key = list(places(tree))[i]
            if wrong is ...:
                del parent.value[key]
            else:
                parent.value[key] = as_node(wrong, parent.value[key])
            yield tree


@pytest.mark.slow
def test_no_shape_of_a_type_breaks_the_reader() -> None:
    section, seen = node(SECTION), 0
    for tree in mutants(RIG):
        problems: list[Problem] = []
        made = expand_type(tree, {"coil_kind": section}, Common(), problems)
        assert (made is None) == bool(problems)
        assert all(p.where is not None for p in problems)
        seen += bool(problems)
    assert seen > 1000


@pytest.mark.slow
def test_no_shape_of_a_section_breaks_the_reader() -> None:
    rig, seen = node(RIG), 0
    for tree in mutants(SECTION):
        alone: list[Problem] = []
        check_section(tree, {"coil_kind": tree}, Common(), alone)
        problems: list[Problem] = []
        made = expand_type(rig, {"coil_kind": tree}, Common(), problems)
        assert (made is None) == bool(problems)
        seen += bool(alone)
    assert seen > 100
