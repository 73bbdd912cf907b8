"""Names: parts, copies, each, joins, clashes, did-you-mean."""

from __future__ import annotations

from collections.abc import Callable

from faultkit.model.types import EquipmentType, Ref

Expand = Callable[..., EquipmentType]
Wrong = Callable[..., None]

FANS = """
parts:
  fan:
    copies: [left, right]
    readings: {turns: yes_no}
    events:
      motor_failed: {how_common: common}
      blade_loose: {how_common: rare}
      stopped: {any_of: [motor_failed, blade_loose, door_open]}
    tells:
      turns:
        - stopped: {no: always}
        - otherwise: {yes: nearly_always}
    checks: {look: {gives: [turns], minutes: 1}}
    remedies: {replace: {ends: [motor_failed], minutes: 30, prove: {turns: yes}}}
"""
DOOR = "door_open: {how_common: common}"


def refs(type_: EquipmentType, event: str) -> list[str]:
    return [str(link.ref) for link in type_.events[event].inputs]


def test_each_copy_is_written_out_with_its_own_names(expand: Expand) -> None:
    rig = expand(f"{FANS}\nevents: {{{DOOR}}}")
    assert list(rig.events) == [
        "door_open",
        "fan.left.motor_failed", "fan.left.blade_loose", "fan.left.stopped",
        "fan.right.motor_failed", "fan.right.blade_loose", "fan.right.stopped",
    ]  # fmt: skip
    assert refs(rig, "fan.right.stopped") == ["fan.right.motor_failed", "fan.right.blade_loose", "door_open"]
    observable = rig.readings["fan.left.turns"].observables[0]
    assert observable.name == "fan.left.turns"
    assert observable.rows[0].event == Ref("fan.left.stopped")
    assert rig.checks["fan.left.look"].gives == (Ref("fan.left.turns"),)
    assert rig.remedies["fan.right.replace"].ends == (Ref("fan.right.motor_failed"),)
    assert rig.remedies["fan.right.replace"].prove == ((Ref("fan.right.turns"), "yes"),)


def test_titles_name_the_copy(expand: Expand) -> None:
    rig = expand(f"{FANS}\nevents: {{{DOOR}}}")
    assert rig.events["fan.left.motor_failed"].title == "Left fan: motor failed"
    assert rig.events["fan.left.motor_failed"].plain == "left fan: motor failed"
    assert rig.readings["fan.right.turns"].title == "Right fan: turns"
    assert rig.checks["fan.left.look"].title == "Left fan: look"
    assert rig.remedies["fan.left.replace"].title == "Left fan: replace"


def test_written_titles_keep_abbreviations_and_customer_words(expand: Expand) -> None:
    rig = expand(
        """
        parts:
          fan:
            copies: [left, right]
            title: EC fan
            events: {dead: {how_common: common, title: AC supply lost, plain: The fan is dead}}
          pump:
            events: {dead: {how_common: common, plain: The pump is dead}}
        """
    )
    assert rig.events["fan.left.dead"].title == "Left EC fan: AC supply lost"
    assert rig.events["fan.left.dead"].plain == "left EC fan: the fan is dead"
    assert rig.events["pump.dead"].title == "Pump: dead"
    assert rig.events["pump.dead"].plain == "The pump is dead"


def test_each_stands_for_all_copies_and_a_dotted_name_for_one(expand: Expand) -> None:
    rig = expand(
        f"""
events:
  {DOOR}
  all_stopped: {{all_of: [each fan.stopped]}}
  left_only: {{any_of: [fan.left.stopped]}}
checks: {{look_at_all: {{gives: [each fan.turns], minutes: 2}}}}
remedies: {{replace_all: {{ends: [each fan.motor_failed], disturbs: [each fan.turns], minutes: 50}}}}
{FANS}"""
    )
    assert refs(rig, "all_stopped") == ["fan.left.stopped", "fan.right.stopped"]
    assert refs(rig, "left_only") == ["fan.left.stopped"]
    assert [str(r) for r in rig.checks["look_at_all"].gives] == ["fan.left.turns", "fan.right.turns"]
    assert [str(r) for r in rig.remedies["replace_all"].ends] == [
        "fan.left.motor_failed", "fan.right.motor_failed",
    ]  # fmt: skip
    assert [str(r) for r in rig.remedies["replace_all"].disturbs] == ["fan.left.turns", "fan.right.turns"]


