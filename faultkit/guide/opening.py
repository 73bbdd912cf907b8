"""The start of a session: the complaint, or where the call stood when it was left."""

from __future__ import annotations

from dataclasses import replace

from faultkit.diagnosis.result import Verdict
from faultkit.guide.find import find
from faultkit.guide.session import Turn, Word, live_entries
from faultkit.guide.tell import show_known
from faultkit.model.entries import Complaint, Note
from faultkit.model.types import Gate
from faultkit.network.site import Site

__all__ = ["begin", "complaint", "complaints", "prompt_word"]

_NO_COMPLAINT = "No complaint was given."


def complaints(site: Site) -> dict[str, str]:
    """What a customer may notice: events that cause nothing else, name → title, those with most causes first."""
    causes = {x.cause for e in site.events.values() for x in (*e.inputs, *e.broken_by)}
    found = [
        e
        for e in site.events.values()
        # A gate that needs several at once is a way one fault hides another, nothing that shows by itself.
        if e.fixed is None and e.event.gate is Gate.ANY_OF and e.name not in causes and not e.event.deprecated
    ]
    found.sort(key=lambda e: -_beneath(site, e.name))
    return {e.name: e.event.plain or e.event.title for e in found}


def _beneath(site: Site, event: str) -> int:
    """How many events can cause one."""
    seen, stack = {event}, [event]
    while stack:
        e = site.events.get(stack.pop())
        new = {x.cause for x in (*e.inputs, *e.broken_by)} - seen if e else set()
        seen |= new
        stack += new
    return len(seen)


def begin(t: Turn) -> None:
    """Say where the call stands, and ask for the complaint where there is none."""
    site = t.call.site
    t.say(f"{site.plan.title or site.name}, call opened {t.call.opened.replace('T', ' ')}", "head")
    live = live_entries(t.call)
    told = any(isinstance(e, Complaint) or (isinstance(e, Note) and e.text == _NO_COMPLAINT) for e in live)
    if not told:
        t.say("What does the customer say is wrong?")
        for n, (name, title) in enumerate(complaints(site).items(), 1):
            t.say(f"{n}. {t.speak.unit(name)}: {title}", "step", 2)
        t.push(Word("", "complaint"))
        return
    show_known(t)
    confirmed = (e for e in t.quick.of(Verdict.CONFIRMED) if e.basic)
    t.session = replace(t.session, known=frozenset(e.event for e in confirmed))
    if t.call.closing:
        t.say(f"The call was closed: {t.call.closing.outcome.replace('_', ' ')}. What comes in now is still taken.")


def prompt_word(t: Turn, q: Word) -> str:
    """The complaint, the customer's words, or the customer's decision."""
    if q.kind == "complaint":
        return "The complaint: a number, words of it, or skip"
    if q.kind == "words":
        return "In the customer's own words? Type them, or skip"
    return f"What does the customer say to: {t.speak.remedy(q.job)}? approved / declined / deferred"


def complaint(t: Turn, q: Word, text: str) -> None:
    """Which complaint, then its words; InputError where it is not clear which."""
    if q.kind == "words":
        t.pop()
        words = "" if text.lower() == "skip" else text
        t.put(kind="complaint", event=q.job, words=words, by="customer")
        show_known(t)
        return
    if text.lower() == "skip":
        t.pop()
        t.put(kind="note", text=_NO_COMPLAINT)
        return
    known = complaints(t.call.site)
    names = list(known)
    at = int(text) - 1 if text.isdigit() else -1
    full = {n: f"{t.speak.unit(n)} {title}" for n, title in known.items()}
    everything = {e.name: e.event.title for e in t.call.site.events.values() if e.fixed is None}
    name = names[at] if 0 <= at < len(names) else find("complaint", text, everything if text in everything else full)
    t.pop()
    t.push(Word(name, "words"))
