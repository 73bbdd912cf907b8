"""Site → network: hidden inhibitors, leaks, damage and intermittent events made explicit."""

from __future__ import annotations

import math

from faultkit.model.types import Event, Gate, Prior
from faultkit.model.words import CHANCE_WORDS, SEASONS, months_of
from faultkit.network.ir import Network, Node, NodeKind, Sign
from faultkit.network.site import Site, SiteEvent, SiteLink

__all__ = ["build_network", "prior_in"]

_GATES = {Gate.ANY_OF: NodeKind.ANY_OF, Gate.ALL_OF: NodeKind.ALL_OF, Gate.AT_LEAST: NodeKind.AT_LEAST}
_ACTS = CHANCE_WORDS["half_the_time"]


def prior_in(prior: Prior, month: int, hemisphere: str) -> float:
    """The share of units with the fault in a month (1 to 12)."""
    for season in SEASONS:
        if season in prior.seasons and month in months_of(season, hemisphere):
            return prior.seasons[season]
    return prior.otherwise


class _Builder:
    """Adds nodes in topological order; remembers which events are fixed."""

    def __init__(self, site: Site, month: int) -> None:
        self.site = site
        self.month = month
        self.nodes: list[Node] = []
        self.index: dict[str, int] = {}
        self.chance: list[float] = []  # of each node, its inputs taken as independent
        self.fixed: dict[str, bool] = {}
        self.faults: list[int] = []

    def add(self, node: Node) -> int:
        self.nodes.append(node)
        at = self.index[node.name] = len(self.nodes) - 1
        self.chance.append(_chance(node, self.chance))
        return at

    def root(self, name: str, kind: NodeKind, prior: float) -> int:
        return self.add(Node(name, kind, prior=prior))

    def acting(self, cause: str) -> int:
        """The node that a link from ``cause`` starts at: itself, or its acting when it is intermittent."""
        return self.index.get(f"acting:{cause}", self.index[cause])

    def link(self, link: SiteLink, gate: str) -> int:
        """The input of a gate: the cause, behind a hidden inhibitor when the link is weak."""
        if link.strength >= 1.0:
            return self.acting(link.cause)
        inhibitor = self.root(f"link:{link.cause}>{gate}", NodeKind.INHIBITOR, link.strength)
        if self.fixed.get(link.cause):
            return inhibitor
        start = self.acting(link.cause)
        return self.add(Node(f"acts:{link.cause}>{gate}", NodeKind.ALL_OF, (start, inhibitor)))

    def event(self, e: SiteEvent) -> None:
        if e.fixed is not None:
            self.fixed[e.name] = e.fixed
        elif e.event.gate is Gate.BASIC:
            self.basic(e)
        else:
            self.gate(e)

    def basic(self, e: SiteEvent) -> None:
        assert e.event.prior is not None
        prior = prior_in(e.event.prior, self.month, self.site.plan.hemisphere)
        causes = [c for c in e.broken_by if not self._never(c)]
        if any(self.fixed.get(c.cause) and c.strength >= 1.0 for c in causes):
            self.fixed[e.name] = True
            return
        if causes:
            itself = self.root(f"{e.name}.by_itself", NodeKind.BASIC, prior)
            links = tuple(self.link(c, e.name) for c in causes)
            self.add(Node(e.name, NodeKind.ANY_OF, (itself, *links)))
        else:
            self.root(e.name, NodeKind.BASIC, prior)
        self.faults.append(self.index[e.name])
        if e.event.intermittent:
            acts = self.root(f"link:{e.name}", NodeKind.INHIBITOR, _ACTS)
            self.add(Node(f"acting:{e.name}", NodeKind.ALL_OF, (self.index[e.name], acts)))

    def _never(self, link: SiteLink) -> bool:
        return link.strength <= 0.0 or self.fixed.get(link.cause) is False

    def gate(self, e: SiteEvent) -> None:
        event = e.event
        # What the configuration decides comes first, so that no inhibitor is made for a gate that is not.
        states = [self.fixed.get(link.cause) for link in e.inputs]
        sure = [state is True and link.strength >= 1.0 for state, link in zip(states, e.inputs, strict=True)]
        left = sum(state is not False for state in states) - sum(sure)
        if event.gate is Gate.ALL_OF and False in states:
            self.fixed[e.name] = False
            return
        certain, k = any(sure) and event.gate is Gate.ANY_OF, event.k - sum(sure)
        decided = self._decided(event, certain=certain, k=k, left=left)
        if decided is not None:
            self.fixed[e.name] = decided
            return
        links = [
            self.link(link, e.name)
            for link, state, always in zip(e.inputs, states, sure, strict=True)
            if state is not False and not always
        ]
        if event.gate is Gate.ANY_OF and event.other > 0.0:
            gate = Node("", NodeKind.ANY_OF, tuple(links))
            share = min(event.other * _chance(gate, self.chance), 0.5)
            links.append(self.root(f"{e.name}.other", NodeKind.LEAK, share))
            self.faults.append(links[-1])
        self.add(Node(e.name, _GATES[event.gate], tuple(links), k=k))

    @staticmethod
    def _decided(event: Event, *, certain: bool, k: int, left: int) -> bool | None:
        """What the configuration alone makes of a gate, or None."""
        if event.gate is Gate.AT_LEAST:
            return True if k <= 0 else False if k > left else None
        if event.gate is Gate.ANY_OF:
            return True if certain else False if not left else None
        return None if left else True

    def sign_rows(self, name: str) -> Sign:
        """A sign whose fixed rows are folded: a false row goes, a true one ends the list."""
        sign = self.site.signs[name]
        rows: list[int] = []
        chances: list[tuple[float, ...]] = []
        for row, chance in zip(sign.rows, sign.chances, strict=True):
            if row is None or self.fixed.get(row) is True:
                chances.append(chance)
                break
            if self.fixed.get(row) is False:
                continue
            rows.append(self._row(row, name))
            chances.append(chance)
        return Sign(name, sign.bands, tuple(rows), tuple(chances))

    def _row(self, event: str, sign: str) -> int:
        # An intermittent event shows or hides anew at each sign.
        if f"acting:{event}" not in self.index:
            return self.index[event]
        acts = self.root(f"link:{event}@{sign}", NodeKind.INHIBITOR, _ACTS)
        return self.add(Node(f"acting:{event}@{sign}", NodeKind.ALL_OF, (self.index[event], acts)))


def _chance(node: Node, known: list[float]) -> float:
    """The prior of a node with its inputs taken as independent: the scale of a gate's leak."""
    if node.is_root:
        return node.prior
    p = [known[i] for i in node.inputs]
    if node.kind is NodeKind.AT_LEAST:
        at_least = [1.0] + [0.0] * node.k
        for x in p:
            for j in range(node.k, 0, -1):
                at_least[j] += (at_least[j - 1] - at_least[j]) * x
        return at_least[node.k]
    if node.kind is NodeKind.ALL_OF:
        return math.prod(p)
    some = 0.0
    for x in p:
        some += x * (1.0 - some)  # 1 - product would lose what is rare
    return some


def build_network(site: Site, month: int) -> Network:
    """The network of a joined site with the frequencies of a month (1 to 12).

    ``site.events`` is in topological order (the joiner guarantees it).
    """
    builder = _Builder(site, month)
    for e in site.events.values():
        builder.event(e)
    signs = {name: builder.sign_rows(name) for name, s in site.signs.items() if s.rows}
    return Network(tuple(builder.nodes), signs, tuple(builder.faults))
