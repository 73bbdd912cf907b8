"""Sections: prefix, needs, what is handed down, states, titles, rings, and checks on their own."""

from __future__ import annotations

from collections.abc import Callable

from faultkit.model.types import Basis, EquipmentType, Ref
from faultkit.problems import Problem

Expand = Callable[..., EquipmentType]
Wrong = Callable[..., None]
ProblemsOf = Callable[..., tuple[Problem, ...]]

COIL = """
section: coil_kind
source: bench notes
settings: {fan_volts: {unit: V}, rows: 3 A, glycol: {words: [none, some], default: none}}
house_events: {lid_switch: {default: no}}
states: {running: Runs, defrost: Coil heats}
needs: {events: {power_lost: Fans have no supply}}
readings:
  volts: {unit: V, in: running, bands: [none, 10 V, low, 90 % of fan_volts, good]}
tells:
  volts:
    - power_lost: {none: always}
    - otherwise: {good: nearly_always}
events:
  iced: {any_of: [power_lost, lid_switch, damper_shut]}
  damper_shut: {how_common: rare}
parts:
  fan: {copies: [a, b], events: {dead: {how_common: common}, still: {any_of: [dead, power_lost]}}}
"""
RIG = """
source: common practice
settings: {supply: 208 V}
house_events: {rail_switch: {default: yes}}
states: {running: Runs 15 minutes}
events:
  no_power: {how_common: common}
  warm: {any_of: [left.iced, each left.fan.still, right.fan.b.dead]}
sections:
  left: {use: coil_kind, settings: {fan_volts: supply, rows: 5 A, glycol: some},
         events: {power_lost: no_power}, house_events: {lid_switch: rail_switch}}
  right: {use: coil_kind, title: Right coil, events: {power_lost: no_power}, house_events: {lid_switch: yes}}
"""


def test_a_section_is_expanded_under_its_prefix(expand: Expand) -> None:
    rig = expand(RIG, COIL)
    assert list(rig.events) == [
        "no_power", "warm",
        "left.iced", "left.damper_shut",
        "left.fan.a.dead", "left.fan.a.still", "left.fan.b.dead", "left.fan.b.still",
        "right.iced", "right.damper_shut",
        "right.fan.a.dead", "right.fan.a.still", "right.fan.b.dead", "right.fan.b.still",
    ]  # fmt: skip
    assert [str(link.ref) for link in rig.events["warm"].inputs] == [
        "left.iced", "left.fan.a.still", "left.fan.b.still", "right.fan.b.dead",
    ]  # fmt: skip


def test_a_need_becomes_the_event_bound_to_it(expand: Expand) -> None:
    rig = expand(RIG, COIL)
    assert [str(link.ref) for link in rig.events["left.iced"].inputs] == [
        "no_power", "left.lid_switch", "left.damper_shut",
    ]  # fmt: skip
    assert rig.events["right.fan.a.still"].inputs[1].ref == Ref("no_power")
    assert rig.readings["left.volts"].observables[0].rows[0].event == Ref("no_power")
    assert "left.power_lost" not in rig.events


def test_settings_are_handed_down_or_kept(expand: Expand) -> None:
    rig = expand(RIG, COIL)
    settings = rig.settings
    assert list(settings) == [
        "supply",
        "left.fan_volts", "left.rows", "left.glycol",
        "right.fan_volts", "right.rows", "right.glycol",
    ]  # fmt: skip
    assert settings["left.fan_volts"].alias == "supply"
    assert settings["left.fan_volts"].default == settings["supply"].default
    assert (settings["right.fan_volts"].alias, settings["right.fan_volts"].default) == ("", None)
    rows = settings["left.rows"].default
    assert rows is not None
    assert not isinstance(rows, str)
    assert (rows.text, settings["left.glycol"].default, settings["right.glycol"].default) == (
        "5 A",
        "some",
        "none",
    )
    assert rig.readings["left.volts"].observables[0].cuts[1].setting == "left.fan_volts"


def test_house_events_are_handed_down(expand: Expand) -> None:
    house = expand(RIG, COIL).house_events
    assert list(house) == ["rail_switch", "left.lid_switch", "right.lid_switch"]
    assert (house["left.lid_switch"].alias, house["left.lid_switch"].default) == ("rail_switch", True)
    assert (house["right.lid_switch"].alias, house["right.lid_switch"].default) == ("", True)


def test_states_are_shared_and_the_includer_words_win(expand: Expand) -> None:
    assert expand(RIG, COIL).states == {"running": "Runs 15 minutes", "defrost": "Coil heats"}


