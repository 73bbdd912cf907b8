"""The Boolean functions of a joined network as decision diagrams, and what readings say about them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from itertools import product

from faultkit.consistency.standalone import MAIN, Standalone, local
from faultkit.faulttree.bdd import FALSE, TRUE, Bdd
from faultkit.faulttree.diagram import TooLargeError
from faultkit.network.ir import Network, NodeKind, Sign

__all__ = ["Logic"]

#: Diagram nodes of one type: each order is tried with the first, then with the second (some hundred megabytes).
_LIMITS = (300_000, 1_000_000)


class Logic:
    """Every event of a standing-alone type as a function of its roots.

    Functions are node numbers of one diagram, so equal functions have equal numbers. Raises
    TooLargeError (an InputError) where the diagram would not fit.
    """

    def __init__(self, alone: Standalone) -> None:
        self.alone = alone
        self.net: Network = alone.site.network(1)
        orders = _orders(self.net)
        for n, (limit, order) in enumerate(product(_LIMITS, orders), 1):
            try:
                self._compile(order, limit)
            except TooLargeError:
                if n == len(_LIMITS) * len(orders):
                    raise
            else:
                break
        self._rests: dict[str, frozenset[int]] = {}

    def _compile(self, order: tuple[int, ...], limit: int) -> None:
        """Functions of all nodes and rows with the roots in an order; TooLargeError past ``limit`` diagram nodes."""
        self.roots = order
        self.bdd = Bdd(len(order), limit)
        self.functions: list[int] = []
        self._reach: dict[str, tuple[int, ...]] = {}
        place = {r: i for i, r in enumerate(order)}
        for i, node in enumerate(self.net.nodes):
            if node.is_root:
                self.functions.append(self.bdd.single(place[i]))
                continue
            parts = self.bdd.lowest_first([self.functions[j] for j in node.inputs])
            if node.kind is NodeKind.AT_LEAST:
                self.functions.append(self.bdd.at_least(node.k, parts))
            else:
                self.functions.append(self.any(parts) if node.kind is NodeKind.ANY_OF else self.all(parts))
        for sign in self.net.signs.values():
            self.reach(sign)

    # -- functions --------------------------------------------------------------

    def any(self, functions: Iterable[int]) -> int:
        """True where one of them is."""
        result = FALSE
        for f in functions:
            result = self.bdd.either(result, f)
        return result

    def all(self, functions: Iterable[int]) -> int:
        """True where all of them are."""
        result = TRUE
        for f in functions:
            result = self.bdd.both(result, f)
        return result

    def implies(self, a: int, b: int) -> bool:
        """Whether ``b`` is true wherever ``a`` is."""
        return self.bdd.both(a, self.bdd.negate(b)) == FALSE

    def of(self, event: str) -> int:
        """The function of an event by its joined name; a constant where the configuration decides it."""
        at = self.net.index.get(event)
        if at is not None:
            return self.functions[at]
        return TRUE if self.alone.fixed.get(event) else FALSE

    def support(self, function: int) -> frozenset[int]:
        """The roots (node indices) that a function rests on."""
        return frozenset(self.roots[self.bdd.parts(f)[0]] for f in self.bdd.reachable(function))

    def world(self, function: int) -> list[str] | None:
        """Names of roots that, true with all others false, make it true, as few faults as can be.

        None where nothing does. A weak link that has to act costs next to nothing.
        """
        if function == FALSE:
            return None
        costs: dict[int, tuple[float, bool]] = {FALSE: (float("inf"), False), TRUE: (0.0, False)}
        for f in self.bdd.reachable(function):
            var, high, low = self.bdd.parts(f)
            weak = self.net.nodes[self.roots[var]].kind is NodeKind.INHIBITOR
            with_it = costs[high][0] + (1e-6 if weak else 1.0)
            costs[f] = (with_it, True) if with_it < costs[low][0] else (costs[low][0], False)
        chosen: list[str] = []
        while function > TRUE:
            var, high, low = self.bdd.parts(function)
            if costs[function][1]:
                chosen.append(self.net.nodes[self.roots[var]].name.removesuffix(".by_itself"))
                function = high
            else:
                function = low
        return chosen

    def witness(self, function: int) -> list[tuple[str, str]]:
        """The world of a function for a reader: what is true in it, and which weak links act."""
        world = self.world(function) or []
        found = [(local(name), "true") for name in world if not name.startswith("link:")]
        for name in world:
            if name.startswith("link:"):
                cause, _, gate = name.removeprefix("link:").partition(">")
                shows = (local(cause.partition("@")[0]), "shows")
                found.append((f"{local(cause)} on {local(gate)}", "acts") if gate else shows)
        return found

    def single(self, true: Iterable[int], *, inhibitors: bool = True) -> dict[int, bool]:
        """The world in which just these roots hold, and every weak link acts."""
        on = set(true)
        return {
            r: r in on or (inhibitors and self.net.nodes[r].kind is NodeKind.INHIBITOR) for r in self.roots
        }

    def holds(self, function: int, world: Mapping[int, bool]) -> bool:
        """The value of a function in a world (root → true or false)."""
        while function > TRUE:
            var, high, low = self.bdd.parts(function)
            function = high if world[self.roots[var]] else low
        return function == TRUE

    # -- readings ----------------------------------------------------------------

    def reach(self, sign: Sign) -> tuple[int, ...]:
        """For each row of a sign, otherwise last: when it decides."""
        if sign.name not in self._reach:
            rows: list[int] = []
            above = FALSE
            for f in (*(self.functions[row] for row in sign.rows), TRUE):
                rows.append(self.bdd.both(f, self.bdd.negate(above)))
                above = self.bdd.either(above, f)
            self._reach[sign.name] = tuple(rows)
        return self._reach[sign.name]

    def allowed(self, sign: Sign, band: int) -> int:
        """The worlds in which a band of a sign can be read."""
        pairs = zip(self.reach(sign), sign.chances, strict=True)
        return self.any(f for f, chances in pairs if chances[band] > 0.0)

    def depends_on(self, sign: Sign) -> frozenset[int]:
        """Roots that change how a sign comes: exactly those, not all that stand below its rows."""
        if sign.name not in self._rests:
            alike: dict[tuple[float, ...], list[int]] = {}
            for f, chances in zip(self.reach(sign), sign.chances, strict=True):
                alike.setdefault(chances, []).append(f)
            self._rests[sign.name] = frozenset().union(*(self.support(self.any(fs)) for fs in alike.values()))
        return self._rests[sign.name]

    @cached_property
    def basics(self) -> dict[str, tuple[int, int]]:
        """Basic events of the type itself, in the author's order: joined name → (its node, its own root)."""
        found: dict[str, tuple[int, int]] = {}
        for event in self.alone.kind.events.values():
            name = f"{MAIN}.{event.name}"
            at = self.net.index.get(name)
            if at is not None and event.prior is not None:
                found[name] = (at, self.net.index.get(f"{name}.by_itself", at))
        return found

    def signs(self) -> Sequence[Sign]:
        """Signs with something to tell."""
        return tuple(self.net.signs.values())


