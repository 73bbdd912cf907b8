"""Numbers of a tree in words and percent; texts made safe for a page."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Mapping
from pathlib import PurePath

from faultkit.model.types import Basis, Prior
from faultkit.model.words import CHANCE_WORDS, HOW_COMMON_WORDS
from faultkit.problems import Where

__all__ = [
    "chance", "clean", "fit_lines", "how_common", "kept", "percent", "place_of", "spoken", "text_width", "word_for",
]

# What XML 1.0 cannot hold (section 2.2) and what would turn text around or hide it.
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff\u202a-\u202e\u2066-\u2069]")
_NARROW, _WIDE = frozenset("iljtfrI.,:;'|!()[] "), frozenset("mwMW%@")


def clean(text: str) -> str:
    """The text with each control character shown as U+FFFD."""
    return _CONTROL.sub("\ufffd", text)


def percent(p: float) -> str:
    """``85 %``, ``98.5 %``, ``0.03 %``: three digits at most, never more than was written."""
    return f"{100 * p:.3g} %"


def word_for(p: float, words: Mapping[str, float]) -> str:
    """The word that stands for exactly this number, or ''."""
    return next((w.replace("_", " ") for w, n in words.items() if math.isclose(n, p, rel_tol=1e-12)), "")


def chance(p: float) -> str:
    """A chance in words and percent: ``usually, 85 %``; ``always`` and ``never`` are logic and stand alone."""
    word = word_for(p, CHANCE_WORDS)
    if p in {0.0, 1.0}:
        return word
    return f"{word}, {percent(p)}" if word else percent(p)


def how_common(prior: Prior) -> str:
    """``common, 1 % of units on a random day``, season by season where it differs."""
    parts = [f"in {season}: {_common(p)}" for season, p in prior.seasons.items()]
    rest = f"{_common(prior.otherwise)} of units on a random day"
    return "; ".join([*parts, f"otherwise {rest}"]) if parts else rest


def _common(p: float) -> str:
    word = word_for(p, HOW_COMMON_WORDS)
    return f"{word}, {percent(p)}" if word else percent(p)


def place_of(where: Where | None) -> str:
    """File name and line; no folder, which would differ from machine to machine."""
    return f"{PurePath(where.file).name}:{where.line}" if where else ""


def kept(basis: Basis | None) -> str:
    """The source a number names."""
    return basis.source if basis else ""


def spoken(name: str) -> str:
    """A name read aloud."""
    return name.rpartition(".")[2].replace("_", " ")


def text_width(text: str, size: float) -> float:
    """About how wide a text is in a sans-serif of ``size`` pixels; no font is opened."""
    return size * sum(map(_em, text))


def _em(c: str) -> float:
    if c in _NARROW:
        return 0.33
    if c in _WIDE:
        return 0.9
    if unicodedata.east_asian_width(c) in "WF":
        return 1.0
    return 0.7 if c.isupper() else 0.57


def fit_lines(text: str, width: float, size: float, lines: int) -> list[str]:
    """The text broken into at most ``lines`` lines of ``width`` pixels; what is left out is shown by ``…``."""
    out: list[str] = []
    line = ""
    for word in _pieces(clean(text).split(), width, size):
        tried = f"{line} {word}" if line else word
        if line and text_width(tried, size) > width:
            out.append(line)
            line = word
        else:
            line = tried
    out.append(line)
    if len(out) > lines:
        last = out[lines - 1]
        while last and text_width(last + "…", size) > width:
            last = last[:-1].rstrip()
        out = [*out[: lines - 1], last + "…"]
    return out


def _pieces(words: list[str], width: float, size: float) -> list[str]:
    """Words cut where one alone is wider than a line."""
    out: list[str] = []
    for word in words:
        rest = word
        while text_width(rest, size) > width and len(rest) > 1:
            n = next(n for n in range(len(rest) - 1, 0, -1) if n == 1 or text_width(rest[:n], size) <= width)
            out.append(rest[:n])
            rest = rest[n:]
        out.append(rest)
    return out
