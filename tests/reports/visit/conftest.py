"""Calls of the examples and one with hostile texts, with their reports."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import faultkit
from faultkit.model.catalogue import Catalogue
from faultkit.reports.visit.data import Report
from faultkit.reports.visit.gather import build_report
from faultkit.reports.visit.prices import load_prices

ROOT = Path(__file__).parents[3]
EXAMPLES = ROOT / "examples"
NAMES = (
    "conflict", "four_remedies", "leak_and_declined_cleaning", "motor_on_suspicion", "one_fault", "three_faults",
)
HOSTILE = '<script>alert(1)</script> | "x" \' & `y` *z* [a](b) \x07 \u202e </style></svg><img src=x onerror=alert(2)>'

Both = tuple[faultkit.Call, Report]


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return faultkit.load_catalogue(installed=False)


def made(call: faultkit.Call, prices: Path | None = None) -> Both:
    return call, build_report(call, call.diagnose(advice=False), load_prices(prices) if prices else None)


@pytest.fixture(scope="session")
def calls(catalogue: Catalogue) -> dict[str, Both]:
    found = {n: made(faultkit.load_call(EXAMPLES / f"{n}.call.yaml", catalogue)) for n in NAMES}
    leak = found["leak_and_declined_cleaning"][0]
    found["priced"] = made(leak, EXAMPLES / "prices.json")
    found["empty"] = made(replace(leak, entries=()))
    found["hostile"] = made(_hostile(leak))
    return found


def _hostile(leak: faultkit.Call) -> faultkit.Call:
    """The leak, with markup wherever somebody on the call writes freely."""
    entries = [e.to_dict() for e in leak.entries]
    for e in entries:
        for key in ("words", "reason", "who", "food", "amount", "to", "cylinder", "number"):
            if key in e:
                e[key] = HOSTILE
    entries.append({"kind": "note", "id": "n1", "text": HOSTILE, "time": "2026-06-09T20:06"})
    return replace(leak, title=HOSTILE, entries=()).merge(entries)


@pytest.fixture(scope="session")
def leak(calls: dict[str, Both]) -> Both:
    return calls["leak_and_declined_cleaning"]
