"""The state of a session, the questions it can have open, and one turn of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from faultkit.call import Call
from faultkit.diagnosis.moves import Allowed, Standing, standing_of
from faultkit.diagnosis.result import Diagnosis
from faultkit.evidence.corrections import effective
from faultkit.guide.blocks import Block
from faultkit.model.entries import Entry, entry_from_data
from faultkit.problems import InputError
from faultkit.reports.words import Speaker

__all__ = [
    "Ask", "Choose", "Close", "Confirm", "Done", "Propose", "Reply", "Session", "Show", "Take", "Turn", "Used", "Word",
    "live_entries",
]


@dataclass(frozen=True, slots=True)
class Ask:
    """A question; ``job`` is the check or remedy it belongs to ('' for none)."""

    job: str = ""


@dataclass(frozen=True, slots=True)
class Propose(Ask):
    """Do this? ``kind``: check, remedy, close or none; ``why`` is said when asked."""

    kind: str = "none"
    why: str = ""


@dataclass(frozen=True, slots=True)
class Confirm(Ask):
    """Is it so? ``kind``: place, on, off (a set-up of ``unit``), state or role."""

    kind: str = ""
    unit: str = ""
    what: str = ""


@dataclass(frozen=True, slots=True)
class Show(Ask):
    """No question: the steps of the job, once everything before them is confirmed."""


@dataclass(frozen=True, slots=True)
class Take(Ask):
    """A reading to take, in a state."""

    reading: str = ""
    state: str = ""


@dataclass(frozen=True, slots=True)
class Choose(Ask):
    """A value that is not sure: options as (what to type, value to record)."""

    take: Take = Take()
    why: str = ""
    options: tuple[tuple[str, str], ...] = ()
    sure: bool = False


@dataclass(frozen=True, slots=True)
class Word(Ask):
    """``kind`` complaint or words (the customer's, of event ``job``), or decision (on remedy ``job``)."""

    kind: str = "complaint"


@dataclass(frozen=True, slots=True)
class Done(Ask):
    """Is the remedy done?"""


@dataclass(frozen=True, slots=True)
class Used(Ask):
    """Was this part used for the remedy?"""

    part: str = ""


@dataclass(frozen=True, slots=True)
class Close(Ask):
    """Close although something is missing?"""


@dataclass(frozen=True, slots=True)
class Session:
    """A session between two lines. Only ``call`` lasts; the rest is made again from it after a crash.

    ``todo`` holds the open questions, the first is asked. ``listed`` are the checks listed last, by number.
    ``shown`` are cautions said, each with the
    place and set-ups it was said in; ``known`` are the proved causes already told of.
    """

    call: Call
    todo: tuple[Ask, ...] = ()
    shown: frozenset[tuple[str, str, frozenset[tuple[str, str]]]] = frozenset()
    known: frozenset[str] = frozenset()
    diagnosis: Diagnosis | None = None
    quick: Diagnosis | None = None
    listed: tuple[str, ...] = ()
    over: bool = False


@dataclass(frozen=True, slots=True)
class Reply:
    """What a line brought: the next session, what to show, and entries to record, complete with id and time."""

    session: Session
    blocks: tuple[Block, ...]
    entries: tuple[Entry, ...] = ()


class Turn:
    """One turn under way. ``now`` is the clock as ISO text, of the same form as the call's opening."""

    def __init__(self, session: Session, now: str) -> None:
        self.session = session
        self.now = now
        self.blocks: list[Block] = []
        self.entries: list[Entry] = []

    @property
    def call(self) -> Call:
        """The call with what this turn added."""
        return self.session.call

    @property
    def speak(self) -> Speaker:
        """Words for this call."""
        return Speaker(self.call)

    @property
    def standing(self) -> Standing:
        """Place and set-ups now."""
        return standing_of(self.call.site, self.call.entries)[0]

    @property
    def allowed(self) -> Allowed:
        """What the call allows."""
        return standing_of(self.call.site, self.call.entries)[1]

    @property
    def diagnosis(self) -> Diagnosis:
        """With advice; made once for the entries of the moment."""
        if self.session.diagnosis is None:
            self.session = replace(self.session, diagnosis=self.call.diagnose())
        assert self.session.diagnosis is not None
        return self.session.diagnosis

    @property
    def quick(self) -> Diagnosis:
        """The diagnosis without advice, which is what takes its time."""
        if self.session.diagnosis is not None:
            return self.session.diagnosis
        if self.session.quick is None:
            self.session = replace(self.session, quick=self.call.diagnose(advice=False))
        assert self.session.quick is not None
        return self.session.quick

    def say(self, text: str, style: str = "text", indent: int = 0) -> None:
        """One more block."""
        self.blocks.append(Block(style, text, indent))

    def fact(self, ident: str) -> str:
        """What an entry said, without its id: a person knows it by its number in ``look``."""
        return self.speak.fact(ident).rsplit(" [", 1)[0]

    def refuse(self, fault: InputError) -> None:
        """Say what is wrong and what to write instead."""
        for p in fault.problems:
            self.say(f"? {p.what}" + (f": {p.expected}" if p.expected else ""), "problem")

    def put(self, **data: Any) -> Entry:
        """Record an entry now, always later than those before it. InputError where it does not fit."""
        entry = entry_from_data({**data, "time": self._tick()})
        before = {e.id for e in self.call.entries}
        call = self.call.add(entry)
        made = next(e for e in call.entries if e.id not in before)
        self.entries.append(made)
        self.session = replace(self.session, call=call, diagnosis=None, quick=None)
        return made

    def with_fact(self, data: Mapping[str, Any]) -> Call:
        """The call if this were recorded now."""
        return self.call.add(entry_from_data({**data, "time": self._tick()}))

    def _tick(self) -> str:
        now = datetime.fromisoformat(self.now)
        for e in self.call.entries[-1:]:
            now = max(now, datetime.fromisoformat(e.time) + timedelta(seconds=1))
        return now.isoformat(timespec="seconds")

    def push(self, *asks: Ask) -> None:
        """Questions to ask before all others."""
        self.session = replace(self.session, todo=(*asks, *self.session.todo))

    def pop(self) -> None:
        """The first question is answered."""
        self.session = replace(self.session, todo=self.session.todo[1:])

    def drop(self, job: str = "") -> None:
        """Leave the questions of a job, or all."""
        self.session = replace(self.session, todo=tuple(q for q in self.session.todo if job and q.job != job))

    def reply(self) -> Reply:
        """The turn as it ended."""
        return Reply(self.session, tuple(self.blocks), tuple(self.entries))


def live_entries(call: Call) -> list[Entry]:
    """Entries as they count now, without those withdrawn."""
    live, withdrawn = effective(call.entries)
    return [e for e in live if e.id not in withdrawn]
