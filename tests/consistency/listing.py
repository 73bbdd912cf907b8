"""Testability by listing: what faults show, from all states of the weak links, and every set of checks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from itertools import chain, combinations, product

from faultkit.model.site import SitePlan, Unit
from faultkit.model.types import EquipmentType
from tests.engine.worlds import Formula, Worlds

__all__ = ["Listing"]


class Listing:
    """One type with all switches on and nothing joined."""

    def __init__(self, kind: EquipmentType) -> None:
        self.kind = kind
        on: dict[str, bool] = {h.name: True for h in kind.house_events.values()}
        plan = SitePlan("one", units={"u": Unit("u", kind.name, settings=on)})
        names = [f"u.{o.name}" for o in kind.observables().values() if o.rows]
        self.worlds = Worlds(plan, {kind.name: kind}, 1, names)
        self.signs = {n.removeprefix("u."): self.worlds.signs[n] for n in names if n in self.worlds.rows}
        basics = {e.name for e in kind.events.values() if e.prior is not None}
        self.faults = [f.removeprefix("u.") for f in self.worlds.faults if f.removeprefix("u.") in basics]

    def value(self, f: Formula, on: frozenset[int]) -> bool:
        if f.op in {"true", "false"}:
            return f.op == "true"
        if f.op == "root":
            return f.root in on
        if f.op == "ref":
            return self.value(self.worlds.formulas[f.name], on)
        return sum(self.value(p, on) for p in f.of) >= f.k

    def _states(self, faults: Iterable[str]) -> Iterator[tuple[Fraction, frozenset[int]]]:
        """Every state of the weak links with its chance; what comes and goes shows."""
        wanted = {f"u.{f}" for f in faults}
        roots = self.worlds.roots
        fixed = {i for i, r in enumerate(roots) if r.name in wanted or " shows" in r.name}
        weak = [i for i, r in enumerate(roots) if r.kind == "inhibitor" and " shows" not in r.name]
        for acts in product((False, True), repeat=len(weak)):
            chance = Fraction(1)
            for i, a in zip(weak, acts, strict=True):
                chance *= roots[i].chance if a else 1 - roots[i].chance
            yield chance, frozenset(fixed | {i for i, a in zip(weak, acts, strict=True) if a})

    def chances(self, sign: str, faults: Iterable[str]) -> list[float]:
        """Chances of a sign's bands when just these faults are there."""
        rows = self.worlds.rows[f"u.{sign}"]
        total = [0.0] * len(self.signs[sign].bands)
        for chance, on in self._states(faults):
            row = next(c for f, c in rows if f is None or self.value(f, on))
            total = [t + float(chance) * c for t, c in zip(total, row, strict=True)]
        return total

    def likeliest(self, sign: str, faults: Iterable[str]) -> int:
        """The band to expect; the usual one where no other is likelier."""
        usual = self.chances(sign, ())
        normal = usual.index(max(usual))
        found = self.chances(sign, faults)
        return found.index(max(found)) if max(found) > found[normal] + 1e-9 else normal

    def obtainable(self, checks: Iterable[str]) -> frozenset[str]:
        """Signs that some checks give between them."""
        given = {ref.name for c in checks for ref in self.kind.checks[c].gives}
        bare = {g.partition(" in ")[0] for g in given}
        found = set()
        for name, o in self.signs.items():
            c = self.kind.readings[o.reading].calculation
            if name in given or (c is not None and {r.name for r in c.readings.values()} <= bare):
                found.add(name)
        return frozenset(found)

    def table(self, signs: Iterable[str]) -> Mapping[str, tuple[int, ...]]:
        """What each fault, and none (''), most likely shows."""
        names = sorted(signs)
        return {f: tuple(self.likeliest(s, [f] if f else []) for s in names) for f in ("", *self.faults)}

    def groups(self) -> set[frozenset[str]]:
        """Faults that no set of checks tells apart: for no set of checks do they come differently."""
        every = list(self.kind.checks)
        sets = list(chain.from_iterable(combinations(every, n) for n in range(len(every) + 1)))
        tables = [self.table(signs) for signs in {self.obtainable(s) for s in sets}]
        rest = [f for f in self.faults if any(t[f] != t[""] for t in tables)]
        return {frozenset(g for g in rest if all(t[f] == t[g] for t in tables)) for f in rest}

    def separates(self, checks: Iterable[str]) -> set[frozenset[str]]:
        """Pairs (with '' for no fault) that a set of checks tells apart."""
        table = self.table(self.obtainable(checks))
        return {frozenset(p) for p in combinations(table, 2) if table[p[0]] != table[p[1]]}

    def smallest(self) -> tuple[int, float]:
        """How many checks the smallest set that separates all has, and its minutes."""
        every = list(self.kind.checks)
        goal = self.separates(every)
        for n in range(len(every) + 1):
            good = [c for c in combinations(every, n) if self.separates(c) == goal]
            if good:
                return n, min(sum(self.kind.checks[x].minutes for x in c) for c in good)
        raise AssertionError
