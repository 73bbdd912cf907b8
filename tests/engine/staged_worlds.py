"""All worlds of a call with remedies: the roots of all stages, and what holds in each stage.

Written from the design alone, on top of the worlds of one moment. An event ``x`` as it is
in stage 2 is called ``x|2``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from faultkit.model.site import SitePlan
from faultkit.model.types import EquipmentType, Event, Gate, Remedy
from tests.engine.worlds import FALSE, Formula, Worlds, all_of, any_of, decide

__all__ = ["StagedWorlds"]

HALF = Fraction(1, 2)


class StagedWorlds(Worlds):
    """``done`` names the remedies as (unit, remedy); ``looked`` the signs as (sign, stage)."""

    def __init__(
        self,
        plan: SitePlan,
        types: Mapping[str, EquipmentType],
        month: int,
        done: Sequence[tuple[str, str]],
        looked: Iterable[tuple[str, int]] = (),
    ) -> None:
        super().__init__(plan, types, month)
        self.done = [(plan.units[u], types[plan.units[u].equipment].remedies[r]) for u, r in done]
        self.last = len(self.done)
        self.first = list(self.named)
        self.shows = {f.of[1].root: name for name, f in self.acting.items()}
        self.brought: list[str] = []  # faults that came with a remedy
        self.redrawn: dict[tuple[str, int], Formula] = {}
        self.looks_at: dict[tuple[str, int], list[tuple[Formula | None, tuple[float, ...]]]] = {}
        for name in self.first:
            self.staged(name, self.last)
        for sign, stage in looked:
            self.look(sign, stage)

    # -- configuration --------------------------------------------------------

    def event_of(self, name: str) -> Event | None:
        unit, _, local = name.partition(".")
        return self.types[self.plan.units[unit].equipment].events.get(local)

    def lasts(self, name: str) -> bool:
        """Whether an event is its own master: basic, a leak, or a gate that stays."""
        event = self.event_of(name)
        return event is None or event.gate is Gate.BASIC or event.stays

    def names_of(self, stage: int, part: str) -> list[str]:
        unit, remedy = self.done[stage - 1]
        refs = {
            "ends": remedy.ends, "unsettles": remedy.unsettles, "disturbs": remedy.disturbs,
            "prove": tuple(r for r, _ in remedy.prove),
        }[part]
        return [n for r in refs for n in self.joined(unit, r)]

    def remedy(self, stage: int) -> Remedy:
        return self.done[stage - 1][1]

    def touch(self, name: str, stage: int) -> tuple[Fraction, list[Fraction]] | None:
        """The chance that an event stays as it was, and the chances of what may bring it anew."""
        stays, comes = Fraction(1), []
        touched = False
        for part in ("ends", "unsettles"):
            if not touched and name in self.names_of(stage, part):
                touched = True
                stays = Fraction(self.remedy(stage).fails) if part == "ends" else HALF
                event = self.event_of(name)
                if event is not None and event.prior is not None:
                    comes.append(self._prior(event.prior))
        unit, remedy = self.done[stage - 1]
        left = [Fraction(x.strength) for x in remedy.may_leave if name in self.joined(unit, x.ref)]
        return (stays, comes + left) if touched or left else None

    # -- stages ---------------------------------------------------------------

    def dates(self, name: str, stage: int) -> int:
        """The stage since which an event may differ from before."""
        if stage == 0 or name not in self.first:
            return 0
        if self.touch(name, stage) is not None or self.redraws(name, stage):
            return stage
        return self.dates(name, stage - 1)

    def redraws(self, name: str, stage: int) -> bool:
        """Whether something beneath a gate changed or is drawn anew."""
        event = self.event_of(name)
        if event is None or event.gate is Gate.BASIC:
            return False
        parts = self.parts(self.formulas[name])
        return any(p in self.acting or self.dates(p, stage) == stage for p in parts if p != name)

    def remedied(self, name: str) -> int:
        """The last stage whose remedy changed an event or anything beneath it."""
        mine = max((t for t in range(1, self.last + 1) if self.touch(name, t) is not None), default=0)
        event = self.event_of(name)
        if name not in self.first or event is None or event.gate is Gate.BASIC:
            return mine
        return max(mine, *(self.remedied(p) for p in self.parts(self.formulas[name]) if p != name), 0)

    def parts(self, f: Formula) -> set[str]:
        """Events a formula names, one level down."""
        if f.op == "ref":
            return {f.name}
        return set().union(*(self.parts(p) for p in f.of)) if f.of else set()

    def staged(self, name: str, stage: int) -> Formula:
        """An event in a stage, as a reference."""
        full = f"{name}|{stage}"
        if full not in self.formulas:
            if stage == 0:
                self.formulas[full] = Formula("ref", name=name)
            elif self.dates(name, stage) < stage:
                self.formulas[full] = self.staged(name, stage - 1)
            else:
                self.formulas[full] = self._changed(name, stage)
        return Formula("ref", name=full)

    def _changed(self, name: str, stage: int) -> Formula:
        event = self.event_of(name)
        gate = event is not None and event.gate is not Gate.BASIC
        now = self.moved(self.formulas[name], stage) if gate else FALSE
        if gate and not self.lasts(name):
            return now
        stays, comes = self.touch(name, stage) or (Fraction(1), [])
        before = self.staged(name, stage - 1)
        if stays == 0:
            before = FALSE
        elif stays < 1:
            before = all_of((before, self._root(f"{name} kept in {stage}", stays, "inhibitor")))
        anew = []
        for n, p in enumerate(comes):
            full = f"{name} comes {n}|{stage}"
            self.formulas[full] = self._root(full, p, "comes")
            self.brought.append(full)
            anew.append(Formula("ref", name=full))
        return any_of((before, now, *anew))

    def moved(self, f: Formula, stage: int) -> Formula:
        """A formula of the first stage as it reads in another one."""
        if f.op == "ref":
            return self.staged(f.name, stage) if f.name in self.first else f
        if f.op == "root" and f.root in self.shows:
            key = (self.shows[f.root], stage)
            if key not in self.redrawn:
                self.redrawn[key] = self._root(f"{key[0]} shows in stage {stage}", HALF, "inhibitor")
            return self.redrawn[key]
        return replace(f, of=tuple(self.moved(p, stage) for p in f.of))

    def look(self, sign: str, stage: int) -> None:
        if (sign, stage) in self.looks_at:
            return
        unit = self.plan.units[sign.partition(".")[0]]
        before = len(self.roots)
        same = next((s for s in range(stage) if (sign, s) in self.looks_at and
                     self.sign_dates(sign, s) == self.sign_dates(sign, stage)), None)
        if same is not None:
            self.looks_at[sign, stage] = self.looks_at[sign, same]
            return
        rows = self._rows(unit, self.signs[sign])
        # Whether something intermittent shows in a sign is drawn for this look alone.
        mine = range(before, len(self.roots))

        def here(f: Formula) -> Formula:
            if f.op == "ref":
                return self.staged(f.name, stage)
            return f if f.root in mine else replace(f, of=tuple(map(here, f.of)))

        self.looks_at[sign, stage] = [(None if f is None else here(f), chances) for f, chances in rows]

    def sign_dates(self, sign: str, stage: int) -> int:
        unit = self.plan.units[sign.partition(".")[0]]
        found = 0
        for row in self.signs[sign].rows:
            if row.event is not None:
                names = self.joined(unit, row.event)[:1]
                if names and self.constant(Formula("ref", name=names[0])):
                    break
                for name in names:
                    found = max(found, stage if name in self.acting else self.dates(name, stage))
        return found

    def deciding_in(self, sign: str, stage: int) -> list[int]:
        rows = self.looks_at[sign, stage]
        return decide([None if f is None else self.where(f) for f, _ in rows], self.everywhere)

    def event_in(self, name: str, stage: int) -> int:
        return self.where(self.staged(name, stage))
