"""What the session says: what is known, the proposal, reasons, the record so far."""

from __future__ import annotations

from dataclasses import replace

from faultkit.diagnosis.result import Diagnosis, EventResult, Verdict
from faultkit.guide.advice import missing_text, outcome_lines
from faultkit.guide.left_out import left_out
from faultkit.guide.remedies import answered, pending
from faultkit.guide.session import Propose, Turn, live_entries
from faultkit.model.entries import Complaint, Decision, Entry, Fact, Note, RemedyDone, SetupChange
from faultkit.reports.words import percent

__all__ = [
    "changes", "entry_text", "show_event", "show_known", "show_missing", "show_news", "show_proposal", "show_why",
]

_WORDS = {Verdict.CONFIRMED: "proved", Verdict.RULED_OUT: "ruled out", Verdict.OPEN: "open", Verdict.UNKNOWN: "unknown"}


def show_news(t: Turn) -> None:
    """Causes proved since the session last said so."""
    d = t.quick
    found = {e.event: e for e in d.of(Verdict.CONFIRMED) if e.basic}
    for name, e in found.items():
        if name not in t.session.known:
            t.say(f"PROVED: {t.speak.event(name)}", "good")
            _because(t, e)
    for name in sorted(t.session.known - set(found)):
        is_now = d.events[name].verdict if name in d.events else Verdict.UNKNOWN
        if is_now is Verdict.RULED_OUT:
            t.say(f"Gone: {t.speak.event(name)}", "good")
    t.session = replace(t.session, known=frozenset(found))
    for x in d.conflicts:
        t.say("These cannot all be true: " + "; ".join(t.fact(f) for f in x.facts), "problem")
    for f in d.facts:
        if f.status == "needs_state":
            t.say(f"Kept, not used: {t.fact(f.fact)}: {f.why}", "item")


def _because(t: Turn, e: EventResult) -> None:
    if e.proof:
        for f in e.proof.facts:
            t.say(f"- {t.fact(f)}", "item", 2)
        if e.proof.retake:
            t.say(f"It rests on one reading; take it again with: {t.speak.check(e.proof.retake[0])}", "item", 2)


def show_known(t: Turn) -> None:
    """The short of it: complaint, proved, suspected, what is not mended."""
    d, site = t.quick, t.call.site
    t.say("KNOWN", "head")
    for c in (e for e in live_entries(t.call) if isinstance(e, Complaint)):
        t.say(f"- complaint: {site.title(c.event)}" + (f', "{c.words}"' if c.words else ""), "item")
    causes = [e for e in d.of(Verdict.CONFIRMED) if e.basic]
    for e in causes:
        t.say(f"- proved: {t.speak.event(e.event)}", "item")
    if not causes:
        t.say("- nothing is proved yet" if not d.repairs else "- no cause is proved to be there now", "item")
    for r in d.repairs:
        t.say(f"- done: {t.speak.remedy(r.remedy)}, {'proved' if r.proved else 'not proved yet'}", "item")
    suspects = [s for s in d.suspects() if s.probability.high >= 0.02][:3]
    if suspects:
        shown = "; ".join(f"{t.speak.event(s.event)} {percent(s.probability)}" for s in suspects)
        t.say(f"- suspected: {shown}", "item")
    if causes and d.further_fault.high >= 0.02:
        t.say(f"- chance of a further fault: {percent(d.further_fault)}", "item")
    for name in pending(site, d, answered(t), left_out(t.call)):
        t.say(f"- not mended yet: {t.speak.remedy(name)}  (mend {name})", "item")
    for name, answer in answered(t).items():
        if answer != "approved":
            t.say(f"- {answer} by the customer: {t.speak.remedy(name)}", "item")


def show_proposal(t: Turn, p: Propose) -> None:
    """The next thing to do and why."""
    if p.kind == "check":
        t.say(f"NEXT CHECK: {t.speak.check(p.job)}", "head")
        t.say(p.why)
        found = next((c for c in t.quick.next_checks if c.check == p.job), None)
        for line in outcome_lines(t, found, 2) if found else ():
            t.say(f"- {line}", "item", 2)
        if found and t.quick.while_there and found is t.quick.next_checks[0]:
            t.say("While there: " + "; ".join(t.speak.check(c) for c in t.quick.while_there[:2]))
    elif p.kind == "remedy":
        t.say(f"NEXT REPAIR: {t.speak.remedy(p.job)}", "head")
        t.say(p.why)
    elif p.kind == "close":
        t.say(p.why, "head")
    else:
        t.say("No check or repair is worth proposing now.", "head")
        show_missing(t)


