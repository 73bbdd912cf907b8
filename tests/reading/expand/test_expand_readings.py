"""Readings and their calculations; checks and remedies."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from faultkit.model.types import Basis, Common, EquipmentType, Power, ReadingKind, Ref

Expand = Callable[..., EquipmentType]
Wrong = Callable[..., None]


def test_readings_of_every_kind(expand: Expand) -> None:
    rig = expand(
        """
        source: common practice
        house_events: {valve: no}
        readings:
          box_air: {unit: degF, accuracy: 1 delta_degF, bands: [cold, 33 degF, warm],
                    range: [-60 degF, 200 degF], title: Air in the box,
                    plain: How cold it is, source: meter book, only_with: valve}
          volts: {unit: V, accuracy: 1 % + 0.5 V}
          frost: {one_of: [none, partial, full]}
          turns: yes_no
          hums: {yes_no: yes, title: Motor hums}
        """
    )
    box, volts, frost, turns, hums = rig.readings.values()
    assert (box.kind, box.unit, box.title, box.plain) == (
        ReadingKind.QUANTITY, "degF", "Air in the box", "How cold it is",
    )  # fmt: skip
    assert box.range == pytest.approx((222.0388889, 366.4833333))
    assert box.accuracy is not None
    assert box.accuracy.absolute == pytest.approx(5 / 9)
    assert (box.only_with, box.basis) == (("valve",), Basis("meter book"))
    assert volts.accuracy is not None
    assert (volts.accuracy.percent, volts.accuracy.absolute) == (1.0, 0.5)
    assert (volts.observables, volts.basis) == ((), Basis("common practice", inherited=True))
    assert (frost.kind, frost.observables[0].bands) == (ReadingKind.ONE_OF, ("none", "partial", "full"))
    assert (turns.kind, turns.observables[0].bands, turns.title) == (
        ReadingKind.YES_NO,
        ("yes", "no"),
        "Turns",
    )
    assert (hums.kind, hums.title, hums.plain) == (ReadingKind.YES_NO, "Motor hums", "motor hums")


def test_what_a_reading_gets_wrong(wrong: Wrong) -> None:
    forms = "one of yes_no, {one_of: [words]}, or {unit: …}"
    wrong("readings: {«x: {title: X}}", "reading 'x' does not say what kind of reading it is", forms)
    wrong("readings: {«x: yesno}", "reading 'x' does not say what kind", forms)
    wrong("readings: {«x: {unit: V, one_of: [a, b]}}", "reading 'x' is unit and one_of at once", forms)
    wrong("readings: {x: {«yes_no: no}}", "reading 'x' is not a yes/no reading", "yes_no: yes")
    wrong("readings: {x: {unit: «degX}}", "reading 'x': unknown unit 'degX'", "degF")
    wrong(
        "readings: {x: {yes_no: yes, «bands: [a, 1 V, b]}}",
        "'bands' of reading 'x' means nothing without a unit",
        "unit",
    )
    wrong(
        "readings: {x: {one_of: [a, b], «accuracy: 1 %}}", "'accuracy' of reading 'x' means nothing", "unit"
    )
    wrong("readings: {x: {one_of: [a, «a]}}", "'a' stands twice in one_of of reading 'x'", "each once")
    wrong("readings: {x: {«one_of: [a]}}", "reading 'x' has no choice", "two words or more")
    wrong("readings: {x: {one_of: [a, «B c]}}", "'B c' cannot name a band", "small letters")
    wrong("readings: {x: {unit: degF, accuracy: «1 %}}", "a percentage of a temperature", "delta_degF")
    wrong("readings: {x: {unit: V, accuracy: «1 A}}", "'A' is a current, not a voltage", "V")
    wrong(
        "readings: {x: {unit: V, range: «[1 V]}}",
        "the range of reading 'x' has not two ends",
        "[lowest, highest]",
    )
    wrong(
        "readings: {x: {unit: V, range: «[2 V, 1 V]}}",
        "the range of reading 'x' does not rise",
        "[lowest, highest]",
    )
    wrong("readings: {x: {unit: V, range: [1 V, «2 A]}}", "the range of reading 'x': '2 A' is a current", "V")


CALC = """
settings: {rated: 3 A, fluid: {words: [p, q], default: p}}
joins: {fed_by: {readings: [volts], settings: [supply]}}
readings:
  cond: {unit: degF}
  air: {unit: degF}
  split: {unit: delta_degF, calculate: {use: difference, %s}, bands: [low, 8 delta_degF, high]}
