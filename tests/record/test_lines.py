# ruff: noqa: E501 - tables: one case in each line
"""The lines of a record, broken in every place."""

from __future__ import annotations

import hashlib
import json
import re
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from faultkit.model.entries import Note, Opened, entry_from_data
from faultkit.problems import InputError
from faultkit.reading.resources import data_folder
from faultkit.record.lines import START, line_of, read_lines

HEAD = Opened(id="opened", time="2026-07-14T10:05", call="one", site="place")
WORDS = ["Kühlung läuft", "51 °F", "a \u2028 line", "tab\tand\nbreak", "NUL \0 in it", 'quote " and , "sum": "x"}']
ENTRIES = [HEAD, *(Note(id=f"n{n}", time=f"2026-07-14T10:1{n}", text=w) for n, w in enumerate(WORDS))]


def written(entries: list[Any]) -> list[bytes]:
    lines, last = [], START
    for number, entry in enumerate(entries, 1):
        line, last = line_of(number, entry, last)
        lines.append(line)
    return lines


LINES = written(ENTRIES)
DATA = b"".join(LINES)


def problems_of(data: bytes) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_lines(data, "c.jsonl")
    assert all(p.where is not None and p.where.file == "c.jsonl" for p in caught.value.problems)
    return [p.what for p in caught.value.problems]


def test_what_was_written_is_read() -> None:
    chain = read_lines(DATA, "c.jsonl")
    assert [chain.opened, *chain.entries] == ENTRIES
    assert (chain.lines, chain.length, chain.torn, chain.notices) == (7, len(DATA), b"", ())
    assert DATA.count(b"\n") == len(DATA.decode().splitlines()) == 7  # however lines are counted


def test_another_program_could_have_written_it() -> None:
    """The chain by what DEVELOPERS.md says of it, with nothing of faultkit."""
    before = "0" * 64
    for number, line in enumerate(DATA.decode("utf-8").split("\n")[:-1], 1):
        body, found, rest = line.rpartition(', "sum": "')
        own = hashlib.sha256(body.encode("utf-8")).hexdigest()
        assert (found, rest) == (', "sum": "', own + '"}')
        data = json.loads(line)
        assert (data["line"], data["before"], data.get("schema")) == (number, before, 1 if number == 1 else None)
        before = own
    # And one written by hand: other spaces and order of keys, the same meaning.
    body = '{"line":1,"schema":1,"before":"' + START + '","entry":{"site":"s","kind":"opened","id":"o","time":"2026-07-14T10:05"}'
    line = body + ', "sum": "' + hashlib.sha256(body.encode()).hexdigest() + '"}\n'
    assert read_lines(line.encode(), "c.jsonl").opened.site == "s"


def test_lines_are_valid_by_the_schema() -> None:
    schema = json.loads((data_folder("schemas") / "record.v1.json").read_text(encoding="utf-8"))
    validator = Draft202012Validator(schema)
    for line in LINES:
        assert [e.message for e in validator.iter_errors(json.loads(line))] == []
    assert list(validator.iter_errors({**json.loads(LINES[1]), "sum": "0"}))


def test_cut_at_every_byte_nothing_before_the_cut_is_lost() -> None:
    ends = [0]
    for line in LINES:
        ends.append(ends[-1] + len(line))
    for cut in range(len(DATA)):
        # A line that lacks its line break only is whole.
        whole = sum(end - 1 <= cut for end in ends[1:])
        if not whole:
            assert "holds no whole line" in problems_of(DATA[:cut])[0]
            continue
        chain = read_lines(DATA[:cut], "c.jsonl")
        assert [chain.opened, *chain.entries] == ENTRIES[:whole]
        assert chain.lines == whole
        if cut in ends:
            assert (chain.torn, chain.unended, chain.notices) == (b"", False, ())
        elif cut + 1 in ends:
            assert (chain.torn, chain.unended, chain.length) == (b"", True, cut)
            assert f"line {whole} is whole but for its line break" in chain.notices[0]
        else:
            assert chain.torn == DATA[ends[whole]:cut]
            assert chain.length == ends[whole]
            assert f"line {whole + 1} was cut off" in chain.notices[0]


def test_a_file_that_grew_without_its_content_is_a_torn_end() -> None:
    for tail in (b"\0" * 500, b"\0" * 500 + b"\n", b'{"line": 8, "entry"' + b"\0" * 80 + b"\n"):
        chain = read_lines(DATA + tail, "c.jsonl")
        assert chain.torn == tail
        assert len(chain.entries) == 6


def test_every_flipped_byte_is_found_in_its_line() -> None:
    """All bits of each byte, one after the other; never another entry, never a lost one without a word."""
    at = 0
    for number, line in enumerate(LINES, 1):
        for offset in range(len(line)):
            for bit in (0x01, 0x80, 0x20)[: 3 if offset % 7 == 0 else 1]:
                broken = bytearray(DATA)
                broken[at + offset] ^= bit
                said = problems_of(bytes(broken))
                assert any(f"line {number} " in s for s in said) or "version" in said[0], (number, offset, said)
        at += len(line)


def test_a_line_removed_moved_or_put_in_is_found() -> None:
    without = problems_of(b"".join(LINES[:2] + LINES[3:]))
    assert without == ["line 3 was line 4 when it was written: 1 line before it is missing"]
    assert "line 3 was line 6" in problems_of(b"".join(LINES[:2] + LINES[5:]))[0]
    swapped = problems_of(b"".join([*LINES[:2], LINES[3], LINES[2], *LINES[4:]]))
    assert [re.sub(r" .*", "", s.removeprefix("line ")) for s in swapped] == ["3", "4", "5"]
    twice = problems_of(b"".join([*LINES[:3], LINES[2], *LINES[3:]]))
    assert twice[0].startswith("line 4 does not follow the line before it")
    foreign = line_of(3, Note(id="x", time="2026-07-14T10:05", text="x"), START)[0]
    put_in = problems_of(b"".join([*LINES[:2], foreign, *LINES[2:]]))
    assert put_in[0].startswith("line 3 does not follow")


