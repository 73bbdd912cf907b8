"""The reference: evidence and every answer in exact fractions, by listing all worlds."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cached_property
from itertools import compress

from faultkit.model.entries import Complaint, Correction, Entry, Fact
from faultkit.model.site import Unit
from faultkit.model.types import CutKind, Reading, ReadingKind
from faultkit.units import Quantity, parse_quantity
from tests.engine.looks import Look
from tests.engine.strategies import Case
from tests.engine.worlds import Formula, Worlds, decide

__all__ = ["Reference", "minimal_sets"]

#: Likelihoods closer than this count as equal.
TIE = Fraction(1, 10**9)
SAID, SAID_FALSELY = Fraction(0.85), Fraction(0.03)


def minimal_sets(sets: Iterable[frozenset[str]]) -> set[frozenset[str]]:
    found = sorted(set(sets), key=len)
    return {s for n, s in enumerate(found) if not any(t < s for t in found[:n])}


class Reference:
    """Everything that can be asked of a case and its entries. ``more`` signs are asked about, not observed."""

    def __init__(self, case: Case, entries: Sequence[Entry], more: Iterable[str] = ()) -> None:
        self.case = case
        self.blank = Worlds(case.plan, case.types, case.month)
        self.looks: dict[str, list[Look]] = {}
        self.rulers: dict[str, list[Fraction]] = {}
        self._collect(entries)
        self.worlds = Worlds(case.plan, case.types, case.month, [*self.looks, *more])
        self.rows: dict[str, list[list[float]]] = {}
        self.deciding: dict[str, list[int]] = {}
        for sign in [*self.looks, *more]:
            if sign.startswith("complaint:"):
                holds = self.worlds.event(sign.removeprefix("complaint:"))
                self.rows[sign] = [[float(SAID), 1 - float(SAID)], [float(SAID_FALSELY), 1 - float(SAID_FALSELY)]]
                self.deciding[sign] = decide([holds, None], self.worlds.everywhere)
            else:
                self.rows[sign] = [list(chances) for _, chances in self.worlds.rows[sign]]
                self.deciding[sign] = self.worlds.deciding(sign)
        self.facts = list(dict.fromkeys(f for looks in self.looks.values() for k in looks for f in k.facts))
        self._bits: dict[int, list[int]] = {}

    # -- evidence -------------------------------------------------------------

    def _collect(self, entries: Sequence[Entry]) -> None:
        facts: dict[str, tuple[str, int, Fact]] = {}
        complaints: dict[str, str] = {}
        clock = ""
        for n, entry in enumerate(entries):
            clock = entry.time or clock
            if isinstance(entry, Fact):
                facts[entry.id] = (clock, n, entry)
            elif isinstance(entry, Complaint):
                complaints[entry.id] = entry.event
            elif isinstance(entry, Correction) and entry.retract:
                facts.pop(entry.corrects, None)
                complaints.pop(entry.corrects, None)
            elif isinstance(entry, Correction) and entry.corrects in facts and entry.value is not None:
                at, order, old = facts[entry.corrects]
                new = replace(
                    old, value=entry.value, unit=entry.unit, instrument=entry.instrument or old.instrument,
                    state=entry.state or old.state,
                )
                facts[old.id] = (at, order, new)
        ordered = [f for _, _, f in sorted(facts.values(), key=lambda t: t[:2])]
        piles: dict[str, dict[tuple[bool, str], Look]] = {}
        spans: dict[tuple[str, str], tuple[str, Fraction, Fraction]] = {}
        for fact in ordered:
            self._look(fact, piles, spans)
        self._calculated(piles, spans)
        for sign, pile in piles.items():
            measured = [k for (told, _), k in pile.items() if not told]
            self.looks[sign] = measured or list(pile.values())
        self._complaints(complaints)

    def _reading(self, full: str) -> tuple[Unit, Reading]:
        unit = self.case.plan.units[full.split(".", 1)[0]]
        return unit, self.case.types[unit.equipment].readings[full.split(".", 1)[1]]

    def _look(
        self,
        fact: Fact,
        piles: dict[str, dict[tuple[bool, str], Look]],
        spans: dict[tuple[str, str], tuple[str, Fraction, Fraction]],
    ) -> None:
        unit, reading = self._reading(fact.reading)
        told = fact.by not in {"technician", "instrument"}
        words = reading.kind is not ReadingKind.QUANTITY
        low = high = Fraction(0)
        if not words:
            low, high = self._span(fact, reading)
            if not told:
                spans[fact.reading, fact.state] = (fact.id, low, high)
        for o in reading.observables:
            if (o.state is None or o.state == fact.state) and o.rows:
                sign = f"{unit.name}.{o.name}"
                if words:
                    shares = tuple(Fraction(b == fact.value) for b in o.bands)
                else:
                    shares = self._shares(unit, sign, low, high)
                who = (told, fact.by if told else fact.instrument)
                piles.setdefault(sign, {})[who] = Look((fact.id,), shares, told)

    def _span(self, fact: Fact, reading: Reading) -> tuple[Fraction, Fraction]:
        text = fact.value if isinstance(fact.value, str) else f"{fact.value:.12g} {fact.unit}"
        value = Fraction(parse_quantity(text).value)
        accuracy = reading.accuracy
        if fact.instrument:
            accuracy = self.case.common.instruments[fact.instrument].accuracy
        bound = Fraction(0)
        if accuracy is not None:
            bound = Fraction(accuracy.percent) / 100 * abs(value) + Fraction(accuracy.absolute)
        return value - bound, value + bound

    def _edges(self, unit: Unit, sign: str) -> list[Fraction]:
        o = self.blank.signs[sign]
        edges = []
        for cut in o.cuts:
            if cut.kind is CutKind.VALUE:
                edges.append(Fraction(cut.value))
                continue
            declared = self.case.types[unit.equipment].settings[cut.setting]
            given = unit.settings.get(cut.setting, declared.default)
            assert isinstance(given, Quantity)
            if cut.kind is CutKind.SETTING:
                edges.append(Fraction(given.value) + Fraction(cut.offset))
            else:
                edges.append(Fraction(given.value) * Fraction(cut.percent) / 100)
        return edges

    def _shares(self, unit: Unit, sign: str, low: Fraction, high: Fraction) -> tuple[Fraction, ...]:
        edges = self._edges(unit, sign)
        if low == high:
            at = sum(e <= low for e in edges)
            return tuple(Fraction(b == at) for b in range(len(edges) + 1))
        bounds = [min(low, *edges), *edges, max(high, *edges)]
        return tuple(
            max(Fraction(0), min(high, b) - max(low, a)) / (high - low) for a, b in itertools.pairwise(bounds)
        )

    def _calculated(
        self,
        piles: dict[str, dict[tuple[bool, str], Look]],
        spans: dict[tuple[str, str], tuple[str, Fraction, Fraction]],
    ) -> None:
        """Differences of two readings of the same unit, both without states."""
        for unit in self.case.plan.units.values():
            for reading in self.case.types[unit.equipment].readings.values():
                if reading.calculation is None:
                    continue
                found = {}
                for arg, ref in reading.calculation.readings.items():
                    spoken = [v for (r, _), v in spans.items() if r == f"{unit.name}.{ref.name}"]
                    if spoken:
                        found[arg] = spoken[0]
                if set(found) == {"a", "b"}:
                    (fa, a_low, a_high), (fb, b_low, b_high) = found["a"], found["b"]
                    sign = f"{unit.name}.{reading.name}"
                    shares = self._shares(unit, sign, a_low - b_high, a_high - b_low)
                    facts = tuple(dict.fromkeys((fa, fb)))
                    piles.setdefault(sign, {})[False, "calculated"] = Look(facts, shares)

    def _complaints(self, complaints: dict[str, str]) -> None:
        """A measurement that tells of the event supersedes the complaint."""
        spoken = set()
        for sign, looks in self.looks.items():
            if any(not k.told for k in looks):
                unit = self.case.plan.units[sign.split(".", 1)[0]]
                for row in self.blank.signs[sign].rows:
                    if row.event is not None:
                        spoken.update(self.blank.joined(unit, row.event)[:1])
        for ident, event in complaints.items():
            name = f"complaint:{event}"
            if event in self.blank.named and event not in spoken and name not in self.looks:
                self.looks[name] = [Look((ident,), (Fraction(1), Fraction(0)))]

    # -- probability ----------------------------------------------------------

    def rows_of(self, sign: str, facts: Iterable[str] | None = None, *, soften: bool = False) -> list[Fraction]:
        """Likelihood of each row by the looks that rest on ``facts`` (all when None)."""
        chosen = [k for k in self.looks[sign] if facts is None or set(k.facts) <= set(facts)]
        bands = [Fraction(1)] * len(self.rows[sign][0])
        for look in chosen:
            bands = [a * b for a, b in zip(bands, look.weights(soften=soften), strict=True)]
        if not chosen:
            return [Fraction(1)] * len(self.rows[sign])
        return [sum((Fraction(c) * b for c, b in zip(row, bands, strict=True)), Fraction(0)) for row in self.rows[sign]]

    def bits(self, worlds: int) -> list[int]:
        if worlds not in self._bits:
            text = f"{worlds:0{1 << len(self.worlds.roots)}b}"
            self._bits[worlds] = [int(c) for c in reversed(text)]
        return self._bits[worlds]

    def weigh(self, facts: Iterable[str] | None = None, *, soften: bool = False) -> list[int]:
        """Weight of each world with its evidence; one unknown common scale."""
        chosen = None if facts is None else frozenset(facts)
        out = self.worlds.weights
        for sign in self.looks:
            out = self.scaled(out, sign, self.rows_of(sign, chosen, soften=soften))
        return out

    def scaled(self, weights: list[int], sign: str, rows: Sequence[Fraction]) -> list[int]:
        """The weights times the likelihood of the row that decides ``sign``."""
        lcm = math.lcm(*(r.denominator for r in rows))
        factor = [0] * len(weights)
        for r, where in zip(rows, self.deciding[sign], strict=True):
            number = int(r * lcm)
            factor = [number if b else f for f, b in zip(factor, self.bits(where), strict=True)]
        return [w * f for w, f in zip(weights, factor, strict=True)]

    def sum(self, weights: list[int], worlds: int) -> int:
        return sum(compress(weights, self.bits(worlds)))

    def posterior(self, weights: list[int], worlds: int) -> Fraction:
        return Fraction(self.sum(weights, worlds), sum(weights))

    # -- logic ----------------------------------------------------------------

    def possible(self, facts: Iterable[str] | None = None, *, soften: bool = False) -> int:
        """The worlds that the facts leave possible."""
        chosen = None if facts is None else frozenset(facts)
        left = self.worlds.everywhere
        for sign in self.looks:
            rows = self.rows_of(sign, chosen, soften=soften)
            for r, where in zip(rows, self.deciding[sign], strict=True):
                if r == 0:
                    left &= ~where
        return left

    @staticmethod
    def verdict(left: int, event: int) -> str:
        """What the worlds left say of an event."""
        return "confirmed" if not left & ~event else "ruled_out" if not left & event else "open"

    @cached_property
    def conflicts(self) -> set[frozenset[str]]:
        """Minimal sets of facts with no world left."""
        subsets = itertools.chain.from_iterable(
            itertools.combinations(self.facts, n) for n in range(len(self.facts) + 1)
        )
        return minimal_sets(frozenset(s) for s in subsets if not self.possible(s))

    @cached_property
    def free(self) -> frozenset[str]:
        """Facts in no conflict."""
        return frozenset(self.facts).difference(*self.conflicts)

    def verdicts(self) -> dict[str, str]:
        left = self.possible(self.free)
        return {n: self.verdict(left, self.worlds.event(n)) for n in self.worlds.named}

    # -- explained ------------------------------------------------------------

    def abnormal(self) -> dict[str, list[int]]:
        """Findings whose bands come less than half the time under ``otherwise``; rows that make them likelier."""
        out = {}
        for sign, looks in self.looks.items():
            bands = [math.prod((k.weights(soften=False)[b] for k in looks), start=Fraction(1))
                     for b in range(len(looks[0].shares))]
            whole = sum(bands)
            rows = [r / whole for r in self.rows_of(sign)] if whole else []
            if rows and rows[-1] < Fraction(1, 2) * (1 - TIE):
                out[sign] = [j for j in range(len(rows) - 1) if rows[j] > rows[-1] * (1 + TIE)]
        return out

    def row_formula(self, sign: str, j: int) -> Formula:
        if sign.startswith("complaint:"):
            return Formula("ref", name=sign.removeprefix("complaint:"))
        found = self.worlds.rows[sign][j][0]
        assert found is not None
        return found

    def seen(self, sign: str, rows: Sequence[int], confirmed: Iterable[str] | None = None) -> int:
        """Worlds in which one of the rows is true; with ``confirmed``, by these faults alone."""
        forced = None
        if confirmed is not None:
            known = set(confirmed)
            forced = {f: f in known for f in self.worlds.faults}
        found = 0
        for j in rows:
            found |= self.worlds.where(self.row_formula(sign, j), forced)
        return found
