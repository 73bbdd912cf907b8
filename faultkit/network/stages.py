"""The network of a call with remedies: one set of variables, copies only of what a remedy changed.

A remedy starts a stage. Basic events, leaks and inhibitors are the same variables in all
stages. An event that a remedy touches is, afterwards, what was there before and did not go,
or what came with the remedy; a gate is copied for a stage where something beneath it changed.
Node ``x`` as it is from stage 2 on is called ``x#2``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from faultkit.model.words import CHANCE_WORDS
from faultkit.network.ir import Network, Node, NodeKind, Sign
from faultkit.network.site import Site, SiteRemedy

__all__ = ["UNSETTLED", "Stages", "Story"]

#: Chance that an event which a remedy unsettles is there afterwards as it was before.
UNSETTLED = CHANCE_WORDS["half_the_time"]

#: Networks kept per site.
KEPT = 64


@dataclass(frozen=True, slots=True)
class _Touch:
    """What a remedy does to an event: the chance that it stays as it was, and that it comes anew."""

    stays: float = 1.0
    comes: float = 0.0


@dataclass(frozen=True)
class Story:
    """The network of all stages. ``last`` is the stage of now, ``signs`` the signs of now by plain name.

    ``at`` maps (node of the first stage, stage it dates from) to a node.
    """

    network: Network
    last: int
    signs: Mapping[str, Sign]
    changes: tuple[tuple[int, ...], ...]
    at: Mapping[tuple[int, int], int]

    def node(self, event: str, stage: int) -> int | None:
        """The node of an event in a stage; None where it is fixed or that stage needed no copy of it."""
        base = self.network.index.get(event)
        if base is None:
            return None
        made = self.changes[stage][base]
        return self.at.get((base, made)) if made else base

    @cached_property
    def now(self) -> Mapping[int, str]:
        """Nodes of now → their plain names."""
        names = (n.name for n in self.network.nodes)
        found = {self.node(name, self.last): name for name, _ in zip(names, self.changes[0], strict=False)}
        return {i: name for i, name in found.items() if i is not None}


class Stages:
    """Says what changes when, and builds the network for the signs looked at."""

    def __init__(self, site: Site, month: int, remedies: Iterable[str] = ()) -> None:
        self.site = site
        self.month = month
        self.names = tuple(remedies)
        self.remedies: tuple[SiteRemedy, ...] = tuple(site.remedies[r] for r in self.names)
        self.last = len(self.remedies)

    @cached_property
    def base(self) -> Network:
        """The network of the first stage."""
        return self.site.network(self.month)

    @cached_property
    def latched(self) -> frozenset[int]:
        """Gates that outlive their causes."""
        index, faults = self.base.index, self.base.fault_set
        return frozenset(
            index[e.name] for e in self.site.events.values()
            if e.event.stays and e.name in index and index[e.name] not in faults
        )

    @cached_property
    def touched(self) -> tuple[Mapping[int, _Touch], ...]:
        """For each stage the nodes its remedy touches; none in the first."""
        return ({}, *(self._touches(r) for r in self.remedies))

    def _touches(self, remedy: SiteRemedy) -> dict[int, _Touch]:
        index = self.base.index
        out: dict[int, _Touch] = {}
        for names, stays in ((remedy.unsettles, UNSETTLED), (remedy.ends, remedy.remedy.fails)):
            for i in (index[n] for n in names if n in index):
                out[i] = _Touch(stays, self._own_prior(i))
        for link in remedy.leaves:
            if link.cause in index:
                i = index[link.cause]
                before = out.get(i, _Touch())
                out[i] = replace(before, comes=before.comes + (1.0 - before.comes) * link.strength)
        return out

    def _own_prior(self, i: int) -> float:
        """The frequency of a basic event by itself; a gate has none."""
        node = self.base.nodes[i]
        if not node.is_root:
            itself = self.base.index.get(f"{node.name}.by_itself")
            return self.base.nodes[itself].prior if itself is not None else 0.0
        return node.prior

    @cached_property
    def changes(self) -> tuple[tuple[int, ...], ...]:
        """For each stage and node of the first stage: the stage in which it last changed.

        What comes and goes is drawn anew in every stage.
        """
        return self._changes(redraw=True)

    @cached_property
    def _remedied(self) -> tuple[tuple[int, ...], ...]:
        """The same, for what remedies did alone."""
        return self._changes(redraw=False)

    def _changes(self, *, redraw: bool) -> tuple[tuple[int, ...], ...]:
        nodes, faults = self.base.nodes, self.base.fault_set
        out = [[0] * len(nodes)]
        for s in range(1, self.last + 1):
            mine = list(out[-1])
            for i, node in enumerate(nodes):
                if i in self.touched[s] or (redraw and node.name.startswith("acting:")):
                    mine[i] = s
                elif not node.is_root and i not in faults:
                    mine[i] = max(mine[i], *(mine[j] for j in node.inputs))
            out.append(mine)
        return tuple(map(tuple, out))

    def event_since(self, event: str, stage: int) -> int:
        """The stage that an event of ``stage`` dates from."""
        i = self.base.index.get(event) if stage else None
        return 0 if i is None else self.changes[stage][i]

    def sign_since(self, sign: str, stage: int) -> int:
        """The stage that a sign of ``stage`` dates from: the latest change beneath its rows."""
        found = self.base.signs.get(sign) if stage else None
        return max((self.changes[stage][r] for r in found.rows), default=0) if found else 0

    def remedied(self, name: str) -> int:
        """The last stage whose remedy changed an event, or something beneath the rows of a sign; else 0."""
        if not self.last:
            return 0
        sign, event = self.base.signs.get(name), self.base.index.get(name)
        nodes = sign.rows if sign else () if event is None else (event,)
        return max((self._remedied[-1][i] for i in nodes), default=0)

    def disturbed(self, names: Iterable[str], after: int, until: int) -> int:
        """The last stage after ``after``, up to ``until``, whose remedy disturbs one of these readings; else 0."""
        asked = frozenset(names)
        return next((s for s in range(until, after, -1) if not asked.isdisjoint(self.remedies[s - 1].disturbs)), 0)

    def story(self, looked: Iterable[tuple[str, int]] = ()) -> Story:
        """The network for signs looked at, as (sign, stage it dates from), and for all of now."""
        asked = frozenset(looked)
        key = (self.month, self.names, asked if self.last else frozenset())
        kept: dict[object, Story] = self.site.memo.setdefault("stories", {})
        if key not in kept:
            if len(kept) >= KEPT:
                del kept[next(iter(kept))]
            kept[key] = _Copier(self).story(sorted(asked)) if self.last else self._plain()
        return kept[key]

    def _plain(self) -> Story:
        return Story(self.base, 0, self.base.signs, ((0,) * len(self.base.nodes),), {})


class _Copier:
    """Adds the copies that are asked for behind the nodes of the first stage."""

    def __init__(self, stages: Stages) -> None:
        self.stages = stages
        self.base = stages.base
        self.nodes = list(self.base.nodes)
        self.made: dict[tuple[int, int], int] = {}

    def story(self, looked: list[tuple[str, int]]) -> Story:
        last = self.stages.last
        signs = [self.sign(name, stage) for name, stage in looked if name in self.base.signs]
        for name, stage in looked:
            event = self.base.index.get(name.removeprefix("complaint:"))
            if event is not None:
                self.at(event, stage)
        now = {name: self.sign(name, last) for name in self.base.signs}
        for i in range(len(self.base.nodes)):
            if "@" not in self.base.nodes[i].name:  # what shows in a sign is made with the sign
                self.at(i, last)
        faults = [self.at(i, last) for i in self.base.faults]
        current = frozenset(faults)
        known = frozenset(self.base.faults)
        earlier = [j for j in (*known, *(j for (i, _), j in self.made.items() if i in known)) if j not in current]
        network = Network(
            tuple(self.nodes), {s.name: s for s in (*now.values(), *signs)}, tuple(faults), tuple(sorted(earlier))
        )
        return Story(network, last, now, self.stages.changes, self.made)

    def sign(self, name: str, stage: int) -> Sign:
        sign = self.base.signs[name]
        rows = tuple(self.at(r, stage) for r in sign.rows)
        dates = self.stages.sign_since(name, stage)
        return replace(sign, name=f"{name}#{dates}" if dates else name, rows=rows)

    def add(self, name: str, kind: NodeKind, inputs: tuple[int, ...] = (), k: int = 0, prior: float = 0.0) -> int:
        self.nodes.append(Node(name, kind, inputs, k, prior))
        return len(self.nodes) - 1

    def at(self, i: int, stage: int) -> int:
        """The node of the first stage as it is in ``stage``."""
        dates = self.stages.changes[stage][i]
        if not dates:
            return i
        if (i, dates) not in self.made:
            self.made[i, dates] = self._make(i, dates)
        return self.made[i, dates]

    def _make(self, i: int, s: int) -> int:
        node = self.base.nodes[i]
        name = f"{node.name}#{s}"
        if node.name.startswith("acting:"):
            event, shows = node.inputs
            drawn = self.base.nodes[shows]
            anew = self.add(f"{drawn.name}#{s}", drawn.kind, prior=drawn.prior)
            return self.add(name, node.kind, (self.at(event, s), anew))
        latched = i in self.stages.latched
        if node.is_root or latched or i in self.base.fault_set:
            return self._lasting(i, s, latched=latched)
        return self.add(name, node.kind, tuple(self.at(j, s) for j in node.inputs), k=node.k)

    def _lasting(self, i: int, s: int, *, latched: bool) -> int:
        """An event that outlives its causes: what was there and did not go, or what comes."""
        node = self.base.nodes[i]
        touch = self.stages.touched[s].get(i, _Touch())
        parts = [self.at(i, s - 1)]
        if touch.stays < 1.0:
            before = parts.pop()
            if touch.stays > 0.0:
                kept = self.add(f"kept:{node.name}#{s}", NodeKind.INHIBITOR, prior=touch.stays)
                parts.append(self.add(f"still:{node.name}#{s}", NodeKind.ALL_OF, (before, kept)))
        if latched:
            parts.append(self.add(f"now:{node.name}#{s}", node.kind, tuple(self.at(j, s) for j in node.inputs), node.k))
        if touch.comes > 0.0:
            parts.append(self.add(f"come:{node.name}#{s}", NodeKind.COMES, prior=touch.comes))
        return self.add(f"{node.name}#{s}", NodeKind.ANY_OF, tuple(parts))
