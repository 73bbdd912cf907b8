"""X901: an exception that cannot count: no reason, or a code that does not exist."""

from __future__ import annotations

from faultkit.consistency.finding import Rule, Severity

__all__ = ["RULE"]

RULE = Rule("X901", "bad-exception", "An exception that cannot count", Severity.ERROR)
