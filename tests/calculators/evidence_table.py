"""All checks of the calculators, and the table of them: ``python tests/calculators/evidence_table.py`` writes it."""

from __future__ import annotations

import importlib
import sys
from functools import cache
from math import floor, log10
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

from tests.calculators.evidence_check import Check  # noqa: E402 - found only after the line above

__all__ = ["CHECKS", "TABLE", "largest", "read_errors", "table"]

TABLE = ROOT / "faultkit" / "calculators" / "EVIDENCE.md"


def _collected() -> tuple[Check, ...]:
    """The checks of all files in ``evidence``, by calculator."""
    found: list[Check] = []
    for path in sorted((Path(__file__).parent / "evidence").glob("*.py")):
        found += importlib.import_module(f"tests.calculators.evidence.{path.stem}").CHECKS
    return tuple(sorted(found, key=lambda c: c.calculator))


CHECKS = _collected()



@cache
def largest(check: Check) -> float:
    """The largest error of a check, worked out once."""
    return check.largest()


_HEAD = """# What stands behind the calculators

Written by `python tests/calculators/evidence_table.py`; the tests run every line and fail when this page is stale.
*Published* means the figure or rule was seen in a published text; *from memory* that the source named could not be
opened when the check was written.

| calculator | check | source | kind of evidence | allowed | largest error seen |
| --- | --- | --- | --- | --- | --- |
"""


def table() -> str:
    """The page: one line for each check."""
    lines = [
        f"| {c.calculator} | {_cell(c.what)} | {_cell(c.source)} | {c.evidence} | {c.tolerance:g} {c.unit} "
        f"| {_rounded(largest(c))} |\n"
        for c in CHECKS
    ]
    return _HEAD + "".join(lines)


def read_errors(page: str) -> list[float]:
    """The last column of the page."""
    lines = [line for line in page.splitlines() if line.startswith("|")][2:]
    return [float(line.rstrip(" |").rpartition("|")[2]) for line in lines]


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


def _rounded(error: float) -> str:
    """Two significant digits; what is only rounding of the machine is 0."""
    if error < 1e-12:
        return "0"
    return f"{round(error, 1 - floor(log10(error))):.12g}"


if __name__ == "__main__":
    TABLE.write_text(table(), encoding="utf-8")
    sys.stdout.write(f"{len(CHECKS)} checks\n")