def _orders(net: Network) -> tuple[tuple[int, ...], ...]:
    """Orders of the roots in which what belongs together stands together, the best first.

    A walk down from the events that rest on most, the widest input first, read backwards: of ten orders
    tried on the built-in trees the one with the fewest nodes, by a factor of four or more. The second
    walks down from the readings.
    """
    below: list[int] = []
    for i, node in enumerate(net.nodes):
        rests = 1 << i if node.is_root else 0
        for j in node.inputs:
            rests |= below[j]
        below.append(rests)
    width = [b.bit_count() for b in below]
    widest = sorted(range(len(width)), key=lambda i: -width[i])
    signs = sorted(net.signs.values(), key=lambda s: -sum(width[r] for r in s.rows))
    read = [r for s in signs for r in s.rows]
    return _walk(net, widest, width), _walk(net, [*read, *widest], width)


def _walk(net: Network, tops: Iterable[int], width: Sequence[int]) -> tuple[int, ...]:
    found: dict[int, None] = {}
    seen: set[int] = set()
    for top in tops:
        stack = [top]
        while stack:
            i = stack.pop()
            if i in seen:
                continue
            seen.add(i)
            if net.nodes[i].is_root:
                found[i] = None
            stack += sorted(net.nodes[i].inputs, key=lambda j: width[j])
    return tuple(reversed(found))
