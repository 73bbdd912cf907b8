"""Evacuation levels, leak rates and their rules, flammable charges."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators.ask import ask
from faultkit.calculators.charge import CHARGE
from faultkit.calculators.charge.flammable import (
    flammable_charge_check,
    flammable_charge_limit,
    room_concentration_check,
    smallest_room,
)
from faultkit.calculators.charge.leaks import (
    chronic_leak_check,
    leak_rate_annualized,
    leak_rate_rolling,
    leak_rule,
    leak_rule_check,
)
from faultkit.calculators.charge.regulation import (
    evacuation_level,
    global_warming_potential,
    pressure_class,
    recovery_requirement,
)
from faultkit.calculators.refrigerants import REFRIGERANT
from faultkit.problems import InputError
from faultkit.units import from_si, to_si

BY_NAME = {c.name: c for c in CHARGE}
DAY = 86_400.0


# -- rules -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("refrigerant", "pounds", "vacuum"),
    [("R-22", 20.0, 0.0), ("R-22", 199.9, 0.0), ("R-22", 200.0, 10.0), ("R-404A", 20.0, 0.0), ("R-134a", 20.0, 10.0),
     ("R-134a", 200.0, 15.0), ("R-600a", 2.0, 10.0), ("R-410A", 300.0, 10.0), ("R-744", 500.0, 0.0)],
)
def test_evacuation_levels(refrigerant: str, pounds: float, vacuum: float) -> None:
    level = evacuation_level(refrigerant, to_si(pounds, "lb"), "newer", "major")
    assert from_si(level, "inHg_vac") == pytest.approx(vacuum)
    assert level == 0.0 or level < 0.0


def test_small_work_without_evacuation_needs_only_zero() -> None:
    assert evacuation_level("R-134a", 100.0, "newer", "not major") == 0.0


@pytest.mark.parametrize(
    ("compressor", "machine", "share"),
    [("runs", "newer", 0.9), ("does not run", "newer", 0.8), ("runs", "older", 0.8)],
)
def test_small_appliances(compressor: str, machine: str, share: float) -> None:
    found = recovery_requirement("R-134a", to_si(5.0, "lb"), "small", compressor, machine, "major")
    assert found.share == share
    assert found.weight == pytest.approx(share * to_si(5.0, "lb"))
    assert from_si(found.level, "inHg_vac") == pytest.approx(4.0)


def test_six_pounds_is_no_small_appliance() -> None:
    with pytest.raises(InputError, match="full_charge 6 lb is no small appliance's"):
        recovery_requirement("R-134a", to_si(6.0, "lb"), "small", "runs", "newer", "major")


@pytest.mark.parametrize("name", REFRIGERANT.choices)
def test_every_refrigerant_has_a_class_and_a_warming_potential(name: str) -> None:
    assert pressure_class(name).name in {"medium", "high", "very high"}
    assert 1.0 <= global_warming_potential(name) <= 4000.0
    assert "venting" in recovery_requirement(name, 1.0, "other", "runs", "newer", "major").note or (
        name not in {"R-290", "R-600a", "R-744"}
    )


@pytest.mark.parametrize(
    ("name", "pounds", "appliance", "rule", "limit"),
    [
        ("R-404A", 15.0, "commercial refrigeration", "40 CFR 84.106", 0.2),
        ("R-404A", 14.99, "commercial refrigeration", "none", None),
        ("R-404A", 60.0, "industrial process refrigeration", "40 CFR 84.106", 0.3),
        ("R-410A", 60.0, "comfort cooling", "40 CFR 84.106", 0.1),
        ("R-134a", 60.0, "refrigerated transport", "40 CFR 84.106", 0.1),
        ("R-410A", 60.0, "light commercial air conditioning", "none", None),
        ("R-454C", 20.0, "other", "40 CFR 84.106", 0.1),
        ("R-22", 50.0, "commercial refrigeration", "40 CFR 82.157", 0.2),
        ("R-22", 49.9, "commercial refrigeration", "none", None),
        ("R-290", 100.0, "commercial refrigeration", "none", None),
        ("R-744", 500.0, "commercial refrigeration", "none", None),
    ],
)
def test_which_leak_rule(name: str, pounds: float, appliance: str, rule: str, limit: float | None) -> None:
    found = leak_rule(name, to_si(pounds, "lb"), appliance)
    assert (found.rule, found.limit) == (rule, limit)
    assert found.since == {"40 CFR 84.106": "2026-01-01", "40 CFR 82.157": "2019-01-01"}.get(rule, "")


@pytest.mark.parametrize(
    ("added", "verdict"), [(12.0, "not over the limit"), (12.001, "over the limit"), (11.999, "not over the limit")]
)
def test_exactly_at_the_limit_is_not_over(added: float, verdict: str) -> None:
    full = to_si(60.0, "lb")
    found = leak_rule_check(to_si(added, "lb"), full, 400.0 * DAY, "R-404A", "commercial refrigeration")
    assert found.verdict == verdict


def test_no_rule_no_verdict() -> None:
    found = leak_rule_check(1.0, 5.0, 30.0 * DAY, "R-404A", "commercial refrigeration")
    assert (found.verdict, found.limit) == ("no federal limit", None)


def test_a_rate_within_the_scale_of_the_limit_says_so() -> None:
    answer = ask(BY_NAME["leak_rule_check"], {
        "added": "6.6 lb ± 0.1 lb", "full_charge": "80 lb", "days": "150 days", "refrigerant": "R-404A",
    })
    assert (answer["verdict"].value, answer["verdict"].others) == ("over the limit", ("not over the limit",))


@given(added=st.floats(0.0, 100.0), full=st.floats(1.0, 500.0), days=st.floats(1.0, 5000.0))
def test_a_year_is_the_longest_that_counts(added: float, full: float, days: float) -> None:
    rate = leak_rate_annualized(added, full, days * DAY)
    assert rate >= added / full * (1.0 - 1e-12)
    if days >= 365.0:
        assert rate == pytest.approx(added / full)


def test_rolling_counts_what_lies_in_the_period() -> None:
    rows = ((0.0, 1.0), (100.0 * DAY, 2.0), (365.0 * DAY, 4.0), (466.0 * DAY, 8.0))
    assert leak_rate_rolling(rows[:3], 1.0, 365.0 * DAY) == 7.0
    assert leak_rate_rolling(rows, 1.0, 365.0 * DAY) == 12.0
    assert leak_rate_rolling(rows, 1.0, 60.0 * DAY) == 8.0


def test_refrigerant_taken_out_is_no_addition() -> None:
    with pytest.raises(InputError, match="row 2 of 'additions' adds -1 kg"):
        leak_rate_rolling(((0.0, 1.0), (DAY, -1.0)), 10.0, 365.0 * DAY)


def test_less_than_a_day_is_refused() -> None:
    with pytest.raises(InputError, match=r"'days' of 'leak_rate_annualized' is 0\.5 days"):
        ask(BY_NAME["leak_rate_annualized"], {"added": "1 lb", "full_charge": "60 lb", "days": "12 h"})


def test_chronic_counts_its_threshold() -> None:
    assert chronic_leak_check(75.0, 60.0, 1.25).verdict == "chronically leaking"
    assert chronic_leak_check(74.9, 60.0, 1.25).verdict == "not chronically leaking"


# -- flammable -----------------------------------------------------------------------------


def test_limits_by_cabinet() -> None:
    limits = [flammable_charge_limit("R-290", c) for c in ("earlier listing", "with doors", "open")]
    assert all(a < b for a, b in pairwise(limits))
    assert flammable_charge_limit("R-454C", "open") == 1.2


@pytest.mark.parametrize("name", ["R-404A", "R-744"])
def test_what_does_not_burn_has_no_limit(name: str) -> None:
    with pytest.raises(InputError, match=f"{name} has no flammability limit here"):
        flammable_charge_limit(name, "open")


def test_charge_against_its_limit() -> None:
    assert flammable_charge_check(0.15, "R-290", "earlier listing").verdict == "within the limit"
    assert flammable_charge_check(0.151, "R-290", "earlier listing").verdict == "over the limit"


@given(charge=st.floats(0.01, 500.0), limit=st.floats(1e-3, 2.0))
def test_the_smallest_room_is_just_large_enough(charge: float, limit: float) -> None:
    room = smallest_room(charge, limit)
    assert room_concentration_check(charge, room, limit).verdict == "within the limit"
    assert room_concentration_check(charge, room * 0.999, limit).verdict == "over the limit"
