"""Draws one equipment type with every feature of the format."""

from __future__ import annotations

import random

from faultkit.model.types import (
    Calculation,
    Check,
    Cut,
    CutKind,
    Dimension,
    EquipmentType,
    Event,
    Gate,
    HouseEvent,
    Join,
    Link,
    Observable,
    Prior,
    Reading,
    ReadingKind,
    Ref,
    Remedy,
    Row,
    Setting,
)
from faultkit.units import parse_accuracy, parse_quantity

__all__ = ["CUTS", "Maker"]

#: Volts with a binary fraction, so that no cut is missed by rounding.
CUTS = (8.0, 16.0, 24.0, 40.0)
PRIORS = (0.3, 0.25, 0.1, 0.03, 0.01, 0.001, 1e-6, 1e-9)
STRENGTHS = (0.97, 0.85, 0.5, 0.15, 0.03)
SHARES = (0.02, 0.05, 0.3, 0.9)


class Maker:
    """Draws one equipment type. ``joins`` maps a join to the events it may use (``each`` for many units)."""

    def __init__(self, rng: random.Random, name: str, size: int) -> None:
        self.rng = rng
        self.name = name
        self.size = size
        self.events: dict[str, Event] = {}
        self.readings: dict[str, Reading] = {}
        self.house: dict[str, HouseEvent] = {}
        self.links: list[Ref] = []      # joined events a gate may stand on
        self.joined: list[Ref] = []     # joined events a row may name
        self.joins: dict[str, Join] = {}
        self.settings = {"rated": Setting("rated", Dimension.QUANTITY, unit="V", default=parse_quantity("20 V"))}
        self.states: dict[str, str] = {}

    def often(self, chance: float) -> bool:
        return self.rng.randrange(100) < 100 * chance

    def join(self, join: Join) -> None:
        self.joins[join.name] = join
        refs = [Ref(e, join.name, each=bool(join.reverse_of)) for e in join.events]
        self.links += refs
        if not join.reverse_of:
            self.joined += refs

    def link(self, ref: Ref, weak: float) -> Link:
        return Link(ref, self.rng.choice(STRENGTHS) if self.often(weak) else 1.0)

    def only_with(self, chance: float) -> tuple[str, ...]:
        return (self.rng.choice(list(self.house)),) if self.house and self.often(chance) else ()

    def make_house(self) -> None:
        if self.often(0.5):
            self.house["switch"] = HouseEvent("switch", default=self.often(0.5))

    def make_basics(self) -> None:
        rng = self.rng
        for n in range(rng.randint(1, self.size)):
            name = f"b{n}"
            # The first has no cause: a feeder may look back at it, and loops are refused.
            earlier = [*(Ref(e) for e in self.events), *self.joined] if n else []
            causes = tuple(self.link(r, 0.6) for r in rng.sample(earlier, 1)) if earlier and self.often(0.2) else ()
            seasons = {rng.choice(("summer", "winter")): rng.choice(PRIORS)} if self.often(0.2) else {}
            self.events[name] = Event(
                name, Gate.BASIC, name, name,
                prior=Prior(rng.choice(PRIORS), seasons),
                broken_by=causes,
                intermittent=self.often(0.12),
                only_with=self.only_with(0.1),
            )

    def make_gates(self, most: int) -> None:
        rng = self.rng
        for n in range(rng.randint(1, most)):
            pool = [*(Ref(e) for e in self.events), *(Ref(h) for h in self.house if self.often(0.3)), *self.links]
            inputs = rng.sample(pool, min(len(pool), rng.randint(1, 3)))
            gate = rng.choice((Gate.ANY_OF, Gate.ANY_OF, Gate.ALL_OF, Gate.AT_LEAST))
            closed = gate is not Gate.ANY_OF or self.often(0.6)
            self.events[f"g{n}"] = Event(
                f"g{n}", gate, f"g{n}", f"g{n}",
                inputs=tuple(self.link(r, 0.2) for r in inputs),
                k=rng.randint(1, len(inputs)) if gate is Gate.AT_LEAST else 0,
                complete="tests" if closed and gate is Gate.ANY_OF else "",
                other=0.0 if closed else rng.choice(SHARES),
                only_with=self.only_with(0.05),
            )

    def chances(self, n: int) -> tuple[float, ...]:
        """Certain, part excluded, or anything goes."""
        rng = self.rng
        style = rng.randrange(4)
        if style == 0:
            one = rng.randrange(n)
            return tuple(float(b == one) for b in range(n))
        parts = [rng.choice((0, 0, 1, 2, 5) if style < 3 else (1, 3, 10, 40)) for _ in range(n)]
        if not any(parts):
            parts[rng.randrange(n)] = 1
        return tuple(p / sum(parts) for p in parts)

    def rows(self, n: int) -> tuple[Row, ...]:
        pool = [*(Ref(e) for e in self.events), *self.joined]
        chosen = self.rng.sample(pool, min(len(pool), self.rng.randint(1, 3)))
        return (*(Row(r, self.chances(n)) for r in chosen), Row(None, self.chances(n)))

    def ruler(self) -> tuple[tuple[str, ...], tuple[Cut, ...]]:
        cuts = [Cut(CutKind.VALUE, f"{c} V", c) for c in sorted(self.rng.sample(CUTS, self.rng.randint(1, 3)))]
        if self.often(0.2):
            cuts = [
                Cut(CutKind.SETTING, "rated - 2 V", setting="rated", offset=-2.0),
                Cut(CutKind.PERCENT, "150 % of rated", setting="rated", percent=150.0),
            ]
        return ("low", "normal", "high", "top")[: len(cuts) + 1], tuple(cuts)

    def make_readings(self, most: int) -> None:
        for n in range(self.rng.randint(1, most)):
            self.readings[f"r{n}"] = self.reading(f"r{n}", self.only_with(0.05))
        if self.often(0.2):
            self.difference()

    def reading(self, name: str, only_with: tuple[str, ...]) -> Reading:
        kind = self.rng.choice((ReadingKind.QUANTITY, ReadingKind.QUANTITY, ReadingKind.YES_NO, ReadingKind.ONE_OF))
        cuts: tuple[Cut, ...] = ()
        bands: tuple[str, ...] = ("yes", "no") if kind is ReadingKind.YES_NO else ("none", "some", "much")
        states: tuple[str, ...] = self.rng.choice(((), (), ("running",), ("running", "off")))
        self.states.update({s: s for s in states})
        observables = []
        for s in states or (None,):
            if kind is ReadingKind.QUANTITY:
                bands, cuts = self.ruler()
            full = name if len(states) < 2 else f"{name} in {s}"
            observables.append(Observable(full, name, s, bands, cuts, self.rows(len(bands))))
        quantity = kind is ReadingKind.QUANTITY
        return Reading(
            name, kind,
            unit="V" if quantity else "",
            accuracy=parse_accuracy("2 V", "V") if quantity and self.often(0.5) else None,
            states=states,
            observables=tuple(observables),
            only_with=only_with,
        )

    def difference(self) -> None:
        """Two readings that are only read, and the split between them."""
        for name in ("left", "right"):
            self.readings[name] = Reading(name, ReadingKind.QUANTITY, unit="V", accuracy=parse_accuracy("1 V", "V"))
        bands, cuts = self.ruler()
        self.readings["split"] = Reading(
            "split", ReadingKind.QUANTITY, unit="V",
            observables=(Observable("split", "split", None, bands, cuts, self.rows(len(bands))),),
            calculation=Calculation("difference", {"a": Ref("left"), "b": Ref("right")}),
        )

    def checks(self) -> dict[str, Check]:
        """One check for most observables."""
        out = {}
        for reading in self.readings.values():
            for n, o in enumerate(reading.observables):
                if reading.calculation is None and self.often(0.8):
                    name = f"look_at_{reading.name}_{n}"
                    out[name] = Check(name, (Ref(o.name),), float(self.rng.randint(1, 20)))
        return out

    def remedies(self) -> dict[str, Remedy]:
        basics = [e.name for e in self.events.values() if e.gate is Gate.BASIC]
        out = {}
        while basics:
            ends, basics = basics[: self.rng.randint(1, 2)], basics[2:]
            name = f"mend_{ends[0]}"
            seen = [o for r in self.readings.values() for o in r.observables if o.rows]
            proof = self.rng.sample(seen, min(len(seen), self.rng.randrange(3)))
            out[name] = Remedy(
                name,
                tuple(Ref(e) for e in ends),
                float(self.rng.randint(5, 90)),
                prove=tuple((Ref(o.name), o.bands[0]) for o in proof),
            )
        return out

    def build(self, gates: int, readings: int) -> EquipmentType:
        self.make_house()
        self.make_basics()
        self.make_gates(gates)
        self.make_readings(readings)
        return EquipmentType(
            self.name,
            states=self.states,
            settings=self.settings,
            house_events=self.house,
            joins=self.joins,
            events=self.events,
            readings=self.readings,
            checks=self.checks(),
            remedies=self.remedies(),
        )
