"""Settings, house events, states and joins of one file; rulers and their cuts."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from faultkit.model.types import Basis, Cut, CutKind, Dimension, EquipmentType

Expand = Callable[..., EquipmentType]
Wrong = Callable[..., None]


def test_settings_of_every_form(expand: Expand) -> None:
    rig = expand(
        """
        settings:
          supply_voltage: 208 V
          fan_amps: {unit: A, title: Fan motor rated current}
          box: {unit: degF, default: 5 degC}
          refrigerant: {words: [R-134a, R-404A], default: R-404A}
          finish: {words: [white, steel]}
        """
    )
    volts, amps, box, fluid, finish = rig.settings.values()
    assert volts.title == "Supply voltage"
    assert (volts.dimension, volts.unit) == (Dimension.QUANTITY, "V")
    assert not isinstance(volts.default, (str, type(None)))
    assert (volts.default.value, volts.default.text) == (208.0, "208 V")
    assert (amps.title, amps.unit, amps.default) == ("Fan motor rated current", "A", None)
    assert not isinstance(box.default, (str, type(None)))
    assert box.unit == "degF"
    assert box.default.value == pytest.approx(278.15)
    assert (fluid.dimension, fluid.words, fluid.default) == (Dimension.WORD, ("R-134a", "R-404A"), "R-404A")
    assert finish.default is None
    assert volts.where is not None
    assert (volts.where.line, volts.where.column) == (4, 3)


def test_what_a_setting_gets_wrong(wrong: Wrong) -> None:
    wrong("settings: {volts: «208 Vlt}", "setting 'volts': unknown unit 'Vlt'", "V")
    wrong("settings: {volts: {unit: «vlts}}", "setting 'volts': unknown unit 'vlts'", "")
    wrong(
        "settings: {volts: {unit: V, default: «3 A}}",
        "setting 'volts': '3 A' is a current, not a voltage",
        "V",
    )
    wrong("settings: {«volts: {title: Volts}}", "neither a default nor a unit", "a quantity like 208 V")
    wrong(
        "settings: {fluid: «R-404A}",
        "setting 'fluid': 'R-404A' does not start with a number",
        "number and its unit",
    )
    wrong(
        "settings: {fluid: {words: [a, b], default: «c}}",
        "the default 'c' is none of the words",
        "one of a, b",
    )
    wrong("settings: {fluid: {words: [a, «a]}}", "'a' stands twice in words", "each once")
    wrong("settings: {volts: «[1]}", "setting 'volts': this is no quantity", "a number with its unit")


def test_house_events(expand: Expand, wrong: Wrong) -> None:
    rig = expand(
        """
        house_events: {valve: {default: yes, title: Valve fitted}, fan_cycling: no}
        events: {low: {any_of: [valve, leak]}, leak: {how_common: rare, only_with: [valve, fan_cycling]}}
        """
    )
    assert [(h.name, h.default, h.title) for h in rig.house_events.values()] == [
        ("valve", True, "Valve fitted"), ("fan_cycling", False, "Fan cycling"),
    ]  # fmt: skip
    assert rig.events["low"].inputs[0].ref.name == "valve"
    assert rig.events["leak"].only_with == ("valve", "fan_cycling")
    wrong("house_events: {valve: {default: «true}}", "'true' is not a flag", "write yes or no")
    wrong(
        "house_events: {valve: no}\nevents: {leak: {how_common: rare, only_with: «valv}}",
        "no house event 'valv'", "did you mean 'valve'?",
    )  # fmt: skip
    wrong(
        "house_events: {valve: no}\nevents: {leak: {how_common: rare, only_with: [valve, «valve]}}",
        "'valve' stands twice in only_with", "each once",
    )  # fmt: skip


def cuts_of(type_: EquipmentType, reading: str = "x") -> tuple[Cut, ...]:
    return type_.readings[reading].observables[0].cuts


def test_cuts_of_every_form(expand: Expand) -> None:
    rig = expand(
        """
        source: common practice
        settings: {rated: 10 A}
        readings:
          x:
            unit: A
            bands: [a, 1 A, b, rated, c, rated + 2 A, d, rated - 500 mA, e, 90.5 % of rated, f,
                    {at: 99 A, source: motor plate}, g]
        """
    )
    cuts = cuts_of(rig)
    assert [(c.kind, c.setting, c.value, c.offset, c.percent) for c in cuts] == [
        (CutKind.VALUE, "", 1.0, 0.0, 0.0),
        (CutKind.SETTING, "rated", 0.0, 0.0, 0.0),
        (CutKind.SETTING, "rated", 0.0, 2.0, 0.0),
        (CutKind.SETTING, "rated", 0.0, -0.5, 0.0),
        (CutKind.PERCENT, "rated", 0.0, 0.0, 90.5),
        (CutKind.VALUE, "", 99.0, 0.0, 0.0),
    ]
    assert [c.text for c in cuts] == [
        "1 A",
        "rated",
        "rated + 2 A",
        "rated - 500 mA",
        "90.5 % of rated",
        "99 A",
    ]
    assert cuts[0].basis == Basis("common practice", inherited=True)
    assert cuts[5].basis == Basis("motor plate")
    assert rig.readings["x"].observables[0].bands == ("a", "b", "c", "d", "e", "f", "g")


def test_cuts_take_the_source_of_their_reading(expand: Expand) -> None:
    rig = expand("source: file\nreadings: {x: {unit: A, source: meter test, bands: [a, 1 A, b]}}")
    assert cuts_of(rig)[0].basis == Basis("meter test")
    assert cuts_of(expand("readings: {x: {unit: A, bands: [a, 1 A, b]}}"))[0].basis is None


def test_an_offset_is_a_difference(expand: Expand, wrong: Wrong) -> None:
    text = "settings: {box: 38 degF, head: 200 psig}\nreadings: {x: {unit: %s, bands: [a, %s, b]}}"
    assert cuts_of(expand(text % ("degF", "box + 9 delta_degF")))[0].offset == pytest.approx(5.0)
    assert cuts_of(expand(text % ("psig", "head - 1 psi")))[0].offset == pytest.approx(-6894.757293168)
    wrong(text % ("degF", "«box + 9 degF"), "what is added to 'box': '9 degF' is a temperature", "delta_degF")
    wrong(text % ("psig", "«head + 9 psig"), "what is added to 'head': '9 psig' is a gauge pressure", "psi")


def test_kinds_of_cuts_match_the_reading(wrong: Wrong) -> None:
    text = "settings: {rated: 10 A, word: {words: [p, q]}}\nreadings: {x: {unit: %s, bands: [a, «%s, b]}}"
    wrong(text % ("psig", "20 psi"), "'20 psi' is a pressure difference, not a gauge pressure", "psig")
    wrong(
        text % ("V", "rated"),
        "setting 'rated' is a current, the reading is a voltage",
        "a setting that is a voltage",
    )
    wrong(text % ("V", "90 % of rated"), "setting 'rated' is a current", "a voltage")
    wrong(text % ("V", "rated + 3 V"), "setting 'rated' is a current", "a voltage")
    wrong(text % ("A", "word"), "'word' is a setting of words", "a cut is a quantity, a setting")
    wrong(text % ("A", "rate"), "no setting 'rate'", "did you mean 'rated'?")
    wrong(text % ("A", "10"), "this cut: '10' has no unit", "write the unit")
    wrong(text % ("A", "0 % of rated"), "a cut at 0 % of a setting", "a quantity")
    wrong(text % ("A", "{source: here}"), "a cut without 'at'", "{at: <cut>")


def test_a_percent_of_a_temperature_means_nothing(wrong: Wrong) -> None:
    wrong(
        "settings: {box: 38 degF}\nreadings: {x: {unit: degF, bands: [a, «90 % of box, b]}}",
        "a percent of the temperature 'box' means nothing", "'box + 5 delta_degF'",
    )  # fmt: skip


def test_a_cut_cannot_rest_on_a_joined_setting(wrong: Wrong) -> None:
    wrong(
        "joins: {fed_by: {settings: [volts]}}\nreadings: {x: {unit: V, bands: [a, «fed_by.volts, b]}}",
        "'fed_by.volts' is a setting of a joined unit", "a setting of this type",
    )  # fmt: skip


def test_literal_cuts_rise(wrong: Wrong, expand: Expand) -> None:
    wrong(
        "readings: {x: {unit: A, bands: [a, 3 A, b, «2 A, c]}}", "the cut 2 A does not lie above 3 A", "rise"
    )
    wrong(
        "readings: {x: {unit: A, bands: [a, 3 A, b, «3000 mA, c]}}",
        "the cut 3000 mA does not lie above 3 A",
        "rise",
    )
    # A setting between does not hide two literal cuts from each other; its own place is checked at a site.
    wrong(
        "settings: {s: 1 A}\nreadings: {x: {unit: A, bands: [a, 3 A, b, s, c, «2 A, d]}}",
        "the cut 2 A does not lie above 3 A", "rise",
    )  # fmt: skip
    expand("settings: {s: 1 A}\nreadings: {x: {unit: A, bands: [a, 3 A, b, s, c]}}")


def test_the_shape_of_a_ruler(wrong: Wrong) -> None:
    turns = "names and cuts by turns"
    wrong("readings: {x: {unit: A, bands: «[a, 3 A]}}", "a ruler of 2 members", turns)
    wrong("readings: {x: {unit: A, bands: «[a]}}", "a ruler of 1 members", turns)
    wrong("readings: {x: {unit: A, bands: «[a, 3 A, b, 4 A]}}", "a ruler of 4 members", turns)
    wrong("readings: {x: {unit: A, bands: «low}}", "a ruler of 0 members", turns)
    wrong(
        "readings: {x: {unit: A, bands: [a, 3 A, «4 A]}}",
        "'4 A' stands where the name of a band belongs",
        turns,
    )
    wrong(
        "readings: {x: {unit: A, bands: [a, 3 A, «a]}}",
        "'a' stands twice in the bands of one reading",
        "each once",
    )


def test_bands_per_state(expand: Expand) -> None:
    rig = expand(
        """
        states: {running: Runs, pumped_down: Pumped down}
        readings:
          p:
            unit: psig
            bands: {running: [low, 20 psig, high], pumped_down: [none, 0 psig, some, 9 psig, much]}
          q: {unit: psig, in: [running, pumped_down], bands: [low, 20 psig, high]}
          r: {unit: psig, in: running, bands: [low, 20 psig, high]}
          s: {unit: psig, bands: {running: [low, 20 psig, high]}}
          t: {unit: psig, bands: [low, 20 psig, high]}
          u: {yes_no: yes, in: [running, pumped_down]}
          v: {one_of: [few, many], in: running}
          w: {unit: psig, in: [running, pumped_down]}
        """
    )
    shown = {
        name: [(o.name, o.state, o.bands, len(o.cuts)) for o in reading.observables]
        for name, reading in rig.readings.items()
    }
    assert shown == {
        "p": [
            ("p in running", "running", ("low", "high"), 1),
            ("p in pumped_down", "pumped_down", ("none", "some", "much"), 2),
        ],
        "q": [
            ("q in running", "running", ("low", "high"), 1),
            ("q in pumped_down", "pumped_down", ("low", "high"), 1),
        ],
        "r": [("r", "running", ("low", "high"), 1)],
        "s": [("s", "running", ("low", "high"), 1)],
        "t": [("t", None, ("low", "high"), 1)],
        "u": [
            ("u in running", "running", ("yes", "no"), 0),
            ("u in pumped_down", "pumped_down", ("yes", "no"), 0),
        ],
        "v": [("v", "running", ("few", "many"), 0)],
        "w": [],
    }
    assert rig.readings["w"].states == ("running", "pumped_down")


def test_states_of_readings_are_known(wrong: Wrong) -> None:
    states = "states: {running: Runs}\n"
    wrong(states + "readings: {x: {unit: A, in: «runing}}", "no state 'runing'", "did you mean 'running'?")
    wrong(states + "readings: {x: {unit: A, bands: {«runing: [a, 1 A, b]}}}", "no state 'runing'", "running")
    wrong(
        states + "readings: {x: {unit: A, in: [running, «running]}}", "'running' stands twice in 'in'", "once"
    )
    wrong(
        states + "readings: {x: {unit: A, «in: running, bands: {running: [a, 1 A, b]}}}",
        "states stand both under 'in' and under 'bands'", "only one",
    )  # fmt: skip
    wrong("readings: {x: {unit: A, in: «running}}", "no state 'running'", "there is none here")
