"""Blocks that both reports have: pictures, refrigerant, parts, food, money."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.calculators.food.terms import GAP
from faultkit.diagnosis.result import Verdict
from faultkit.reports.visit.blocks import Block, ChainPicture, CurvePicture, Heading, Items, Node, Para, Table
from faultkit.reports.visit.chain import outline
from faultkit.reports.visit.data import Log, Money, Report
from faultkit.reports.visit.say import (
    Say,
    capital,
    clock,
    curve_rows,
    day,
    degrees,
    hours,
    likely,
    mass,
    temperature,
)
from faultkit.reports.words import percent
from faultkit.units import from_si

__all__ = ["OUTCOMES", "chain", "curves", "food", "headed", "money", "parts", "refrigerant"]

#: How a call ended, in words.
OUTCOMES = {
    "repaired": "repaired", "cause_not_proved": "closed with the cause not proved",
    "left_open_by_decision": "closed with items left open by decision", "no_fault_found": "closed, no fault found",
    "handed_over": "handed over",
}
_GAP = GAP.default or 0.0
_LINKS = {"": "", "caused": "caused by", "broke": "may have been brought on by", "may": "may have come from"}
_LOCAL = (
    "41 °F is the cold-holding limit of the FDA model food code. The local code and the local health authority come "
    "first; what becomes of food is for the operator and the authority to decide."
)


def chain(report: Report, say: Say) -> Iterator[Block]:
    """The picture of what caused what, where anything was proved."""
    found = {f.event: f for f in report.found}
    suspected = {u.event: u.chance for u in report.likely}
    nodes = []
    above: list[str] = []
    for s in outline(report, short=say.customer):
        del above[s.depth:]
        f = found.get(s.event)
        if f is None:
            p = suspected.get(s.event)
            state, note = "maybe", f"not proved: {likely(p)}, {percent(p)}" if p else "not proved"
        elif f.now is Verdict.RULED_OUT:
            state, note = "gone", "proved gone"
        elif f.now is Verdict.CONFIRMED:
            state, note = "there", "still there"
        else:
            state, note = "maybe", f"still there: {likely(f.chance)}, {percent(f.chance)}"
        note = "shown above" if s.again else note
        words = capital(say.event(s.event, above[-1] if above else ""))
        nodes.append(Node(words, s.depth, _LINKS[s.link], note, state))
        above.append(s.event)
    if nodes:
        yield Heading("What caused what")
        yield ChainPicture("What caused what", tuple(nodes))


def refrigerant(report: Report, say: Say) -> Iterator[Block]:
    """Refrigerant in and out: each move, then the sums."""
    if not report.moved:
        return
    yield Heading("Refrigerant in and out")
    yield Table(
        "Refrigerant moved", ("Time", "Unit", "Way", "Refrigerant", "Mass", "Cylinder"),
        tuple(
            (
                clock(m.time, report.opened), say.unit(m.unit), "put in" if m.way == "in" else "taken out",
                m.refrigerant, mass(m.mass, stated=m.mass.accuracy > 0), m.cylinder or "not recorded",
            )
            for m in report.moved
        ),
    )
    yield Items(tuple(
        (
            f"{say.unit(t.unit)}, {t.refrigerant} {'put in' if t.way == 'in' else 'taken out'}, in all: "
            f"{mass(t.mass, stated=t.all_stated or t.mass.accuracy > 0)}"
            + ("" if t.all_stated or not t.mass.accuracy else "; not every entry gave its accuracy"),
        )
        for t in report.totals
    ))


def parts(report: Report, say: Say) -> Iterator[Block]:
    """Parts used."""
    if report.parts:
        yield Heading("Parts")
        yield Table(
            "Parts used", ("Time", "Unit", "Part", "Count", "Number on it"),
            tuple(
                (
                    clock(p.time, report.opened), say.unit(p.unit), p.part.replace("_", " "), str(p.count),
                    p.number or "–",
                )
                for p in report.parts
            ),
            (3,),
        )


def food(report: Report, say: Say) -> Iterator[Block]:
    """What became of food, and how long it was above the limit."""
    held = [log for log in report.logs if log.food]
    if not report.food and not held:
        return
    yield Heading("Food safety")
    if report.food:
        yield Table(
            "What became of food", ("Time", "Food", "What was done", "Temperature", "Said by"),
            tuple(
                (
                    clock(f.time, report.opened), f.food + (f", {f.amount}" if f.amount else ""),
                    f.action + (f" to {f.to}" if f.to else ""), degrees(f.temperature) or "not recorded",
                    say.role(f.by),
                )
                for f in report.food
            ),
        )
    for log in held:
        yield Items((_held(log, report, say),))
        yield curve(log, report, say)
    yield Para(_LOCAL, "caution")


def _held(log: Log, report: Report, say: Say) -> tuple[str, ...]:
    head = (
        f"{capital(say.reading(log.reading))}: {len(log.rows)} readings from {clock(log.start, report.opened)}, "
        f"over {hours(log.rows[-1][0])}"
    )
    if log.above is None or log.possibly_above is None or log.surely_above is None or log.unknown is None:
        return (head, "too few readings in order to say how long it was above 41 °F")
    lines = [
        (
            f"above 41 °F as read: {hours(log.above)}; for sure {hours(log.surely_above)}, possibly "
            f"{hours(log.possibly_above)} (accuracy of the probe and times without a reading counted)"
        ),
        f"highest reading: {temperature(log.highest or 0.0)}",
    ]
    if log.unknown:
        lines.append(
            f"{hours(log.unknown)} of this time is unknown: readings lie more than {hours(_GAP)} apart"
        )
    lines.append("before the first reading nothing was logged: how long food was warm until then is not known")
    return (head, *lines)


def curves(report: Report, say: Say) -> Iterator[Block]:
    """Temperatures over time of anything but food."""
    rest = [log for log in report.logs if not log.food]
    if rest:
        yield Heading("Temperatures over time")
        for log in rest:
            yield curve(log, report, say)


def curve(log: Log, report: Report, say: Say) -> CurvePicture:
    """A log as a picture."""
    rows = curve_rows(log)
    low, high = (pick(rows, key=lambda r: r[1]) for pick in (min, max))
    times = tuple(_at(log, n, report) for n in range(len(rows)))
    summary = (
        f"from {rows[0][1]:.1f} °F at {times[0]} to {rows[-1][1]:.1f} °F at {times[-1]}; highest {high[1]:.1f} °F, "
        f"lowest {low[1]:.1f} °F"
    )
    limit = None if log.limit is None else round(from_si(log.limit, "degF"), 2)
    return CurvePicture(capital(say.reading(log.reading)), "°F", rows, times, limit, summary, _GAP / 60)


def _at(log: Log, n: int, report: Report) -> str:
    times = {e["id"]: e["time"] for e in report.entries}
    return clock(times[log.entries[n]], report.opened)


def money(made: Money | None, say: Say) -> Iterator[Block]:
    """What a price book says."""
    if made is None:
        return
    yield Heading("Prices")
    yield Para(f"From the price book “{made.book}”, in {made.currency}.")
    rows = [
        (
            say.remedy(x.what) if x.kind == "labor" else x.what.replace("_", " "),
            f"{x.amount:g} {x.unit}".strip(), f"{x.each:.2f}", f"{x.sum:.2f}",
        )
        for x in made.lines
    ]
    rows.append(("Total of these lines", "", "", f"{made.total:.2f}"))
    yield Table("Prices", ("What", "Amount", "Each", "Sum"), tuple(rows), (1, 2, 3))
    if made.missing:
        names = ", ".join(say.remedy(m) if m in say.site.remedies else m.replace("_", " ") for m in made.missing)
        yield Para(f"Without a price in this book, and in no sum: {names}.")


def headed(report: Report, say: Say) -> tuple[str, ...]:
    """Lines under the title."""
    plan = say.site.plan
    status = f"{capital(OUTCOMES[report.outcome])}." if report.outcome else "This call is not closed."
    if report.outcome in {"repaired", "no_fault_found"} and not report.closing.closable:
        status += " So the technician closed it; the measurements do not prove all of it, see what is open."
    return (
        f"{plan.title or plan.name}", f"Opened {day(report.opened)}, as of {day(report.until)}",
        status + (f" {report.reason}" if report.reason else ""),
    )
