"""What an equipment type means, written a second time: as clauses for python-sat.

Straight from the type and the format's description in DEVELOPERS.md, without faultkit's network,
its diagrams or its checks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from pysat.solvers import Solver

from faultkit.model.types import EquipmentType, Event, Gate, Link, Observable, Ref

__all__ = ["Sat", "configurations"]


def configurations(kind: EquipmentType) -> Iterator[dict[str, bool]]:
    """Every setting of the type's own house events."""
    names = [h.name for h in kind.house_events.values() if not h.alias]
    for size in range(len(names) + 1):
        for off in combinations(names, size):
            yield {n: n not in off for n in names}


class Sat:
    """One type in one configuration. Literals are ints as in DIMACS; TRUE is a literal that always holds."""

    def __init__(self, kind: EquipmentType, house: Mapping[str, bool]) -> None:
        self.kind = kind
        self.house = house
        self.solver = Solver(name="g3")
        self.count = 0
        self.true = self.new()
        self.solver.add_clause([self.true])
        self.names: dict[str, int] = {}
        self.own: dict[str, int] = {}
        self.links: dict[str, int] = {}

    def new(self) -> int:
        self.count += 1
        return self.count

    def possible(self, *literals: int) -> bool:
        """Whether some state makes all of these true."""
        return bool(self.solver.solve(assumptions=list(literals)))

    # -- gates as clauses ----------------------------------------------------------

    def any(self, literals: list[int]) -> int:
        out = self.new()
        for x in literals:
            self.solver.add_clause([-x, out])
        self.solver.add_clause([*literals, -out])
        return out

    def all(self, literals: list[int]) -> int:
        return -self.any([-x for x in literals])

    def at_least(self, k: int, literals: list[int]) -> int:
        """By listing: small gates only."""
        if k <= 0:
            return self.true
        return self.any([self.all(list(c)) for c in combinations(literals, k)])

    # -- events ----------------------------------------------------------------------

    def left_out(self, only_with: tuple[str, ...]) -> bool:
        return not all(self.house[h] for h in only_with)

    def given(self, name: str) -> bool | None:
        """What the configuration alone makes of an event."""
        if name in self.house:
            return self.house[name]
        event = self.kind.events.get(name)
        if event is None:
            return None
        if self.left_out(event.only_with):
            return False
        if event.gate is Gate.BASIC:
            return True if any(self.sure(x) for x in event.broken_by) else None
        possible = [x for x in event.inputs if self.given_ref(x.ref) is not False]
        certain = [x for x in event.inputs if self.sure(x)]
        if event.gate is Gate.ANY_OF:
            return True if certain else None if possible else False
        k = len(event.inputs) if event.gate is Gate.ALL_OF else event.k
        return True if len(certain) >= k else None if len(possible) >= k else False

    def given_ref(self, ref: Ref) -> bool | None:
        return None if ref.join is not None else self.given(ref.name)

    def sure(self, link: Link) -> bool:
        return link.strength >= 1.0 and self.given_ref(link.ref) is True

    def event(self, name: str) -> int:
        """The literal of an event of the type."""
        if name not in self.names:
            given = self.given(name)
            made = self.make(self.kind.events[name]) if given is None else (self.true if given else -self.true)
            self.names[name] = made
        return self.names[name]

    def make(self, event: Event) -> int:
        if event.gate is Gate.BASIC:
            self.own[event.name] = self.new()
            causes = [self.link(x, event.name) for x in event.broken_by]
            return self.any([self.own[event.name], *causes]) if causes else self.own[event.name]
        parts = [self.link(x, event.name) for x in event.inputs]
        if event.gate is Gate.ANY_OF:
            return self.any([*parts, *([self.new()] if event.other > 0.0 else [])])
        return self.at_least(len(parts) if event.gate is Gate.ALL_OF else event.k, parts)

    def cause(self, ref: Ref) -> int:
        """An event as it enters gates: one that comes and goes has a switch that its gates share."""
        if ref.join is not None:
            return self.names.setdefault(str(ref), self.new())
        found = self.event(ref.name)
        event = self.kind.events.get(ref.name)
        if event is None or not event.intermittent or self.given(ref.name) is not None:
            return found
        return self.all([found, self.links.setdefault(f"shows:{ref.name}", self.new())])

    def link(self, link: Link, gate: str) -> int:
        name = f"{link.ref}>{gate}"
        cause = self.true if self.given_ref(link.ref) else self.cause(link.ref) if link.ref.join or (
            link.ref.name in self.kind.events
        ) else -self.true
        if link.strength >= 1.0:
            return cause
        if name not in self.links:
            self.links[name] = self.new()
        return self.all([cause, self.links[name]])

    # -- readings ----------------------------------------------------------------------

    def rows(self, o: Observable) -> list[int]:
        """The literal of each row's event, otherwise included."""
        found = []
        for row in o.rows:
            if row.event is None:
                found.append(self.true)
                continue
            literal = self.cause(row.event) if row.event.join else self.event(row.event.name)
            event = None if row.event.join else self.kind.events[row.event.name]
            if event is not None and event.intermittent and self.given(event.name) is None:
                literal = self.all([literal, self.links.setdefault(f"{event.name}@{o.name}", self.new())])
            found.append(literal)
        return found

    def reached(self, o: Observable) -> list[int]:
        """When each row decides."""
        rows = self.rows(o)
        return [self.all([row, *(-above for above in rows[:n])]) for n, row in enumerate(rows)]

    def allowed(self, o: Observable, band: int) -> int:
        """When a band can be read."""
        return self.any([f for f, row in zip(self.reached(o), o.rows, strict=True) if row.chances[band] > 0.0])

    def exists(self, o: Observable) -> bool:
        return not self.left_out(self.kind.readings[o.reading].only_with)
