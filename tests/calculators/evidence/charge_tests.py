"""Leak rates, rules, vacuum, decay and nitrogen tests against the rules' steps, other libraries and simulation."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import partial
from typing import Any

from faultkit.calculators.charge import decay, leaks, nitrogen, regulation, vacuum
from faultkit.units import from_si, to_si
from tests.calculators.decay_logs import decay_log, water_pressure
from tests.calculators.evidence_check import Check, Evidence

DAY = 86_400.0
LEAK_STEPS = "40 CFR 82.152, leak rate, its steps carried out with fractions (text before 2017 seen)"
LIMITS = "40 CFR 82.157(a), (c)(2) (seen); 40 CFR 84.106(a), (c)(2) as quoted by others (seen)"
TABLE_1 = "40 CFR 82.156, Table 1 (seen)"
SMALL = "40 CFR 82.156 on small appliances (text before 2017 seen)"
CLASSES = "40 CFR 82.152: R-22 among the high-pressure examples (seen); R-134a, R-410A, R-404A from memory"
PRINTED_GWP = "EPA's list for the technology transitions rule (from memory)"
MANUAL = "a maker's service manual: a leak rises on, moisture levels off (seen); simulated in small steps"


def f(degrees: float) -> float:
    return to_si(degrees, "degF")


def psia(psig: float) -> float:
    return to_si(psig + 14.695949, "psia")


def percent(got: float, expected: float) -> float:
    return 100.0 * (got - expected) / expected


# -- leak rates ------------------------------------------------------------------

ADDED = ((9, 60, 90), (7, 80, 150), (3, 16, 400), (10, 100, 365), (5, 50, 1), (12, 60, 366))


def annualized() -> Iterator[float]:
    """Step 1: added by full charge. Step 2: the shorter of days and 365, by 365. Step 3: divide. Step 4: times 100."""
    for added, full, days in ADDED:
        first, second = Fraction(added, full), Fraction(min(days, 365), 365)
        got = leaks.leak_rate_annualized(to_si(added, "lb"), to_si(full, "lb"), days * DAY)
        yield 100.0 * got - float(100 * first / second)


def rolling() -> Iterator[float]:
    for additions, full, period, pounds in (
        (((0, 4), (150, 9)), 60, 365, 13), (((0, 5), (365, 2)), 50, 365, 7), (((0, 5), (366, 2)), 50, 365, 2),
        (((0, 3), (40, 3), (80, 3)), 30, 60, 6),
    ):
        rows = tuple((day * DAY, to_si(weight, "lb")) for day, weight in additions)
        got = leaks.leak_rate_rolling(rows, to_si(full, "lb"), period * DAY)
        yield 100.0 * got - float(Fraction(100 * pounds, full))


def limits() -> Iterator[float]:
    for name, pounds, appliance, limit in (
        ("R-404A", 15, "commercial refrigeration", 20), ("R-404A", 500, "industrial process refrigeration", 30),
        ("R-410A", 60, "comfort cooling", 10), ("R-134a", 20, "refrigerated transport", 10),
        ("R-448A", 100, "other", 10), ("R-22", 50, "commercial refrigeration", 20), ("R-22", 60, "comfort cooling", 10),
    ):
        limit_found = leaks.leak_rule(name, to_si(pounds, "lb"), appliance).limit
        yield 100.0 * (limit_found or 0.0) - limit


def uncovered() -> Iterator[float]:
    for name, pounds, appliance in (
        ("R-404A", 14.9, "commercial refrigeration"), ("R-22", 49.0, "commercial refrigeration"),
        ("R-410A", 60.0, "light commercial air conditioning"), ("R-290", 60.0, "other"), ("R-744", 900.0, "other"),
    ):
        yield float(leaks.leak_rule(name, to_si(pounds, "lb"), appliance).rule != "none")


def over() -> Iterator[float]:
    for added, full, days, verdict in (
        (9, 60, 90, "over the limit"), (7, 80, 150, "over the limit"), (12, 60, 365, "not over the limit"),
        (3, 16, 400, "not over the limit"), (13, 60, 500, "over the limit"),
    ):
        got = leaks.leak_rule_check(
            to_si(added, "lb"), to_si(full, "lb"), days * DAY, "R-404A", "commercial refrigeration"
        )
        yield float(got.verdict != verdict)


def chronic() -> Iterator[float]:
    for added, full, verdict in ((75.0, 60.0, ""), (74.0, 60.0, "not "), (200.0, 100.0, "")):
        yield float(leaks.chronic_leak_check(added, full, 1.25).verdict != f"{verdict}chronically leaking")


# -- rules -------------------------------------------------------------------------


def warming() -> Iterator[float]:
    for name, printed in (
        ("R-134a", 1430), ("R-404A", 3922), ("R-407A", 2107), ("R-407C", 1774), ("R-410A", 2088), ("R-448A", 1386),
        ("R-449A", 1396), ("R-452A", 2140), ("R-507A", 3985), ("R-513A", 630), ("R-454C", 146),
    ):
        yield regulation.global_warming_potential(name) - printed


def classes() -> Iterator[float]:
    for name, found in (
        ("R-22", "high"), ("R-410A", "high"), ("R-404A", "high"), ("R-134a", "medium"), ("R-744", "very high"),
    ):
        yield float(regulation.pressure_class(name).name != found)


def at_104() -> Iterator[float]:
    from CoolProp.CoolProp import PropsSI

    for fluid, name in (("R22", "R-22"), ("R134a", "R-134a"), ("R290", "R-290"), ("R410A", "R-410A")):
        pressure = regulation.pressure_class(name).pressure
        assert pressure is not None
        yield (pressure - PropsSI("P", "T", f(104.0), "Q", 0, fluid)) / 6894.757


#: Refrigerant of the class, lb, inHg with an older and with a newer machine.
ROWS = (("R-744", 500, 0, 0), ("R-22", 199, 0, 0), ("R-22", 200, 4, 10), ("R-134a", 199, 4, 10), ("R-134a", 200, 4, 15))


def table_1() -> Iterator[float]:
    for name, pounds, *levels in ROWS:
        for machine, inches in zip(("older", "newer"), levels, strict=True):
            got = regulation.evacuation_level(name, to_si(pounds, "lb"), machine, "major")
            yield from_si(got, "inHg_vac") - inches


def small() -> Iterator[float]:
    for compressor, machine, points in (
        ("runs", "newer", 90), ("does not run", "newer", 80), ("runs", "older", 80), ("does not run", "older", 80),
    ):
        found = regulation.recovery_requirement("R-134a", 1.0, "small", compressor, machine, "major")
        yield 100.0 * (found.share or 0.0) - points
        yield from_si(found.level, "inHg_vac") - 4.0


# -- vacuum ------------------------------------------------------------------------------


def gauges() -> Iterator[float]:
    import pint

    u: Any = pint.UnitRegistry()
    for microns in (50.0, 500.0, 1500.0, 25_000.0):
        inches = ((1.0 * u.atm) - microns * 1e-3 * u.mmHg).to("inHg").magnitude
        got = vacuum.vacuum_reading(to_si(microns, "micron"), 101_325.0)
        yield from_si(got.depth, "inHg_vac") - inches


def boiling(*, inverse: bool) -> Iterator[float]:
    """Over water; ice is no phase of CoolProp's."""
    from CoolProp.CoolProp import PropsSI

    for degrees in (33.0, 40.0, 60.0, 72.0, 90.0, 120.0, 212.0):
        pressure = PropsSI("P", "T", f(degrees), "Q", 0, "Water")
        if inverse:
            yield from_si(vacuum.water_boiling_temperature(pressure), "degF") - degrees
        else:
            yield percent(vacuum.water_boiling_pressure(f(degrees)), pressure)


