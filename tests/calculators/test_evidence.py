"""Every check against something outside the project, and the table printed from them."""

from __future__ import annotations

import pytest

from faultkit.calculators import CalculatorRegistry
from faultkit.plugins import load_plugins
from tests.calculators.evidence_check import Check
from tests.calculators.evidence_table import CHECKS, TABLE, largest, read_errors, table

REGISTRY: CalculatorRegistry = load_plugins(installed=False).calculators


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: f"{c.calculator}: {c.what}")
def test_within_what_its_source_allows(check: Check) -> None:
    assert largest(check) <= check.tolerance


def test_every_calculator_has_a_check() -> None:
    checked = {c.calculator for c in CHECKS}
    assert not set(REGISTRY) - checked - {"difference", "sum", "percent_of", "percent_deviation"}  # plain arithmetic


def test_no_check_of_a_calculator_that_is_not_there() -> None:
    assert not {c.calculator for c in CHECKS} - set(REGISTRY)


def test_no_check_stands_twice() -> None:
    keys = [(c.calculator, c.what, c.source) for c in CHECKS]
    assert len(set(keys)) == len(keys)


def test_the_printed_table_is_fresh() -> None:
    """Run ``python tests/calculators/evidence_table.py`` when this fails."""
    printed = TABLE.read_text(encoding="utf-8")
    fresh = table()
    assert [line.rpartition("|")[0].rpartition("|")[0] for line in printed.splitlines()] == [
        line.rpartition("|")[0].rpartition("|")[0] for line in fresh.splitlines()
    ]
    # Other builds of the libraries differ in the last digits; a printed error may not be far off.
    for check, old, new in zip(CHECKS, read_errors(printed), read_errors(fresh), strict=True):
        assert old == pytest.approx(new, rel=0.2, abs=0.05 * check.tolerance)
