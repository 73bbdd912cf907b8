"""Measured values that put several readings into given bands at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product
from math import inf, isfinite

from faultkit.consistency.calculated import bound_to
from faultkit.consistency.rulers import line_of, setting_limits
from faultkit.consistency.subject import Subject
from faultkit.model.types import EquipmentType, Observable, Reading
from faultkit.problems import InputError
from faultkit.units import Kind, Quantity, format_si, kind_of

__all__ = ["solve_differences", "values_in"]

Wanted = tuple[Reading, Observable, int]
#: x - y lies at or above low and below high; y may be '' (zero).
Bound = tuple[str, str, float, float]
#: Values tried for each measured reading where a calculator is no difference.
_STEPS = 15
#: K, about 0 to 160 degF.
_EVERYDAY = (255.0, 345.0)
_MOST = 4


def values_in(subject: Subject, kind: EquipmentType, wanted: Sequence[Wanted]) -> list[tuple[str, str]] | None:
    """Values of measured readings (name, text) under which each reading lies in its band; None where none are found.

    Exact where every calculation is a difference of measured readings; otherwise a search over a
    grid, whose find is a proof and whose failure is none.
    """
    spans = [_band(kind, o, n) for _, o, n in wanted]
    ends = [_ends(reading) for reading, _, _ in wanted]
    if None in ends:
        found = _search(subject, kind, wanted, spans)
    else:
        found = _linear(kind, [(*e, low, high) for e, (low, high) in zip(ends, spans, strict=True) if e])
    if found is None:
        return None
    return [(name, format_si(value, kind.readings[name].unit)) for name, value in found.items()]


def _band(kind: EquipmentType, o: Observable, n: int) -> tuple[float, float]:
    """A band in SI, with each setting at its default, or at an end of what it can be."""
    lines = [line_of(kind, c) for c in o.cuts]
    edges = [line.at(_setting(kind, line.setting)) for line in lines]
    return (edges[n - 1] if n else -inf), (edges[n] if n < len(edges) else inf)


def _setting(kind: EquipmentType, name: str) -> float:
    if not name:
        return 0.0
    default = kind.settings[name].default
    if isinstance(default, Quantity):
        return default.value
    low, high = setting_limits(kind, name)
    return low if isfinite(low) and low > 0.0 else high if isfinite(high) else 1.0


def _ends(reading: Reading) -> tuple[str, str] | None:
    """A reading as x - y of measured ones, or None."""
    c = reading.calculation
    if c is None:
        return reading.name, ""
    refs = c.readings
    if c.calculator != "difference" or set(refs) != {"a", "b"} or any(r.join for r in refs.values()):
        return None
    return refs["a"].name, refs["b"].name


def _linear(kind: EquipmentType, bounds: Sequence[Bound]) -> dict[str, float] | None:
    names = sorted({n for x, y, _, _ in bounds for n in (x, y) if n})
    if any(kind.readings[n].calculation is not None for n in names):
        return None
    given = [(n, "", *r) for n in names if (r := kind.readings[n].range) is not None]
    # Without a range, everyday values where they will do: a witness at absolute zero convinces nobody.
    usual = [
        (n, "", *_EVERYDAY)
        for n in names
        if kind.readings[n].range is None and kind_of(kind.readings[n].unit) is Kind.TEMPERATURE
    ]
    return solve_differences([*bounds, *given, *usual]) or solve_differences([*bounds, *given])


def solve_differences(bounds: Sequence[Bound]) -> dict[str, float] | None:
    """Values with low < x - y < high for every bound, or None: shortest paths (Bellman and Ford, from memory).

    Ends are kept away from by a billionth of what is at stake: what holds at one point only is no finding.
    """
    finite = [abs(v) for _, _, low, high in bounds for v in (low, high) if isfinite(v)]
    tiny = 1e-9 * max([1.0, *finite])
    edges = [(y, x, high - tiny) for x, y, _, high in bounds if isfinite(high)]
    edges += [(x, y, -low - tiny) for x, y, low, _ in bounds if isfinite(low)]
    distance = dict.fromkeys({n for x, y, _, _ in bounds for n in (x, y)} | {""}, 0.0)
    for _ in range(len(distance) + 1):
        changed = False
        for a, b, length in edges:
            if distance[a] + length < distance[b]:
                distance[b] = distance[a] + length
                changed = True
        if not changed:
            return {n: v - distance[""] for n, v in sorted(distance.items()) if n}
    return None


def _search(
    subject: Subject, kind: EquipmentType, wanted: Sequence[Wanted], spans: Sequence[tuple[float, float]]
) -> dict[str, float] | None:
    names: dict[str, None] = {}
    for reading, _, _ in wanted:
        names.update(dict.fromkeys(_measured(kind, reading)))
    ranges = [kind.readings[n].range if n in kind.readings else None for n in names]
    if len(names) > _MOST or None in ranges:
        return None
    grids = [[r[0] + (r[1] - r[0]) * (k + 0.5) / _STEPS for k in range(_STEPS)] for r in ranges if r]
    for point in product(*grids):
        values = dict(zip(names, point, strict=True))
        try:
            got = [_value(subject, kind, reading, values) for reading, _, _ in wanted]
        except (InputError, KeyError):
            continue
        if all(low < v < high for v, (low, high) in zip(got, spans, strict=True)):
            return values
    return None


def _measured(kind: EquipmentType, reading: Reading) -> list[str]:
    if reading.calculation is None:
        return [reading.name]
    refs = reading.calculation.readings.values()
    return [
        n
        for r in refs
        for n in (_measured(kind, kind.readings[r.name]) if r.join is None else [str(r)])
    ]


def _value(subject: Subject, kind: EquipmentType, reading: Reading, values: Mapping[str, float]) -> float:
    c = reading.calculation
    if c is None:
        return values[reading.name]
    bound = bound_to(subject, kind, reading)
    if bound is None:
        raise InputError(f"'{reading.name}' cannot be calculated")
    given = {a: _value(subject, kind, kind.readings[r.name], values) for a, r in c.readings.items()}
    low, high = bound.evaluate({a: (v, v) for a, v in given.items()})
    return (low + high) / 2.0
