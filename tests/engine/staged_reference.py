"""The reference over stages: evidence and answers in exact fractions, by listing all worlds of a call."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import cached_property

from faultkit.model.entries import Complaint, Entry, Fact, RemedyDone
from faultkit.model.types import ReadingKind
from tests.engine.looks import Look
from tests.engine.reference import SAID, SAID_FALSELY, TIE, Reference, minimal_sets
from tests.engine.staged_worlds import StagedWorlds
from tests.engine.strategies import Case
from tests.engine.worlds import Formula, decide

__all__ = ["StagedReference"]

#: Each look in another stage sees the standing draw of its row with this chance.
STANDING = Fraction(math.sqrt(0.9))
Key = tuple[str, int]
Span = tuple[str, Fraction, Fraction]
Spans = dict[str, dict[int, Span]]
Piles = dict[str, dict[tuple[int, bool, str], Look]]


class StagedReference(Reference):
    """Looks are kept by (sign, stage); a complaint is the sign ``complaint:<event>``."""

    worlds: StagedWorlds
    blank: StagedWorlds

    def __init__(self, case: Case, entries: Sequence[Entry], more: Iterable[str] = ()) -> None:
        self.case = case
        self.entries = self._ordered(entries)
        self.done = [(e.unit, e.remedy) for e, _ in self.entries if isinstance(e, RemedyDone)]
        self.last = len(self.done)
        self.plan = self.blank = StagedWorlds(case.plan, case.types, case.month, self.done)
        self.found: dict[str, dict[int, list[Look]]] = {}
        self._gather()
        keys = [(s, t) for s, by in self.found.items() for t in by]
        looks_at = [k for k in keys if not k[0].startswith("complaint:")]
        looks_at += [(sign, self.last) for sign in more]
        self.worlds = StagedWorlds(case.plan, case.types, case.month, self.done, looks_at)
        for sign, stage in keys:
            if sign.startswith("complaint:"):
                self.worlds.staged(sign.removeprefix("complaint:"), stage)
        self.spoken = frozenset(self.worlds.formulas)
        looks = [k for by in self.found.values() for ks in by.values() for k in ks]
        self.facts = list(dict.fromkeys(f for k in looks for f in k.facts))
        self._bits: dict[int, list[int]] = {}

    # -- evidence -------------------------------------------------------------

    @staticmethod
    def _ordered(entries: Sequence[Entry]) -> list[tuple[Entry, int]]:
        """By the time observed; each with the number of remedies before it."""
        clock, timed = "", []
        for n, e in enumerate(entries):
            clock = e.time or clock
            timed.append((clock, n, e))
        out, stage = [], 0
        for _, _, e in sorted(timed, key=lambda t: t[:2]):
            stage += isinstance(e, RemedyDone)
            out.append((e, stage))
        return out

    def _gather(self) -> None:
        piles: Piles = {}
        spans: Spans = {}
        for fact, stage in self.entries:
            if isinstance(fact, Fact):
                self._one(fact, stage, piles, spans)
        self._splits(piles, spans)
        for sign, pile in piles.items():
            hard = {self.plan.sign_dates(sign, t) for (t, told, _) in pile if not told}
            for (t, told, _), look in sorted(pile.items(), key=lambda p: p[0][0]):
                if not told or self.plan.sign_dates(sign, t) not in hard:
                    self.found.setdefault(sign, {}).setdefault(t, []).append(look)
        self._said()

    def _one(self, fact: Fact, stage: int, piles: Piles, spans: Spans) -> None:
        unit, reading = self._reading(fact.reading)
        told = fact.by not in {"technician", "instrument"}
        words = reading.kind is not ReadingKind.QUANTITY
        low = high = Fraction(0)
        if not words:
            low, high = self._span(fact, reading)
            if not told:
                spans.setdefault(fact.reading, {})[stage] = (fact.id, low, high)
        for o in reading.observables:
            if (o.state is None or o.state == fact.state) and o.rows:
                sign = f"{unit.name}.{o.name}"
                shares = (
                    tuple(Fraction(b == fact.value) for b in o.bands) if words else self._shares(unit, sign, low, high)
                )
                who = (stage, told, fact.by if told else fact.instrument)
                piles.setdefault(sign, {})[who] = Look((fact.id,), shares, told)

    def _splits(self, piles: Piles, spans: Spans) -> None:
        for unit in self.case.plan.units.values():
            for reading in self.case.types[unit.equipment].readings.values():
                if reading.calculation is None:
                    continue
                sign = f"{unit.name}.{reading.name}"
                for stage in range(self.last + 1):
                    found = {
                        arg: self._carried(sign, f"{unit.name}.{ref.name}", stage, spans)
                        for arg, ref in reading.calculation.readings.items()
                    }
                    a, b = found["a"], found["b"]
                    if a and b and stage in {a[0], b[0]}:
                        (fa, a_low, a_high), (fb, b_low, b_high) = a[1], b[1]
                        shares = self._shares(unit, sign, a_low - b_high, a_high - b_low)
                        look = Look(tuple(dict.fromkeys((fa, fb))), shares)
                        piles.setdefault(sign, {})[stage, False, "calculated"] = look

    def _carried(self, sign: str, source: str, stage: int, spans: Spans) -> tuple[int, Span] | None:
        """The last value of an input before anything changed what is calculated from it."""
        for s in range(stage, -1, -1):
            if s in spans.get(source, {}):
                return s, spans[source][s]
            if s and (
                self.plan.sign_dates(sign, stage) >= s or {sign, source} & set(self.plan.names_of(s, "disturbs"))
            ):
                return None
        return None

    def _said(self) -> None:
        spoken = set()
        for sign, by in self.found.items():
            for t, looks in by.items():
                if any(not k.told for k in looks):
                    unit = self.case.plan.units[sign.split(".", 1)[0]]
                    for row in self.blank.signs[sign].rows:
                        for name in self.blank.joined(unit, row.event)[:1] if row.event is not None else ():
                            spoken.add((name, self.plan.dates(name, t)))
        for e, stage in self.entries:
            if isinstance(e, Complaint) and e.event in self.plan.first:
                name, dates = f"complaint:{e.event}", self.plan.dates(e.event, stage)
                before = {self.plan.dates(e.event, t) for t in self.found.get(name, {})}
                if (e.event, dates) not in spoken and dates not in before:
                    self.found.setdefault(name, {})[stage] = [Look((e.id,), (Fraction(1), Fraction(0)))]

    # -- probability ----------------------------------------------------------

    def chances(self, sign: str) -> list[tuple[Fraction, ...]]:
        if sign.startswith("complaint:"):
            return [(SAID, 1 - SAID), (SAID_FALSELY, 1 - SAID_FALSELY)]
        stage = next(iter(self.found[sign]))
        return [tuple(map(Fraction, c)) for _, c in self.worlds.looks_at[sign, stage]]

    def deciding_at(self, sign: str, stage: int) -> list[int]:
        if sign.startswith("complaint:"):
            holds = self.worlds.event_in(sign.removeprefix("complaint:"), stage)
            return decide([holds, None], self.worlds.everywhere)
        return self.worlds.deciding_in(sign, stage)

    def seen_bands(self, sign: str, stage: int, facts: frozenset[str] | None, *, soften: bool) -> list[Fraction] | None:
        """Weight of each band by the looks of one stage; None where none of them counts."""
        looks = [k for k in self.found[sign][stage] if facts is None or set(k.facts) <= facts]
        if not looks:
            return None
        bands = [Fraction(1)] * len(looks[0].shares)
        for k in looks:
            bands = [a * b for a, b in zip(bands, k.weights(soften=soften), strict=True)]
        return bands

    def together(self, sign: str, rows: dict[int, int], seen: dict[int, list[Fraction]]) -> Fraction:
        """Likelihood of the looks at a sign when ``rows`` decide it stage by stage."""
        chances, out = self.chances(sign), Fraction(1)
        for r in set(rows.values()):
            mine = [seen[t] for t, row in rows.items() if row == r]
            alone = [sum((c * w for c, w in zip(chances[r], s, strict=True)), Fraction(0)) for s in mine]
            if len(mine) == 1:
                out *= alone[0]
                continue
            out *= sum(
                (
                    c * math.prod(STANDING * s[b] + (1 - STANDING) * a for s, a in zip(mine, alone, strict=True))
                    for b, c in enumerate(chances[r])
                ),
                Fraction(0),
            )
        return out

    def weigh(self, facts: Iterable[str] | None = None, *, soften: bool = False) -> list[int]:
        chosen = None if facts is None else frozenset(facts)
        out = self.worlds.weights
        for sign, by in self.found.items():
            seen = {t: s for t in by if (s := self.seen_bands(sign, t, chosen, soften=soften)) is not None}
            if seen:
                out = self._scaled_by(out, sign, seen)
        return out

    def _scaled_by(self, weights: list[int], sign: str, seen: dict[int, list[Fraction]]) -> list[int]:
        stages = list(seen)
        deciding = {t: self.deciding_at(sign, t) for t in stages}
        number = len(self.chances(sign))
        found: list[tuple[int, Fraction]] = []
        for rows in itertools.product(range(number), repeat=len(stages)):
            where = self.worlds.everywhere
            for t, r in zip(stages, rows, strict=True):
                where &= deciding[t][r]
            if where:
                found.append((where, self.together(sign, dict(zip(stages, rows, strict=True)), seen)))
        lcm = math.lcm(*(x.denominator for _, x in found))
        factor = [0] * len(weights)
        for where, x in found:
            n = int(x * lcm)
            factor = [n if b else f for f, b in zip(factor, self.bits(where), strict=True)]
        return [w * f for w, f in zip(weights, factor, strict=True)]

    def foretold(self, weights: list[int], sign: str, band: int, *, soften: bool) -> Fraction:
        """The chance that a measured look now would show a band."""
        rows_of = [tuple(map(Fraction, c)) for _, c in self.worlds.looks_at[sign, self.last]]
        by = self.found.get(sign, {})
        now = self.dates_of(sign, self.last)
        if any(self.dates_of(sign, t) == now and all(k.told for k in by[t]) for t in by):
            by = {}  # hearsay goes once it is measured
        seen = {t: s for t in by if t < self.last and (s := self.seen_bands(sign, t, None, soften=soften)) is not None}
        shown = [Fraction(b == band) for b in range(len(rows_of[0]))]
        stages = [*seen, self.last]
        deciding = {t: self.worlds.deciding_in(sign, t) for t in stages}
        total = Fraction(0)
        for rows in itertools.product(range(len(rows_of)), repeat=len(stages)):
            where = self.worlds.everywhere
            for t, r in zip(stages, rows, strict=True):
                where &= deciding[t][r]
            mass = self.sum(weights, where)
            if mass:
                at = dict(zip(stages, rows, strict=True))
                before = {t: r for t, r in at.items() if t in seen}
                if not seen:
                    total += mass * rows_of[rows[-1]][band]
                else:
                    apart = self.together(sign, before, seen)
                    total += mass * self.together(sign, at, {**seen, self.last: shown}) / apart
        return total / sum(weights)

    # -- logic ----------------------------------------------------------------

    def possible(self, facts: Iterable[str] | None = None, *, soften: bool = False) -> int:
        chosen = None if facts is None else frozenset(facts)
        left = self.worlds.everywhere
        for sign, by in self.found.items():
            for t in by:
                seen = self.seen_bands(sign, t, chosen, soften=soften)
                for chances, where in zip(self.chances(sign), self.deciding_at(sign, t), strict=True):
                    if seen is not None and not any(c and w for c, w in zip(chances, seen, strict=True)):
                        left &= ~where
        return left

    @cached_property
    def conflicts(self) -> set[frozenset[str]]:
        sets = itertools.chain.from_iterable(itertools.combinations(self.facts, n) for n in range(len(self.facts) + 1))
        return minimal_sets(frozenset(s) for s in sets if not self.possible(s))

    def verdict_in(self, name: str, stage: int) -> str:
        return self.verdict(self.possible(self.free), self.worlds.event_in(name, stage))

    # -- explained ------------------------------------------------------------

    def dates_of(self, sign: str, stage: int) -> int:
        if sign.startswith("complaint:"):
            return self.plan.dates(sign.removeprefix("complaint:"), stage)
        return self.plan.sign_dates(sign, stage)

    def standing(self) -> dict[Key, list[int]]:
        """Abnormal findings not looked at again after a change, with the rows that make them likelier."""
        out: dict[Key, list[int]] = {}
        for sign, by in self.found.items():
            stage = max(by)
            rows = self._likelier(sign, stage)
            if rows is None or (sign.startswith("complaint:") and self._answered(sign, stage)):
                continue
            out[sign, stage] = rows
        return out

    def _likelier(self, sign: str, stage: int) -> list[int] | None:
        bands = self.seen_bands(sign, stage, None, soften=False)
        assert bands is not None
        whole = sum(bands)
        if not whole:
            return None
        rows = [sum(c * b for c, b in zip(row, bands, strict=True)) / whole for row in self.chances(sign)]
        if rows[-1] >= Fraction(1, 2) * (1 - TIE):
            return None
        return [j for j in range(len(rows) - 1) if rows[j] > rows[-1] * (1 + TIE)]

    def _answered(self, sign: str, stage: int) -> bool:
        """Whether a later measurement tells of the event complained of."""
        event = sign.removeprefix("complaint:")
        for other, by in self.found.items():
            for t, looks in by.items():
                if other.startswith("complaint:") or all(k.told for k in looks):
                    continue
                for f, _ in self.worlds.looks_at[other, t]:
                    names = set() if f is None else self.worlds.parts(f)
                    if f"{event}|{t}" in names and self.plan.dates(event, t) > self.plan.dates(event, stage):
                        return True
        return False

    def seen_in(self, sign: str, stage: int, rows: Sequence[int], *, alone: bool) -> int:
        forced = None
        if alone:
            forced = {
                f"{f}|{t}": self.verdict_in(f, t) == "confirmed"
                for f in self.worlds.faults
                for t in range(self.last + 1)
                if f"{f}|{t}" in self.worlds.formulas
            }
            forced |= {f: forced[f"{f}|0"] for f in self.worlds.faults if f"{f}|0" in forced}
            forced |= dict.fromkeys(self.worlds.brought, False)
        found = 0
        for j in rows:
            if sign.startswith("complaint:"):
                f: Formula | None = self.worlds.staged(sign.removeprefix("complaint:"), stage)
            else:
                f = self.worlds.looks_at[sign, stage][j][0]
            assert f is not None
            found |= self.worlds.where(f, forced)
        return found
