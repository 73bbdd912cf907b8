"""Rows of tells, frequency words and how a row's chances are shared."""

from __future__ import annotations

from collections.abc import Callable
from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.model.types import Basis, EquipmentType, Ref
from faultkit.model.words import CHANCE_WORDS
from faultkit.problems import Problem
from faultkit.reading.chances import spread

Expand = Callable[..., EquipmentType]
Wrong = Callable[..., None]
BANDS = ("a", "b", "c")

HEAD = """
source: common practice
states: {running: Runs, stopped: Stands}
readings:
  x: {one_of: [low, normal, high, huge]}
  y: {yes_no: yes, in: [running, stopped]}
  z: {unit: degF}
events: {e1: {how_common: rare}, e2: {how_common: rare}}
"""


def rows(type_: EquipmentType, reading: str = "x", at: int = 0) -> list[tuple[str, tuple[float, ...]]]:
    observable = type_.readings[reading].observables[at]
    return [(str(r.event) if r.event else "otherwise", r.chances) for r in observable.rows]


def test_rows_keep_their_order_places_and_sources(expand: Expand) -> None:
    rig = expand(
        f"""{HEAD}
tells:
  x:
    - e2: {{high: usually}}
      source: bench test 7
    - e1: {{low: nearly_always}}
    - otherwise: {{normal: nearly_always}}
"""
    )
    found = rig.readings["x"].observables[0].rows
    assert [r.event for r in found] == [Ref("e2"), Ref("e1"), None]
    assert [r.basis for r in found] == [
        Basis("bench test 7"),
        Basis("common practice", inherited=True),
        Basis("common practice", inherited=True),
    ]  # fmt: skip
    assert [(r.where.line, r.where.column) for r in found if r.where] == [(13, 7), (15, 7), (16, 7)]


def test_unnamed_bands_share_the_rest(expand: Expand) -> None:
    rig = expand(
        f"""{HEAD}
tells:
  x:
    - e1: {{high: 0.7}}
    - e2: {{normal: nearly_always, low: 1 %}}
    - otherwise: {{normal: 0.6, low: 30 %}}
"""
    )
    found = dict(rows(rig))
    # otherwise: the rest, 0.1, evenly over high and huge
    assert found["otherwise"] == pytest.approx((0.3, 0.6, 0.05, 0.05), rel=1e-12)
    # e1: the rest, 0.3, like 0.3 : 0.6 : 0.05
    assert found["e1"] == pytest.approx(
        (0.3 * 0.3 / 0.95, 0.3 * 0.6 / 0.95, 0.7, 0.3 * 0.05 / 0.95), rel=1e-12
    )
    assert found["e2"] == pytest.approx((0.01, 0.97, 0.01, 0.01), rel=1e-12)


def test_logic_comes_only_from_always_and_never(expand: Expand) -> None:
    rig = expand(
        f"""{HEAD}
tells:
  x:
    - e1: {{high: always}}
    - e2: {{huge: never, low: never, normal: never}}
    - otherwise: {{normal: always}}
"""
    )
    assert rows(rig) == [
        ("e1", (0.0, 0.0, 1.0, 0.0)), ("e2", (0.0, 0.0, 1.0, 0.0)), ("otherwise", (0.0, 1.0, 0.0, 0.0)),
    ]  # fmt: skip


def test_a_band_never_seen_otherwise_gets_nothing_while_another_takes_the_rest() -> None:
    assert spread({2: 0.9}, BANDS, (0.0, 1.0, 0.0)) == pytest.approx((0.0, 0.1, 0.9), rel=1e-12)
    # None of the unnamed bands is ever seen otherwise: evenly.
    assert spread({1: 0.9}, BANDS, (0.0, 1.0, 0.0)) == pytest.approx((0.05, 0.9, 0.05), rel=1e-12)


