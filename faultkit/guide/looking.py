"""Look back, correct, withdraw, and what would be if."""

from __future__ import annotations

from faultkit.guide.find import find
from faultkit.guide.session import Ask, Turn, live_entries
from faultkit.guide.tell import changes, entry_text
from faultkit.guide.values import read_value
from faultkit.model.entries import Correction, Entry, Fact
from faultkit.problems import InputError

__all__ = ["correct", "look", "what_if", "withdraw"]


def _entries(t: Turn) -> list[Entry]:
    """Entries by the numbers ``look`` gives them; a number stays, whatever is withdrawn later."""
    return [e for e in t.call.entries if not isinstance(e, Correction)]


def look(t: Turn, q: Ask, rest: str) -> None:
    """What was recorded, as it counts now."""
    del q, rest
    now = {e.id: e for e in live_entries(t.call)}
    t.say("RECORDED", "head")
    for n, e in enumerate(_entries(t), 1):
        text = entry_text(t, e)
        kept = now.get(e.id)
        if kept is None:
            text += " (withdrawn)"
        elif isinstance(kept, Fact) and isinstance(e, Fact) and kept.value != e.value:
            text += f", corrected to {kept.value}"
        t.say(f"{n}. {e.time[11:16]} {text}", "step", 2)


def _numbered(t: Turn, typed: str) -> Entry:
    found = _entries(t)
    if typed.isdigit() and 1 <= int(typed) <= len(found):
        return found[int(typed) - 1]
    raise InputError(f"there is no entry '{typed}'", f"a number from 1 to {len(found)}, as in look")


def correct(t: Turn, q: Ask, rest: str) -> None:
    """A new value for a reading."""
    del q
    typed, _, text = rest.partition(" ")
    entry = _numbered(t, typed)
    if not isinstance(entry, Fact):
        raise InputError(f"entry {typed} is no reading", f"withdraw {typed} takes it back")
    value = read_value(t.call.site, entry.reading, text.strip())
    if value.options:
        raise InputError(value.why, f"correct {typed} " + " or ".join(v for _, v in value.options))
    t.put(kind="correction", corrects=entry.id, value=value.value)
    t.say(f"Corrected: {entry_text(t, entry)} is now {value.value}", "good")
    t.drop()


def withdraw(t: Turn, q: Ask, rest: str) -> None:
    """Take an entry back."""
    del q
    typed, _, reason = rest.partition(" ")
    entry = _numbered(t, typed)
    t.put(kind="correction", corrects=entry.id, retract="yes", reason=reason.strip())
    t.say(f"Withdrawn: {entry_text(t, entry)}", "good")
    t.drop()


def what_if(t: Turn, q: Ask, rest: str) -> None:
    """What a value would change."""
    del q
    words = rest.removeprefix("if ").split()
    site = t.call.site
    titles = {n: t.speak.sign(n) for n, r in site.all_readings.items() if r.calculation is None}
    if len(words) < 2:
        raise InputError("what if: a reading and a value", "what if rail.warmest_pan 38 degF")
    name = find("reading", words[0], titles)
    typed = read_value(site, name, " ".join(words[1:]))
    if typed.options:
        raise InputError(typed.why, " or ".join(v for _, v in typed.options))
    states = site.all_readings[name].reading.states
    data = {"kind": "fact", "reading": name, "value": typed.value, "state": states[0] if states else ""}
    state = f" ({states[0]})" if states else ""
    t.say(f"If {t.speak.sign(name)}{state} = {typed.value}:")
    changes(t, t.with_fact(data).diagnose(advice=False))