def ice() -> Iterator[float]:
    """Murphy and Koop's equation for ice, which is another than the handbook's."""
    from math import exp, log

    for degrees in (-60.0, -40.0, -20.0, 0.0, 20.0, 31.0):
        t = f(degrees)
        yield percent(
            vacuum.water_boiling_pressure(t), exp(9.550426 - 5723.265 / t + 3.53068 * log(t) - 0.00728332 * t)
        )


def states() -> Iterator[float]:
    for microns, degrees, state in (
        (20_000, 75, "water boils"), (21_000, 70, "water stays"), (4_000, 70, "water boils, and freezes as it cools"),
        (1_500, 5, "ice stays"), (900, 5, "ice turns to vapor"),
    ):
        yield float(vacuum.water_under_vacuum(to_si(microns, "micron"), f(degrees)).state != state)


# -- decay test -----------------------------------------------------------------------------

MINUTES = tuple(float(m) for m in range(46))
ROUGH = (0.008, -0.011, 0.013, -0.004, 0.0, -0.015, 0.006)


def decided(verdict: str) -> Iterator[float]:
    """Tests simulated in small steps, read smooth and rough: 1 for each verdict that is not the true one."""
    leaking = [({"leak": rate}, 70.0) for rate in (12.0, 20.0, 60.0, 300.0)]
    wet = [
        ({"wet": rate, "level": level}, degrees) for rate, level, degrees in (
            (0.2, 250.0, 70.0), (0.15, 800.0, 70.0), (0.3, 2500.0, 75.0), (1.0, water_pressure(f(70.0)), 70.0),
            (0.3, water_pressure(f(15.0)), 15.0),
        )
    ]
    tight = [({}, 70.0), ({"wet": 0.3, "level": 80.0}, 70.0), ({"wet": 0.1, "level": 95.0}, 40.0)]
    for made, degrees in {"leak": leaking, "moisture": wet, "tight": tight}[verdict]:
        for scatter in ((), ROUGH):
            rows = decay_log(minutes=MINUTES, start=40.0, scatter=scatter, **made)
            found = decay.decay_test(rows, f(degrees), 133.322, 600.0, 120.0, 0.1, 0.02, 333.306)
            yield float(found.verdict != verdict)


