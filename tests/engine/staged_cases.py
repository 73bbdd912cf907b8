"""Random small sites whose calls have remedies in them."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from faultkit.model.types import EquipmentType, Gate, Link, Observable, Reading, ReadingKind, Ref, Remedy, Row
from tests.engine.maker import STRENGTHS, Maker
from tests.engine.strategies import Case, make_call, make_case

__all__ = ["Staged", "staged_calls"]

Staged = tuple[Case, list[dict[str, Any]]]
FAILS = (0.0, 0.03, 0.03, 0.15, 0.5)


class StagedMaker(Maker):
    """Remedies with everything they can do; gates that outlive their causes."""

    def make_basics(self) -> None:
        super().make_basics()
        for name, event in self.events.items():
            earlier = [Ref(e) for e in self.events if e < name]
            causes = (self.link(self.rng.choice(earlier), 0.5),) if earlier and self.often(0.5) else event.broken_by
            self.events[name] = replace(event, stays=self.often(0.3), broken_by=causes)

    def make_gates(self, most: int) -> None:
        super().make_gates(most)
        for name, event in self.events.items():
            if event.gate is not Gate.BASIC:
                self.events[name] = replace(event, stays=self.often(0.2))

    def make_readings(self, most: int) -> None:
        """Besides the usual ones, readings that show an event as it is."""
        super().make_readings(most)
        for name in [*self.events]:
            if self.often(0.6):
                sees = (Row(Ref(name), (0.0, 1.0)), Row(None, (1.0, 0.0)))
                seen = Observable(f"see_{name}", f"see_{name}", None, ("gone", "there"), (), sees)
                self.readings[f"see_{name}"] = Reading(f"see_{name}", ReadingKind.ONE_OF, observables=(seen,))

    def remedies(self) -> dict[str, Remedy]:
        lasting = [Ref(e.name) for e in self.events.values() if e.gate is Gate.BASIC or e.stays]
        seen = [Ref(o.name) for r in self.readings.values() for o in r.observables]
        out = {}
        for remedy in super().remedies().values():
            out[remedy.name] = replace(
                remedy,
                ends=remedy.ends if self.often(0.8) else (self.rng.choice(lasting),),
                fails=self.rng.choice(FAILS),
                may_leave=(Link(self.rng.choice(lasting), self.rng.choice(STRENGTHS)),) if self.often(0.3) else (),
                unsettles=(self.rng.choice(lasting),) if self.often(0.2) else (),
                disturbs=(self.rng.choice(seen),) if seen and self.often(0.3) else (),
            )
        return out


def _alone(rng: random.Random) -> EquipmentType:
    return StagedMaker(rng, "alone", 3).build(2, 1)


def staged_case(rng: random.Random) -> Case:
    case = make_case(rng)
    if rng.randrange(6) == 0:
        return case  # several units, plain remedies
    kind = _alone(rng)
    unit = replace(next(iter(case.plan.units.values())), name="u", equipment="alone", settings={}, joins={})
    return replace(case, plan=replace(case.plan, units={"u": unit}), types={"alone": kind})


def staged_calls(most: int = 4, remedies: int = 2) -> st.SearchStrategy[Staged]:
    """A call with one remedy or more among its facts, some entries late but with their own time."""

    def both(seed: int) -> Staged:
        rng = random.Random(seed)  # noqa: S311
        case = staged_case(rng)
        known = list(case.site().remedies.values())
        entries = [e for e in make_call(rng, case, most) if e["kind"] != "correction"]
        for n in range(rng.randint(1, remedies) if known else 0):
            r = rng.choice(known)
            done = {"kind": "remedy", "id": f"r{n}", "unit": r.unit, "remedy": r.name.partition(".")[2]}
            entries.insert(rng.randint(0, len(entries)), done)
        for r in known:
            if rng.randrange(4) == 0:
                word = rng.choice(("approved", "declined", "deferred"))
                said = {"kind": "decision", "unit": r.unit, "remedy": r.name.partition(".")[2], "answer": word}
                entries.insert(rng.randint(0, len(entries)), {"id": f"d{len(entries)}", **said})
        for n, e in enumerate(entries):
            e["time"] = f"2026-07-14T10:{10 + n}"
        if len(entries) > 2 and rng.randrange(3) == 0:
            entries.append(entries.pop(rng.randrange(len(entries) - 1)))  # entered late
        return case, entries

    return st.integers(0, 2**32 - 1).map(both)
