"""Readings → likelihood of every row of every sign, against zen-engine.

70 readings with two to four bands, 60 of them known; unknown ones say nothing
(one everywhere), a zero excludes a row. All give the same numbers.
"""

from __future__ import annotations

import random
from bisect import bisect_right
from collections.abc import Callable

import zen

from faultkit.evidence.look import Finding, Look
from faultkit.evidence.values import shares_of
from faultkit.network.site import SiteSign
from tests.benchmarks.contest import Contest, close

__all__ = ["contest"]

READINGS, KNOWN = 70, 60


def made(rng: random.Random, name: str) -> SiteSign:
    bands = tuple("abcd"[: rng.randint(2, 4)])
    rows = rng.randint(1, 4)
    edges = tuple(sorted(rng.sample(range(10, 90, 5), len(bands) - 1)))
    chances = []
    for _ in range(rows + 1):
        weights = [rng.choice((0, 1, 2, 6)) for _ in bands]
        weights[rng.randrange(len(bands))] = 10
        chances.append(tuple(w / sum(weights) for w in weights))
    return SiteSign(name, name, None, bands, edges, tuple(f"r{i}" for i in range(rows)), tuple(chances))


def as_expression(signs: list[SiteSign], *, by_row: bool) -> str:
    """One array: a conditional a reading, or (``by_row``) a conditional a row."""

    def chain(sign: SiteSign, unknown: str, values: list[str]) -> str:
        tests = [f"{sign.name} < {e} ? {v}" for e, v in zip(sign.edges, values[:-1], strict=True)]
        return " : ".join([f"{sign.name} == null ? {unknown}", *tests, values[-1]])

    parts = []
    for s in signs:
        columns = [[repr(row[b]) for row in s.chances] for b in range(len(s.bands))]
        if by_row:
            parts += [chain(s, "1", [c[j] for c in columns]) for j in range(len(s.chances))]
        else:
            ones = f"[{', '.join('1' for _ in s.chances)}]"
            parts.append(chain(s, ones, [f"[{', '.join(c)}]" for c in columns]))
    return f"[{', '.join(parts)}]"


def contest() -> Contest:
    rng = random.Random(5)  # noqa: S311 - rules, not secrets
    signs = [made(rng, f"s{n}") for n in range(READINGS)]
    facts = {s.name: float(rng.randrange(100)) for s in rng.sample(signs, KNOWN)}
    ones = {s.name: [1.0] * len(s.chances) for s in signs}
    columns = {s.name: [[row[b] for row in s.chances] for b in range(len(s.bands))] for s in signs}

    def ours() -> list[float]:
        out: list[float] = []
        for s in signs:
            value = facts.get(s.name)
            if value is None:
                out += ones[s.name]
            else:
                look = Look(s.name, (s.name,), shares_of(s, value, value), low=value, high=value)
                out += Finding(s.name, (look,)).rows(s.chances)
        return out

    looks = {
        s.name: Look(s.name, (s.name,), shares_of(s, facts[s.name], facts[s.name]))
        for s in signs
        if s.name in facts
    }
    findings = {name: Finding(name, (look,)) for name, look in looks.items()}

    def rows_only() -> list[float]:
        out: list[float] = []
        for s in signs:
            out += findings[s.name].rows(s.chances) if s.name in findings else ones[s.name]
        return out

    def tables() -> list[float]:
        out: list[float] = []
        for s in signs:
            value = facts.get(s.name)
            out += ones[s.name] if value is None else columns[s.name][bisect_right(s.edges, value)]
        return out

    nested = zen.compile_expression(as_expression(signs, by_row=False))
    flat = zen.compile_expression(as_expression(signs, by_row=True))
    runs: dict[str, Callable[[], object]] = {
        "faultkit": ours,
        "faultkit, rows of findings only": rows_only,
        "bisect and a column": tables,
        "zen-engine, array a reading": lambda: [x for part in nested.evaluate(facts) for x in part],
        "zen-engine, array a row": lambda: flat.evaluate(facts),
    }
    notes = {
        "faultkit": "shares_of, Look, Finding.rows: also intervals, doubt, several looks",
        "faultkit, rows of findings only": "what each new diagnosis repeats",
        "bisect and a column": "plain Python, not in the library: sure values only",
        "zen-engine, array a reading": "one compiled expression, sure values only",
        "zen-engine, array a row": "the same, a conditional for each row",
    }
    rows = sum(len(s.chances) for s in signs)
    return Contest(f"rules: {READINGS} readings, {KNOWN} known, {rows} rows", runs, close, notes)