parts:
  fan:
    copies: [l, r]
    readings: {amps: {unit: A}, load: {unit: "%%", calculate: {use: ratio, a: amps, b: rated}}}
"""


def test_arguments_of_a_calculation(expand: Expand) -> None:
    rig = expand(
        CALC
        % "a: cond, b: air, c: fed_by.volts, d: fan.l.amps, s: rated, w: fluid, j: fed_by.supply, q: 2 psi"
    )
    made = rig.readings["split"].calculation
    assert made is not None
    assert made.calculator == "difference"
    assert made.readings == {
        "a": Ref("cond"),
        "b": Ref("air"),
        "c": Ref("volts", "fed_by"),
        "d": Ref("fan.l.amps"),
    }
    assert made.settings == {"s": Ref("rated"), "w": Ref("fluid"), "j": Ref("supply", "fed_by")}
    assert made.quantities["q"].value == pytest.approx(13789.514586)
    load = rig.readings["fan.r.load"].calculation
    assert load is not None
    assert (load.readings, load.settings) == ({"a": Ref("fan.r.amps")}, {"b": Ref("rated")})


def test_what_a_calculation_gets_wrong(wrong: Wrong) -> None:
    wrong(
        CALC % "a: «conf, b: air",
        "argument 'a': 'conf' is neither a reading nor a setting",
        "did you mean 'cond'?",
    )
    wrong(CALC % "a: «12, b: air", "argument 'a': '12' has no unit", "write the unit")
    wrong(CALC % "a: «12 psx, b: air", "argument 'a': unknown unit 'psx'", "psi")
    wrong(CALC % "a: cond, b: «cond", "reading 'cond' stands twice in one calculation", "each reading once")
    wrong(CALC % "a: «each fan.amps", "'each' cannot stand here", "a single copy")
    wrong(CALC % "a: «fan.amps", "part 'fan' has the copies l, r", "'fan.l.amps' for one copy")
    wrong(CALC % "a: «cond in running", "'cond in running' names a state", "'cond'")
    wrong("readings: {x: {unit: V, calculate: «{a: 3 V}}}", "does not say which calculator it uses", "use:")


def test_readings_calculated_in_a_loop(wrong: Wrong) -> None:
    wrong(
        """
        readings:
          «x: {unit: V, calculate: {use: half, of: y}}
          y: {unit: V, calculate: {use: half, of: x}}
        """,
        "readings are calculated from each other in a loop: x → y → x",
        "one of them must be measured",
    )


BASE = """
source: common practice
states: {running: Runs, stopped: Stands}
house_events: {valve: no}
joins: {fed_by: {events: [dead], readings: [volts]}}
readings:
  flow: yes_no
  raw: {unit: V}
  p: {unit: psig, in: [running, stopped], bands: [low, 20 psig, high]}
events: {a: {how_common: rare}, b: {how_common: rare}}
"""


def test_a_full_check(expand: Expand) -> None:
    rig = expand(
        f"""{BASE}
checks:
  measure: {{gives: [flow, raw, p in running, fed_by.volts], minutes: 4.5, place: fed_by, setups: [gauges_on],
            power: live, tools: [multimeter], hazards: [live_voltage], crew: 2, outdoors: yes, who: licensed,
            steps: [Look, Write it down], title: Measure all, source: bench test, only_with: valve}}
  look: {{gives: flow, minutes: 1}}