def test_an_edited_line_is_one_problem_and_all_are_said() -> None:
    edited = DATA.replace("läuft".encode(), b"steht").replace(b"51 ", b"31 ")
    assert problems_of(edited) == [f"line {n} was changed after it was written: its sum does not fit" for n in (2, 3)]


def test_many_problems_are_counted() -> None:
    many = written([HEAD, *(Note(id=f"n{n}", time="2026-07-14T10:10", text="abc") for n in range(100))])
    said = problems_of(b"".join(many).replace(b"abc", b"abd"))
    assert len(said) == 21
    assert said[-1] == "and 80 more"


@pytest.mark.parametrize("first", [b'{"schema": 2, "anything": []}\n', b'{"schema": 7}', b'{"schema": 3, "line": 1, '])
def test_a_later_version_is_said_before_anything_else(first: bytes) -> None:
    said = problems_of(first)
    if first.endswith(b", "):
        assert "holds no whole line" in said[0]
    else:
        assert re.search(r"version [27] of the format, this faultkit reads version 1", said[0])
        assert len(said) == 1


def chained(*bodies: str) -> bytes:
    """Lines whose sums fit, whatever they say."""
    out, last = b"", START
    for body in bodies:
        text = body.replace("BEFORE", last)
        last = hashlib.sha256(text.encode()).hexdigest()
        out += f'{text}, "sum": "{last}"}}\n'.encode()
    return out


ONE = '{"schema": 1, "line": 1, "entry": {"kind": "opened", "id": "o", "time": "2026-07-14T10:05", "site": "s"}, "before": "BEFORE"'
TWO = '{"line": 2, "entry": ENTRY, "before": "BEFORE"'
NOTE = '{"kind": "note", "id": "n", "time": "2026-07-14T10:05", "text": "x"}'


def test_lines_chained_by_hand_are_read() -> None:
    assert read_lines(chained(ONE, TWO.replace("ENTRY", NOTE)), "c.jsonl").lines == 2


@pytest.mark.parametrize(
    ("second", "what"),
    [
        (TWO.replace("ENTRY", "7"), "line 2 has no entry"),
        (TWO.replace("ENTRY", NOTE.replace("note", "nota")), "an entry of kind 'nota' is not known"),
        (TWO.replace("ENTRY", NOTE.replace('"id": "n", ', "")), "line 2 holds an entry without id or time"),
        (TWO.replace("ENTRY", NOTE.replace('"text": "x"', '"text": "x", "text": "y"')), "line 2 is no line of a record"),
        (TWO.replace("ENTRY", NOTE.replace('"x"', "NaN")), "line 2 is no line of a record"),
        (TWO.replace("ENTRY", NOTE).replace('"line": 2', '"lines": 2'), "line 2 has not the keys of a line"),
        (TWO.replace("ENTRY", NOTE).replace('"line": 2', '"line": 3'), "line 2"),
        (TWO.replace("ENTRY", NOTE.replace('"id": "n"', '"id": "o"')), "the id 'o' stands twice, first at c.jsonl:1:1"),
        (
            TWO.replace("ENTRY", NOTE.replace("note", "correction").replace('"text": "x"', '"corrects": "p", "retract": "yes"')),
            "'p' is not an entry of this record",
        ),
        (
            TWO.replace("ENTRY", '{"kind": "opened", "id": "p", "time": "2026-07-14T10:05", "site": "s"}'),
            "line 2 holds an entry of kind 'opened'",
        ),
        (TWO.replace("ENTRY", "[" * 5000), "line 2 is no line of a record"),
    ],
)  # fmt: skip
def test_sums_that_fit_do_not_make_a_line(second: str, what: str) -> None:
    assert what in problems_of(chained(ONE, second))[0]


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"", "holds no whole line"), (b"\n", "line 1 is no line"), (b"hello\n", "line 1 is no line"),
        (chained(TWO.replace("ENTRY", NOTE)), "line 1 has not the keys"),
        (chained(ONE.replace('{"kind": "opened", "id": "o", "time": "2026-07-14T10:05", "site": "s"}', NOTE)), "kind 'note'"),
        (b"\xff\xfe\n", "line 1 is no line"),
    ],
)  # fmt: skip
def test_what_does_not_begin_like_a_record(data: bytes, what: str) -> None:
    assert what in problems_of(data)[0]


def test_line_breaks_of_another_system_are_read() -> None:
    chain = read_lines(DATA.replace(b"\n", b"\r\n"), "c.jsonl")
    assert [chain.opened, *chain.entries] == ENTRIES


@given(st.lists(st.text(min_size=1), max_size=5))
@example(["\ud800"])
def test_any_text_comes_back_as_it_was(texts: list[str]) -> None:
    entries = [HEAD, *(entry_from_data({"kind": "note", "id": f"n{n}", "time": "2026-07-14T10:10", "text": t})
                       for n, t in enumerate(texts))]
    if any("\ud800" <= c <= "\udfff" for t in texts for c in t):
        with pytest.raises(InputError, match=r"half a character: U\+D"):
            written(entries)
    else:
        chain = read_lines(b"".join(written(entries)), "c.jsonl")
        assert [chain.opened, *chain.entries] == entries
