"""What to propose next, and why."""

from __future__ import annotations

from faultkit.diagnosis.moves import refusals
from faultkit.diagnosis.result import Missing, NextCheck, Verdict
from faultkit.guide.left_out import left_out
from faultkit.guide.remedies import answered, pending, proofs_left
from faultkit.guide.session import Propose, Turn
from faultkit.model.entries import RemedyDone
from faultkit.reports.words import minutes, percent

__all__ = ["closable", "missing_text", "next_proposal", "outcome_lines"]

#: A check that saves more than this goes before a repair that is sure to be needed (faultkit's convention).
WORTH_WAITING = 30.0
#: A repair is proposed unproved only where it is rather needed than not.
LIKELY = 0.5


def next_proposal(t: Turn) -> Propose:
    """Clashing facts first, then proofs of repairs, then what saves most minutes, then what is left to close."""
    d, left = t.quick, left_out(t.call)
    if t.call.closing:
        return Propose()
    if closable(t):
        return Propose("", "close", "Nothing is missing: the call can be closed.")
    again = next((c for x in d.conflicts for c in x.retake if c not in left), "")
    if again:
        return Propose(again, "check", "Facts clash; this takes one of them again.")
    for remedy, sign, band in proofs_left(d):
        check = _giving(t, sign, left)
        if check:
            wanted = f"{t.speak.sign(sign)} must read {band.replace('_', ' ')}"
            title = t.call.site.remedies[remedy].remedy.title
            return Propose(check, "check", f"It proves the repair ({title}): {wanted}.")
    d = t.diagnosis
    best = next((c for c in d.next_checks if c.check not in left and c.saved > 0.0), None)
    ready = [p for p in pending(t.call.site, d, answered(t), left) if p not in left]
    if ready and (best is None or best.saved <= WORTH_WAITING):
        return Propose(ready[0], "remedy", "What it mends is proved.")
    if best is not None:
        return Propose(best.check, "check", _price(t, best))
    return _last(t, left)


def _last(t: Turn, left: dict[str, str]) -> Propose:
    """Nothing saves minutes any more: a likely repair, else a reading that the closing lacks."""
    d, answers = t.diagnosis, answered(t)
    for r in d.next_repairs:
        if r.remedy and r.remedy not in left and r.remedy not in answers and r.probability.low > LIKELY:
            return Propose(r.remedy, "remedy", f"Chance that it is needed: {percent(r.probability)}. It is not proved.")
    for m in d.closing.missing:
        event = d.events.get(m.what) if m.kind == "complaint" else None
        for s in event.would_rule_out if event else ():
            check = _giving(t, s.sign, left)
            if check:
                return Propose(check, "check", "It shows whether the complaint is gone.")
    return Propose()


def _giving(t: Turn, sign: str, left: dict[str, str]) -> str:
    """The quickest check that gives a sign, or the inputs of its calculation."""
    site = t.call.site
    found = site.signs.get(sign)
    names = {sign, *(site.all_readings[found.reading].inputs.values() if found else ())}
    fit: list[tuple[float, str]] = []
    for c in site.checks.values():
        given = set(c.gives) | {site.signs[g].reading for g in c.gives if g in site.signs and g not in names}
        if (sign in c.gives or (names - {sign} and names & given)) and c.name not in left:
            fit += [] if refusals(site, c, t.allowed) else [(c.check.minutes, c.name)]
    return min(fit)[1] if fit else ""


def _price(t: Turn, c: NextCheck) -> str:
    saves = f"saves about {minutes(c.saved)}" if c.saved <= 120.0 else "saves hours of trying"
    way = f", {minutes(c.travel)} of it on the way to {t.call.site.checks[c.check].place}" if c.travel else ""
    return f"Takes {minutes(c.minutes)} in all{way}; {saves}."


def closable(t: Turn) -> bool:
    """Something was done about something, and nothing is missing."""
    did = any(isinstance(e, RemedyDone) for e in t.call.entries)
    return did and t.quick.closing.closable and t.call.closing is None


def outcome_lines(t: Turn, c: NextCheck, most: int = 4) -> list[str]:
    """What each answer of a check would mean."""
    out = []
    site, events = t.call.site, t.diagnosis.events
    unit = site.checks[c.check].unit

    def short(event: str) -> str:
        return t.speak.title(event) if event.startswith(f"{unit}.") else t.speak.event(event)

    for o in c.outcomes[:most]:
        bands = "; ".join(
            (f"{site.all_readings[site.signs[s].reading].reading.title} = " if len(o.bands) > 1 else "")
            + b.replace("_", " ")
            for s, b in o.bands
        )
        parts = []
        causes = [e for e in o.confirms if e in events and events[e].basic]
        if causes:
            parts.append("proves " + ", ".join(short(e) for e in causes[:2]))
        gone = [e for e in o.rules_out if e in events and events[e].basic]
        if gone:
            parts.append("rules out " + short(gone[0]) + (f" and {len(gone) - 1} more" if gone[1:] else ""))
        leaders = [(e, q) for e, q in o.leaders if e not in causes and 0.02 <= q < 1.0][:1]
        parts += [f"then first {short(e)} {percent(q)}" for e, q in leaders]
        out.append(f"if {bands} ({percent(o.probability)}): " + ("; ".join(parts) or "little changes"))
    return out


def missing_text(t: Turn, m: Missing) -> str:
    """What keeps the call open, for a person."""
    speak = t.speak
    if m.kind == "conflict":
        return "facts that clash: " + "; ".join(t.fact(f) for f in m.needs)
    if m.kind == "unexplained":
        return f"not explained: {speak.sign(m.what)}"
    if m.kind == "unproved_repair":
        return f"not proved: {speak.remedy(m.what)}; read again {', '.join(speak.sign(s) for s in m.needs)}"
    if m.kind == "complaint":
        still = t.quick.events[m.what].verdict is Verdict.CONFIRMED
        return f"complaint {'still there' if still else 'not shown to be gone'}: {speak.event(m.what)}"
    return f"what damaged it is open: {speak.event(m.what)}: {', '.join(speak.event(c) for c in m.needs)}"
