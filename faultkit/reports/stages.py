"""What remedies did, as text: what became of the events, what is proved, what to take again, what is missing."""

from __future__ import annotations

from collections.abc import Iterable

from faultkit.diagnosis.result import Diagnosis, Ended, Missing, Repair, Retake
from faultkit.reports.words import Speaker, percent, wrapped

__all__ = ["closing_lines", "remedy_lines", "retake_lines"]


def remedy_lines(d: Diagnosis, say: Speaker) -> list[str]:
    """Remedies done, in order, each with what became of the events it should end."""
    if not d.repairs:
        return []
    out = [f"DONE ({len(d.repairs)})"]
    for r in d.repairs:
        out += wrapped(f"{r.stage}. {say.remedy(r.remedy)} [{r.entry}]", 2, 5)
        for e in r.ends:
            out += wrapped(f"- {say.site.title(e.event)}: {_ended(e, _found(d, e, r.stage))}", 5, 7)
        out += _proof(r, say)
    return out


def _found(d: Diagnosis, e: Ended, stage: int) -> str:
    """The facts that proved an event before a remedy."""
    past = [p for p in d.events[e.event].past if p.stage < stage]
    return f" [{', '.join(past[-1].facts)}]" if past and past[-1].facts else ""


def _ended(e: Ended, facts: str) -> str:
    if e.outcome == "open":
        return f"chance that it was there {percent(e.before)}, that it is there now {percent(e.after)}"
    return {
        "repaired": f"found{facts}, and proved gone",
        "still_there": f"found{facts}, and still there: the repair failed or the new part is bad",
        "was_not_there": f"was not there{facts}; chance that it is now {percent(e.after)}",
    }[e.outcome]


def _proof(r: Repair, say: Speaker) -> list[str]:
    if not r.prove:
        return wrapped("nothing has to be shown afterwards", 5, 7)
    out: list[str] = []
    seen = [f"{say.sign(p.sign)} {p.band}" for p in r.prove if p.status == "seen"]
    if seen:
        out += wrapped(("proved by: " if r.proved else "shown so far: ") + "; ".join(seen), 5, 7)
    for p in r.prove:
        if p.status == "missing":
            out += wrapped(f"NOT PROVED: {say.sign(p.sign)} was not taken since; it must show {p.band}", 5, 7)
        elif p.status != "seen":
            why = "is too close to call" if p.status == "too_close" else "shows something else"
            facts = "; ".join(say.fact(f) for f in p.facts)
            out += wrapped(f"NOT PROVED: {say.sign(p.sign)} {why}, it must show {p.band}: {facts}", 5, 7)
    return out


def retake_lines(d: Diagnosis, say: Speaker) -> list[str]:
    """Readings whose last look no longer speaks of now."""
    if not d.retake:
        return []
    out = ["TAKE AGAIN (what was seen speaks of the time before a remedy)"]
    for reason, words in (("changed", "changed what they tell of"), ("disturbed", "disturbed the reading itself")):
        for by in dict.fromkeys(r.by for r in d.retake):
            mine = [r for r in d.retake if (r.reason, r.by) == (reason, by)]
            if mine:
                out += wrapped(f"- {_number(d, by)} {words}: " + "; ".join(_again(r, say) for r in mine), 2, 4)
    return out


def _again(r: Retake, say: Speaker) -> str:
    return say.sign(r.sign) + (f" [{r.checks[0]}]" if r.checks else "")


def _number(d: Diagnosis, entry: str) -> str:
    return next((f"remedy {r.stage}" for r in d.repairs if r.entry == entry), entry)


def closing_lines(d: Diagnosis, say: Speaker) -> list[str]:
    """Whether the call can be closed, once something was done."""
    if not d.stage:
        return []
    if d.closing.closable:
        return ["THE CALL CAN BE CLOSED: everything is explained, proved and settled"]
    out = ["THE CALL CANNOT BE CLOSED YET"]
    for m in d.closing.missing:
        out += wrapped(f"- {_missing(m, say)}", 2, 4)
    return out


def _missing(m: Missing, say: Speaker) -> str:
    def listed(names: Iterable[str]) -> str:
        return "; ".join(names)

    if m.kind == "conflict":
        return "facts that cannot all be true: " + listed(map(say.fact, m.needs))
    if m.kind == "unexplained":
        return f"{say.sign(m.what)} is not explained by what is proved: {listed(map(say.fact, m.needs))}"
    if m.kind == "unproved_repair":
        return f"{say.remedy(m.what)} is not proved: take {listed(map(say.sign, m.needs))}"
    if m.kind == "complaint":
        return f"no measurement rules out what was complained of: {say.event(m.what)}"
    causes = listed(say.site.title(c) for c in m.needs)
    return f"{say.event(m.what)}: what did it is still open: {causes}"
