"""Commands that can be typed at any question. Each is one word, with more behind it where needed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType

from faultkit.diagnosis.moves import refusals
from faultkit.guide import checks, remedies
from faultkit.guide.advice import closable
from faultkit.guide.find import find
from faultkit.guide.left_out import left_out
from faultkit.guide.looking import correct, look, what_if, withdraw
from faultkit.guide.moved import food, part, refrigerant
from faultkit.guide.session import Ask, Close, Propose, Turn, Word
from faultkit.guide.tell import show_event, show_known, show_missing, show_why
from faultkit.problems import InputError
from faultkit.reports.words import minutes

__all__ = ["HELP", "run_command"]

Command = Callable[[Turn, Ask, str], None]

#: What each command does, as help shows it.
HELP: Mapping[str, str] = MappingProxyType({
    "yes": "do what is proposed; or it is so",
    "skip": "[reason] leave it out; it is not proposed again. \"can't reach\" does the same for a whole check",
    "list": "[words] other checks, best first; with words: all that fit",
    "check": "NUMBER or NAME: make that check instead",
    "leave": "leave this check or repair, back to what is next",
    "known": "what is known, in short",
    "why": "why this is proposed; why EVENT: what speaks for it; why not EVENT: what speaks against it",
    "what": "what if READING VALUE: what that would change; nothing is recorded",
    "look": "look back: what was recorded, numbered",
    "correct": "NUMBER VALUE: a new value for a reading",
    "withdraw": "NUMBER [reason]: take an entry back",
    "mend": "[NAME] do a repair; without a name: those that are listed",
    "decide": "NAME approved, declined or deferred: the customer's word on a repair",
    "part": "UNIT PART [COUNT] a part used",
    "refrigerant": "UNIT in or out NAME AMOUNT, as in: refrigerant roof_unit in R-404A 1.2 lb",
    "food": "moved, discarded or kept WHAT, as in: food discarded two pans of tomatoes",
    "note": "TEXT kept in the record",
    "go": "PLACE where you are now",
    "setup": "UNIT on or off NAME, as in: setup rail on power_locked_out",
    "role": "licensed or unlicensed",
    "crew": "NUMBER of people on the call",
    "weather": "WORD, as in: weather rain",
    "missing": "TOOL that is not on the truck",
    "close": "can this call be closed? What is missing, and closing anyway",
    "help": "this list",
    "stop": "end the session; go on later with the same command",
})


def run_command(t: Turn, q: Ask, text: str) -> bool:
    """Whether the line is a command; if so it was run. InputError where it lacks something."""
    word, _, rest = text.partition(" ")
    command = _COMMANDS.get(word.lower())
    if command is None or (isinstance(q, Word) and q.kind == "complaint" and command not in {_help, _stop}):
        return False
    command(t, q, rest.strip())
    return True


def _help(t: Turn, q: Ask, rest: str) -> None:
    del q, rest
    t.say("Answer the question, or type one of:", "head")
    for name, text in HELP.items():
        t.say(f"{name}: {text}", "item", 2)
    t.say("A reading: 58 psig, 14.2 C, yes, a word or its number; after it, if you like: with INSTRUMENT.")


def _known(t: Turn, q: Ask, rest: str) -> None:
    del q, rest
    show_known(t)


def _list(t: Turn, q: Ask, rest: str) -> None:
    del q
    names, left, unit = _numbered(t, rest), left_out(t.call), ""
    if not names:
        raise InputError(f"no check has '{rest}' in its name or readings", "list WORDS with fewer words, or list")
    t.session = replace(t.session, listed=tuple(names))
    for n, name in enumerate(names, 1):
        c = t.call.site.checks[name]
        if c.unit != unit:
            t.say(t.speak.unit(name), "head")
            unit = c.unit
        more = refusals(t.call.site, c, t.allowed)
        tail = f", not now: {checks.refused(more)}" if more else ""
        tail += f", left out: {left[name]}" if name in left else ""
        t.say(f"{n}. {c.check.title}, {minutes(c.check.minutes)}{tail}", "step", 2)
    t.say("check NUMBER makes one of them. list WORDS finds others, by name or reading.")


def _numbered(t: Turn, words: str) -> list[str]:
    """Checks as ``list`` numbers them: the best nine, or all that fit the words."""
    pieces = words.lower().split()
    if not pieces:
        best = [c.check for c in t.diagnosis.next_checks[:9]]
        return best + [b.check for b in t.diagnosis.blocked][: 9 - len(best)]
    return [n for n, text in _about(t).items() if all(p in text for p in pieces)]


def _about(t: Turn) -> dict[str, str]:
    """Each check with all it may be looked for by: names, title, unit, titles of its readings."""
    site, out = t.call.site, {}
    for n, c in site.checks.items():
        given = {site.signs[g].reading if g in site.signs else g for g in c.gives}
        titles = sorted(site.all_readings[r].reading.title for r in given)
        out[n] = " ".join((n.replace("_", " "), t.speak.check(n), *titles, *given)).lower()
    return out


def _check(t: Turn, q: Ask, rest: str) -> None:
    del q
    best = t.session.listed or tuple(_numbered(t, ""))
    at = int(rest) - 1 if rest.isdigit() else -1
    if rest.isdigit() and not 0 <= at < len(best):
        raise InputError(f"there is no check number {rest}", f"1 to {len(best)}, as in list")
    titles = {n: t.speak.check(n) for n in t.call.site.checks}
    name = best[at] if at >= 0 else find("check", rest, titles)
    t.drop()
    checks.begin_check(t, name)


def _leave(t: Turn, q: Ask, rest: str) -> None:
    del rest
    if isinstance(q, Propose):
        t.say("Nothing is under way.")
    else:
        t.drop()


def _why(t: Turn, q: Ask, rest: str) -> None:
    against = rest.lower().startswith("not ")
    typed = rest[4:] if against else rest
    if typed:
        titles = {n: t.speak.event(n) for n in t.quick.events}
        show_event(t, find("event", typed, titles), against=against)
    elif isinstance(q, Propose):
        show_why(t, q)
    else:
        found = next((c for c in t.quick.next_checks if c.check == q.job), None)
        show_why(t, Propose(q.job, "check", f"It saves about {minutes(found.saved)}." if found else "You chose it."))


def _mend(t: Turn, q: Ask, rest: str) -> None:
    del q
    titles = {n: t.speak.remedy(n) for n in t.call.site.remedies}
    ready = remedies.pending(t.call.site, t.quick, {}, {})
    ready = list(dict.fromkeys([*ready, *(r.remedy for r in t.diagnosis.next_repairs if r.remedy)]))
    if not rest:
        t.say("REPAIRS", "head")
        for n, name in enumerate(ready, 1):
            t.say(f"{n}. {titles[name]}, {minutes(t.call.site.remedies[name].remedy.minutes)} [{name}]", "step", 2)
        t.say("mend NUMBER or mend NAME does one.")
        return
    at = int(rest) - 1 if rest.isdigit() else -1
    name = ready[at] if 0 <= at < len(ready) else find("repair", rest, titles)
    t.drop()
    remedies.begin_remedy(t, name)


def _decide(t: Turn, q: Ask, rest: str) -> None:
    del q
    typed, _, word = rest.rpartition(" ")
    name = find("repair", typed, {n: t.speak.remedy(n) for n in t.call.site.remedies})
    t.drop()
    if not remedies.decide(t, name, word.lower()):
        raise InputError(f"'{word}' is no decision", "approved, declined or deferred, after the repair's name")


def _note(t: Turn, q: Ask, rest: str) -> None:
    del q
    if not rest:
        raise InputError("the note is empty", "note TEXT")
    t.put(kind="note", text=rest)
    t.say("Noted.", "good")


def _go(t: Turn, q: Ask, rest: str) -> None:
    places = dict.fromkeys((u.place for u in t.call.site.plan.units.values()), "")
    t.put(kind="location", place=find("place", rest, places))
    _again(t, q)


def _setup(t: Turn, q: Ask, rest: str) -> None:
    words = rest.split()
    if len(words) < 3 or words[1] not in {"on", "off"}:
        raise InputError("a set-up needs the unit, on or off, and its name", "setup rail on power_locked_out")
    name = find("set-up", " ".join(words[2:]), {n: s.title for n, s in t.call.site.common.setups.items()})
    unit = find("unit", words[0], {n: u.title for n, u in t.call.site.plan.units.items()})
    t.put(kind="setup", unit=unit, **{words[1]: [name]})
    t.say(f"Recorded: {name.replace('_', ' ')} {words[1]}", "good")
    _again(t, q)


def _again(t: Turn, q: Ask) -> None:
    """What is proposed depends on it, so it is worked out again."""
    if isinstance(q, Propose):
        t.drop()


def _condition(key: str) -> Command:
    def run(t: Turn, q: Ask, rest: str) -> None:
        if not rest:
            raise InputError(f"{key}: what?", HELP["missing" if key == "missing_tools" else key])
        value: object = rest.lower()
        if key == "crew":
            if not rest.isdigit() or not 0 < int(rest) < 100:
                raise InputError(f"'{rest}' is no number of people", "crew 2")
            value = int(rest)
        elif key == "role" and value not in {"licensed", "unlicensed"}:
            raise InputError(f"'{rest}' is no role", "licensed or unlicensed")
        elif key == "missing_tools":
            value = sorted({*t.allowed.tools, find("tool", rest, t.call.site.common.tools)})
        t.put(kind="conditions", **checks.conditions_now(t, **{key: value}))
        t.say("Recorded.", "good")
        _again(t, q)

    return run


def _close(t: Turn, q: Ask, rest: str) -> None:
    del q, rest
    t.drop()
    if closable(t):
        t.push(Propose("", "close", "Nothing is missing."))
        return
    show_missing(t)
    t.push(Close())


def _stop(t: Turn, q: Ask, rest: str) -> None:
    del q, rest
    t.say("Everything typed is recorded. Go on later with the same command.")
    t.session = replace(t.session, over=True)


_COMMANDS: Mapping[str, Command] = MappingProxyType({
    "help": _help, "?": _help, "known": _known, "list": _list, "check": _check, "leave": _leave, "back": _leave,
    "why": _why, "what": what_if, "look": look, "correct": correct, "withdraw": withdraw, "mend": _mend,
    "remedy": _mend, "decide": _decide, "part": part, "refrigerant": refrigerant, "food": food, "note": _note,
    "go": _go, "setup": _setup, "role": _condition("role"), "crew": _condition("crew"),
    "weather": _condition("weather"), "missing": _condition("missing_tools"), "close": _close, "stop": _stop,
    "quit": _stop, "exit": _stop,
})
