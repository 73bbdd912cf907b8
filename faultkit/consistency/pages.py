"""The page of each check: markdown beside its module."""

from __future__ import annotations

from pathlib import Path

from faultkit.consistency.rules import BY_CODE, RULES
from faultkit.problems import InputError, did_you_mean

__all__ = ["HEADINGS", "explain", "overview", "page_file"]

#: The headings of every page, in this order.
HEADINGS = (
    "What it finds", "Why it matters", "Bad example", "Good example", "How to fix", "Exceptions",
)


def page_file(code: str) -> Path:
    """The file of a check's page. InputError for a code that does not exist."""
    rule = BY_CODE.get(code.upper())
    if rule is None:
        raise InputError(f"there is no check '{code}'", did_you_mean(code.upper(), BY_CODE, cutoff=0.5))
    return Path(__file__).parent / "checks" / f"{rule.code.lower()}_{rule.name.replace('-', '_')}.md"


def explain(code: str) -> str:
    """The page of a check, as markdown."""
    return page_file(code).read_text(encoding="utf-8")


def overview() -> str:
    """Every check, a line each."""
    return "".join(f"{r.code}  {r.severity:7}  {r.title}\n" for r in RULES)
