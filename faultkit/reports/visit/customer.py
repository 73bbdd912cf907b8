"""The customer's report: plain words, no codes, nothing surer than it is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faultkit.diagnosis.result import Ended, Missing, Reproof, Verdict
from faultkit.reports.visit.blocks import Block, Document, Heading, Items, Para
from faultkit.reports.visit.data import Complained, Done, Found, Open, Report
from faultkit.reports.visit.say import Say, capital, chance, clock
from faultkit.reports.visit.shared import chain, curves, food, headed, money, parts, refrigerant

__all__ = ["customer_document"]

_MOST = 6
_SAID = {
    "declined": "You declined", "deferred": "You put off", "approved": "You approved, but it was not done yet",
}


def customer_document(report: Report, say: Say) -> Document:
    """All that the customer is told."""
    blocks = [
        *_complaints(report, say), *_found(report, say), *chain(report, say), *_done(report, say),
        *_open(report, say), *_unknown(report, say), *refrigerant(report, say), *parts(report, say),
        *food(report, say), *curves(report, say), *money(report.money, say), *_watch(report, say), *_end(),
    ]
    return Document(report.title or "Service report", headed(report, say), tuple(blocks))


def _complaints(report: Report, say: Say) -> Iterator[Block]:
    if report.complaints:
        yield Heading("What you told us")
        yield Items(tuple(_complaint(c, say) for c in report.complaints))


def _complaint(c: Complained, say: Say) -> tuple[str, ...]:
    now = {
        Verdict.RULED_OUT: "Measured at the end: this is no longer so.",
        Verdict.CONFIRMED: "Measured at the end: this is still so.",
    }.get(c.now, "No measurement at the end settles whether this is gone.")
    told = f"“{c.words}”" if c.words else capital(say.event(c.event))
    return (told, *([capital(say.event(c.event))] if c.words else []), now)


def _found(report: Report, say: Say) -> Iterator[Block]:
    complaints = {c.event for c in report.complaints}
    told = [f for f in report.found if f.basic or f.event in complaints]
    yield Heading("What we found")
    if not told:
        yield Para("No cause is proved yet.")
    else:
        yield Items(tuple(_finding(f, say) for f in told))
    if report.likely:
        yield Para("Without proof, but more likely than not:")
        yield Items(tuple((f"{capital(say.event(u.event))}: {chance(u.chance)}",) for u in report.likely))


def _finding(f: Found, say: Say) -> tuple[str, ...]:
    return (capital(say.event(f.event)), *(f"shown by {say.fact(x, f.event)}" for x in f.facts))


def _done(report: Report, say: Say) -> Iterator[Block]:
    yield Heading("What was done, and how it was proved")
    if not report.done:
        yield Para("No repair was made.")
    else:
        yield Items(tuple(_deed(d, report, say) for d in report.done))


def _deed(d: Done, report: Report, say: Say) -> tuple[str, ...]:
    lines = [_became(e, d.remedy, say) for e in d.ends if e.outcome != "open" or e.before.middle >= 0.02]
    lines += [_shown(p, d.remedy, say) for p in d.prove]
    if not d.prove:
        lines.append("no reading is asked for to prove it")
    lines.append("Proved." if d.proved and d.prove else "Not proved." if d.prove else "")
    return (f"{clock(d.time, report.opened)}  {say.remedy(d.remedy)}", *(x for x in lines if x))


def _became(e: Ended, near: str, say: Say) -> str:
    name = say.event(e.event, near)
    if e.outcome == "open":
        if e.was is Verdict.CONFIRMED:
            return f"was there: {name}; that it is still there is {chance(e.after)}"
        return f"{name}: that it was there is {chance(e.before)}, that it is there now {chance(e.after)}"
    return {
        "repaired": f"was there, and is proved gone: {name}",
        "still_there": f"is still there after it: {name}",
        "was_not_there": f"proved not to have been there: {name}",
    }[e.outcome]


def _shown(p: Reproof, near: str, say: Say) -> str:
    name, wanted = say.reading(p.sign, near), p.band.replace("_", " ")
    values = "; ".join(say.value(f) for f in p.facts if f in say.values)
    if p.status == "seen":
        return f"afterwards {name}: {values or wanted}" + (f" ({wanted})" if values and values != wanted else "")
    if p.status == "missing":
        return f"not measured since: {name}"
    if p.status == "too_close":
        return f"too close to call: {name}: {values}"
    return f"not as it should be ({wanted}): {name}: {values}"


def _open(report: Report, say: Say) -> Iterator[Block]:
    yield Heading("What is open, and its risk")
    if not report.open:
        yield Para("Nothing is left open.", "good")
    else:
        yield Items(tuple(_item(o, say) for o in report.open))


def _item(o: Open, say: Say) -> tuple[str, ...]:
    lines = [_about(o, say)]
    if o.events and o.kind not in {"complaint", "cause"}:
        lines.append("It is about " + "; ".join(say.event(e, o.what) for e in o.events[:_MOST]))
    if o.chance is not None:
        lines.append(f"Is {'it' if len(o.events) == 1 else 'the likeliest of them'} there now: {_now(o)}")
    if o.may_lead_to:
        food = _joined(o.may_lead_to, o.what, say)
        lines.append(f"For the food and the use of the equipment, it may lead to: {food}")
    if o.may_break:
        lines.append("For the equipment, it may do further damage: " + _joined(o.may_break, o.what, say))
    return tuple(lines)


def _joined(events: Iterable[str], near: str, say: Say) -> str:
    return "; ".join(say.event(e, near) for e in events)


def _now(o: Open) -> str:
    assert o.chance is not None
    return "proved to be there" if o.proved else chance(o.chance)


def _about(o: Open, say: Say) -> str:
    if o.kind in {"declined", "deferred", "approved"}:
        return f"{_SAID[o.kind]}: {say.remedy(o.what)}"
    return missing(Missing(o.kind, o.what, o.needs), say)


def missing(m: Missing, say: Say) -> str:
    """What keeps a call open, in a sentence."""
    needs = "; ".join
    if m.kind in {"unproved", "unproved_repair"}:
        readings = needs(say.reading(n, m.what) for n in m.needs)
        return f"Not proved yet: {say.remedy(m.what)}. To be measured: {readings}"
    if m.kind in {"cause", "damage"}:
        causes = needs(say.event(n, m.what) for n in m.needs)
        return f"What did the damage is not settled: {say.event(m.what)}. In question: {causes}"
    if m.kind == "complaint":
        return f"No measurement shows that this is gone: {say.event(m.what)}"
    if m.kind == "unexplained":
        return f"What is proved does not explain this reading: {say.reading(m.what)}"
    return f"These readings cannot all be right and must be taken again: {needs(map(say.fact, m.needs))}"


def _unknown(report: Report, say: Say) -> Iterator[Block]:
    yield Heading("What could not be known")
    listed = report.unknown[:_MOST]
    rest = len(report.unknown) - len(listed)
    if not listed:
        yield Para("No other cause that was considered stands out; each has a chance under 2 %.")
    else:
        yield Para("Nothing measured proves or excludes these:")
        yield Items(tuple((f"{capital(say.event(u.event))}: {chance(u.chance)}",) for u in listed))
        if rest:
            yield Para(f"{rest} more have a smaller chance.")
    if report.further_fault.middle > 0.0:
        yield Para(
            "There may be more to find: that a fault beyond the proved ones stands, or stood, behind what was measured "
            f"is {chance(report.further_fault)}."
            + (" The likely ones named above count here." if report.likely else "")
        )


def _watch(report: Report, say: Say) -> Iterator[Block]:
    yield Heading("What to watch")
    events: Iterable[str] = [c.event for c in report.complaints]
    signs = dict.fromkeys([*events, *(e for o in report.open for e in o.may_lead_to)])
    lines = [(f"Call us if you notice: {say.event(e)}",) for e in list(signs)[:_MOST]]
    lines.append((
        "Measure and write down food temperatures as your own food-safety plan and the local health authority ask.",
    ))
    yield Items(tuple(lines))


def _end() -> Iterator[Block]:
    yield Para(
        "“Proved” means that the measurements leave no other way, with instruments as accurate as stated. Everything "
        "else is given with its chance, which rests on how common faults are. Local codes and the local authority come "
        "before anything written here. Do not open or repair equipment without the licence for it.",
        "small",
    )