def test_titles_get_a_head_only_from_the_include(expand: Expand) -> None:
    events = expand(RIG, COIL).events
    assert events["left.damper_shut"].title == "Damper shut"
    assert events["left.fan.a.dead"].title == "A fan: dead"
    assert events["right.damper_shut"].title == "Right coil: damper shut"
    assert events["right.fan.a.dead"].title == "Right coil: A fan: dead"
    assert events["right.damper_shut"].plain == "right coil: damper shut"


def test_a_section_inherits_the_source_of_its_own_file(expand: Expand) -> None:
    events = expand(RIG, COIL).events
    assert events["no_power"].basis == Basis("common practice", inherited=True)
    assert events["left.damper_shut"].basis == Basis("bench notes", inherited=True)


OUTER = """
section: outer
settings: {feed: {unit: V}}
house_events: {hood: no}
needs: {events: {no_feed: The feed is lost}}
sections:
  inner: {use: coil_kind, settings: {fan_volts: feed}, events: {power_lost: no_feed},
          house_events: {lid_switch: hood}}
"""


def test_sections_of_sections_pass_on_needs_and_aliases(expand: Expand) -> None:
    rig = expand(
        """
        settings: {supply: 208 V}
        house_events: {switch: no}
        joins: {fed_by: {events: [dead]}}
        sections:
          box: {use: outer, settings: {feed: supply}, events: {no_feed: fed_by.dead},
                house_events: {hood: switch}}
        events: {warm: {any_of: [each box.inner.fan.still]}}
        """,
        OUTER,
        COIL,
    )
    assert rig.events["box.inner.iced"].inputs[0].ref == Ref("dead", "fed_by")
    # One step to the setting itself, no chain.
    assert rig.settings["box.feed"].alias == "supply"
    assert rig.settings["box.inner.fan_volts"].alias == "supply"
    assert rig.house_events["box.inner.lid_switch"].alias == "switch"
    assert [str(link.ref) for link in rig.events["warm"].inputs] == [
        "box.inner.fan.a.still", "box.inner.fan.b.still",
    ]  # fmt: skip


def test_what_an_include_gets_wrong(wrong: Wrong) -> None:
    text = """
    settings: {supply: 208 V, amps: 3 A, kind: {words: [none, much]}}
    house_events: {switch: no}
    events: {no_power: {how_common: common}}
    sections: {«%s}
    """

    def check(include: str, what: str, expected: str) -> None:
        marked = text.replace("«", "") if "«" in include else text
        wrong(marked % include, what, expected, COIL)

    power = "events: {power_lost: no_power}"
    check(
        "left: {use: «coil_knd, events: {power_lost: no_power}}",
        "no section 'coil_knd'",
        "did you mean 'coil_kind'?",
    )
    check(
        "left: {events: {power_lost: no_power}}", "section 'left' does not say which section it uses", "use:"
    )
    check(
        "left: {use: coil_kind}",
        "needs an event for 'power_lost' (Fans have no supply)",
        "events: {power_lost:",
    )
    check(
        "left: {use: coil_kind, events: {power_lost: no_power, «power_los: no_power}}",
        "the section needs no event 'power_los'", "did you mean 'power_lost'?",
    )  # fmt: skip
    check(
        "left: {use: coil_kind, events: {power_lost: «no_powr}}",
        "no event 'no_powr'",
        "did you mean 'no_power'?",
    )
    check(
        f"left: {{use: coil_kind, {power}, settings: {{«fan_vlts: supply}}}}",
        "the section has no setting 'fan_vlts'", "did you mean 'fan_volts'?",
    )  # fmt: skip
    check(
        f"left: {{use: coil_kind, {power}, settings: {{fan_volts: «suply}}}}",
        "no setting 'suply' here", "did you mean 'supply'?",
    )  # fmt: skip
    check(
        f"left: {{use: coil_kind, {power}, settings: {{fan_volts: «amps}}}}",
        "'amps' is a current, but the section's setting 'fan_volts' is a voltage", "same kind",
    )  # fmt: skip
    check(
        f"left: {{use: coil_kind, {power}, settings: {{fan_volts: «kind}}}}",
        "'kind' is a word, but the section's setting 'fan_volts' is a voltage", "same kind",
    )  # fmt: skip
    check(
        f"left: {{use: coil_kind, {power}, settings: {{glycol: «kind}}}}",
        "'kind' may be much, which the section's setting 'glycol' does not know", "only none, some",
    )  # fmt: skip
    check(
        f"left: {{use: coil_kind, {power}, settings: {{fan_volts: «3 A}}}}",
        "'3 A' is a current, not a voltage", "voltage",
    )  # fmt: skip
    check(
        f"left: {{use: coil_kind, {power}, settings: {{glycol: «sum}}}}",
        "'sum' is neither a word of the section's setting 'glycol' nor a setting here", "some",
    )  # fmt: skip
    check(
        f"left: {{use: coil_kind, {power}, house_events: {{«lid: switch}}}}",
        "the section has no house event 'lid'", "lid_switch",
    )  # fmt: skip
    check(
        f"left: {{use: coil_kind, {power}, house_events: {{lid_switch: «swich}}}}",
        "no house event 'swich' here", "did you mean 'switch'?",
    )  # fmt: skip


