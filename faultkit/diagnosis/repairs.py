"""Repair classes: what one remedy ends together, its chance and its minutes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from faultkit.diagnosis.moves import Moves, Standing
from faultkit.network.ir import Network, Node, NodeKind, plain
from faultkit.network.site import Site, SiteRemedy

__all__ = ["RepairClass", "class_gates", "cost_to_go", "repair_classes"]

#: Minutes for a cause without a remedy of its own, and for one that no tree lists (faultkit's convention).
UNKNOWN_REPAIR = 60.0


@dataclass(frozen=True, slots=True)
class RepairClass:
    """Faults that one remedy ends. ``remedy`` is '' where there is none; ``prove`` minutes of its proof."""

    remedy: str
    faults: tuple[int, ...]
    minutes: float
    prove: float
    place: str
    unit: str
    setups: tuple[str, ...] = ()

    @property
    def total(self) -> float:
        """Minutes of the repair and its proof."""
        return self.minutes + self.prove


def repair_classes(site: Site, network: Network, bearing: Iterable[int]) -> tuple[RepairClass, ...]:
    """Classes over the faults that bear on what is seen, each fault under its quickest remedy."""
    bearing = set(bearing)
    quickest: dict[str, SiteRemedy] = {}
    for remedy in site.remedies.values():
        for event in remedy.ends:
            best = quickest.get(event)
            if best is None or (remedy.remedy.minutes, remedy.name) < (best.remedy.minutes, best.name):
                quickest[event] = remedy
    groups: dict[str, list[int]] = {}
    for f in network.faults:
        if f in bearing:
            name = plain(network.nodes[f].name)
            found = quickest.get(name)
            groups.setdefault(found.name if found else f"?{name}", []).append(f)
    return tuple(_class(site, network, name, faults) for name, faults in groups.items())


def _class(site: Site, network: Network, name: str, faults: list[int]) -> RepairClass:
    remedy = site.remedies.get(name)
    if remedy is None:
        unit = network.nodes[faults[0]].name.split(".", 1)[0]
        return RepairClass("", tuple(faults), UNKNOWN_REPAIR, 0.0, site.plan.units[unit].place, unit)
    prove = sum(_proof_minutes(site, sign) for sign in dict.fromkeys(s for s, _ in remedy.prove))
    setups = Moves.setups_of(remedy.remedy.setups, remedy.remedy.power)
    return RepairClass(
        name, tuple(faults), remedy.remedy.minutes, prove, remedy.place, remedy.unit, setups
    )


def _proof_minutes(site: Site, sign: str) -> float:
    """Minutes of the quickest check that takes a sign."""
    return min((c.check.minutes for c in site.checks.values() if sign in c.gives), default=0.0)


def class_gates(network: Network, classes: Sequence[RepairClass]) -> tuple[list[Node], tuple[int, ...]]:
    """One node a class: its only fault, or a new gate over its faults."""
    gates: list[Node] = []
    at: list[int] = []
    for n, c in enumerate(classes):
        if len(c.faults) == 1:
            at.append(c.faults[0])
        else:
            at.append(len(network.nodes) + len(gates))
            gates.append(Node(f"repair:{n}", NodeKind.ANY_OF, c.faults))
    return gates, tuple(at)


#: Minutes to find out first whether a cause is there (faultkit's convention).
SEARCH = 60.0

#: A class this likely is repaired whatever else comes out.
CERTAIN = 0.999


def cost_to_go(
    classes: Sequence[RepairClass], chances: Sequence[float], moves: Moves, start: Standing
) -> float:
    """Expected minutes of repairing in order of chance per minute until all is proved.

    What is as good as certain is repaired in any case. Of the rest, class i costs the lesser of two
    when its turn comes. On suspicion: its minutes, proof, travel and set-up times the chance that
    something is left, min(1, sum of chances from i on). Sought first: its chance times those minutes
    and a ``SEARCH``, so that nobody is thought to replace a compressor at two percent, and a chance that
    moves a little moves the minutes a little.
    (The rule of Kadane and Simon for the first way; with travel it is a heuristic, not an optimum.)
    """
    live = []
    left = 0.0
    for q, c in zip(chances, classes, strict=True):
        if q <= 0.0:
            continue
        live.append((-q / max(c.total + moves.reach(start, c), 1.0), c.faults, q, c))
        if q < CERTAIN:
            left += q
    live.sort(key=_first_two)
    total = 0.0
    at = start
    for _, _, q, c in live:
        cost = c.total + moves.reach(at, c)
        if q >= CERTAIN:
            total += cost
            at = moves.after(at, c)
            continue
        tried, sought = cost * min(1.0, left), q * (SEARCH + cost)
        left -= q
        if tried <= sought:
            total += tried
            at = moves.after(at, c)
        else:
            total += sought
    return total


def _first_two(item: tuple[float, tuple[int, ...], float, RepairClass]) -> tuple[float, tuple[int, ...]]:
    return item[:2]
