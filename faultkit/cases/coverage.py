"""How much of each equipment type the passing cases reach, and whether that is enough."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from faultkit.cases.model import Floors, Outcome, Result
from faultkit.cases.run import first_steps
from faultkit.diagnosis.result import Diagnosis
from faultkit.model.entries import RemedyDone
from faultkit.model.types import EquipmentType, Observable
from faultkit.network.site import Site
from faultkit.problems import InputError, Problem, Where, did_you_mean

__all__ = ["PARTS", "Coverage", "Shortfall", "coverage_of", "shortfalls"]

#: What is counted. A row is named ``sign: event``.
PARTS = ("events", "rows", "checks", "remedies")

#: From this chance on an event counts as what a case is about.
LIKELY = 0.5


@dataclass(frozen=True, slots=True)
class Coverage:
    """Names of one equipment type: all there are, and those that cases reach, by part."""

    whole: Mapping[str, tuple[str, ...]]
    reached: Mapping[str, frozenset[str]]

    def percent(self, part: str) -> float:
        """Share reached; 100 where there is nothing to reach."""
        whole = self.whole[part]
        return 100.0 * len(self.reached[part]) / len(whole) if whole else 100.0

    def missed(self, part: str) -> tuple[str, ...]:
        """Names no case reaches, in the author's order."""
        return tuple(n for n in self.whole[part] if n not in self.reached[part])


@dataclass(frozen=True, slots=True)
class Shortfall:
    """A type whose cases reach less than a coverage file asks for (both in percent)."""

    type: str
    part: str
    reached: float
    least: float
    where: Where | None = field(default=None, compare=False)


def coverage_of(results: Iterable[Result], types: Mapping[str, EquipmentType]) -> dict[str, Coverage]:
    """What passing cases reach of each type.

    An event is reached where it was expected and proved, stands as true in a proof that was expected,
    or came first as expected. A row: a sign was measured, and this row most probably decided it.
    A check: a reading it gives was taken, or it was advised as expected. A remedy: it ends a cause
    that was expected, was advised as expected, or was done.
    """
    found: dict[str, dict[str, set[str]]] = {t: {p: set() for p in PARTS} for t in types}
    for result in results:
        if result.outcome is Outcome.PASSED:
            site = result.case.call.site
            for part, names in _reached(result, types).items():
                for name in names:
                    unit, _, local = name.partition(".")
                    found[site.plan.units[unit].equipment][part].add(local)
    out = {}
    for name, kind in types.items():
        whole = _whole(kind)
        # A house event is no event of its type, though a proof may name it.
        out[name] = Coverage(whole, {p: frozenset(found[name][p]).intersection(whole[p]) for p in PARTS})
    return out


def _whole(kind: EquipmentType) -> dict[str, tuple[str, ...]]:
    rows = [f"{o.name}: {r.event or 'otherwise'}" for o in kind.observables().values() for r in o.rows]
    return {
        "events": tuple(kind.events),
        "rows": tuple(rows),
        "checks": tuple(kind.checks),
        "remedies": tuple(kind.remedies),
    }


def _reached(result: Result, types: Mapping[str, EquipmentType]) -> dict[str, set[str]]:
    """Global names that one passing case reaches."""
    diagnosis, expect, site = result.diagnosis, result.case.expect, result.case.call.site
    causes = {n.name for n in expect.confirmed}
    if expect.first_suspect:
        causes.add(diagnosis.suspects()[0].event)
    proofs = [diagnosis.events[n.name].proof for n in (*expect.confirmed, *expect.ruled_out)]
    steps = set(first_steps(diagnosis)) & {n.name for n in expect.next}
    done = {f"{e.unit}.{e.remedy}" for e in result.case.call.entries if isinstance(e, RemedyDone)}
    taken = {x.sign for x in diagnosis.looks} | {
        f.reading for f in diagnosis.facts if f.status in {"used", "input"}
    }
    return {
        "events": causes | {s.event for p in proofs if p is not None for s in p.steps if s.value},
        "rows": set(_rows(diagnosis, site, types)),
        "checks": {n for n, c in site.checks.items() if n in steps or taken.intersection(c.gives)},
        "remedies": {n for n, r in site.remedies.items() if n in steps or n in done or causes.intersection(r.ends)},
    }


def _rows(diagnosis: Diagnosis, site: Site, types: Mapping[str, EquipmentType]) -> Iterator[str]:
    """The row of each measured sign that most probably decided it, as ``unit.sign: event``."""
    for look in diagnosis.looks:
        sign = site.signs.get(look.sign)
        if sign is None or look.told or not sign.rows:
            continue
        unit, _, local = look.sign.partition(".")
        observable = types[site.plan.units[unit].equipment].observables()[local]
        decided = next(i for i, event in enumerate(sign.rows) if event is None or _likely(diagnosis, site, event))
        yield f"{look.sign}: {_as_written(observable, sign.rows, decided)}"


def _likely(diagnosis: Diagnosis, site: Site, event: str) -> bool:
    found = diagnosis.events.get(event)
    return bool(site.events[event].fixed) if found is None else found.probability.middle >= LIKELY


def _as_written(observable: Observable, rows: tuple[str | None, ...], index: int) -> str:
    """The event of a row as its author named it; rows of joins that a site leaves open are not in ``rows``."""
    written = iter(observable.rows)
    found = "otherwise"
    for event in rows[: index + 1]:
        found = next(
            str(r.event or "otherwise")
            for r in written
            if (event is None and r.event is None)
            or (event is not None and r.event is not None and event.endswith(f".{r.event.name}"))
        )
    return found


def shortfalls(covered: Mapping[str, Coverage], floors: Floors) -> tuple[Shortfall, ...]:
    """Where cases reach less than asked for. InputError for a type that is not known."""
    problems = [
        Problem(f"equipment type '{name}' is not known", did_you_mean(name, covered), next(iter(parts.values()))[1])
        for name, parts in floors.items()
        if name not in covered
    ]
    if problems:
        raise InputError(problems)
    return tuple(
        Shortfall(name, part, covered[name].percent(part), least, where)
        for name, parts in floors.items()
        for part, (least, where) in parts.items()
        if covered[name].percent(part) < least
    )
