"""X903: a type whose logic is too large to decide here: nothing is proved about it."""

from __future__ import annotations

from faultkit.consistency.finding import Rule, Severity

__all__ = ["RULE"]

RULE = Rule("X903", "undecided", "A type too large to decide", Severity.WARNING)
