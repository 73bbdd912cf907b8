"""A joined site as a book: every name with its unit in front."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from faultkit.model.types import EquipmentType, Join, Ref
from faultkit.network.site import Site, SiteEvent, SiteLink, SiteReading
from faultkit.reports.tree.book import Book, BookKind, Cause, Item, Kind, Machine, Reader, Row, Ruler, Task
from faultkit.reports.tree.of_type import item_kind

__all__ = ["book_of_site"]


def book_of_site(site: Site, types: Mapping[str, EquipmentType]) -> Book:
    """The book of a site; ``types`` are the types of its units by name."""
    return _SiteBinder(site, types).book()


class _SiteBinder:
    """Names of the site for what the types say by local names."""

    def __init__(self, site: Site, types: Mapping[str, EquipmentType]) -> None:
        self.site = site
        self.plan = site.plan
        self.types = types

    def book(self) -> Book:
        site, plan = self.site, self.plan
        units = {
            u.name: Machine(u.name, u.title or u.name, u.equipment, u.place, dict(u.joins))
            for u in plan.units.values()
        }
        checks = {
            c.name: Task(c.name, self.headed(c.unit, c.check.title), c.check, gives=c.gives, place=c.place, unit=c.unit)
            for c in site.checks.values()
        }
        remedies = {
            r.name: Task(
                r.name, self.headed(r.unit, r.remedy.title), r.remedy, ends=r.ends, prove=r.prove,
                may_leave=tuple(
                    Cause(g, link.strength) for link in r.remedy.may_leave for g in self.named(r.unit, link.ref)
                ),
                disturbs=tuple(g for ref in r.remedy.disturbs for g in self.named(r.unit, ref)),
                place=r.place, unit=r.unit,
            )
            for r in site.remedies.values()
        }
        return Book(
            plan.name, plan.title or plan.name, BookKind.SITE, "", {e.name: self.item(e) for e in self.ordered()},
            {r.name: self.reader(r) for r in site.all_readings.values()}, checks, remedies, units=units,
            common=site.common,
        )

    def ordered(self) -> Iterable[SiteEvent]:
        """Events unit by unit as their authors wrote them (the engine has them inputs first)."""
        rank = {name: n for n, name in enumerate(self.plan.units)}
        order = {
            f"{u.name}.{e}": n for u in self.plan.units.values() for n, e in enumerate(self.types[u.equipment].events)
        }
        events = self.site.events.values()
        return sorted(events, key=lambda e: (rank[e.unit], order.get(e.name, len(order)), e.name))

    # -- names ----------------------------------------------------------------

    def headed(self, unit: str, title: str) -> str:
        return f"{self.plan.units[unit].title or unit}: {title}"

    def join(self, unit: str, name: str) -> Join:
        return self.types[self.plan.units[unit].equipment].joins[name]

    def named(self, unit: str, ref: Ref) -> list[str]:
        """Names in the site of what a unit's type refers to; empty where nothing is joined."""
        if ref.join is None:
            return [f"{unit}.{ref.name}"]
        back = self.join(unit, ref.join).reverse_of
        if back:
            found = [u.name for u in self.plan.units.values() if u.joins.get(back) == unit]
        else:
            target = self.plan.units[unit].joins.get(ref.join)
            found = [target] if target else []
        return [f"{u}.{ref.name}" for u in found]

    # -- members --------------------------------------------------------------

    def item(self, e: SiteEvent) -> Item:
        local = e.name.removeprefix(f"{e.unit}.")
        house = self.types[self.plan.units[e.unit].equipment].house_events.get(local)
        title = self.headed(e.unit, e.event.title)
        if house is not None:
            return Item(e.name, title, Kind.HOUSE, house=house, unit=e.unit, fixed=e.fixed)
        return Item(
            e.name, title, item_kind(e.event), e.event.plain, _causes(e.inputs), _causes(e.broken_by),
            tuple(f"{e.unit}.{h}" for h in e.event.only_with), e.event, unit=e.unit, fixed=e.fixed,
        )

    def reader(self, r: SiteReading) -> Reader:
        rulers = []
        for o in r.reading.observables:
            rows = []
            for row in o.rows:
                names: list[str | None] = [None] if row.event is None else [*self.named(r.unit, row.event)[:1]]
                rows += [Row(name, row.chances, row.basis) for name in names]
            rulers.append(Ruler(f"{r.unit}.{o.name}", o.state or "", o.bands, o.cuts, tuple(rows)))
        inputs: dict[str, str] = {}
        if r.calculation:
            c = r.calculation
            inputs = {
                **r.inputs, **{arg: str(ref) for arg, ref in c.settings.items()},
                **{arg: q.text for arg, q in c.quantities.items()}, **c.words,
            }
        return Reader(r.name, self.headed(r.unit, r.reading.title), r.reading, tuple(rulers), inputs, r.unit)


def _causes(links: Iterable[SiteLink]) -> tuple[Cause, ...]:
    return tuple(Cause(link.cause, link.strength) for link in links)
