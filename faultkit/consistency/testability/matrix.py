"""The dependency matrix: what each fault alone makes each reading show.

Terms after IEEE 1522 (its draft P1522/D1.0): faults in rows, outcomes of checks in columns. A sign
counts where the fault alone brings it more often than not; a comes-and-goes fault is taken at a
moment when it shows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import product

from faultkit.consistency.standalone import local
from faultkit.consistency.subject import TypeView, full_name
from faultkit.consistency.testability.shows import Shows
from faultkit.network.build import prior_in

__all__ = ["Matrix", "dependency_matrix", "likeliest"]

_MONTHS = range(1, 13)
#: Ways of obtaining one sign that are kept.
_WAYS = 64


@dataclass(frozen=True, slots=True)
class Matrix:
    """Faults against what checks show.

    ``bands[f][s]`` is the band that fault ``f`` alone most likely brings for sign ``s``, ``usual[s]`` the
    one without any fault; ``chances[f][s]`` all its chances. ``ways[s]`` are the least sets of checks
    that give sign ``s``. ``remedy[f]`` is the quickest remedy (``?f`` where there is none), ``share[f]``
    how common the fault is, averaged over the months.
    """

    faults: tuple[str, ...]
    signs: tuple[str, ...]
    band_names: tuple[tuple[str, ...], ...]
    usual: tuple[int, ...]
    bands: tuple[tuple[int, ...], ...]
    chances: tuple[tuple[tuple[float, ...], ...], ...]
    ways: tuple[tuple[frozenset[str], ...], ...]
    minutes: Mapping[str, float]
    remedy: tuple[str, ...]
    share: tuple[float, ...]
    index: Mapping[str, int] = field(default_factory=dict)

    def shown(self, fault: int) -> frozenset[tuple[int, int]]:
        """What a fault brings out of the usual: (sign, band)."""
        row = self.bands[fault]
        return frozenset((s, b) for s, b in enumerate(row) if b != self.usual[s])

    def separating(self, a: int, b: int) -> list[int]:
        """Signs that come differently for two faults; ``b`` -1 is no fault at all."""
        other = self.usual if b < 0 else self.bands[b]
        return [s for s, (x, y) in enumerate(zip(self.bands[a], other, strict=True)) if x != y]

    def groups(self) -> list[tuple[int, ...]]:
        """Detected faults in groups of one and the same row, in the author's order."""
        found: dict[tuple[int, ...], list[int]] = {}
        for f, row in enumerate(self.bands):
            if row != self.usual:
                found.setdefault(row, []).append(f)
        return [tuple(group) for group in found.values()]


def dependency_matrix(view: TypeView, shows: Shows) -> Matrix:
    """The matrix of a type with every switch on: its own basic events against the readings its checks can give."""
    logic = view.logic
    signs = [s for s in logic.signs() if local(s.name) in view.obtainable]
    faults = list(logic.basics.items())
    rests = {s.name: logic.depends_on(s) for s in signs}
    usual = [shows.chances(s, shows.sound) for s in signs]  # a house event may act weakly even then
    chances = []
    for _, (_, root) in faults:
        world = shows.world([root])
        chances.append(
            tuple(shows.chances(s, world) if root in rests[s.name] else u for s, u in zip(signs, usual, strict=True))
        )
    normal = tuple(max(range(len(u)), key=lambda i: u[i]) for u in usual)
    names = tuple(local(name) for name, _ in faults)
    return Matrix(
        faults=names,
        signs=tuple(local(s.name) for s in signs),
        band_names=tuple(s.bands for s in signs),
        usual=normal,
        bands=tuple(tuple(likeliest(c, n) for c, n in zip(row, normal, strict=True)) for row in chances),
        chances=tuple(chances),
        ways=tuple(_ways(view, local(s.name)) for s in signs),
        minutes={c.name: c.minutes for c in view.kind.checks.values()},
        remedy=tuple(_remedy(view, name) for name in names),
        share=tuple(_share(view, name) for name in names),
        index={name: i for i, name in enumerate(names)},
    )


def likeliest(chances: tuple[float, ...], usual: int) -> int:
    """The likeliest band; the usual one where another is no likelier (rounding apart)."""
    best = max(range(len(chances)), key=lambda i: chances[i])
    return best if chances[best] > chances[usual] + 1e-9 else usual


def _ways(view: TypeView, sign: str) -> tuple[frozenset[str], ...]:
    """The least sets of checks that give a sign."""
    given: dict[str, list[str]] = {}
    for check in view.kind.checks.values():
        for ref in check.gives:
            given.setdefault(full_name(ref), []).append(check.name)
            given.setdefault(full_name(ref).partition(" in ")[0], []).append(check.name)
    found = {frozenset({c}) for c in given.get(sign, ())}
    reading = view.kind.readings[sign.partition(" in ")[0]]
    if reading.calculation is not None:
        options = [sorted(set(given.get(base, ()))) for base in sorted(view.bases(reading.name))]
        for n, chosen in enumerate(product(*options)):
            if n >= _WAYS:
                break
            found.add(frozenset(chosen))
    least = [w for w in found if not any(v < w for v in found)]
    return tuple(sorted(least, key=lambda w: (len(w), sorted(w))))


def _remedy(view: TypeView, fault: str) -> str:
    able = [r for r in view.kind.remedies.values() if any(e.join is None and e.name == fault for e in r.ends)]
    return min(able, key=lambda r: (r.minutes, r.name)).name if able else f"?{fault}"


def _share(view: TypeView, fault: str) -> float:
    prior = view.kind.events[fault].prior
    assert prior is not None
    return sum(prior_in(prior, m, "north") for m in _MONTHS) / len(_MONTHS)
