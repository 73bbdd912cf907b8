"""Events: how common, gates, causes, flags, loops."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from faultkit.model.types import Basis, EquipmentType, Gate, Link, Prior, Ref
from faultkit.model.words import HOW_COMMON_WORDS
from faultkit.problems import Problem

Expand = Callable[..., EquipmentType]
Wrong = Callable[..., None]
ProblemsOf = Callable[..., tuple[Problem, ...]]

BASICS = "a: {how_common: common}, b: {how_common: rare}, c: {how_common: rare}"


def gate(body: str) -> str:
    return f"events: {{{BASICS}, {body}}}"


@pytest.mark.parametrize("word", HOW_COMMON_WORDS)
def test_each_word_for_how_common(expand: Expand, word: str) -> None:
    event = expand(f"events: {{a: {{how_common: {word}}}}}").events["a"]
    assert (event.gate, event.prior) == (Gate.BASIC, Prior(HOW_COMMON_WORDS[word]))


def test_numbers_percents_and_seasons(expand: Expand) -> None:
    events = expand(
        """
        events:
          a: {how_common: 0.02}
          b: {how_common: 0.4 %}
          c: {how_common: {winter: rare, summer: 3 %, otherwise: common}}
          d: {how_common: 1e-12}
        """
    ).events
    assert [e.prior for e in events.values()] == [
        Prior(0.02), Prior(0.004), Prior(0.01, {"winter": 0.001, "summer": 0.03}), Prior(1e-12),
    ]  # fmt: skip


def test_what_how_common_gets_wrong(wrong: Wrong) -> None:
    wrong(
        "events: {a: {how_common: «comon}}", "'comon' is not a word for how common", "did you mean 'common'"
    )
    wrong("events: {a: {how_common: «usually}}", "'usually' is not a word for how common", "very_common")
    for value in ("0", "1", "0 %", "100 %", "2", "-0.1"):
        wrong(
            f"events: {{a: {{how_common: «{value}}}}}",
            f"'{value}' is not strictly between 0 and 1",
            "a share of units",
        )
    wrong(
        "events: {a: {how_common: «{winter: rare}}}", "how_common by season has no 'otherwise'", "otherwise:"
    )
    wrong(
        "events: {a: {how_common: {«wintr: rare, otherwise: rare}}}",
        "no season 'wintr'",
        "did you mean 'winter'?",
    )
    wrong("events: {a: {how_common: {winter: «never, otherwise: rare}}}", "'never' is not a word", "rare")


def test_titles_words_flags_and_sources(expand: Expand) -> None:
    events = expand(
        """
        source: common practice
        events:
          coil_dirty: {how_common: common, stays: yes, intermittent: yes, source: bench test}
          b: {how_common: common, title: Valve STUCK open, plain: the valve, stays: no}
        """
    ).events
    first, second = events.values()
    assert (first.title, first.plain, first.stays, first.intermittent) == (
        "Coil dirty",
        "coil dirty",
        True,
        True,
    )
    assert (first.basis, second.basis) == (Basis("bench test"), Basis("common practice", inherited=True))
    assert (second.title, second.plain, second.stays) == ("Valve STUCK open", "the valve", False)
    assert first.where is not None
    assert (first.where.file, first.where.line, first.where.column) == ("rig.yaml", 5, 3)


def test_flags_are_yes_or_no(wrong: Wrong) -> None:
    wrong("events: {a: {how_common: rare, stays: «true}}", "'true' is not a flag", "write yes or no")
    wrong("events: {a: {how_common: rare, intermittent: «maybe}}", "'maybe' is not a flag", "write yes or no")


def test_gates(expand: Expand) -> None:
    events = expand(
        gate(
            "any: {any_of: [a, {b: seldom}, {c: 40 %}]}, whole: {any_of: [a], complete: only one way in}, "
            "leaky: {any_of: [a], other: 5 %}, both: {all_of: [a, b]}, two: {at_least: 2, of: [a, b, c]}"
        )
    ).events
    assert events["any"].inputs == (Link(Ref("a")), Link(Ref("b"), 0.15), Link(Ref("c"), 0.4))
    assert (events["any"].gate, events["any"].other, events["any"].complete) == (Gate.ANY_OF, 0.02, "")
    assert (events["whole"].other, events["whole"].complete) == (0.0, "only one way in")
    assert events["leaky"].other == 0.05
    assert (events["both"].gate, events["both"].other, events["both"].prior) == (Gate.ALL_OF, 0.0, None)
    assert (events["two"].gate, events["two"].k, len(events["two"].inputs)) == (Gate.AT_LEAST, 2, 3)


def test_damage(expand: Expand, wrong: Wrong) -> None:
    events = expand(gate("d: {how_common: rare, broken_by: {a: seldom, b: always}}")).events
    assert events["d"].broken_by == (Link(Ref("a"), 0.15), Link(Ref("b"), 1.0))
    wrong(
        gate("d: {any_of: [a], «broken_by: {b: seldom}}"),
        "'broken_by' of event 'd' means nothing beside any_of",
        "how_common",
    )
    wrong(gate("d: {how_common: rare, broken_by: {a: «never}}"), "a cause that never acts", "leave it out")
    wrong(gate("d: {how_common: rare, broken_by: {«x: seldom}}"), "no event 'x'", "")
    wrong(
        "house_events: {valve: no}\nevents: {d: {how_common: rare, broken_by: {«valve: seldom}}}",
        "'valve' is a house event", "an event",
    )  # fmt: skip


def test_an_event_is_one_thing(wrong: Wrong) -> None:
    wrong(
        gate("«d: {how_common: rare, any_of: [a]}"),
        "event 'd' is both how_common and any_of",
        "one of how_common",
    )
    wrong(
        gate("«d: {title: D}"), "event 'd' is neither a basic event nor a gate", "one of how_common, any_of"
    )
    wrong(gate("«d: rare"), "event 'd' is neither a basic event nor a gate", "how_common")


def test_what_a_gate_gets_wrong(wrong: Wrong) -> None:
    wrong(gate("d: {any_of: [a, «a]}"), "'a' stands twice in the inputs of 'd'", "each event once")
    wrong(gate("d: {any_of: [a, {«a: seldom}]}"), "'a' stands twice in the inputs of 'd'", "each event once")
    wrong(gate("d: {«any_of: []}"), "gate 'd' has no input", "any_of: [<events>]")
    wrong(gate("d: {«at_least: 2}"), "gate 'd' has no input", "of: [<events>]")
    wrong(gate("d: {at_least: «4, of: [a, b, c]}"), "at_least 4 of 3 inputs can never hold", "at most 3")
    wrong(gate("d: {at_least: «0, of: [a, b, c]}"), "at_least of gate 'd' is no count", "1 or more")
    wrong(gate("d: {at_least: «two, of: [a, b, c]}"), "at_least of gate 'd' is no count", "whole number")
    wrong(
        gate("d: {any_of: [a], complete: why, «other: 5 %}"),
        "complete and has other causes",
        "either complete",
    )
    wrong(
        gate("d: {all_of: [a], «other: 5 %}"),
        "'other' of event 'd' means nothing beside all_of",
        "only with any_of",
    )
    wrong(
        gate("d: {all_of: [a], «complete: why}"), "'complete' of event 'd' means nothing", "only with any_of"
    )
    wrong(
        gate("d: {any_of: [a], other: «0 %}"),
        "'0 %' is not strictly between 0 and 1",
        "write complete: <the reason>",
    )
    wrong(gate("d: {any_of: [a], other: «rarely}"), "'rarely' is not a share", "a percent like 5 %")
    wrong(gate("d: {any_of: [{a: «never}]}"), "a cause that never acts", "leave it out")
    wrong(gate("d: {any_of: [a], complete: «5}"), "'5' is not the reason", "the reason why")


def test_copies_count_as_inputs(expand: Expand, wrong: Wrong) -> None:
    fans = "parts: {fan: {copies: [x, y, z], events: {dead: {how_common: rare}}}}\n"
    event = expand(f"{fans}events: {{most: {{at_least: 2, of: [each fan.dead]}}}}").events["most"]
    assert len(event.inputs) == 3
    wrong(
        f"{fans}events: {{most: {{at_least: «4, of: [each fan.dead]}}}}",
        "at_least 4 of 3 inputs",
        "at most 3",
    )
    wrong(
        f"{fans}events: {{most: {{any_of: [each fan.dead, «fan.y.dead]}}}}",
        "'fan.y.dead' stands twice",
        "once",
    )


def test_how_many_units_a_join_leads_to_is_not_known_here(expand: Expand) -> None:
    joins = "joins: {serves: {reverse_of: fed_by, events: [warm]}}\n"
    assert expand(f"{joins}events: {{d: {{at_least: 3, of: [each serves.warm]}}}}").events["d"].k == 3


def test_a_loop_is_printed_with_the_way_out(wrong: Wrong) -> None:
    wrong(
        "events: {top: {any_of: [p]}, «p: {any_of: [q]}, q: {all_of: [r]}, r: {any_of: [p]}}",
        "events cause each other in a loop: p → q → r → p",
        "one of these links must go: make one of them a reading's row or a separate basic event",
    )
    wrong("events: {«p: {any_of: [p]}}", "in a loop: p → p", "one of these links must go")
    wrong(
        "events: {«p: {how_common: rare, broken_by: {q: seldom}}, q: {any_of: [p]}}",
        "in a loop: p → q → p", "one of these links must go",
    )  # fmt: skip


def test_two_loops_are_two_problems_and_a_diamond_is_none(problems_of: ProblemsOf, expand: Expand) -> None:
    found = problems_of("events: {a: {any_of: [b]}, b: {any_of: [a]}, c: {any_of: [d, a]}, d: {any_of: [c]}}")
    assert [p.what.partition(": ")[2] for p in found] == ["a → b → a", "c → d → c"]
    expand(gate("l: {any_of: [a]}, r: {any_of: [a, b]}, top: {all_of: [l, r]}"))


def test_a_joined_event_closes_no_loop_here(expand: Expand) -> None:
    expand("joins: {mate: {events: [p]}}\nevents: {p: {any_of: [mate.p]}}")


def test_a_deep_chain_is_no_trouble(expand: Expand) -> None:
    chain = ", ".join(f"e{i}: {{any_of: [e{i + 1}]}}" for i in range(3000))
    assert len(expand(f"events: {{{chain}, e3000: {{how_common: rare}}}}").events) == 3001
