"""The shop's report: readings with instrument and state, proofs, stages, parts, minutes, every entry."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from faultkit.diagnosis.result import Ended, Missing, Reproof
from faultkit.reports.visit.blocks import Block, Document, Heading, Items, Para, Table
from faultkit.reports.visit.customer import missing
from faultkit.reports.visit.data import Done, Open, Report
from faultkit.reports.visit.say import Say, chance, clock, degrees, hours
from faultkit.reports.visit.shared import chain, curves, food, headed, money, parts, refrigerant
from faultkit.reports.words import percent

__all__ = ["shop_document"]

_COMMON = ("kind", "id", "time", "order", "by", "who")


def shop_document(report: Report, say: Say) -> Document:
    """All that the shop keeps."""
    blocks = [
        *_closing(report, say), *_found(report, say), *chain(report, say), *_done(report, say), *_open(report, say),
        *_unknown(report, say), *_readings(report, say), *_stale(report, say), *refrigerant(report, say),
        *parts(report, say), *food(report, say), *curves(report, say), *money(report.money, say),
        *_minutes(report), *_entries(report, say), Para(f"Catalogue {report.catalogue}", "small"),
    ]
    title = f"{report.title or report.call or 'Call'}: for the shop"
    return Document(title, headed(report, say), tuple(blocks))


def _closing(report: Report, say: Say) -> Iterator[Block]:
    yield Heading("Can this call be closed?")
    if report.closing.closable:
        yield Para("Yes: everything is explained, proved and settled.", "good")
    else:
        yield Para("Not as repaired. Missing:" if report.outcome else "Not yet. Missing:")
        yield Items(tuple((missing(m, say),) for m in report.closing.missing) or (("Nothing was asked yet.",),))


def _found(report: Report, say: Say) -> Iterator[Block]:
    yield Heading("Proved")
    if not report.found:
        yield Para("No event is proved to be or to have been there.")
    else:
        yield Table(
            "Events proved to be or to have been there", ("Event", "Now", "Proof"),
            tuple(
                (
                    say.event(f.event) + (" (cause)" if f.basic else ""),
                    {"confirmed": "there", "ruled_out": "proved gone"}.get(f.now.value, percent(f.chance)),
                    "; ".join(map(say.fact, f.facts)),
                )
                for f in report.found
            ),
        )


def _done(report: Report, say: Say) -> Iterator[Block]:
    if report.done:
        yield Heading("Repairs and their proof")
        yield Items(tuple(_deed(d, report, say) for d in report.done))


def _deed(d: Done, report: Report, say: Say) -> tuple[str, ...]:
    return (
        (
            f"Stage {d.stage}, {clock(d.time, report.opened)}: {say.remedy(d.remedy)}, {d.minutes:g} min by the tree "
            f"[{d.entry}]: {'proved' if d.proved else 'NOT PROVED'}"
        ),
        *(_ended(e, say) for e in d.ends), *(_proof(p, say) for p in d.prove),
    )


def _ended(e: Ended, say: Say) -> str:
    outcome = e.outcome.replace("_", " ")
    return f"{say.event(e.event)}: {outcome}; before {_chance(e.was, e.before)}, now {_chance(e.is_now, e.after)}"


def _chance(verdict: str, p: Any) -> str:
    return percent(p) if verdict in {"open", "unknown"} else str(verdict).replace("_", " ")


def _proof(p: Reproof, say: Say) -> str:
    facts = "; ".join(map(say.fact, p.facts))
    return f"{say.reading(p.sign)} must show {p.band}: {p.status.replace('_', ' ')}" + (f": {facts}" if facts else "")


def _open(report: Report, say: Say) -> Iterator[Block]:
    yield Heading("Open items")
    if not report.open:
        yield Para("None.")
    else:
        yield Items(tuple(_item(o, say) for o in report.open))


def _item(o: Open, say: Say) -> tuple[str, ...]:
    decided = o.kind in {"declined", "deferred", "approved"}
    lines = [
        f"{o.kind} [{o.entry}]: {say.remedy(o.what)}" if decided else missing(Missing(o.kind, o.what, o.needs), say)
    ]
    lines += [f"about {say.event(e)}" for e in o.events]
    if o.chance is not None:
        lines.append("there now: " + ("proved" if o.proved else chance(o.chance)))
    lines += [f"may damage {say.event(e)}" for e in o.may_break]
    lines += [f"may lead to {say.event(e)}" for e in o.may_lead_to]
    return tuple(lines)


def _unknown(report: Report, say: Say) -> Iterator[Block]:
    yield Heading("Not proved, not ruled out")
    yield Para(f"A further fault behind what is seen: {percent(report.further_fault)}.")
    if report.unknown:
        yield Table(
            "Chances", ("Event", "Chance"), tuple((say.event(u.event), percent(u.chance)) for u in report.unknown), (1,)
        )


def _readings(report: Report, say: Say) -> Iterator[Block]:
    if report.taken:
        yield Heading("Readings")
        yield Table(
            "Readings", ("Time", "Entry", "Reading", "Value", "Instrument", "State", "Stage", "Used"),
            tuple(
                (
                    clock(t.time, report.opened), t.entry, say.reading(t.reading), degrees(t.value),
                    t.instrument or "not recorded", t.state or "–", str(t.stage),
                    t.status.replace("_", " ") + (f": {t.why}" if t.why else ""),
                )
                for t in report.taken
            ),
            (6,),
        )


def _stale(report: Report, say: Say) -> Iterator[Block]:
    if report.stale:
        yield Heading("No longer speaks of now")
        yield Items(tuple(
            (f"{say.reading(r.sign)}: {r.reason} by {r.by}; take it with {', '.join(r.checks) or 'no known check'}",)
            for r in report.stale
        ))


def _minutes(report: Report) -> Iterator[Block]:
    yield Heading("Minutes")
    yield Para(
        f"From the first to the last entry that is not the customer's: {hours(report.minutes * 60)}. Repairs by the "
        f"trees: {sum(d.minutes for d in report.done):g} min."
    )


def _entries(report: Report, say: Say) -> Iterator[Block]:
    yield Heading("Every entry")
    gone = set(report.withdrawn)
    yield Table(
        "Every entry", ("Time", "Entry", "Kind", "By", "What"),
        tuple(
            (
                clock(str(e["time"]), report.opened), str(e["id"]), str(e["kind"]),
                say.role(str(e["by"])) + (f", {e['who']}" if "who" in e else ""),
                _said(e) + (" (withdrawn)" if e["id"] in gone else ""),
            )
            for e in report.entries
        ),
    )


def _said(entry: Mapping[str, Any]) -> str:
    shown = {k: v for k, v in entry.items() if k not in _COMMON and v not in ([], {})}
    return ", ".join(f"{key} {_text(value)}" for key, value in shown.items())


def _text(value: Any) -> str:
    if isinstance(value, list):
        return " ".join(map(str, value)) or "none"
    if isinstance(value, dict):
        return "; ".join(f"{k} {_text(v)}" for k, v in value.items())
    return f"{value:g}" if isinstance(value, float) else str(value)
