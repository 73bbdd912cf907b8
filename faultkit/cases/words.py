"""Results of cases as text for a person."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from faultkit.cases.coverage import PARTS, Coverage, Shortfall
from faultkit.cases.model import Failure, Outcome, Result
from faultkit.reports.words import wrapped

__all__ = ["coverage_lines", "failure_lines", "result_lines", "shortfall_words", "summary", "verdict"]

_REACHED = "reached by cases"
#: Names shown of what no case reaches, per part.
MISSED = 8

_VERDICTS = {
    Outcome.PASSED: "passed",
    Outcome.FAILED: "FAILED",
    Outcome.KNOWN: "known to fail",
    Outcome.FIXED: "NO LONGER FAILS",
}


def verdict(outcome: Outcome) -> str:
    """An outcome in words."""
    return _VERDICTS[outcome]


def result_lines(result: Result) -> list[str]:
    """A case that did not simply pass: its story, and each expectation with what came instead."""
    case = result.case
    out = [f"{verdict(result.outcome)}  {case.full_name}" + (f"  ({case.where})" if case.where else "")]
    out += wrapped(case.story, 2)
    if case.known_to_fail:
        out += wrapped(f"known to fail: {case.known_to_fail}", 2, 4)
    if result.outcome is Outcome.FIXED:
        out += wrapped("it passes now: take 'known_to_fail' out", 2, 4)
    # What a case known to fail gets wrong is written in its reason; pages of it would hide the others.
    for failure in () if result.outcome is Outcome.KNOWN else result.failures:
        out += failure_lines(failure)
    return out


def failure_lines(failure: Failure) -> list[str]:
    """One unmet expectation."""
    out = ["", *wrapped(f"expected    {failure.expected}", 4, 16)]
    out += wrapped(f"came        {failure.came}", 4, 16)
    if failure.decided_by:
        out += wrapped(f"decided by  {failure.decided_by}", 4, 16)
    out += [f"    {line}" for line in failure.why]
    if failure.where:
        out.append(f"    at {failure.where}")
    return out


def summary(results: Sequence[Result], elapsed: float) -> str:
    """How many cases went which way, and how fast (``elapsed`` seconds for all of them)."""
    count = Counter(r.outcome for r in results)
    parts = [f"{count[o]} {verdict(o).lower()}" for o in Outcome if count[o]]
    pace = f"; {elapsed:.1f} s, {len(results) / elapsed:.1f} cases a second" if elapsed > 0.0 else ""
    return f"{len(results)} case{'' if len(results) == 1 else 's'}: {', '.join(parts)}{pace}"


def shortfall_words(s: Shortfall) -> str:
    """What is reached, and what should be."""
    return f"{s.reached:.1f} % of the {s.part} of {s.type} reached by cases, {s.least:g} % wanted"


def coverage_lines(covered: Mapping[str, Coverage], short: Sequence[Shortfall], *, missed: bool) -> list[str]:
    """A table of the shares reached; with ``missed`` the names that no case reaches."""
    width = max(map(len, [_REACHED, *covered]))
    out = [_REACHED.ljust(width) + "".join(f"  {p:>16}" for p in PARTS)] if covered else []
    for name, c in covered.items():
        cells = (f"{c.percent(p):.0f} % of {len(c.whole[p])}" for p in PARTS)
        out.append(name.ljust(width) + "".join(f"  {cell:>16}" for cell in cells))
        if missed:
            for part in PARTS:
                names = c.missed(part)
                more = f" and {len(names) - MISSED} more" if len(names) > MISSED else ""
                if names:
                    out += wrapped(f"no case for {part}: " + ", ".join(names[:MISSED]) + more, 2, 4)
    for s in short:
        out += wrapped(f"TOO LITTLE  {shortfall_words(s)}  ({s.where})", 0, 12)
    return out
