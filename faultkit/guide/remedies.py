"""A remedy: the customer's word, who may do it, what must be so, the work, the parts."""

from __future__ import annotations

from faultkit.diagnosis.result import Diagnosis, Verdict
from faultkit.guide.checks import refused, to_ready
from faultkit.guide.session import Ask, Confirm, Done, Show, Turn, Used, Word, live_entries
from faultkit.model.entries import Decision
from faultkit.network.site import Site, SiteRemedy
from faultkit.reports.words import minutes

__all__ = ["answered", "begin_remedy", "decide", "done", "pending", "proofs_left", "used"]

_ANSWERS = {"yes": "approved", "y": "approved", "no": "declined", "n": "declined", "later": "deferred"}


def answered(t: Turn) -> dict[str, str]:
    """The customer's last word on each remedy."""
    return {f"{e.unit}.{e.remedy}": e.answer for e in live_entries(t.call) if isinstance(e, Decision)}


def pending(site: Site, d: Diagnosis, answers: dict[str, str], left: dict[str, str]) -> list[str]:
    """Remedies of proved causes that are not mended, quickest for each, nothing declined or deferred."""
    found: dict[str, None] = {}
    for e in d.of(Verdict.CONFIRMED):
        fit = sorted((r.remedy.minutes, r.name) for r in site.remedies.values() if e.event in r.ends)
        names = [name for _, name in fit]
        if names and not any(answers.get(n) in {"declined", "deferred"} or n in left for n in names):
            found[names[0]] = None
    return list(found)


def proofs_left(d: Diagnosis) -> list[tuple[str, str, str]]:
    """(remedy, sign, band) of repairs whose reading after it is still missing."""
    return [(r.remedy, p.sign, p.band) for r in d.repairs for p in r.prove if p.status in {"missing", "too_close"}]


def begin_remedy(t: Turn, name: str) -> None:
    """Ask all that comes before, cautions first; then the steps and whether it is done."""
    site = t.call.site
    r = site.remedies[name]
    reasons = _refusals(t, r)
    t.say(f"{t.speak.remedy(name)} ({minutes(r.remedy.minutes)})", "head")
    t.say("Mends: " + "; ".join(t.speak.event(e) for e in r.ends))
    if r.remedy.parts:
        t.say("Parts: " + ", ".join(p.replace("_", " ") for p in r.remedy.parts))
    if reasons:
        t.say(f"? Refused: {refused(reasons)}. The catalogue asks for it.", "problem")
        return
    asks: list[Ask] = []
    if name not in answered(t):
        asks.append(Word(name, "decision"))
    if r.remedy.who != "anyone" and not t.allowed.role:
        asks.append(Confirm(name, "role", r.unit, r.remedy.who))
    asks += to_ready(t, name, r.unit, r.place, r.remedy)
    t.push(*asks, Show(name), Done(name))


def _refusals(t: Turn, r: SiteRemedy) -> tuple[tuple[str, str], ...]:
    a, m = t.allowed, r.remedy
    shared = [h for s in m.setups if s in t.call.site.common.setups for h in t.call.site.common.setups[s].hazards]
    out = [("hazard", h) for h in dict.fromkeys((*m.hazards, *shared)) if h in a.hazards]
    out += [("power", m.power.value)] if m.power.value in a.power else []
    out += [("tool", x) for x in m.tools if x in a.tools]
    out += [("crew", str(m.crew))] if m.crew > a.crew else []
    out += [("role", m.who)] if m.who != "anyone" and a.role not in {"", m.who} else []
    return tuple(out)


def decide(t: Turn, name: str, word: str) -> bool:
    """The customer's word on a remedy; False where it is unclear."""
    answer = _ANSWERS.get(word, word)
    if answer not in {"approved", "declined", "deferred"}:
        return False
    unit, _, remedy = name.partition(".")
    t.put(kind="decision", unit=unit, remedy=remedy, answer=answer)
    t.say(f"Recorded: {answer}", "good")
    if answer != "approved":
        t.say("It stays on the record as an open item.")
        t.drop(name)
    return True


def done(t: Turn, q: Done, word: str) -> bool:
    """Record the remedy; its parts are asked next."""
    if word in {"no", "n"}:
        t.say("Then it waits. yes when it is done, skip to leave it.")
        return True
    if word not in {"yes", "y", "done"}:
        return False
    t.pop()
    unit, _, remedy = q.job.partition(".")
    t.put(kind="remedy", unit=unit, remedy=remedy)
    t.say("Recorded: done. What was read before it speaks of the time before it.", "good")
    t.push(*(Used(q.job, p) for p in t.call.site.remedies[q.job].remedy.parts))
    return True


def used(t: Turn, q: Used, line: str) -> bool:
    """Whether a part was used; the number on it may follow the yes."""
    word, _, number = line.partition(" ")
    if word.lower() in {"no", "n"}:
        t.pop()
        return True
    if word.lower() not in {"yes", "y"}:
        return False
    unit, _, remedy = q.job.partition(".")
    t.pop()
    t.put(kind="part", unit=unit, part=q.part, remedy=remedy, number=number.strip())
    t.say(f"Part used: {q.part.replace('_', ' ')}", "good")
    return True


