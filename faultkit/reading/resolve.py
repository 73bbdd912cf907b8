"""What a plain YAML scalar means.

YAML 1.2.2, section 10.2.2 (JSON schema): ``null``, ``true``, ``false``, decimal
integers and floats; all other plain text is a string, so ``yes``, ``1:30``,
``010`` and ``0x10`` stay what the author wrote. Taken from section 10.3.2 (core
schema) besides: the empty value and ``~`` are null, ``True`` and ``TRUE`` are
``true`` (likewise false and null), a sign ``+``, ``.5`` and ``5.``. Left out of it: ``0o10``,
``0x10``, ``.inf`` and ``.nan``, which JSON cannot hold.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import isfinite
from types import MappingProxyType

__all__ = ["resolve"]

_WORDS: Mapping[str, bool | None] = MappingProxyType(
    {
        "": None,
        "~": None,
        "null": None,
        "Null": None,
        "NULL": None,
        "true": True,
        "True": True,
        "TRUE": True,
        "false": False,
        "False": False,
        "FALSE": False,
    }
)
_NUMBER = re.compile(r"[-+]?(?:(0|[1-9][0-9]*)|(?:(?:0|[1-9][0-9]*)(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?)")
_FIRST = frozenset("-+.0123456789")
#: More digits than any reading has; longer ones are serial numbers and stay text.
_MOST_DIGITS = 18


def resolve(text: str) -> str | int | float | bool | None:
    """The value of a plain scalar. A number too large for a float stays a string."""
    if text in _WORDS:
        return _WORDS[text]
    if text[0] not in _FIRST:
        return text
    found = _NUMBER.fullmatch(text)
    if found is None:
        return text
    if found[1] is not None:
        return int(text) if len(found[1]) <= _MOST_DIGITS else text
    number = float(text)
    return number if isfinite(number) else text
