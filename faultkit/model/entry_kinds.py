"""The kinds of entries a call can hold.

An entry is written once and never changed; a correction names the entry it corrects.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Any, ClassVar

from faultkit.problems import Where

__all__ = [
    "Closed", "Complaint", "Conditions", "Correction", "Decision", "Entry", "Fact", "Location", "Note", "Opened",
    "Part", "Product", "RefrigerantMoved", "RemedyDone", "SetupChange",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What all entries share.

    ``time`` is when it was observed, as ISO text; ``by`` a role (technician, customer, instrument, …),
    ``who`` the person behind it. Entries of the same time stand by ``order``, then by id.
    """

    kind: ClassVar[str] = ""
    id: str = ""
    time: str = ""
    order: int = 0
    by: str = "technician"
    who: str = ""
    where: Where | None = field(default=None, compare=False, repr=False)

    def to_dict(self) -> dict[str, Any]:
        """The entry as JSON holds it; what is empty is left out."""
        data: dict[str, Any] = {"kind": self.kind}
        for f in fields(self):
            value = getattr(self, f.name)
            if f.name == "where" or _nothing(value):
                continue
            data[f.name] = _plain(value)
        return data


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint(Entry):
    """What the customer says is wrong: an event, and the words."""

    kind: ClassVar[str] = "complaint"
    event: str
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact(Entry):
    """One recorded value. ``value`` is a text with unit, a word, or a number with ``unit``."""

    kind: ClassVar[str] = "fact"
    reading: str
    value: str | float
    unit: str = ""
    instrument: str = ""
    state: str = ""

    @property
    def told(self) -> bool:
        """Said by somebody who did not measure: soft, never logic."""
        return self.by not in {"technician", "instrument"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions(Entry):
    """What the call allows: forbidden hazards and power states, missing tools, crew, weather, role."""

    kind: ClassVar[str] = "conditions"
    forbid: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    missing_tools: tuple[str, ...] = ()
    crew: int = 1
    weather: str = ""
    role: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Location(Entry):
    """Where the technician is now."""

    kind: ClassVar[str] = "location"
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupChange(Entry):
    """Set-ups made or taken away at a unit."""

    kind: ClassVar[str] = "setup"
    unit: str
    on: tuple[str, ...] = ()
    off: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RemedyDone(Entry):
    """A remedy was carried out."""

    kind: ClassVar[str] = "remedy"
    unit: str
    remedy: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision(Entry):
    """The customer's word on a remedy: approved, declined or deferred."""

    kind: ClassVar[str] = "decision"
    unit: str
    remedy: str
    answer: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction(Entry):
    """A new value for an earlier fact, or the withdrawal of any earlier entry.

    It may name a correction: a new value then replaces what that one said, a withdrawal undoes it.
    """

    kind: ClassVar[str] = "correction"
    corrects: str
    value: str | float | None = None
    unit: str = ""
    instrument: str = ""
    state: str = ""
    retract: bool = False
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note(Entry):
    """Free text."""

    kind: ClassVar[str] = "note"
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened(Entry):
    """The head of a record: the call, the name of its site, the site's file as seen from the record."""

    kind: ClassVar[str] = "opened"
    call: str = ""
    site: str
    site_file: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part(Entry):
    """A part was used. ``number`` is what stands on it, ``remedy`` what it was used for."""

    kind: ClassVar[str] = "part"
    unit: str
    part: str
    count: int = 1
    number: str = ""
    remedy: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RefrigerantMoved(Entry):
    """Refrigerant put into a unit or taken out of it.

    ``mass`` and ``accuracy`` are texts with a unit; ``cylinder`` is the one it came from or went into.
    """

    kind: ClassVar[str] = "refrigerant"
    unit: str
    way: str
    refrigerant: str
    mass: str
    accuracy: str = ""
    cylinder: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Product(Entry):
    """What became of food: moved, discarded or kept; by whom stands in ``by`` and ``who``."""

    kind: ClassVar[str] = "product"
    food: str
    action: str
    unit: str = ""
    amount: str = ""
    temperature: str = ""
    instrument: str = ""
    to: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed(Entry):
    """The call was closed. What comes in later is still taken; the latest closing counts."""

    kind: ClassVar[str] = "closed"
    outcome: str
    reason: str = ""


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, tuple):
        return list(value)
    if value is True:
        return "yes"
    return value


def _nothing(value: Any) -> bool:
    # Not `in`: a fact of 0.0 equals False, and is something.
    return value is None or value is False or value in ("", ()) or (value == 0 and type(value) is int)
