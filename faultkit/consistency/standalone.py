"""A type on its own: what it is joined to stands there as events that simply may be.

The joined network is built by the same code that serves a site, so that a check speaks of
exactly what a diagnosis would compute.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from faultkit.model.site import SitePlan, Unit
from faultkit.model.types import (
    Common,
    Dimension,
    EquipmentType,
    Event,
    Gate,
    Join,
    Observable,
    Prior,
    Reading,
    ReadingKind,
    Setting,
)
from faultkit.network.join import join_site
from faultkit.network.site import Site, SiteEvent
from faultkit.units import parse_quantity

__all__ = ["MAIN", "Standalone", "decided", "local", "stand_alone"]

#: Name of the unit under test; no author can give it, so its names never clash with a join's.
MAIN = "~"
#: Units joined under a join that may lead to many.
_MANY = 2


@dataclass(frozen=True, slots=True)
class Standalone:
    """A type joined with stand-ins, its house events set as in ``house``."""

    kind: EquipmentType
    house: Mapping[str, bool]
    site: Site
    fixed: Mapping[str, bool]


def local(name: str) -> str:
    """A joined name as the author of the type writes it."""
    return name.removeprefix(MAIN + ".")


def stand_alone(kind: EquipmentType, house: Mapping[str, bool]) -> Standalone:
    """Join ``kind`` with stand-ins for everything it is joined to.

    Cuts and calculations are left out: they turn numbers into bands, and bands are all that logic sees.
    """
    bare = replace(kind, readings={n: _bare(r) for n, r in kind.readings.items()})
    types = {kind.name: bare}
    joins: dict[str, str] = {}
    units = {MAIN: Unit(MAIN, kind.name, settings=dict(house), joins=joins)}
    for join in kind.joins.values():
        name = f"{join.name} stand-in"
        types[name] = _stand_in(name, join)
        if not join.reverse_of:
            units[join.name] = Unit(join.name, name)
            joins[join.name] = join.name
            continue
        for n in range(_many(kind, join)):
            unit = join.name if n == 0 else f"{join.name} {n + 1}"  # no author's join has a space in its name
            units[unit] = Unit(unit, name, joins={join.reverse_of: MAIN})
    site = join_site(SitePlan("alone", units=units), types, Common())
    return Standalone(kind, house, site, decided(site.events))


def _bare(reading: Reading) -> Reading:
    seen = tuple(
        Observable(o.name, o.reading, o.state, o.bands, (), o.rows) for o in reading.observables
    )
    return replace(reading, observables=seen, calculation=None, accuracy=None, range=None)


def _stand_in(name: str, join: Join) -> EquipmentType:
    """A type that has what the join uses."""
    back = {join.reverse_of: Join(join.reverse_of)} if join.reverse_of else {}
    nothing = parse_quantity("1 V")
    return EquipmentType(
        name,
        joins=back,
        events={e: Event(e, Gate.BASIC, e, e, prior=Prior(0.01)) for e in join.events},
        readings={r: Reading(r, ReadingKind.QUANTITY, r, r) for r in join.readings},
        settings={s: Setting(s, Dimension.QUANTITY, unit="V", default=nothing) for s in join.settings},
    )


def _many(kind: EquipmentType, join: Join) -> int:
    counts = [
        e.k for e in kind.events.values() for link in e.inputs if link.ref.join == join.name and link.ref.each
    ]
    return max([_MANY, *counts])


def decided(events: Mapping[str, SiteEvent]) -> dict[str, bool]:
    """Events that the configuration alone decides. ``events`` are in topological order."""
    known: dict[str, bool] = {}
    for e in events.values():
        if e.fixed is not None:
            known[e.name] = e.fixed
            continue
        value = _by_damage(e, known) if e.event.gate is Gate.BASIC else _by_gate(e, known)
        if value is not None:
            known[e.name] = value
    return known


def _by_damage(e: SiteEvent, known: Mapping[str, bool]) -> bool | None:
    return True if any(known.get(c.cause) and c.strength >= 1.0 for c in e.broken_by) else None


def _by_gate(e: SiteEvent, known: Mapping[str, bool]) -> bool | None:
    states = [known.get(i.cause) for i in e.inputs]
    sure = sum(s is True and i.strength >= 1.0 for s, i in zip(states, e.inputs, strict=True))
    left = sum(s is not False for s in states)
    if e.event.gate is Gate.ANY_OF:
        return True if sure else None if left else False
    if e.event.gate is Gate.ALL_OF:
        return False if left < len(states) else True if sure == len(states) else None
    return True if sure >= e.event.k else False if left < e.event.k else None
