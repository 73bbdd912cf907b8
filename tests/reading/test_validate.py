# ruff: noqa: E501 - tables: one case in each line
"""Schema errors in plain words at their place."""

from __future__ import annotations

import pytest

from faultkit.problems import Problem
from faultkit.reading.parse import parse_text
from faultkit.reading.validate import kind_of_file, validate

HEAD = "schema: 1\nequipment: rail\n"


def problems_of(text: str) -> list[Problem]:
    problems: list[Problem] = []
    node = parse_text(text, "f.yaml", problems)
    assert node is not None, problems
    kind = kind_of_file(node, problems)
    if kind is not None:
        assert validate(node, kind, problems) is (not problems)
    return problems


# below HEAD, so that the first line is line 3: text, line, column, what, expected
CASES: dict[str, tuple[str, int, int, str, str]] = {
    "unknown key at the top": ("tittle: x", 3, 1, "'tittle' is not a key of an equipment file", "did you mean 'title'"),
    "unknown key": ("checks:\n  m: {gives: [a], minutes: 1, powr: on}", 4, 31, "'powr' is not a key of a check", "'power'"),
    "far from any key": ("joins:\n  j: {xyzzy: 1}", 4, 7, "'xyzzy' is not a key of a join", "one of title, events"),
    "misspelt required key": ("checks: {m: {gives: [a], minuets: 1}}", 3, 26, "'minuets' is not a key", "'minutes'"),
    "missing key": ("checks:\n  m:\n    gives: [a]", 5, 5, "'m' has no 'minutes'", "'minutes: …' (How long it takes"),
    "missing in an empty mapping": ("sections: {coil: {}}", 3, 18, "'coil' has no 'use'", "'use: …'"),
    "list for a mapping": ("events: [a]", 3, 9, "'events' is a list, a mapping is wanted here", "name: value"),
    "text for a mapping": ("parts: fan", 3, 8, "'parts' is a text, a mapping is wanted here", "name: value"),
    "mapping for a list": ("checks: {m: {gives: {a: 1}, minutes: 1}}", 3, 21, "'gives' is a mapping, a list is", "[one, two]"),
    "text for a list": ("checks: {m: {gives: a, minutes: 1}}", 3, 21, "'gives' is a text, a list is wanted", "[one, two]"),
    "number for a text": ("title: 12", 3, 8, "'title' is a number, a text is wanted", '"12"'),
    "truth value for a text": ("title: true", 3, 8, "'title' is a truth value, a text is wanted", '"true"'),
    "text for a number": ("checks: {m: {gives: [a], minutes: four}}", 3, 35, "'minutes' is a text, a number", "above 0"),
    "nothing": ("source:", 3, 8, "'source' has no value, a text is wanted", "a text"),
    "number for a quantity": ("settings: {volts: 208}", 3, 19, "'volts' is a number", "{unit: A}"),
    "true for a flag": ("events: {a: {how_common: rare, stays: true}}", 3, 39, "'stays' is true", "write yes or no"),
    "false for a flag": ("house_events: {a: {default: false}}", 3, 29, "'default' is false", "write yes or no"),
    "word for a flag": ("joins: {j: {optional: maybe}}", 3, 23, "'optional' is 'maybe'", "write yes or no"),
    "misspelt word": ("checks: {m: {gives: [a], minutes: 1, power: locked}}", 3, 45, "'power' is 'locked'", "'locked_out'? One of any, on, live"),
    "misspelt frequency": ("events: {a: {how_common: comon}}", 3, 26, "'how_common' is 'comon'", "did you mean 'common'"),
    "misspelt chance": ("tells: {r: [{e: {high: allways}}]}", 3, 24, "'high' is 'allways'", "did you mean 'always'"),
    "every allowed word": ("events: {a: {how_common: often}}", 3, 26, "is 'often'", "very_common, common, uncommon, rare, very_rare"),
    "chance 0": ("tells: {r: [{e: {high: 0}}]}", 3, 24, "'high' is 0", "write never or always"),
    "chance 1": ("tells: {r: [{e: {high: 1}}]}", 3, 24, "'high' is 1", "write never or always"),
    "chance over 1": ("events: {a: {any_of: [{b: 85}]}}", 3, 27, "'b' is 85", "write never or always"),
    "chance no percent": ("events: {a: {any_of: [{b: 8 5 %}]}}", 3, 27, "'b' is '8 5 %'", "a percent"),
    "share of units 0": ("events: {a: {how_common: 0}}", 3, 26, "'how_common' is 0", "strictly between 0 and 1"),
    "season without the rest": ("events: {a: {how_common: {winter: rare}}}", 3, 26, "'how_common' has no 'otherwise'", "seasons not named"),
    "unknown season": ("events: {a: {how_common: {fall: rare, otherwise: rare}}}", 3, 27, "'fall' is not a key", "spring"),
    "other as a count": ("events: {a: {any_of: [b], other: 5}}", 3, 34, "'other' is 5", "5 %"),
    "half a count": ("events: {a: {at_least: 2.5, of: [b, c]}}", 3, 24, "a whole number is wanted", "1 or more"),
    "count without members": ("events: {a: {at_least: 2}}", 3, 13, "'a' has 'at_least' but no 'of'", "'of: …'"),
    "bad name": ("events: {Coil dirty: {how_common: rare}}", 3, 10, "'Coil dirty' cannot stand as a name", "small letters"),
    "bad head name": ("plain: x\nstates: {Off: x}", 4, 10, "'Off' cannot stand as a name in states", "small letters"),
    "bad reference": ("checks: {m: {gives: [the fan], minutes: 1}}", 3, 22, "item 1 of 'gives' is 'the fan'", "each fan.stopped"),
    "number for a name": ("parts: {fan: {copies: [1, b]}}", 3, 24, "item 1 of 'copies' is a number", "a name"),
    "cut without a unit": ("readings: {a: {unit: V, bands: [low, 8, high]}}", 3, 38, "item 2 of 'bands' is a number", "8 psig"),
    "ruler too short": ("readings: {a: {unit: V, bands: [low]}}", 3, 32, "'bands' has 1 member", "names and cuts by turns"),
    "range of one": ("readings: {a: {unit: V, range: [0 V]}}", 3, 32, "'range' has 1 member", "[lowest, highest]"),
    "shorthand misspelt": ("readings: {turns: yesno}", 3, 19, "'turns' is 'yesno'", "did you mean 'yes_no'?"),
    "argument as number": ("readings: {a: {unit: V, calculate: {use: sum, b: 3}}}", 3, 50, "'b' is a number", "8 psig"),
    "empty list": ("checks: {m: {gives: [], minutes: 1}}", 3, 21, "'gives' is empty", "at least one"),
    "empty text": ("title: ''", 3, 8, "'title' is empty", "at least one"),
    "list for a chance": ("tells: {r: [{e: {high: [always]}}]}", 3, 24, "'high' is a list, a text or a number is wanted", "85 %"),
    "nobody": ("checks: {m: {gives: [a], minutes: 1, crew: 0}}", 3, 44, "'crew' is 0", "1 or more"),
    "no time": ("checks: {m: {gives: [a], minutes: 0}}", 3, 35, "'minutes' is 0", "above 0"),
    "list in a list": ("events: {a: {any_of: [[b]]}}", 3, 23, "item 1 of 'any_of' is a list", "{event: how often}"),
    "needs outside a section": ("needs: {events: {a: b}}", 3, 1, "'needs' is not a key of an equipment file", "did you mean 'remedies'?"),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_one_mistake_one_problem(name: str) -> None:
    text, line, column, what, expected = CASES[name]
    [problem] = problems_of(HEAD + text)
    assert problem.where is not None
    assert (problem.where.file, problem.where.line, problem.where.column) == ("f.yaml", line, column)
    assert what in problem.what
    assert expected in problem.expected
    assert problem.where.text == (HEAD + text).splitlines()[line - 1]


def test_number_in_a_row_of_two_mistakes_gives_two_problems() -> None:
    assert [p.what for p in problems_of(HEAD + "checks: {m: {gives: 1, minutes: x}}")] == [
        "'gives' is a number, a list is wanted here",
        "'minutes' is a text, a number is wanted here",
    ]


def test_two_missing_keys_are_both_named() -> None:
    assert sorted(p.what for p in problems_of(HEAD + "remedies: {r: {}}")) == [
        "'r' has no 'ends'",
        "'r' has no 'minutes'",
    ]


def test_no_words_of_the_validator_come_through() -> None:
    for text, *_ in CASES.values():
        for problem in problems_of(HEAD + text):
            for word in (
                "does not match",
                "is not of type",
                "required property",
                "Additional properties",
                "is not one of",
            ):
                assert word not in problem.what + problem.expected


@pytest.mark.parametrize(
    ("text", "line", "column", "what", "expected"),
    [
        ("- a", 1, 1, "the file is a list", "equipment"),
        ("hello", 1, 1, "the file is a single value", "equipment"),
        ("schema: 1", 1, 1, "does not say what it holds", "'equipment:', 'section:'"),
        ("schema: 1\nequipmnt: x", 2, 1, "'equipmnt' is not the head", "did you mean 'equipment'?"),
        ("schema: 1\nsection: x\nsite: y", 3, 1, "'section:' and 'site:'", "holds one thing"),
        ("schema: 2\nsection: x", 1, 9, "'schema' is 2", "schema: 1"),
        ("schema: '1'\nsection: x", 1, 9, "'schema' is '1'", "schema: 1"),
        ("section: x", 1, 1, "the file has no 'schema'", "'schema: …'"),
        ("schema: 1\nsection: Coil", 2, 10, "'section' is 'Coil'", "small letters"),
        ("schema: 1\nsection: coil\njoins: {}", 3, 1, "'joins' is not a key of a section file", "one of"),
        ("schema: 1\ncommon: c\ntools: {meter: 1}", 3, 16, "'meter' is a number", '"1"'),
        ("schema: 1\ncommon: c\nhazards: {fire: {}}", 3, 17, "'fire' has no 'caution'", "as it is shown"),
        ("schema: 1\ncommon: c\nsetups: {a: {minutes: 1, titel: b}}", 3, 26, "'titel' is not a key of a set-up", "'title'"),
        ("schema: 1\nsite: s\nunits: {}", 3, 8, "'units' is empty", "at least one"),
        ("schema: 1\nsite: s\nunits: {a: {equipment: b}}\nhemisphere: east", 4, 13, "'hemisphere' is 'east'", "north"),
        ("schema: 1\nsite: s\nunits: {a: {equipment: b, settings: {v: 115}}}", 3, 41, "'v' is a number", "115 V"),
        ("schema: 1\nsite: s\nunits: {a: {equipment: b, settings: {v: true}}}", 3, 41, "'v' is a truth value", "yes or no"),
        ("schema: 1\nsite: s\nunits: {a: {equipment: b}}\ntravel: [{between: [a], minutes: 1}]", 4, 20, "'between' has 1", "[kitchen, roof]"),
    ],
)  # fmt: skip
def test_heads_and_other_kinds(text: str, line: int, column: int, what: str, expected: str) -> None:
    [problem] = problems_of(text)
    assert problem.where is not None
    assert (problem.where.line, problem.where.column) == (line, column)
    assert what in problem.what
    assert expected in problem.expected


CALL = "schema: 1\ncall: c\nsite: s.yaml\nopened: 2026-07-14T10:05\nentries:\n"


@pytest.mark.parametrize(
    ("entry", "column", "what", "expected"),
    [
        ("{kind: fct}", 12, "'kind' is 'fct'", "did you mean 'fact'?"),
        ("{knd: fact}", 5, "item 1 of 'entries' has no 'kind'", "Which kind"),
        ("fact", 5, "item 1 of 'entries' is a text", "name: value"),
        ("{kind: fact, reading: a.b}", 5, "item 1 of 'entries' has no 'value'", "What was seen"),
        ("{kind: fact, reading: a.b, valu: 1 V}", 32, "'valu' is not a key of a fact", "'value'"),
        ("{kind: fact, reading: a.b, value: yes, event: a.c}", 44, "'event' is not a key of a fact", "one of"),
        ("{kind: fact, reading: a.b, value: true}", 39, "'value' is a truth value", "yes or no"),
        ("{kind: fact, reading: The rail, value: 1}", 27, "'reading' is 'The rail'", "rail.fan.left.turns"),
        ("{kind: decision, unit: a, remedy: b, answer: aproved}", 50, "'answer' is 'aproved'", "'approved'"),
        ("{kind: location, place: a, time: 25:00}", 38, "'time' is '25:00'", "2026-07-14T09:05"),
        ("{kind: location, place: a, time: 9:05}", 38, "'time' is '9:05'", "09:05"),
        ("{kind: conditions, forbid: {powr: [live]}}", 33, "'powr' is not a key of what is forbidden", "'power'"),
        ("{kind: conditions, forbid: {power: [liv]}}", 41, "item 1 of 'power' is 'liv'", "'live'"),
        ("{kind: correction, corrects: f1, retract: true}", 47, "'retract' is true", "write yes or no"),
    ],
)  # fmt: skip
def test_entries_are_judged_by_their_kind(entry: str, column: int, what: str, expected: str) -> None:
    [problem] = problems_of(f"{CALL}  - {entry}")
    assert problem.where is not None
    assert (problem.where.line, problem.where.column) == (6, column)
    assert what in problem.what
    assert expected in problem.expected