"""
    )
    check = rig.checks["measure"]
    assert [str(r) for r in check.gives] == ["flow", "raw", "p in running", "fed_by.volts"]
    assert (check.minutes, check.place, check.setups, check.power) == (
        4.5,
        "fed_by",
        ("gauges_on",),
        Power.LIVE,
    )
    assert (check.tools, check.hazards, check.crew) == (("multimeter",), ("live_voltage",), 2)
    assert (check.outdoors, check.who, check.steps) == (True, "licensed", ("Look", "Write it down"))
    assert (check.title, check.basis, check.only_with) == ("Measure all", Basis("bench test"), ("valve",))
    look = rig.checks["look"]
    assert (look.title, look.place, look.power, look.crew, look.outdoors, look.who) == (
        "Look", "", Power.ANY, 1, False, "anyone",
    )  # fmt: skip
    assert look.basis == Basis("common practice", inherited=True)


def test_a_full_remedy(expand: Expand) -> None:
    rig = expand(
        f"""{BASE}
remedies:
  clean: {{ends: [a, fed_by.dead], minutes: 30, parts: [brush], place: fed_by,
          setups: [gauges_on], power: locked_out, tools: [multimeter],
          hazards: [live_voltage], crew: 2, who: licensed, steps: [Brush it],
          fails: seldom, may_leave: {{b: rarely}}, unsettles: [b], disturbs: [flow, p],
          prove: {{flow: yes, p in stopped: low}}}}
