"""Checks that were not made: kept as notes, so that they are not proposed again, also after a crash."""

from __future__ import annotations

import re

from faultkit.call import Call
from faultkit.guide.session import Turn, live_entries
from faultkit.model.entries import Note

__all__ = ["leave_out", "left_out"]

_NOTE = re.compile(r"Not done: ([a-z0-9_.]+): (.*)")


def leave_out(t: Turn, job: str, reason: str) -> None:
    """Record that a check or remedy was not done, and why."""
    t.put(kind="note", text=f"Not done: {job}: {reason}")


def left_out(call: Call) -> dict[str, str]:
    """Checks and remedies not done, with the reason."""
    found = (_NOTE.fullmatch(e.text) for e in live_entries(call) if isinstance(e, Note))
    return {m[1]: m[2] for m in found if m}
