"""All worlds of a small site, straight from its types: the roots, and for every event the worlds it holds in.

Written from the design alone. Shares no code with the engine: no network, no circuit, no diagnosis.
A set of worlds is an integer with one bit a world.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from faultkit.model.site import SitePlan, Unit
from faultkit.model.types import EquipmentType, Gate, Link, Observable, Prior, Ref

__all__ = ["FALSE", "TRUE", "Formula", "Root", "Worlds"]


@dataclass(frozen=True)
class Formula:
    """``op``: true, false, root, ref, or ``least`` (at least ``k`` of ``of``)."""

    op: str
    of: tuple[Formula, ...] = ()
    k: int = 0
    root: int = -1
    name: str = ""


TRUE, FALSE = Formula("true"), Formula("false")


def any_of(parts: Iterable[Formula]) -> Formula:
    return Formula("least", tuple(parts), 1)


def all_of(parts: Iterable[Formula]) -> Formula:
    parts = tuple(parts)
    return Formula("least", parts, len(parts))


@dataclass(frozen=True)
class Root:
    name: str
    chance: Fraction
    kind: str  # basic, leak, inhibitor


#: Northern seasons by month, January first.
SEASON = [
    "winter", "winter", "spring", "spring", "spring", "summer",
    "summer", "summer", "autumn", "autumn", "autumn", "winter",
]


class Worlds:
    """``signs`` names the observables that matter: only they redraw what comes and goes."""

    def __init__(
        self, plan: SitePlan, types: Mapping[str, EquipmentType], month: int, signs: Iterable[str] = ()
    ) -> None:
        self.plan, self.types, self.month = plan, types, month
        self.roots: list[Root] = []
        self.formulas: dict[str, Formula] = {}
        self.acting: dict[str, Formula] = {}
        self.faults: list[str] = []
        self.house = {
            f"{u.name}.{h}": self._switch(u, h) for u in plan.units.values() for h in self._type(u).house_events
        }
        for u in plan.units.values():
            for name in (*self._type(u).house_events, *self._type(u).events):
                self._define(f"{u.name}.{name}")
        wanted = set(signs)
        self.signs: dict[str, Observable] = {}
        self.rows: dict[str, list[tuple[Formula | None, tuple[float, ...]]]] = {}
        for u in plan.units.values():
            for reading in self._type(u).readings.values():
                if all(self.house[f"{u.name}.{h}"] for h in reading.only_with):
                    for o in reading.observables:
                        self.signs[f"{u.name}.{o.name}"] = o
                        if f"{u.name}.{o.name}" in wanted:
                            self.rows[f"{u.name}.{o.name}"] = self._rows(u, o)

    # -- configuration --------------------------------------------------------

    def _type(self, unit: Unit) -> EquipmentType:
        return self.types[unit.equipment]

    def _switch(self, unit: Unit, house: str) -> bool:
        given = unit.settings.get(house, self._type(unit).house_events[house].default)
        assert isinstance(given, bool)
        return given

    def joined(self, unit: Unit, ref: Ref) -> list[str]:
        """Global names a reference stands for."""
        if ref.join is None:
            return [f"{unit.name}.{ref.name}"]
        reverse = self._type(unit).joins[ref.join].reverse_of
        if reverse:
            there = [o.name for o in self.plan.units.values() if o.joins.get(reverse) == unit.name]
        else:
            there = [unit.joins[ref.join]] if ref.join in unit.joins else []
        return [f"{t}.{ref.name}" for t in there]

    # -- events ---------------------------------------------------------------

    def _root(self, name: str, chance: Fraction, kind: str) -> Formula:
        assert 0 < chance < 1, name
        self.roots.append(Root(name, chance, kind))
        return Formula("root", root=len(self.roots) - 1)

    def _prior(self, prior: Prior) -> Fraction:
        month = self.month if self.plan.hemisphere == "north" else (self.month + 5) % 12 + 1
        return Fraction(prior.seasons.get(SEASON[month - 1], prior.otherwise))

    def _define(self, full: str) -> None:
        if full in self.formulas:
            return
        unit = self.plan.units[full.split(".", 1)[0]]
        kind, name = self._type(unit), full.split(".", 1)[1]
        if name in kind.house_events:
            self.formulas[full] = TRUE if self.house[full] else FALSE
            return
        event = kind.events[name]
        if not all(self.house[f"{unit.name}.{h}"] for h in event.only_with):
            self.formulas[full] = FALSE
        elif event.gate is Gate.BASIC:
            self._basic(unit, full)
        else:
            self._gate(unit, full)

    def _effects(self, unit: Unit, full: str, links: tuple[Link, ...]) -> list[Formula]:
        """What each link contributes: its cause, acting, behind its inhibitor; FALSE where it never can."""
        out = []
        for link in links:
            for cause in self.joined(unit, link.ref):
                self._define(cause)
                start = self.acting.get(cause, Formula("ref", name=cause))
                settled = self.constant(start)
                start = start if settled is None else TRUE if settled else FALSE
                if start is FALSE or link.strength == 1.0:
                    out.append(start)
                else:
                    acts = self._root(f"{cause} acts on {full}", Fraction(link.strength), "inhibitor")
                    out.append(all_of((start, acts)))
        return out

    def _basic(self, unit: Unit, full: str) -> None:
        event = self._type(unit).events[full.split(".", 1)[1]]
        assert event.prior is not None
        causes = [f for f in self._effects(unit, full, event.broken_by) if f is not FALSE]
        itself = self._root(full, self._prior(event.prior), "basic")
        self.formulas[full] = any_of((itself, *causes)) if causes else itself
        if self.constant(self.formulas[full]) is None:
            self.faults.append(full)
            if event.intermittent:
                shows = self._root(f"{full} shows", Fraction(1, 2), "inhibitor")
                self.acting[full] = all_of((Formula("ref", name=full), shows))

    def _gate(self, unit: Unit, full: str) -> None:
        event = self._type(unit).events[full.split(".", 1)[1]]
        for link in event.inputs:
            for cause in self.joined(unit, link.ref):
                self._define(cause)
        before = len(self.roots)
        parts = self._effects(unit, full, event.inputs)
        need = {Gate.ANY_OF: 1, Gate.ALL_OF: len(parts), Gate.AT_LEAST: event.k}[event.gate]
        formula = Formula("least", tuple(parts), need)
        settled = self.constant(formula)
        if settled is not None:
            del self.roots[before:]  # inhibitors of a gate that the configuration decides
            formula = TRUE if settled else FALSE
        elif event.gate is Gate.ANY_OF and event.other > 0.0:
            share = min(Fraction(event.other) * self.chance(formula), Fraction(1, 2))
            self.formulas[f"{full}.other"] = self._root(f"{full}.other", share, "leak")
            self.faults.append(f"{full}.other")
            formula = any_of((*parts, Formula("ref", name=f"{full}.other")))
        self.formulas[full] = formula

    def chance(self, f: Formula) -> Fraction:
        """The chance of a formula with its inputs taken as independent."""
        if f.op in {"true", "false"}:
            return Fraction(f.op == "true")
        if f.op == "root":
            return self.roots[f.root].chance
        if f.op == "ref":
            return self.chance(self.formulas[f.name])
        exactly = [Fraction(1)] + [Fraction(0)] * len(f.of)
        for part in f.of:
            p = self.chance(part)
            exactly = [
                exactly[n] * (1 - p) + (exactly[n - 1] * p if n else 0) for n in range(len(exactly))
            ]
        return sum(exactly[f.k :], Fraction(0))

    def constant(self, f: Formula) -> bool | None:
        """What the configuration alone makes of it."""
        p = self.chance(f)
        return True if p == 1 else False if p == 0 else None

    def stands_on(self, f: Formula) -> set[str]:
        """Faults a formula rests on, whatever their values."""
        found = {f.name} & set(self.faults) if f.op == "ref" else set()
        parts = (self.formulas[f.name],) if f.op == "ref" else f.of
        return found.union(*(self.stands_on(p) for p in parts))

    @cached_property
    def named(self) -> list[str]:
        """Events that are open before any fact, leaks included."""
        return [n for n, f in self.formulas.items() if self.constant(f) is None]

    # -- signs ----------------------------------------------------------------

    def _rows(self, unit: Unit, o: Observable) -> list[tuple[Formula | None, tuple[float, ...]]]:
        rows: list[tuple[Formula | None, tuple[float, ...]]] = []
        for row in o.rows:
            if row.event is None:
                rows.append((None, row.chances))
                break
            events = self.joined(unit, row.event)
            if not events:
                continue
            f = Formula("ref", name=events[0])
            settled = self.constant(f)
            if settled:
                rows.append((None, row.chances))
                break
            if settled is None:
                if events[0] in self.acting:
                    shows = self._root(f"{events[0]} shows in {unit.name}.{o.name}", Fraction(1, 2), "inhibitor")
                    f = all_of((f, shows))
                rows.append((f, row.chances))
        return rows

    # -- worlds ---------------------------------------------------------------

    @cached_property
    def everywhere(self) -> int:
        return (1 << (1 << len(self.roots))) - 1

    @cached_property
    def weights(self) -> list[int]:
        """Prior weight of every world over one common denominator; world w has root i on if bit i is set."""
        out = [1]
        for root in self.roots:
            on, off = root.chance.numerator, root.chance.denominator - root.chance.numerator
            out = [x * off for x in out] + [x * on for x in out]
        return out

    @cached_property
    def scale(self) -> int:
        """The common denominator of the weights."""
        return math.prod(r.chance.denominator for r in self.roots)

    def where(
        self, f: Formula, forced: Mapping[str, bool] | None = None, memo: dict[Formula, int] | None = None
    ) -> int:
        """The worlds a formula holds in; ``forced`` events are taken as given whatever their causes say."""
        memo = {} if memo is None else memo
        if f in memo:
            return memo[f]
        if f.op in {"true", "false"}:
            found = self.everywhere if f.op == "true" else 0
        elif f.op == "root":
            block = 1 << f.root
            # The lower half of each block of 2 * block worlds has the root off.
            found = self.everywhere // ((1 << block) + 1) << block
        elif f.op == "ref":
            if forced is not None and f.name in forced:
                found = self.everywhere if forced[f.name] else 0
            else:
                found = self.where(self.formulas[f.name], forced, memo)
        else:
            reach = [self.everywhere] + [0] * len(f.of)
            for part in f.of:
                holds = self.where(part, forced, memo)
                for n in range(len(f.of), 0, -1):
                    reach[n] |= reach[n - 1] & holds
            found = reach[max(f.k, 0)] if f.k <= len(f.of) else 0
        memo[f] = found
        return found

    def event(self, name: str) -> int:
        return self.where(Formula("ref", name=name))

    def deciding(self, sign: str) -> list[int]:
        """For each row the worlds in which it decides."""
        return decide([None if f is None else self.where(f) for f, _ in self.rows[sign]], self.everywhere)


def decide(rows: list[int | None], everywhere: int) -> list[int]:
    """The first true row decides; None is ``otherwise``."""
    left, out = everywhere, []
    for row in rows:
        mine = left if row is None else left & row
        out.append(mine)
        left &= ~mine
    return out