def test_a_part_without_copies_is_one_piece(expand: Expand) -> None:
    rig = expand(
        """
        parts: {pump: {events: {seized: {how_common: rare}}}}
        events: {no_flow: {any_of: [pump.seized]}}
        """
    )
    assert refs(rig, "no_flow") == ["pump.seized"]
    assert rig.events["pump.seized"].title == "Pump: seized"


def test_a_copied_part_without_each_shows_the_three_ways(wrong: Wrong) -> None:
    text = f"events: {{{DOOR}, stuck: {{any_of: [«fan.stopped]}}}}\n{FANS}"
    for way in (
        "'fan.left.stopped' for one copy",
        "'each fan.stopped' for all copies",
        "'stopped' inside the part itself",
    ):
        wrong(text, "part 'fan' has the copies left, right", way)


def test_each_is_refused_where_one_name_belongs(wrong: Wrong) -> None:
    wrong(
        f"""
events: {{{DOOR}}}
readings: {{flow: yes_no}}
tells:
  flow:
    - «each fan.stopped: {{no: usually}}
    - otherwise: {{yes: usually}}
{FANS}""",
        "'each' cannot stand here",
        "a gate above all copies",
    )


def test_each_of_something_single(wrong: Wrong) -> None:
    what, cure = "is one event, 'each' is for all copies of a part", "without each"
    wrong(f"events: {{{DOOR}, ajar: {{any_of: [«each door_open]}}}}", what, cure)
    wrong(
        """
        parts: {pump: {events: {seized: {how_common: rare}}}}
        events: {no_flow: {any_of: [«each pump.seized]}}
        """,
        what,
        cure,
    )


def test_unknown_names_say_what_may_be_meant(wrong: Wrong) -> None:
    wrong(
        f"events: {{{DOOR}, warm: {{any_of: [«door_opn]}}}}",
        "no event 'door_opn'",
        "did you mean 'door_open'?",
    )
    wrong(
        f"events: {{{DOOR}, warm: {{any_of: [«fan.lefft.stopped]}}}}\n{FANS}",
        "no event 'fan.lefft.stopped'",
        "did you mean 'fan.left.stopped'",
    )
    wrong(
        f"events: {{{DOOR}, warm: {{any_of: [«each fan.stoped]}}}}\n{FANS}",
        "no event 'fan.stoped' with several copies",
        "did you mean 'fan.stopped'",
    )
    wrong(
        """
        readings: {box_air: {unit: degF}}
        events: {warm: {any_of: [«box_air]}}
        """,
        "'box_air' is a reading, an event was wanted",
        "warm",
    )
    wrong(
        f"events: {{{DOOR}, warm: {{any_of: [«door open]}}}}",
        "'door open' is not the name of an event",
        "each part.name",
    )
    wrong(
        f"events: {{{DOOR}, warm: {{any_of: [«5]}}}}",
        "'5' is not the name of an event",
        "the name of an event",
    )


def test_copies_are_named_once(wrong: Wrong) -> None:
    wrong(
        "parts: {fan: {copies: [left, «left], events: {dead: {how_common: rare}}}}",
        "'left' stands twice in copies of part 'fan'",
        "each once",
    )
    wrong(
        "parts: {fan: {«copies: [], events: {dead: {how_common: rare}}}}",
        "part 'fan' has no copy",
        "leave copies out",
    )