def slopes() -> Iterator[float]:
    from scipy.stats import linregress

    for made in ({"leak": 9.0}, {"wet": 0.1, "level": 500.0}, {"leak": 3.0, "wet": 0.2, "level": 200.0}):
        rows = decay_log(minutes=MINUTES, scatter=ROUGH, **made)
        late = [row for row in rows if row[0] >= 300.0]
        fitted = linregress([t for t, _ in late], [p for _, p in late])
        yield percent(decay.vacuum_rise(rows, 300.0), 3600.0 * float(fitted.slope))


# -- nitrogen ----------------------------------------------------------------------------------

STATES = ((150.0, 90.0, 70.0), (300.0, 60.0, 95.0), (450.0, 80.0, 40.0), (600.0, 20.0, 100.0), (100.0, 110.0, 30.0))


def closed_in(gauge: float, start: float, later: float) -> float:
    """CoolProp's pressure of the same moles in the same space at the later temperature."""
    from CoolProp.CoolProp import PropsSI

    density = PropsSI("D", "P", psia(gauge), "T", f(start), "Nitrogen")
    pressure: float = PropsSI("P", "D", density, "T", f(later), "Nitrogen")
    return pressure


def nitrogen_pressures() -> Iterator[float]:
    for gauge, start, later in STATES:
        got = nitrogen.nitrogen_pressure(psia(gauge), f(start), f(later))
        yield (got - closed_in(gauge, start, later)) / 6894.757


def nitrogen_losses() -> Iterator[float]:
    for gauge, start, later in STATES:
        left = closed_in(gauge, start, later) - 5.0 * 6894.757
        yield nitrogen.nitrogen_pressure_lost(psia(gauge), f(start), left, f(later)) / 6894.757 - 5.0


def nitrogen_words() -> Iterator[float]:
    for gauge, start, later in STATES:
        right = closed_in(gauge, start, later)
        for lost, verdict in ((0.3, "no loss beyond the instruments' accuracy"), (12.0, "leak")):
            found = nitrogen.nitrogen_test(
                psia(gauge), f(start), right - lost * 6894.757, f(later), 0.5 * 6894.757, 1.0 / 1.8
            )
            yield float(found.verdict != verdict)


