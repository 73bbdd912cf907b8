"""X902: an exception for something that is no longer found."""

from __future__ import annotations

from faultkit.consistency.finding import Rule, Severity

__all__ = ["RULE"]

RULE = Rule("X902", "unused-exception", "An exception that excepts nothing", Severity.WARNING)