"""
    )
    remedy = rig.remedies["clean"]
    assert remedy.ends == (Ref("a"), Ref("dead", "fed_by"))
    assert (remedy.minutes, remedy.parts, remedy.power) == (30.0, ("brush",), Power.LOCKED_OUT)
    assert [(str(link.ref), link.strength) for link in remedy.may_leave] == [("b", 0.03)]
    assert (remedy.fails, remedy.unsettles) == (0.15, (Ref("b"),))
    # A reading is disturbed in all its states.
    assert [str(r) for r in remedy.disturbs] == ["flow", "p in running", "p in stopped"]
    assert [(str(r), band) for r, band in remedy.prove] == [("flow", "yes"), ("p in stopped", "low")]


def check(body: str) -> str:
    return f"{BASE}checks: {{look: {{{body}}}}}"


def remedy(body: str) -> str:
    return f"{BASE}remedies: {{mend: {{{body}}}}}"


def test_what_a_check_gets_wrong(wrong: Wrong) -> None:
    full = "gives: [flow], minutes: 1, "
    wrong(check("gives: [«flw], minutes: 1"), "no reading 'flw'", "did you mean 'flow'")
    wrong(check("«gives: [], minutes: 1"), "check 'look' gives no reading", "gives: [<names>]")
    wrong(f"{BASE}checks: {{«look: {{minutes: 1}}}}", "check 'look' gives no reading", "gives: [<names>]")
    wrong(
        check("gives: [flow, «flow], minutes: 1"),
        "'flow' stands twice in gives of check 'look'",
        "each reading once",
    )
    wrong(
        check("gives: [«p], minutes: 1"), "reading 'p' has several states", "'p in running' or 'p in stopped'"
    )
    wrong(
        check("gives: [«p in runing], minutes: 1"),
        "reading 'p' has no state 'runing'",
        "did you mean 'running'?",
    )
    wrong(
        check("gives: [«flow in running], minutes: 1"),
        "reading 'flow' has no state 'running'",
        "'flow' without a state",
    )
    wrong(
        check("gives: [flow], minutes: «0"), "check 'look' does not say how many minutes", "a number above 0"
    )
    wrong(
        f"{BASE}checks: {{«look: {{gives: [flow]}}}}",
        "check 'look' does not say how many minutes",
        "minutes:",
    )
    wrong(check(full + "power: «life"), "no power state 'life'", "did you mean 'live'?")
    wrong(check(full + "crew: «0"), "crew of check 'look' is no count", "1 or more")
    wrong(check(full + "hazards: [«live_volts]"), "no hazard 'live_volts'", "did you mean 'live_voltage'?")
    wrong(check(full + "setups: [«gauges]"), "no setup 'gauges'", "did you mean 'gauges_on'?")
    wrong(check(full + "tools: [«meter]"), "no tool 'meter'", "did you mean 'multimeter'?")
    wrong(check(full + "tools: [multimeter, «multimeter]"), "'multimeter' stands twice in tools", "each once")
    wrong(check(full + "only_with: «vale"), "no house event 'vale'", "did you mean 'valve'?")
    wrong(check(full + "outdoors: «true"), "'true' is not a flag", "write yes or no")


def test_one_state_is_not_named(wrong: Wrong) -> None:
    wrong(
        "states: {running: Runs}\nreadings: {x: {yes_no: yes, in: running}}\n"
        "checks: {l: {gives: [«x in running], minutes: 1}}",
        "reading 'x' has one state only", "'x' without 'in running'",
    )  # fmt: skip


def test_a_reading_without_bands_is_named_without_a_state(wrong: Wrong, expand: Expand) -> None:
    text = (
        "states: {s: S, t: T}\nreadings: {x: {unit: V, in: [s, t]}}\nchecks: {l: {gives: [%s], minutes: 1}}"
    )
    wrong(text % "«x in s", "reading 'x' has no bands", "'x' without 'in s'")
    assert expand(text % "x").checks["l"].gives == (Ref("x"),)


def test_without_a_common_file_every_hazard_is_unknown(wrong: Wrong) -> None:
    wrong(
        check("gives: [flow], minutes: 1, hazards: [«live_voltage]"),
        "no hazard 'live_voltage'", "a common file of this catalogue that lists it", common=Common(),
    )  # fmt: skip


def test_what_a_remedy_gets_wrong(wrong: Wrong) -> None:
    full = "ends: [a], minutes: 1, "
    wrong(remedy("ends: [«x], minutes: 1"), "no event 'x'", "a, b")
    wrong(remedy("ends: [a, «a], minutes: 1"), "'a' stands twice in ends of remedy 'mend'", "each event once")
    wrong(remedy("«ends: [], minutes: 1"), "remedy 'mend' ends nothing", "ends: [<names>]")
    wrong(remedy("ends: [«valve], minutes: 1"), "'valve' is a house event", "an event")
    wrong(remedy(full + "may_leave: {«valve: rarely}"), "'valve' is a house event", "an event")
    wrong(remedy(full + "may_leave: {b: «rarly}"), "'rarly' is not a frequency word", "did you mean 'rarely'")
    wrong(remedy(full + "may_leave: {«b: always}"), "remedy 'mend' always leaves 'b'", "how often it does")
    wrong(remedy(full + "fails: «always"), "remedy 'mend' always fails", "a word below always")
    wrong(remedy(full + "fails: «oftn"), "'oftn' is not a frequency word", "did you mean 'often'")
    wrong(remedy(full + "unsettles: [b, «b]"), "'b' stands twice in unsettles of remedy 'mend'", "each event once")
    wrong(
        remedy(full + "disturbs: [p, «p in running]"),
        "'p in running' stands twice in disturbs",
        "each reading once",
    )
    wrong(remedy(full + "prove: {flow: «maybe}"), "no band 'maybe' of reading 'flow'", "one of yes, no")
    wrong(remedy(full + "prove: {«flw: yes}"), "no reading 'flw'", "did you mean 'flow'")
    wrong(remedy(full + "prove: {«p: low}"), "reading 'p' has several states", "'p in running'")
    wrong(
        remedy(full + "prove: {«raw: low}"),
        "reading 'raw' has no bands, so it proves nothing",
        "a reading with bands",
    )
    wrong(remedy(full + "place: «fed"), "no join 'fed' to a single place", "did you mean 'fed_by'?")
    mend = "remedies: {m: {ends: [a], minutes: 1, prove: {turns: yes, «fan.turns: yes}}}"
    wrong(
        f"{BASE}parts: {{fan: {{readings: {{turns: yes_no}}, {mend}}}}}",
        "'fan.turns' stands twice in prove",
        "each reading once",
    )