@given(
    named=st.dictionaries(
        st.integers(0, 3), st.sampled_from([*CHANCE_WORDS.values(), 0.4, 1e-8, 0.123]), max_size=4
    ),
    last=st.dictionaries(st.integers(0, 3), st.sampled_from([*CHANCE_WORDS.values(), 0.2, 3e-7]), max_size=4),
)
def test_a_row_sums_to_one_and_is_logic_only_by_words(
    named: dict[int, float], last: dict[int, float]
) -> None:
    bands = ("a", "b", "c", "d")
    otherwise = spread(last, bands, None)
    if isinstance(otherwise, str):
        return
    chances = spread(named, bands, otherwise)
    if isinstance(chances, str):
        return
    assert abs(fsum(chances) - 1.0) < 1e-12
    never = 0.0 in named.values() or 1.0 in named.values() or 0.0 in otherwise
    for i, chance in enumerate(chances):
        assert 0.0 <= chance <= 1.0
        if i in named:
            assert chance == pytest.approx(named[i], rel=1e-9)
            assert (chance in (0.0, 1.0)) == (named[i] in (0.0, 1.0))
        elif chance in (0.0, 1.0):
            assert never


def test_states_have_rows_of_their_own(expand: Expand) -> None:
    rig = expand(
        f"""{HEAD}
tells:
  y in running: [{{e1: {{no: always}}}}, {{otherwise: {{yes: usually}}}}]
  y in stopped: [{{otherwise: {{no: usually}}}}]
"""
    )
    assert rows(rig, "y", 0)[0] == ("e1", (0.0, 1.0))
    assert rows(rig, "y", 0)[1][1] == pytest.approx((0.85, 0.15))
    assert rows(rig, "y", 1)[0][1] == pytest.approx((0.15, 0.85))


def test_a_reading_may_tell_nothing(expand: Expand) -> None:
    assert rows(expand(HEAD)) == []


def test_a_row_may_leave_everything_as_it_is_otherwise(expand: Expand) -> None:
    found = dict(rows(expand(f"{HEAD}tells: {{x: [{{e1: {{}}}}, {{otherwise: {{normal: 0.4}}}}]}}")))
    assert found["e1"] == pytest.approx(found["otherwise"])


def tells(body: str) -> str:
    return f"{HEAD}tells: {{{body}}}"


def row(text: str) -> str:
    return tells(f"x: [{text}, {{otherwise: {{normal: usually}}}}]")


def test_what_a_chance_gets_wrong(wrong: Wrong) -> None:
    logic = "write never or always"
    wrong(row("{e1: {high: «usualy}}"), "'usualy' is not a frequency word", "did you mean 'usually'?")
    wrong(row("{e1: {high: «0}}"), "'0' is not strictly between 0 and 1", logic)
    wrong(row("{e1: {high: «1}}"), "'1' is not strictly between 0 and 1", logic)
    wrong(row("{e1: {high: «1.0}}"), "'1.0' is not strictly", logic)
    wrong(row("{e1: {high: «0 %}}"), "'0 %' is not strictly", logic)
    wrong(row("{e1: {high: «100 %}}"), "'100 %' is not strictly", logic)
    wrong(row("{e1: {high: «1.5}}"), "'1.5' is not strictly", logic)
    wrong(row("{e1: {high: «-0.1}}"), "'-0.1' is not strictly", logic)
    wrong(row("{e1: {high: «1e-12}}"), "'1e-12' is closer than 1e-09 to 0 or 1", logic)
    wrong(row("{e1: {high: «99.99999999 %}}"), "closer than 1e-09 to 0 or 1", logic)
    wrong(row("{e1: {high: «true}}"), "'True' is not a frequency word", "a number between 0 and 1")
    wrong(row("{e1: {high: «[usually]}}"), "this is not a frequency word", "percent like 85 %")
    wrong(row("{e1: {«hihg: usually}}"), "no band 'hihg'", "did you mean 'high'?")


def test_what_a_row_gets_wrong(wrong: Wrong) -> None:
    wrong(row("{e1: «{high: usually, low: often}}"), "named in this row sum to 1.55, over 1", "sum to 1")
    wrong(row("{e1: «{high: always, low: 1e-8}}"), "over 1", "sum to 1")
    wrong(
        row("{e1: «{low: 0.1, normal: 0.2, high: 0.3, huge: 0.3}}"),
        "all bands are named and their chances sum to 0.9, not 1", "some bands left out",
    )  # fmt: skip
    wrong(row("{e1: «{low: never, normal: never, high: never, huge: never}}"), "sum to 0, not 1", "")
    wrong(row("{e1: «{low: nearly_always, normal: rarely}}"), "sum to 1 and leave nothing for high, huge", "")
    wrong(row("{«ex: {high: usually}}"), "no event 'ex'", "e1")
    wrong(row("«{e1: {high: usually}, e2: {high: usually}}"), "a row names one event", "- <event>")
    wrong(row("«{source: here}"), "a row names one event", "- <event>")
    wrong(row("{«e1: high}"), "the row 'e1' does not say how often which band comes", "{<band>: <how often>}")
    wrong(
        row("{e1: {high: usually}}, {«e1: {low: usually}}"), "event 'e1' stands twice in one tells", "one row"
    )
    wrong(row("«e1"), "a row names one event", "")