def test_one_name_one_meaning_in_a_scope(wrong: Wrong) -> None:
    wrong(
        """
        settings: {frost: 3 V}
        events: {«frost: {how_common: common}}
        """,
        "'frost' is already a setting here, it cannot also be an event",
        "a name of its own",
    )
    wrong(
        """
        events: {frost: {how_common: common}}
        readings: {«frost: yes_no}
        """,
        "'frost' is already an event here, it cannot also be a reading",
        "a name of its own",
    )
    wrong(
        """
        joins: {fan: {events: [dead]}}
        parts: {«fan: {events: {dead: {how_common: common}}}}
        """,
        "'fan' is already a join here, it cannot also be a part",
        "a name of its own",
    )
    wrong(
        """
        parts: {fan: {events: {turns: {how_common: common}}, readings: {«turns: yes_no}}}
        """,
        "'turns' is already an event here, it cannot also be a reading",
        "a name of its own",
    )


def test_a_word_of_the_format_cannot_name_an_event(wrong: Wrong) -> None:
    wrong("events: {«otherwise: {how_common: common}}", "'otherwise' cannot name an event", "another name")


JOINS = """
joins:
  fed_by: {title: Branch circuit, events: [dead, low], readings: [volts], settings: [supply]}
  serves: {reverse_of: served_by, events: [starved]}
  spare: {optional: yes}
"""


def test_joined_events_are_kept_as_references(expand: Expand) -> None:
    rig = expand(
        f"""
events:
  no_power: {{any_of: [fed_by.dead, each serves.starved]}}
checks: {{volts_there: {{gives: [fed_by.volts], minutes: 3, place: fed_by}}}}
remedies: {{reset: {{ends: [fed_by.dead], minutes: 3, prove: {{fed_by.volts: good}}}}}}
{JOINS}"""
    )
    assert [link.ref for link in rig.events["no_power"].inputs] == [
        Ref("dead", "fed_by"), Ref("starved", "serves", each=True),
    ]  # fmt: skip
    join = rig.joins["fed_by"]
    assert (join.title, join.events, join.readings, join.settings) == (
        "Branch circuit", ("dead", "low"), ("volts",), ("supply",),
    )  # fmt: skip
    assert (rig.joins["serves"].title, rig.joins["serves"].reverse_of) == ("Serves", "served_by")
    assert (rig.joins["spare"].optional, join.optional) == (True, False)
    assert rig.checks["volts_there"].gives == (Ref("volts", "fed_by"),)
    assert rig.checks["volts_there"].place == "fed_by"
    assert rig.remedies["reset"].prove == ((Ref("volts", "fed_by"), "good"),)


def test_a_join_lists_what_is_used(wrong: Wrong) -> None:
    wrong(
        f"events: {{no_power: {{any_of: [«fed_by.ded]}}}}\n{JOINS}",
        "'ded' is not listed in the events of join 'fed_by'",
        "did you mean 'dead'?; or list it under joins: fed_by: events",
    )
    wrong(
        f"checks: {{look: {{gives: [«fed_by.amps], minutes: 2}}}}\n{JOINS}",
        "'amps' is not listed in the readings of join 'fed_by'",
        "joins: fed_by: readings",
    )
    wrong(
        "joins: {fed_by: {events: [dead, «dead]}}",
        "'dead' stands twice in events of join 'fed_by'",
        "each once",
    )


def test_each_belongs_to_joins_that_lead_to_many(wrong: Wrong) -> None:
    wrong(
        f"events: {{no_power: {{any_of: [«each fed_by.dead]}}}}\n{JOINS}",
        "join 'fed_by' leads to one unit",
        "'fed_by.dead' without each",
    )
    wrong(
        f"events: {{no_power: {{any_of: [«serves.starved]}}}}\n{JOINS}",
        "join 'serves' leads to many units",
        "'each serves.starved'",
    )


def test_a_place_is_a_join_to_one_unit(wrong: Wrong) -> None:
    text = f"readings: {{flow: yes_no}}\nchecks: {{look: {{gives: [flow], minutes: 2, place: «%s}}}}\n{JOINS}"
    wrong(text % "fedby", "no join 'fedby' to a single place", "did you mean 'fed_by'?")
    wrong(text % "serves", "no join 'serves' to a single place", "fed_by")
