"""A call and its diagnosis → the data of its report. Pure: the time is that of the latest entry."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from faultkit.call import Call
from faultkit.diagnosis.result import Diagnosis, Repair, Verdict
from faultkit.evidence.corrections import effective
from faultkit.model.entries import Complaint, Entry, Fact, Part, RefrigerantMoved
from faultkit.model.order import moment
from faultkit.reports.visit.data import Cause, Complained, Done, Found, Mass, Moved, Report, Taken, Total, Unknown, Used
from faultkit.reports.visit.food import foods, logs
from faultkit.reports.visit.open_items import open_items
from faultkit.reports.visit.prices import PriceBook, priced

__all__ = ["build_report"]

#: Basic events below this chance are not listed as unknown.
_WORTH_LISTING = 0.02


def build_report(call: Call, diagnosis: Diagnosis, prices: PriceBook | None = None) -> Report:
    """The report of a call; money appears only with a price book."""
    live, withdrawn = effective(call.entries)
    entries = [e for e in live if e.id not in withdrawn]
    closed = call.closing
    moved, parts, done = _moved(entries), _parts(entries), _done(call, diagnosis, entries)
    totals = _totals(moved)
    minutes = _minutes(entries)
    return Report(
        call.site.name, call.name, call.title, call.opened, _until(call), diagnosis.catalogue,
        closed.outcome if closed else "", closed.reason if closed else "", minutes,
        tuple(
            Complained(e.id, e.event, e.words, diagnosis.events[e.event].verdict)
            for e in entries if isinstance(e, Complaint) and e.event in diagnosis.events
        ),
        _found(diagnosis), _likely(diagnosis), _causes(call, diagnosis), done,
        open_items(call, diagnosis, entries), _unknown(diagnosis), diagnosis.further_fault,
        moved, totals, parts, foods(entries), logs(call, entries), _taken(diagnosis, entries),
        diagnosis.retake, diagnosis.closing,
        tuple(e.to_dict() for e in call.entries), tuple(sorted(withdrawn)),
        priced(prices, parts, totals, done) if prices else None,
    )


def _until(call: Call) -> str:
    return max((call.opened, *(e.time for e in call.entries)), key=moment)


def _minutes(entries: Sequence[Entry]) -> float:
    times = [moment(e.time) for e in entries if e.by != "customer"]
    return (max(times) - min(times)).total_seconds() / 60 if times else 0.0


def _found(d: Diagnosis) -> tuple[Found, ...]:
    out = []
    for e in d.events.values():
        proofs = [p.facts for p in e.past if p.verdict is Verdict.CONFIRMED]
        if e.verdict is Verdict.CONFIRMED and e.proof:
            proofs.append(e.proof.facts)
        if proofs:
            out.append(Found(e.event, e.basic, proofs[0], e.verdict, e.probability))
    return tuple(out)


def _causes(call: Call, d: Diagnosis) -> tuple[Cause, ...]:
    """Links of all stages, each once; only one that always acts is said to have caused something."""
    weak = {
        (x.cause, e.name) for e in call.site.events.values() for x in e.inputs if x.strength < 1.0
    }
    out = {
        (x.cause, x.effect, x.damage): Cause(
            x.cause, x.effect, "broke" if x.damage else "may" if (x.cause, x.effect) in weak else "caused"
        )
        for x in d.causes
    }
    return (*out.values(), *_suspected(call, d))


def _suspected(call: Call, d: Diagnosis) -> Iterator[Cause]:
    """From likely events to each other, and to the complaints they can bring about."""
    likely = sorted(u.event for u in _likely(d))
    complaints = {e.event for e in call.entries if isinstance(e, Complaint)}
    up: dict[str, list[tuple[str, bool]]] = {}
    for e in call.site.events.values() if likely else ():
        for x in (*e.inputs, *e.broken_by):
            up.setdefault(x.cause, []).append((e.name, x in e.broken_by))
    for cause in likely:
        broke = {cause: False}
        todo = [cause]
        while todo:
            at = todo.pop(0)
            for effect, damage in up.get(at, ()):
                if effect not in broke:
                    broke[effect] = broke[at] or damage
                    todo.append(effect)
        for effect in sorted(broke.keys() - {cause}):
            if effect in likely:
                yield Cause(cause, effect, "broke" if broke[effect] else "may")
            elif effect in complaints:
                yield Cause(cause, effect, "may")


def _done(call: Call, d: Diagnosis, entries: Iterable[Entry]) -> tuple[Done, ...]:
    times = {e.id: e.time for e in entries}

    def one(r: Repair) -> Done:
        minutes = call.site.remedies[r.remedy].remedy.minutes
        return Done(r.entry, times[r.entry], r.remedy, r.stage, minutes, r.ends, r.prove, r.proved)

    return tuple(map(one, d.repairs))


def _likely(d: Diagnosis) -> tuple[Unknown, ...]:
    """Without proof, but more likely than not: before the remedy that should end it, or now."""
    chances = {u.event: u.probability for u in d.suspects()}
    proved = {f.event for f in _found(d)}
    for r in d.repairs:
        for e in r.ends:
            if e.was in {Verdict.OPEN, Verdict.UNKNOWN}:
                chances[e.event] = max(e.before, chances.get(e.event, e.before), key=lambda p: p.middle)
    return tuple(
        Unknown(event, p) for event, p in chances.items() if p.middle > 0.5 and event not in proved
    )


def _unknown(d: Diagnosis) -> tuple[Unknown, ...]:
    return tuple(
        Unknown(e.event, e.probability) for e in d.suspects() if e.probability.middle >= _WORTH_LISTING
    )


def _moved(entries: Iterable[Entry]) -> tuple[Moved, ...]:
    return tuple(
        Moved(e.id, e.time, e.unit, e.way, e.refrigerant, _mass(e), e.cylinder)
        for e in entries if isinstance(e, RefrigerantMoved)
    )


def _mass(e: RefrigerantMoved) -> Mass:
    from faultkit.units import Kind, parse_accuracy, parse_quantity
    from faultkit.units.quantity import split_number

    mass = parse_quantity(e.mass, Kind.MASS)
    if not e.accuracy:
        return Mass(mass.value, 0.0)
    return Mass(mass.value, parse_accuracy(e.accuracy, split_number(mass.text)[1]).bound(mass.value))


def _totals(moved: Iterable[Moved]) -> tuple[Total, ...]:
    groups: dict[tuple[str, str, str], list[Moved]] = {}
    for m in moved:
        groups.setdefault((m.unit, m.refrigerant, m.way), []).append(m)
    return tuple(
        Total(
            unit, way, refrigerant,
            Mass(sum(m.mass.kg for m in found), sum(m.mass.accuracy for m in found)),
            all(m.mass.accuracy > 0.0 for m in found),
        )
        for (unit, refrigerant, way), found in groups.items()
    )


def _parts(entries: Iterable[Entry]) -> tuple[Used, ...]:
    return tuple(
        Used(e.id, e.time, e.unit, e.part, e.count, e.number, e.remedy) for e in entries if isinstance(e, Part)
    )


def _taken(d: Diagnosis, entries: Iterable[Entry]) -> tuple[Taken, ...]:
    became: Mapping[str, Any] = {f.fact: f for f in d.facts}
    out = []
    for e in entries:
        if isinstance(e, Fact):
            value = e.value if isinstance(e.value, str) else f"{e.value:.12g} {e.unit}".strip()
            f = became.get(e.id)
            out.append(Taken(
                e.id, e.time, e.by, e.reading, value, e.instrument, e.state, f.stage if f else 0,
                f.status if f else "", f.why if f else "",
            ))
    return tuple(out)