def test_a_need_is_not_seen_from_outside(problems_of: ProblemsOf) -> None:
    found = problems_of(
        """
        events: {no_power: {how_common: common}, dark: {any_of: [left.power_lost]}}
        sections: {left: {use: coil_kind, events: {power_lost: no_power}}}
        """,
        COIL,
    )
    assert [p.what for p in found] == ["no event 'left.power_lost'"]


def test_a_section_has_no_joins(wrong: Wrong, section_problems: ProblemsOf) -> None:
    text = "section: bare\n«joins: {fed_by: {events: [dead]}}\n"
    wrong("sections: {x: {use: bare}}", "a section has no joins", "under needs: events", text)
    alone = section_problems(text)
    assert [(p.what, p.where.line if p.where else 0) for p in alone] == [("a section has no joins", 3)]


def test_a_mistake_in_a_section_is_the_same_for_every_type(
    problems_of: ProblemsOf, section_problems: ProblemsOf
) -> None:
    bad = COIL.replace("damper_shut: {how_common: rare}", "damper_shut: {how_common: raree}").replace(
        "still: {any_of: [dead, power_lost]}", "still: {any_of: [dead, power_lst]}"
    )
    use = "{use: coil_kind, events: {power_lost: p}}"
    power = "events: {p: {how_common: rare}}\n"
    one = problems_of(f"{power}sections: {{x: {use}}}", bad)
    two = problems_of(f"{power}sections: {{y: {use}, z: {use}}}", bad)
    assert len(one) == 2
    assert one == two == section_problems(bad)
    assert {p.where.file for p in one if p.where} == {"coil_kind.yaml"}


def test_a_loop_in_a_section_reads_the_same_everywhere(
    problems_of: ProblemsOf, section_problems: ProblemsOf
) -> None:
    ring = """
    section: ring
    parts:
      fan: {copies: [a, b], events: {x: {any_of: [y]}, y: {any_of: [x]}}}
      left: {events: {p: {any_of: [right.q]}}}
      right: {events: {q: {any_of: [left.p]}}}
    """
    found = problems_of("sections: {one: {use: ring}, two: {use: ring}}", ring)
    assert found == section_problems(ring)
    assert [p.what for p in found] == [
        "events cause each other in a loop: x → y → x",
        "events cause each other in a loop: left.p → right.q → left.p",
    ]


def test_a_section_on_its_own(section_problems: ProblemsOf) -> None:
    assert section_problems(COIL) == ()
    assert section_problems(OUTER, COIL) == ()
    found = section_problems(COIL.replace("in: running", "in: runing"))
    assert [(p.what, p.expected) for p in found if "state" in p.what] == [
        ("no state 'runing'", "did you mean 'running'?")
    ]


def test_a_section_may_use_a_state_of_its_includer(expand: Expand, section_problems: ProblemsOf) -> None:
    probe = "section: probe\nreadings: {air: {unit: degF, in: pulled_down, bands: [cold, 33 degF, warm]}}\n"
    rig = expand("states: {pulled_down: Cold}\nsections: {p: {use: probe}}", probe)
    assert rig.readings["p.air"].states == ("pulled_down",)
    assert [p.what for p in section_problems(probe)] == ["no state 'pulled_down'"]


def test_sections_in_a_ring_are_printed_the_same_from_everywhere(
    problems_of: ProblemsOf, section_problems: ProblemsOf
) -> None:
    a = "section: a\nsections: {b: {use: b}}\n"
    b = "section: b\nsections: {a: {use: a}}\n"
    found = problems_of("sections: {x: {use: b}}", a, b)
    assert [p.what for p in found] == ["sections include each other in a ring: a → b → a"]
    assert [(p.where.file, p.where.line, p.where.column) for p in found if p.where] == [("b.yaml", 3, 21)]
    assert (
        found
        == problems_of("sections: {x: {use: a}}", a, b)
        == section_problems(a, b)
        == section_problems(b, a)
    )
    own = "section: own\nsections: {again: {use: own}}\n"
    assert [p.what for p in section_problems(own)] == ["sections include each other in a ring: own → own"]
