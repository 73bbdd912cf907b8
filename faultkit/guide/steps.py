"""The session as a state machine: ``start`` and ``answer`` are pure, nothing is read or written."""

from __future__ import annotations

from dataclasses import replace

from faultkit.call import Call
from faultkit.guide import checks, remedies
from faultkit.guide.advice import next_proposal
from faultkit.guide.blocks import clean
from faultkit.guide.commands import run_command
from faultkit.guide.left_out import leave_out
from faultkit.guide.opening import begin, complaint, prompt_word
from faultkit.guide.session import (
    Ask,
    Choose,
    Close,
    Confirm,
    Done,
    Propose,
    Reply,
    Session,
    Show,
    Take,
    Turn,
    Used,
    Word,
)
from faultkit.guide.tell import show_news, show_proposal
from faultkit.guide.values import bands_of
from faultkit.problems import InputError

__all__ = ["answer", "start"]

_LONGEST = 500
_NOT_NOW = ("skip", "can't", "cant", "cannot", "can not")


def start(call: Call, now: str) -> Reply:
    """The first reply: what is known and the first question. ``now`` is ISO text like the call's opening."""
    t = Turn(Session(call), now)
    begin(t)
    return _ask(t)


def answer(session: Session, line: str, now: str) -> Reply:
    """What a line brings. It never raises for what was typed: unclear input is asked again."""
    t = Turn(session, now)
    text = clean(line)
    if len(text) > _LONGEST:
        t.say(f"? That is too long: at most {_LONGEST} characters.", "problem")
        return _ask(t)
    try:
        _one(t, text)
    except InputError as fault:
        t.refuse(fault)
    return _ask(t)


def _one(t: Turn, text: str) -> None:
    q = t.session.todo[0]
    if not text:
        t.say("? An empty line says nothing; help lists what can be typed.", "problem")
    elif isinstance(q, Word) and q.kind == "words":
        complaint(t, q, text)
    elif isinstance(q, Take) and _is_band(t, q, text):
        checks.take(t, q, text)
    elif q.job and text.lower().startswith(_NOT_NOW):
        _skip(t, q, text)
    elif not run_command(t, q, text) and not _answered(t, q, text):
        t.say(f"? '{text}' is no answer to this; help lists what can be typed.", "problem")


def _is_band(t: Turn, q: Take, text: str) -> bool:
    """Words of a reading go before commands of the same name."""
    return "_".join(text.lower().split()) in bands_of(t.call.site, q.reading)


def _answered(t: Turn, q: Ask, text: str) -> bool:
    word = text.lower()
    if isinstance(q, Take):
        checks.take(t, q, text)
        return True
    if isinstance(q, Choose):
        checks.choose(t, q, text)
        return True
    if isinstance(q, Confirm):
        return checks.confirm(t, q, word)
    if isinstance(q, Done):
        return remedies.done(t, q, word)
    if isinstance(q, Used):
        return remedies.used(t, q, text)
    return _other(t, q, word, text)


def _other(t: Turn, q: Ask, word: str, text: str) -> bool:
    if isinstance(q, Word) and q.kind == "decision":
        if not remedies.decide(t, q.job, word):
            return False
        if t.session.todo[:1] == (q,):
            t.pop()
        return True
    if isinstance(q, Word):
        complaint(t, q, text)
        return True
    if isinstance(q, Propose):
        return _proposed(t, q, word)
    return isinstance(q, Close) and _closed(t, word)


def _proposed(t: Turn, q: Propose, word: str) -> bool:
    if word not in {"yes", "y", "ok", "do"} or q.kind == "none":
        return False
    t.pop()
    if q.kind == "check":
        checks.begin_check(t, q.job)
    elif q.kind == "remedy":
        remedies.begin_remedy(t, q.job)
    else:
        t.put(kind="closed", outcome="repaired")
        t.say("The call is closed: repaired.", "good")
        t.session = replace(t.session, over=True)
    return True


def _closed(t: Turn, word: str) -> bool:
    outcome = {"1": "cause_not_proved", "2": "left_open_by_decision", "3": "handed_over"}.get(word, word)
    if outcome in {"no", "n"}:
        t.pop()
        return True
    if outcome not in {"cause_not_proved", "left_open_by_decision", "handed_over"}:
        return False
    t.put(kind="closed", outcome=outcome)
    t.say(f"The call is closed: {outcome.replace('_', ' ')}.", "good")
    t.session = replace(t.session, over=True, todo=())
    return True


def _skip(t: Turn, q: Ask, text: str) -> None:
    """Leave out a reading, or the whole job where it cannot be done."""
    word, _, reason = text.partition(" ")
    plain = word.lower() == "skip"
    reason = (reason.strip() if plain else text) or "skipped"
    if isinstance(q, Choose):
        t.pop()
        q = q.take
    if isinstance(q, Used | Word):
        t.pop()
    elif isinstance(q, Take) and plain:
        leave_out(t, q.job, f"{q.reading}: {reason}")
        t.pop()
    else:
        checks.skip(t, q.job, reason)


def _ask(t: Turn) -> Reply:
    """Show what comes before the next question, then the question itself as the last block."""
    while not t.session.over:
        if not t.session.todo:
            show_news(t)
            p = next_proposal(t)
            t.push(p)
            show_proposal(t, p)
        q = t.session.todo[0]
        if not isinstance(q, Show):
            t.say(_prompt(t, q), "prompt")
            break
        checks.show_steps(t, q.job)
        t.pop()
    return t.reply()


def _prompt(t: Turn, q: Ask) -> str:
    if isinstance(q, Take):
        return checks.prompt_take(t, q)
    if isinstance(q, Confirm):
        return checks.prompt_confirm(t, q)
    if isinstance(q, Choose):
        return f"{q.why} " + " / ".join(name for name, _ in q.options)
    if isinstance(q, Word):
        return prompt_word(t, q)
    if isinstance(q, Done):
        return "Is it done? yes / skip"
    if isinstance(q, Used):
        return f"Used a new {q.part.replace('_', ' ')}? yes [number on it] / no"
    if isinstance(q, Close):
        return "Close anyway? 1 cause_not_proved / 2 left_open_by_decision / 3 handed_over / no"
    return _PROPOSED[q.kind] if isinstance(q, Propose) else ""


_PROPOSED = {
    "check": "Do it? yes / skip / list / why / help",
    "remedy": "Do it? yes / skip / list / why / help",
    "close": "Close it? yes / known / help",
    "none": "What now? list / mend / close / known / help",
}

