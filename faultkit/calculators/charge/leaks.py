"""Leak rates as the federal rules count them, their limits, and which rule covers an appliance."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Column, Direction, Log, Result, Rows, Word
from faultkit.calculators.charge.regulation import global_warming_potential
from faultkit.calculators.charge.terms import FULL_CHARGE, HANDLING, LB, mass, moved, share
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT
from faultkit.calculators.refrigerants import refrigerant as find
from faultkit.problems import InputError, Problem
from faultkit.units import Kind

__all__ = [
    "LEAKS", "ChronicLeak", "LeakCheck", "LeakRule", "chronic_leak_check", "leak_rate_annualized",
    "leak_rate_rolling", "leak_rule", "leak_rule_check",
]

_DAY = 86_400.0
_YEAR = 365.0 * _DAY
_OZONE = frozenset({"R-22"})
_HFC = frozenset({"R-32", "R-125", "R-134a", "R-143a"})
_OZONE_KG, _HFC_KG = 50.0 * LB, 15.0 * LB
_LEAST_GWP = 53.0
_SPARED = "light commercial air conditioning"
_APPLIANCES = (
    "commercial refrigeration", "industrial process refrigeration", "comfort cooling", "refrigerated transport",
    _SPARED, "other",
)
_HAIR = 1e-9  # 20 % exactly is not over 20 %
_DEFINITION = "40 CFR 82.152, leak rate (seen in the text before 2017; the same method in 84.102)"
_RULES = (
    "40 CFR 82.157(a) and (c)(2), as of 2020-04-10 (seen); 40 CFR 84.106(a) and (c)(2), as of 2026-01-01 (seen as "
    "quoted by others); look for later amendments"
)


@dataclass(frozen=True, slots=True)
class LeakRule:
    """Words, date, ratio, kg (None where no rule covers it), number, words."""

    rule: str
    since: str
    limit: float | None
    from_charge: float | None
    gwp: float
    why: str


@dataclass(frozen=True, slots=True)
class LeakCheck:
    """Ratio by year, ratio (None where no rule covers it), words."""

    rate: float
    limit: float | None
    rule: str
    verdict: str


@dataclass(frozen=True, slots=True)
class ChronicLeak:
    """Ratio, words."""

    share: float
    verdict: str


def leak_rate_annualized(added: float, full_charge: float, days: float) -> float:
    """Leak rate by the annualizing method: what was added, made a year's loss.

    Takes kg added to come back to full charge (all additions for one leak together), kg of full
    charge and s since refrigerant was last added, at least a day and counted as 365 days where
    longer; gives a ratio by year. Not for additions after a retrofit, installation or for a season. The first
    addition since 40 CFR 84.106 began on 2026-01-01 counts 365 days (as quoted by others).

    >>> round(leak_rate_annualized(added=9.0, full_charge=60.0, days=90 * 86400.0), 3)  # lb of lb, 90 days
    0.608
    """
    return added / full_charge / (min(days, _YEAR) / _YEAR)


def leak_rate_rolling(additions: Rows, full_charge: float, period: float) -> float:
    """Leak rate by the rolling-average method: what was added in the last 365 days.

    Rows of s and kg, one for each addition, the last the one the rate is for; kg of full charge; the period
    in s, 365 days or the time since all leaks were repaired and verified, if shorter. An addition as long ago as the
    period counts. Gives a ratio. One method for all appliances of a site.

    >>> round(leak_rate_rolling(((0.0, 4.0), (150 * 86400.0, 9.0)), 60.0, 365 * 86400.0), 3)  # lb of lb
    0.217
    """
    problems = [
        Problem(f"row {n} of 'additions' adds {kg:g} kg", "a weight of zero or more")
        for n, (_, kg) in enumerate(additions, 1) if kg < 0.0
    ]
    if problems:
        raise InputError(problems)
    last = additions[-1][0]
    return sum(kg for at, kg in additions if last - at <= min(period, _YEAR)) / full_charge


def leak_rule(refrigerant: str, full_charge: float, appliance: str) -> LeakRule:
    """Which federal leak-repair rule covers an appliance, and its limit.

    Takes kg and words. From 50 lb of a refrigerant with an ozone-depleting substance 40 CFR 82.157; from 15 lb of
    one with an HFC, or of a substitute with a GWP over 53, 40 CFR 84.106 since 2026-01-01, except residential and
    light commercial air conditioning. States and cities may ask for more.

    >>> leak_rule("R-404A", 6.81, "commercial refrigeration").limit  # 15 lb
    0.2
    >>> leak_rule("R-22", 18.1, "commercial refrigeration").rule  # 40 lb
    'none'
    """
    gwp = global_warming_potential(refrigerant)
    parts = {part for part, _ in find(refrigerant).composition}
    if parts & _OZONE:
        rule, since, least = "40 CFR 82.157", "2019-01-01", _OZONE_KG
    elif (parts & _HFC or gwp > _LEAST_GWP) and appliance != _SPARED:
        rule, since, least = "40 CFR 84.106", "2026-01-01", _HFC_KG
    else:
        why = "not covered by 40 CFR 84.106" if appliance == _SPARED else "no HFC and GWP not over 53"
        return LeakRule("none", "", None, None, gwp, why)
    if full_charge < least * (1.0 - _HAIR):
        return LeakRule("none", "", None, least, gwp, f"full charge below {least / LB:.0f} lb of {rule}")
    return LeakRule(rule, since, _limit(appliance), least, gwp, f"full charge of {least / LB:.0f} lb or more")


def leak_rule_check(
    added: float, full_charge: float, days: float, refrigerant: str, appliance: str
) -> LeakCheck:
    """Is an appliance's leak rate over the federal limit.

    Takes kg, kg, s as ``leak_rate_annualized`` and words as ``leak_rule``. Only a rate over the limit counts.
    Over it: repair within 30 days (120 with an industrial process shutdown) with verification tests, or a plan to
    retrofit or retire.

    >>> leak_rule_check(7.0 * 0.4536, 80.0 * 0.4536, 150 * 86400.0, "R-404A", "commercial refrigeration").verdict
    'over the limit'
    """
    rate = leak_rate_annualized(added, full_charge, days)
    found = leak_rule(refrigerant, full_charge, appliance)
    if found.limit is None:
        verdict = "no federal limit"
    else:
        verdict = "over the limit" if rate > found.limit * (1.0 + _HAIR) else "not over the limit"
    return LeakCheck(rate, found.limit, found.rule, verdict)


def chronic_leak_check(added: float, full_charge: float, threshold: float) -> ChronicLeak:
    """Does an appliance count as chronically leaking in a calendar year.

    Takes kg added in the calendar year and kg of full charge; the threshold, 125 %, counts itself. Such a
    leak is to be reported by March 1 of the next year where a federal leak rule covers the appliance.

    >>> chronic_leak_check(added=125.0, full_charge=100.0, threshold=1.25).verdict
    'chronically leaking'
    """
    lost = added / full_charge
    leaks = lost >= threshold * (1.0 - _HAIR)
    return ChronicLeak(lost, "chronically leaking" if leaks else "not chronically leaking")


def _limit(appliance: str) -> float:
    return {"commercial refrigeration": 0.2, "industrial process refrigeration": 0.3}.get(appliance, 0.1)


_UP, _DOWN = Direction.RISING, Direction.FALLING
_ADDED = mass("added", "refrigerant added to come back to full charge", _UP)
_DAYS = Argument(
    "days", (Kind.TIME,), _DOWN, "since refrigerant was last added", valid=(_DAY, 100.0 * _YEAR), unit="days"
)
_APPLIANCE = Word("appliance", _APPLIANCES, "kind of appliance", default="commercial refrigeration")
_ADDITIONS = Log(
    "additions",
    (Column("time", Kind.TIME, "when", "days", rising=True), Column("weight", Kind.MASS, "added", "lb")),
    "additions of refrigerant, the last one the rate is for", least=1,
)

#: The calculators of this file.
LEAKS: tuple[Calculator, ...] = (
    Calculator(
        "leak_rate_annualized", leak_rate_annualized, (_ADDED, FULL_CHARGE, _DAYS), result=Kind.RATIO, unit="%",
        source=_DEFINITION, caution=HANDLING,
        example={"added": "9 lb ± 0.1 lb", "full_charge": "60 lb", "days": "90 days"},
    ),
    Calculator(
        "leak_rate_rolling", leak_rate_rolling,
        (
            _ADDITIONS, FULL_CHARGE,
            Argument(
                "period", (Kind.TIME,), _UP, "365 days, or since the last verified repair", valid=(_DAY, _YEAR),
                unit="days", default=_YEAR,
            ),
        ),
        result=Kind.RATIO, unit="%", source=_DEFINITION, caution=HANDLING,
        example={"additions": "time (days), weight (lb)\n0, 4\n150, 9", "full_charge": "60 lb"},
    ),
    Calculator(
        "leak_rule", leak_rule, (REFRIGERANT, moved(FULL_CHARGE, None), _APPLIANCE),
        result=(
            Result("rule", None, "rule"), Result("since", None, "in force since"),
            Result("limit", Kind.RATIO, "limit of the leak rate, by year", "%"),
            Result("from_charge", Kind.MASS, "covers a full charge from", "lb"),
            Result("gwp", Kind.COUNT, "global warming potential"), Result("why", None, "why"),
        ),
        source=_RULES, example={"refrigerant": "R-404A", "full_charge": "60 lb"},
    ),
    Calculator(
        "leak_rule_check", leak_rule_check,
        (_ADDED, FULL_CHARGE, _DAYS, REFRIGERANT, _APPLIANCE),
        result=(
            Result("rate", Kind.RATIO, "leak rate, by year", "%"), Result("limit", Kind.RATIO, "limit", "%"),
            Result("rule", None, "rule"), Result("verdict", None, "verdict"),
        ),
        source=f"{_DEFINITION}; {_RULES}", caution=HANDLING,
        example={"added": "7 lb ± 0.1 lb", "full_charge": "80 lb", "days": "150 days", "refrigerant": "R-404A"},
    ),
    Calculator(
        "chronic_leak_check", chronic_leak_check,
        (
            mass("added", "added in the calendar year"), moved(FULL_CHARGE, None),
            share("threshold", "counts as chronic from", (0.1, 10.0), 1.25),
        ),
        result=(Result("share", Kind.RATIO, "of the full charge", "%"), Result("verdict", None, "verdict")),
        source="40 CFR 82.157(j) and 84.106(j), 125 % of the full charge in a calendar year (seen as quoted by others)",
        example={"added": "66 lb", "full_charge": "60 lb"},
    ),
)