def show_missing(t: Turn) -> None:
    """Can this call be closed?"""
    closing = t.quick.closing
    if closing.closable:
        t.say("The call can be closed.", "good")
        return
    t.say("The call cannot be closed as repaired; missing:")
    for m in closing.missing:
        t.say(f"- {missing_text(t, m)}", "item", 2)


def show_why(t: Turn, p: Propose) -> None:
    """Why this is proposed, with every answer."""
    t.say(p.why or "Nothing is proposed.")
    found = next((c for c in t.quick.next_checks if c.check == p.job), None)
    if found:
        t.say("What each answer would mean:")
        for line in outcome_lines(t, found, 8):
            t.say(f"- {line}", "item", 2)


def show_event(t: Turn, name: str, *, against: bool) -> None:
    """What speaks for an event, or ``against`` it, and what would decide it."""
    e = t.quick.events[name]
    t.say(f"{t.speak.event(name)}: {_WORDS[e.verdict]}, chance {percent(e.probability)}", "head")
    if e.proof:
        t.say(f"{'Proved' if e.verdict is Verdict.CONFIRMED else 'Ruled out'} by:")
        _because(t, e)
        for s in e.proof.steps:
            t.say(f"- so {t.speak.title(s.event)}: {'yes' if s.value else 'no'}", "item", 2)
        return
    best = sorted((w for w in e.weights if (w.decibans < -0.5 if against else w.decibans > 0.5)),
                  key=lambda w: -abs(w.decibans))[:4]
    for w in best:
        t.say(f"- {'against' if against else 'for'} it: {t.fact(w.fact)} ({w.decibans:+.0f} db)", "item", 2)
    if not best:
        t.say(f"No reading speaks {'against' if against else 'for'} it.")
    settles = e.would_rule_out if against else e.would_confirm
    for x in settles[:3]:
        bands = " or ".join(b.replace("_", " ") for b in x.bands)
        t.say(f"- would {'rule it out' if against else 'prove it'}: {t.speak.sign(x.sign)}: {bands}", "item", 2)


def changes(t: Turn, then: Diagnosis) -> None:
    """What a reading would change."""
    found = sorted(then.changes_since(t.quick), key=lambda c: (c[2] is Verdict.OPEN, -abs(c[3]), c[0]))
    basic = [c for c in found if then.events[c[0]].basic and not c[0].endswith(".other")]
    if not then.consistent:
        t.say("It cannot hold together with what was read.", "problem")
    for name, _, now, move in basic[:6]:
        chance = percent(then.events[name].probability)
        word = _WORDS[now] if now is not Verdict.OPEN else f"{'up' if move > 0 else 'down'} to {chance}"
        t.say(f"- {t.speak.event(name)}: {word}", "item", 2)
    if not basic:
        t.say("It would change little.")


def entry_text(t: Turn, e: Entry) -> str:
    """An entry on one line."""
    if isinstance(e, Fact | Complaint):
        return t.fact(e.id)
    if isinstance(e, Note):
        return e.text
    if isinstance(e, SetupChange):
        return f"{t.speak.unit(e.unit)}: " + ", ".join(
            f"{s.replace('_', ' ')} {word}" for word, names in (("on", e.on), ("off", e.off)) for s in names
        )
    if isinstance(e, RemedyDone | Decision):
        word = e.answer if isinstance(e, Decision) else "done"
        return f"{t.speak.remedy(f'{e.unit}.{e.remedy}')}: {word}"
    hidden = {"kind", "id", "time", "order", "by", "who"}
    shown = (v for k, v in e.to_dict().items() if k not in hidden and v not in ("", [], {}))
    return f"{e.kind}: " + ", ".join(" ".join(v) if isinstance(v, list) else str(v) for v in shown)
