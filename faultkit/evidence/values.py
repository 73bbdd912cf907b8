"""A fact's value against its reading: SI interval, bands, and every way it can be wrong."""

from __future__ import annotations

import re
from bisect import bisect_right
from math import isfinite

from faultkit.model.entries import Fact
from faultkit.model.types import ReadingKind
from faultkit.network.site import Site, SiteReading, SiteSign
from faultkit.problems import InputError, Problem, did_you_mean
from faultkit.units import (
    Kind,
    Quantity,
    UnitError,
    convert_pressure,
    difference_kind,
    format_si,
    kind_of,
    parse_quantity,
    physical_range,
)

__all__ = ["interval_of", "shares_of", "sign_of", "word_of"]

_NUMBER = re.compile(r"[-+]?[0-9.]+(?:[eE][-+]?[0-9]+)?")
_PRESSURES = {Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE}


def _fail(fact: Fact, what: str, expected: str) -> InputError:
    return InputError([Problem(what, expected, fact.where)])


def word_of(fact: Fact, bands: tuple[str, ...]) -> int:
    """Band index of a fact of words. Raises InputError for a word that is no band."""
    if fact.value in bands:
        return bands.index(str(fact.value))
    raise _fail(fact, f"{fact.reading} is {fact.value!r}", "one of " + ", ".join(bands))


def interval_of(fact: Fact, reading: SiteReading, site: Site) -> tuple[float, float]:
    """Bounds of a measured quantity in SI.

    The accuracy is the instrument's, where it is of the reading's kind, else the reading's own.

    Raises InputError for a wrong unit or kind, or a value out of its physical range.
    """
    value = _si(fact, reading, site)
    instrument = site.instrument(fact.instrument) if fact.instrument else None
    accuracy = reading.reading.accuracy
    if instrument and instrument.measures in {None, difference_kind(kind_of(reading.reading.unit))}:
        accuracy = instrument.accuracy
    if accuracy is None:
        return value, value
    try:
        bound = accuracy.bound(value)
    except UnitError as fault:
        raise _fail(fact, fault.what, fault.expected) from None
    return value - bound, value + bound


def _si(fact: Fact, reading: SiteReading, site: Site) -> float:
    unit = reading.reading.unit
    quantity = _quantity(fact, unit)
    wanted = kind_of(unit)
    value = quantity.value
    if quantity.kind is not wanted:
        if not {quantity.kind, wanted} <= _PRESSURES:
            raise _fail(
                fact, f"{fact.reading} is '{quantity.text}', a {_words(quantity.kind)}",
                f"a {_words(wanted)}, for example '{format_si(_example(reading), unit)}'",
            )
        value = convert_pressure(value, quantity.kind, wanted, site.atmosphere)
    low, high = physical_range(wanted)
    if wanted is Kind.GAUGE_PRESSURE:
        low = -site.atmosphere
    if reading.reading.range is not None:
        low, high = max(low, reading.reading.range[0]), min(high, reading.reading.range[1])
    # An instrument in a full vacuum may read a little below it; a hundredth of a percent is rounding.
    if not low - 1e-4 * abs(low) <= value <= high + 1e-4 * abs(high):
        raise _fail(
            fact, f"{fact.reading} is '{quantity.text}', which cannot be",
            f"a value from {format_si(low, unit)}" + (f" to {format_si(high, unit)}" if isfinite(high) else ""),
        )
    return value


def _quantity(fact: Fact, unit: str) -> Quantity:
    if isinstance(fact.value, str):
        text = fact.value
    elif fact.unit:
        text = f"{fact.value:.12g} {fact.unit}"
    else:
        raise _fail(fact, f"{fact.reading} is {fact.value:g} without a unit", f"'{fact.value:g} {unit}'")
    if _NUMBER.fullmatch(text.strip()):
        raise _fail(fact, f"{fact.reading} is {text.strip()} without a unit", f"'{text.strip()} {unit}'")
    try:
        return parse_quantity(text)
    except UnitError as fault:
        raise _fail(fact, f"{fact.reading}: {fault.what}", fault.expected) from None


def _words(kind: Kind) -> str:
    return kind.value.replace("_", " ")


def _example(reading: SiteReading) -> float:
    """A value this reading may have: its first literal cut, else the low end of its range."""
    cuts = [c.value for o in reading.reading.observables for c in o.cuts if c.value]
    if cuts:
        return cuts[0]
    return reading.reading.range[0] if reading.reading.range else physical_range(kind_of(reading.reading.unit))[0]


def sign_of(fact: Fact, reading: SiteReading, site: Site) -> SiteSign | None:
    """The sign a fact speaks of, or None when the state it was taken in is not given.

    Raises InputError for a state the reading does not have.
    """
    states = reading.reading.states
    if fact.state and fact.state not in site.states.get(reading.unit, {}) :
        raise _fail(
            fact, f"state '{fact.state}' is not known to unit '{reading.unit}'",
            did_you_mean(fact.state, states or site.states.get(reading.unit, {})),
        )
    if not states:
        return site.signs[reading.signs[0]] if reading.signs else None
    if not fact.state:
        return None
    if fact.state not in states:
        raise _fail(fact, f"{fact.reading} has no meaning in state '{fact.state}'", "state: " + " or ".join(states))
    return next((site.signs[s] for s in reading.signs if site.signs[s].state == fact.state), None)


def shares_of(sign: SiteSign, low: float, high: float) -> tuple[float, ...]:
    """Share of the interval in each band; a value on a cut belongs to the band above it."""
    edges, n = sign.edges, len(sign.bands)
    # Values and cuts are rounded: less than this on the other side of a cut is none of it.
    slack = 1e-9 * max(abs(low), abs(high))
    if high - low <= n * slack:
        at = bisect_right(edges, (low + high) / 2 + slack)
        return tuple(float(b == at) for b in range(n))
    bounds = (float("-inf"), *edges, float("inf"))
    parts = [min(high, bounds[b + 1]) - max(low, bounds[b]) for b in range(n)]
    kept = [part if part > slack else 0.0 for part in parts]
    return tuple(part / sum(kept) for part in kept)


def is_words(reading: SiteReading) -> bool:
    """Whether facts of this reading are words, not quantities."""
    return reading.reading.kind is not ReadingKind.QUANTITY