def test_the_same_event_under_two_names_is_still_twice(
    problems_of: Callable[..., tuple[Problem, ...]],
) -> None:
    section = (
        "section: s\nneeds: {events: {n: N, m: M}}\nreadings: {x: yes_no}\n"
        "tells: {x: [{n: {no: usually}}, {m: {no: often}}, {otherwise: {}}]}"
    )
    found = problems_of(
        "events: {p: {how_common: rare}}\nsections: {s: {use: s, events: {n: p, m: p}}}", section
    )
    assert [p.what for p in found] == ["event 'm' stands twice in one tells"]


def test_the_last_row_is_otherwise(wrong: Wrong) -> None:
    last = "the last row is '- otherwise: {…}'"
    wrong(tells("x: [«{e1: {high: usually}}]"), "these rows do not end with 'otherwise'", last)
    wrong(tells("x: «[]"), "these rows do not end with 'otherwise'", last)
    wrong(row("{«otherwise: {high: usually}}"), "rows below 'otherwise' would never be read", last)
    wrong(
        row("{e1: {high: usually}}").replace("{normal: usually}", "«{normal: 0.9, high: 0.2}"), "over 1", ""
    )
    wrong(
        row("{e1: {high: usually}}").replace("{normal: usually}}", "{normal: usually}, «e2: {}}"),
        "one event",
        "",
    )


def test_a_reading_has_one_home(wrong: Wrong) -> None:
    text = "[{otherwise: {yes: usually}}]"
    part = f"{HEAD}parts: {{fan: {{copies: [left, right], readings: {{turns: yes_no}}}}}}\n"
    elsewhere = "is declared elsewhere: two homes"
    home = "section, part or equipment that declares it"
    wrong(f"{part}tells: {{«fan.left.turns: {text}}}", f"reading 'fan.left.turns' {elsewhere}", home)
    wrong(f"{part}tells: {{«each fan.turns: {text}}}", f"reading 'each fan.turns' {elsewhere}", home)
    wrong(
        f"{HEAD}parts: {{fan: {{tells: {{«x: {text}}}}}}}".replace("yes: usually", "low: usually"),
        f"reading 'x' {elsewhere}", home,
    )  # fmt: skip
    wrong(
        f"{HEAD}sections: {{s: {{use: s}}}}\ntells: {{«s.frost: {text}}}",
        f"reading 's.frost' {elsewhere}", home, "section: s\nreadings: {frost: yes_no}",
    )  # fmt: skip
    wrong(
        f"{HEAD}joins: {{fed_by: {{readings: [volts]}}}}\ntells: {{«fed_by.volts: {text}}}",
        f"reading 'fed_by.volts' {elsewhere}", home,
    )  # fmt: skip


def test_the_head_of_tells_names_an_observable(wrong: Wrong) -> None:
    text = "[{otherwise: {}}]"
    wrong(tells(f"«y: {text}"), "reading 'y' has several states", "'y in running' or 'y in stopped'")
    wrong(
        tells(f"«y in defrost: {text}"),
        "reading 'y' has no state 'defrost'",
        "'y in running' or 'y in stopped'",
    )
    wrong(tells(f"«x in running: {text}"), "reading 'x' has no state 'running'", "'x'")
    wrong(tells(f"«z: {text}"), "reading 'z' has no bands, so it tells nothing", "bands for it, or no tells")
    wrong(tells(f"«yy: {text}"), "no reading 'yy' here", "y in running")
    wrong(
        f"{HEAD}parts: {{p: {{readings: {{y2: {{yes_no: yes, in: running}}}}, "
        f"tells: {{«y2 in running: {text}}}}}}}",
        "reading 'y2' has one state only", "'y2'",
    )  # fmt: skip
