"""What a check of a catalogue finds, and what a check is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, Any

from faultkit.problems import Problem, Where

if TYPE_CHECKING:
    from faultkit.consistency.subject import Subject

__all__ = ["Finding", "Rule", "Severity"]


class Severity(StrEnum):
    """How much a finding weighs. Errors and warnings fail a run, notes do not."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One complaint about a catalogue.

    ``what`` says what is wrong, ``cure`` what to do instead, ``witness`` shows it: names and
    values (readings, settings, house events, events) under which it happens. ``equipment`` and
    ``name`` say what it is about. ``more`` counts the same complaint at the same place: other copies,
    other including types, other pairs.
    """

    code: str
    severity: Severity
    what: str
    cure: str
    where: Where | None
    witness: tuple[tuple[str, str], ...] = ()
    equipment: str = ""
    name: str = ""
    more: int = 0
    data: Mapping[str, Any] = field(default_factory=dict, compare=False, repr=False)

    def render(self) -> str:
        """The finding for a person: place, the line with a caret, what, the witness, what to do."""
        more = f" (and {self.more} more like it at this place)" if self.more else ""
        text = Problem(f"{self.severity} {self.code}: {self.what}{more}", "", self.where).render()
        lines = [text]
        if self.witness:
            lines.append("    shown by: " + ", ".join(f"{k} = {v}" for k, v in self.witness))
        if self.cure:
            lines.append(f"    instead: {self.cure}")
        return "\n".join(lines)

    def to_dict(self) -> dict[str, Any]:
        """The finding as JSON holds it."""
        where = self.where
        place = {"file": where.file, "line": where.line, "column": where.column} if where else None
        return {
            "code": self.code,
            "severity": self.severity.value,
            "what": self.what,
            "cure": self.cure,
            "place": place,
            "witness": dict(self.witness),
            "equipment": self.equipment,
            "name": self.name,
            "more": self.more,
        }


@dataclass(frozen=True, slots=True)
class Rule:
    """One check: a stable ``code`` (never used again for anything else), its name and what runs it.

    ``run`` is None for what the run itself finds (bad input, exceptions).
    """

    code: str
    name: str
    title: str
    severity: Severity
    run: Callable[[Subject], Iterable[Finding]] | None = None

    def found(
        self,
        what: str,
        cure: str,
        where: Where | None,
        *,
        witness: Iterable[tuple[str, str]] = (),
        equipment: str = "",
        name: str = "",
        data: Mapping[str, Any] | None = None,
    ) -> Finding:
        """A finding of this check."""
        return Finding(
            self.code, self.severity, what, cure, where, tuple(witness), equipment, name, data=data or {}
        )
