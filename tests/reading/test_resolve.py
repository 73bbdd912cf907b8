"""Plain scalars, compared with the core schema of YAML 1.2.2."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.reading.parse import parse_text
from faultkit.reading.resolve import resolve


def core(text: str) -> Any:  # noqa: PLR0911 - a table
    """YAML 1.2.2, section 10.3.2 "Tag Resolution", its table of regular expressions (written down from memory)."""
    if re.fullmatch(r"null|Null|NULL|~|", text):
        return None
    if re.fullmatch(r"true|True|TRUE", text):
        return True
    if re.fullmatch(r"false|False|FALSE", text):
        return False
    if re.fullmatch(r"[-+]?[0-9]+", text):
        return int(text)
    if re.fullmatch(r"0o[0-7]+", text):
        return int(text, 0)
    if re.fullmatch(r"0x[0-9a-fA-F]+", text):
        return int(text, 0)
    if re.fullmatch(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", text):
        return float(text)
    if re.fullmatch(r"[-+]?(\.inf|\.Inf|\.INF)|\.nan|\.NaN|\.NAN", text):
        return float(text.replace(".", "").lower())
    return text


# text, our value, whether YAML's core schema says the same
TABLE: list[tuple[str, Any, bool]] = [
    ("", None, True), ("~", None, True), ("null", None, True), ("Null", None, True), ("NULL", None, True),
    ("nUll", "nUll", True), ("true", True, True), ("True", True, True), ("TRUE", True, True),
    ("false", False, True), ("False", False, True), ("FALSE", False, True), ("tRUE", "tRUE", True),
    ("yes", "yes", True), ("no", "no", True), ("on", "on", True), ("off", "off", True),
    ("Yes", "Yes", True), ("NO", "NO", True), ("y", "y", True), ("n", "n", True),
    ("1:30", "1:30", True), ("10:05", "10:05", True), ("2026-07-14", "2026-07-14", True),
    ("0", 0, True), ("-0", 0, True), ("7", 7, True), ("+7", 7, True), ("-12", -12, True),
    ("1_000", "1_000", True), ("1,000", "1,000", True), ("0b11", "0b11", True),
    ("1.5", 1.5, True), ("-1.5", -1.5, True), (".5", 0.5, True), ("5.", 5.0, True), ("0.0", 0.0, True),
    ("1e3", 1000.0, True), ("1E3", 1000.0, True), ("1e-3", 0.001, True), ("+1.5e+2", 150.0, True),
    ("1e", "1e", True), (".", ".", True), ("-", "-", True), ("+", "+", True), ("-.", "-.", True),
    (".e3", ".e3", True), ("e3", "e3", True), ("1.2.3", "1.2.3", True), ("0.", 0.0, True),
    ("inf", "inf", True), ("nan", "nan", True), ("NaN", "NaN", True), ("--1", "--1", True),
    # Where we keep the text: a leading zero, other number bases, what JSON has no number for.
    ("010", "010", False), ("-010", "-010", False), ("01.5", "01.5", False), ("00", "00", False),
    ("0x10", "0x10", False), ("0o10", "0o10", False), (".inf", ".inf", False), ("-.INF", "-.INF", False),
    (".nan", ".nan", False), ("1e999", "1e999", False), ("1234567890123456789", "1234567890123456789", False),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value", "same"), TABLE, ids=[repr(t[0]) for t in TABLE])
def test_plain_scalars(text: str, value: Any, same: bool) -> None:
    ours = resolve(text)
    assert (type(ours), ours) == (type(value), value)
    theirs = core(text)
    assert ((type(ours), ours) == (type(theirs), theirs)) is same


@given(st.text(alphabet="0123456789+-._eEoxXaAfF:~ntruelsNTRUELS", max_size=12))
def test_the_core_schema_agrees_but_for_the_listed_differences(text: str) -> None:
    ours, theirs = resolve(text), core(text)
    if ours is text or ours == text:
        leading_zero = re.fullmatch(r"[-+]?0[0-9].*", text)
        other_base = re.fullmatch(r"0[ox].*", text)
        not_in_json = isinstance(theirs, float) and theirs - theirs != 0
        long = isinstance(theirs, int) and len(text.lstrip("+-")) > 18
        assert theirs == text or leading_zero or other_base or not_in_json or long
    else:
        assert (type(ours), ours) == (type(theirs), theirs)


@pytest.mark.parametrize("text", ["'yes'", '"yes"', "'1'", '"~"', "'true'", "|\n  1", ">-\n  null", "''"])
def test_quoted_and_block_scalars_are_text(text: str) -> None:
    node = parse_text(f"a: {text}", "f.yaml", [])
    assert node is not None
    assert isinstance(node.plain()["a"], str)
