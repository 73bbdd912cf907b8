"""What a screen needs to ask for a reading."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from faultkit.network.site import Site, SiteReading
from faultkit.units import UNITS, kind_of

__all__ = ["ReadingForm", "reading_forms"]


@dataclass(frozen=True, slots=True)
class ReadingForm:
    """How to ask for one reading.

    ``kind`` is quantity, yes_no or one_of; ``measures`` the kind of quantity ('' for words);
    ``units`` the unit names a value may be written in, the author's first;
    ``bands`` the band names by state ('' where the reading needs no state), ``edges`` the
    cuts between them in SI; ``states`` state → when it holds; ``range`` in SI.
    """

    name: str
    unit_name: str
    kind: str
    title: str
    plain: str
    measures: str = ""
    unit: str = ""
    units: tuple[str, ...] = ()
    bands: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    edges: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    states: Mapping[str, str] = field(default_factory=dict)
    range: tuple[float, float] | None = None
    calculated: bool = False


def reading_forms(site: Site, unit: str = "", check: str = "") -> tuple[ReadingForm, ...]:
    """Forms of all readings, of one unit's, or of those a check gives."""
    if check:
        given = site.checks[check].gives
        names = dict.fromkeys(site.signs[g].reading if g in site.signs else g for g in given)
        chosen = [site.all_readings[n] for n in names]
    else:
        chosen = [r for r in site.all_readings.values() if not unit or r.unit == unit]
    return tuple(_form(site, r) for r in chosen)


def _form(site: Site, r: SiteReading) -> ReadingForm:
    reading = r.reading
    measures = ""
    units: tuple[str, ...] = ()
    if reading.unit:
        kind = kind_of(reading.unit)
        measures = kind.value
        units = tuple(dict.fromkeys((reading.unit, *(u.name for u in UNITS.values() if u.kind is kind))))
    signs = [site.signs[s] for s in r.signs]
    return ReadingForm(
        name=r.name,
        unit_name=r.unit,
        kind=reading.kind.value,
        title=reading.title,
        plain=reading.plain,
        measures=measures,
        unit=reading.unit,
        units=units,
        bands={s.state or "": s.bands for s in signs},
        edges={s.state or "": s.edges for s in signs if s.edges},
        states={s: site.states[r.unit].get(s, "") for s in reading.states},
        range=reading.range,
        calculated=r.calculation is not None,
    )
