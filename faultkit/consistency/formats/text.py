"""Plain text: errors, warnings, notes, then what is meant in one line."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Severity
from faultkit.consistency.run import Report
from faultkit.consistency.testability.report import Testability, ambiguous

__all__ = ["to_text"]

_HEADS = {Severity.ERROR: "ERRORS", Severity.WARNING: "WARNINGS", Severity.NOTE: "NOTES"}


def to_text(report: Report) -> str:
    """The report for a person."""
    return "\n".join([*_findings(report), *_testability(report), _summary(report)]) + "\n"


def _findings(report: Report) -> Iterator[str]:
    for severity, head in _HEADS.items():
        chosen = [f for f in report.findings if f.severity is severity]
        if chosen:
            yield head
            for f in chosen:
                yield f.render()
            yield ""


def _summary(report: Report) -> str:
    counts = [
        f"{n} {word}{'' if n == 1 else 's'}"
        for severity, word in ((Severity.ERROR, "error"), (Severity.WARNING, "warning"), (Severity.NOTE, "note"))
        if (n := report.count(severity))
    ]
    looked = ", ".join(
        f"{n} {what}{'' if n == 1 else 's'}"
        for n, what in ((len(report.files), "file"), (len(report.types), "equipment type"))
        if n
    )
    cuts, own = report.thresholds
    sources = f"\n{own} of {cuts} thresholds name a source of their own" if cuts else ""
    meant = f"; {len(report.meant)} meant as they are, with reasons" if report.meant else ""
    written = "".join(f"\nbaseline written: {b}" for b in report.baselines)
    said = ", ".join(counts) or "nothing found"
    more = "\nfaultkit explain CODE says more about a finding" if counts else ""
    return f"{looked or 'no catalogue file'}: {said}{meant}{sources}{more}{written}"


def _testability(report: Report) -> Iterator[str]:
    for t in report.testability:
        yield from _one(t)
        yield ""


def _one(t: Testability) -> Iterator[str]:
    m = t.metrics
    yield f"TESTABILITY of {t.equipment}"
    met = f"{m.fraction_detected:.1%}; {m.weighted_fraction_detected:.1%} of those met"
    yield f"  faults {m.faults}, detected {m.detected} ({met})"
    for words, parts in (("faults", m.fraction_isolated), ("remedies", m.fraction_isolated_to_remedies)):
        shown = ", ".join(f"to {n} {p:.1%}" for n, p in enumerate(parts, 1))
        yield f"  isolated, counting {words}: {shown}"
    yield f"  ambiguity groups {m.groups}: mean size {m.mean_group_size:.3g}, expected {m.expected_group_size:.3g}"
    for group in t.groups:
        if len(group) > 1:
            same = "" if ambiguous(t.matrix, group) else " (one remedy)"
            yield f"    not told apart{same}: {', '.join(group)}"
    for name in t.undetected:
        yield f"    not detected: {name}"
    for mask in t.masks:
        yield f"    masked: {mask.pair[0]} and {mask.pair[1]} together look like {mask.fault}"
    s = t.smallest
    how = "the fewest there can be" if s.exact else f"at least {s.at_least} are needed; the search was cut short"
    size = f"{len(s.checks)} of {len(t.matrix.minutes)} checks, {s.minutes:g} minutes"
    yield f"  smallest set that isolates all: {size} ({how})"
    yield from (f"    {name}" for name in s.checks)
    if t.redundant:
        yield "  each of these could be left out alone: " + ", ".join(t.redundant)
