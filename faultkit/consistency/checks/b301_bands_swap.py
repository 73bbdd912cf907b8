"""B301: settings under which two cuts of a ruler meet or change places."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import inf, isfinite

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.rulers import Line, line_of, setting_limits, shown_setting
from faultkit.consistency.subject import Subject
from faultkit.model.types import Cut, EquipmentType, Observable, Reading
from faultkit.units import format_si

__all__ = ["RULE", "meeting_point"]

_CURE = "cuts that rise for every nameplate; or say in the setting what a nameplate can have: range: [lowest, highest]"


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        for reading in kind.readings.values():
            for o in reading.observables:
                for n, (low, high) in enumerate(pairwise(o.cuts)):
                    yield from _pair(kind, reading, o, o.bands[n + 1], (low, high))


def _pair(
    kind: EquipmentType, reading: Reading, o: Observable, band: str, cuts: tuple[Cut, Cut]
) -> Iterator[Finding]:
    a, b = (line_of(kind, c) for c in cuts)
    met = meeting_point(a, b, lambda s: setting_limits(kind, s))
    if met is None:
        return
    settings = [(s, shown_setting(kind, s, v)) for s, v in met.items()]
    edges = [format_si(line.at(met.get(line.setting, 0.0)), reading.unit) for line in (a, b)]
    yield RULE.found(
        f"the band '{band}' of '{o.name}' vanishes: with "
        + (" and ".join(f"{s} at {v}" for s, v in settings) or "the values handed down")
        + f" its cuts '{cuts[0].text}' and '{cuts[1].text}' stand at {edges[0]} and {edges[1]}",
        _CURE,
        cuts[1].where or reading.where,
        witness=settings,
        equipment=kind.name,
        name=o.name,
    )


def meeting_point(
    a: Line, b: Line, limits: Callable[[str], tuple[float, float]]
) -> dict[str, float] | None:
    """Values of the settings at which the cut ``a`` is not below the cut ``b``; None where there are none.

    ``limits`` gives (lowest, highest) of a setting; ends at infinity, and zero from below, are never reached.
    """
    if a.setting and b.setting and a.setting != b.setting:
        return _two(a, b, limits(a.setting), limits(b.setting))
    name = a.setting or b.setting
    if not name:
        return None if a.base < b.base else {}
    low, high = limits(name)
    slope, base = b.slope - a.slope, b.base - a.base  # the width of the band is slope * setting + base
    if slope == 0.0:
        return None if base > 0.0 else {name: _inside(low, high)}
    cross = -base / slope
    # Rising width: too narrow at and below the crossing; falling width: at and above it.
    reached = low <= cross if slope > 0.0 else cross <= high
    if slope > 0.0 and cross == low == 0.0:
        return None
    if not reached:
        return None
    met = min(cross, high) if slope > 0.0 else max(cross, low)
    return {name: met if met or low else min(high, 1.0)}  # an end at zero is no nameplate


def _two(a: Line, b: Line, first: tuple[float, float], second: tuple[float, float]) -> dict[str, float] | None:
    """The widest of ``a`` against the least of ``b``: two nameplate values that nothing ties together."""
    top = first[1] if a.slope > 0.0 else first[0]
    bottom = second[0] if b.slope > 0.0 else second[1]
    if isfinite(top) and isfinite(bottom):
        return None if a.at(top) < b.at(bottom) else {a.setting: top, b.setting: bottom}
    some = _inside(*first), _inside(*second)
    # One end is open: go as far as it takes.
    if not isfinite(top):
        far = (b.at(some[1]) - a.base) / a.slope
        return {a.setting: min(max(far, first[0]), first[1]), b.setting: some[1]}
    far = (a.at(some[0]) - b.base) / b.slope
    return {a.setting: some[0], b.setting: min(max(far, second[0]), second[1])}


def _inside(low: float, high: float) -> float:
    """A value between two ends."""
    if low == -inf:
        return 0.0 if high == inf else high
    return low + 1.0 if high == inf else low


RULE = Rule("B301", "bands-swap", "Cuts that meet or change places", Severity.WARNING, _run)