CHECKS: tuple[Check, ...] = (
    Check("leak_rate_annualized", "six additions", LEAK_STEPS, Evidence.PUBLISHED, "points", 1e-9, annualized),
    Check("leak_rate_rolling", "four histories", LEAK_STEPS, Evidence.PUBLISHED, "points", 1e-9, rolling),
    Check("leak_rule", "seven limits", LIMITS, Evidence.PUBLISHED, "points", 1e-9, limits),
    Check("leak_rule", "five appliances that no rule covers", LIMITS, Evidence.PUBLISHED, "wrong", 0.0, uncovered),
    Check("leak_rule_check", "five additions; 20 % exactly is not over", LIMITS, Evidence.PUBLISHED, "wrong verdicts",
          0.0, over),
    Check("chronic_leak_check", "125 % counts itself", "40 CFR 82.157(j) as quoted by others (seen)",
          Evidence.PUBLISHED, "wrong verdicts", 0.0, chronic),
    Check("global_warming_potential", "eleven refrigerants, printed to 1", PRINTED_GWP, Evidence.FROM_MEMORY, "", 0.6,
          warming),
    Check("pressure_class", "five refrigerants", CLASSES, Evidence.PUBLISHED, "wrong classes", 0.0, classes),
    Check("pressure_class", "pressure at 104 °F, four refrigerants", "CoolProp 8, PropsSI", Evidence.REFERENCE_LIBRARY,
          "psi", 0.1, at_104),
    Check("evacuation_level", "every row that a listed refrigerant meets, both columns", TABLE_1, Evidence.PUBLISHED,
          "inHg", 1e-6, table_1),
    Check("recovery_requirement", "small appliances: 90 or 80 %, or 4 inHg", SMALL, Evidence.PUBLISHED,
          "points or inHg", 1e-6, small),
    Check("vacuum_reading", "50 to 25 000 microns as inHg below the atmosphere", "pint: atmospheres less mmHg in inHg",
          Evidence.REFERENCE_LIBRARY, "inHg", 1e-3, gauges),
    Check("water_boiling_pressure", "water, 33 to 212 °F", "CoolProp 8 (IAPWS-95)", Evidence.REFERENCE_LIBRARY, "%",
          0.1, partial(boiling, inverse=False)),
    Check("water_boiling_pressure", "ice, -60 to 31 °F", "Murphy and Koop 2005, equation 7 (from memory)",
          Evidence.FROM_MEMORY, "%", 0.1, ice),
    Check("water_boiling_temperature", "water, 33 to 212 °F", "CoolProp 8 (IAPWS-95)", Evidence.REFERENCE_LIBRARY,
          "delta_degF", 0.05, partial(boiling, inverse=True)),
    Check("water_under_vacuum", "five states", "phase diagram of water", Evidence.DERIVATION, "wrong states", 0.0,
          states),
    Check("decay_test", "four leaks, smooth and rough", MANUAL, Evidence.DERIVATION, "wrong verdicts", 0.0,
          partial(decided, "leak")),
    Check("decay_test", "damp oil, water and ice, smooth and rough", MANUAL, Evidence.DERIVATION, "wrong verdicts", 0.0,
          partial(decided, "moisture")),
    Check("decay_test", "tight systems with a little outgassing, smooth and rough", MANUAL, Evidence.DERIVATION,
          "wrong verdicts", 0.0, partial(decided, "tight")),
    Check("vacuum_rise", "three rough logs", "SciPy: linear regression", Evidence.REFERENCE_LIBRARY, "%", 1e-6, slopes),
    Check("nitrogen_pressure", "100 to 600 psig, up to 80 °F of change", "CoolProp 8, nitrogen at constant density",
          Evidence.REFERENCE_LIBRARY, "psi", 0.1, nitrogen_pressures),
    Check("nitrogen_pressure_lost", "5 psi let out after the change", "CoolProp 8, nitrogen at constant density",
          Evidence.REFERENCE_LIBRARY, "psi", 0.1, nitrogen_losses),
    Check("nitrogen_test", "0.3 psi lost is within the instruments, 12 psi is a leak",
          "CoolProp 8, nitrogen at constant density", Evidence.REFERENCE_LIBRARY, "wrong verdicts", 0.0,
          nitrogen_words),
)
