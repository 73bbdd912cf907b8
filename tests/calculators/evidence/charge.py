"""Charge: balance, pipes and flammable charges against printed tables, CoolProp and counting."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache, partial
from math import pi, sqrt

from faultkit.calculators.charge import balance, flammable, lines
from faultkit.units import from_si, to_si
from tests.calculators.evidence_check import Check, Evidence

PIPES = "printed table of ASTM B280 tube, outside diameter, bore and bore area to three digits (seen)"
MECHANICAL_CODE = "International Mechanical Code, table 1103.1: lb by 1000 ft³ and g/m³ of the same limits (seen)"
HYDROCARBONS = "trade press on UL 60335-2-89, 2nd edition: 300 g with doors, 500 g open (seen)"
PURE = (("R134a", "R-134a"), ("R22", "R-22"), ("R290", "R-290"), ("R600a", "R-600a"))


def lb(pounds: float) -> float:
    return to_si(pounds, "lb")


def f(degrees: float) -> float:
    return to_si(degrees, "degF")


def percent(got: float, expected: float) -> float:
    return 100.0 * (got - expected) / expected


@cache
def props(what: str, fluid: str, **at: float) -> float:
    from CoolProp.CoolProp import PropsSI

    (a, x), (b, y) = at.items()
    value: float = PropsSI(what, a, x, b, y, fluid)
    return value


# -- balance -------------------------------------------------------------------


def ounces(pick: Callable[[balance.ChargeBalance], float]) -> Iterator[float]:
    """Weights counted in whole ounces, one sixteenth of a pound each."""
    for nameplate, recovered, left, added, missing in (
        (192, 120, 0, 0, 72), (40, 37, 2, 0, 1), (160, 176, 0, 0, -16), (96, 80, 3, 32, 45),
    ):
        got = balance.charge_balance(lb(nameplate / 16), lb(recovered / 16), lb(left / 16), lb(added / 16), 0.05)
        expected = balance.ChargeBalance(lb(missing / 16), missing / nameplate, "")
        yield pick(got) - pick(expected)


def lost_in_ounces() -> Iterator[float]:
    for nameplate, recovered, left, added, missing in ((192, 120, 0, 0, 72), (96, 80, 3, 32, 45)):
        got = balance.charge_lost(lb(nameplate / 16), lb(recovered / 16), lb(left / 16), lb(added / 16))
        yield from_si(got, "oz") - missing


def shares() -> Iterator[float]:
    for nameplate, recovered, missing in ((12.0, 7.5, 37.5), (10.0, 11.0, -10.0), (8.0, 8.0, 0.0)):
        yield 100.0 * balance.charge_lost_share(nameplate, recovered, 0.0, 0.0) - missing


def vapors() -> Iterator[float]:
    for fluid, ours in PURE:
        for p, t in ((101_325.0, f(70.0)), (150_000.0, f(40.0)), (67_461.0, f(90.0))):
            yield percent(balance.vapor_mass(0.02, p, t, ours), 0.02 * props("D", fluid, P=p, T=t))


def thin_vapors() -> Iterator[float]:
    """Below the fits' lowest pressure: the gas law with nothing else."""
    for fluid, ours in PURE:
        for p in (300.0, 3_000.0, 8_000.0):
            law = p * props("M", fluid, P=1e5, T=300.0) / (8.314462618 * 295.0)
            yield percent(balance.vapor_mass(1.0, p, 295.0, ours), law)


def chords() -> Iterator[float]:
    """The bore cut into strips, each as long as the circle is wide there."""
    for bore, length in ((0.00635, 1.8288), (0.0137, 10.0), (0.05, 0.3)):
        strips, radius = 20_000, bore / 2.0
        width = bore / strips
        area = sum(2.0 * sqrt(radius**2 - (-radius + (n + 0.5) * width) ** 2) * width for n in range(strips))
        yield percent(balance.bore_volume(bore, length), area * length)


def hoses() -> Iterator[float]:
    for fluid, ours in (*PURE, ("R404A", "R-404A")):
        expected = props("D", fluid, T=f(70.0), Q=0.0) * pi * (0.25 * 0.0254 / 2.0) ** 2 * 6 * 0.3048
        yield percent(balance.hose_liquid(0.25 * 0.0254, 6 * 0.3048, f(70.0), ours), expected)


# -- pipes --------------------------------------------------------------------------

#: Bore areas as printed, in², annealed then drawn.
AREAS = {
    "1/8": (0.0033, None), "3/16": (0.0129, None), "1/4": (0.0284, None), "5/16": (0.0483, None),
    "3/8": (0.076, 0.078), "1/2": (0.149, 0.145), "5/8": (0.242, 0.233), "3/4": (0.363, 0.348), "7/8": (0.484, 0.484),
    "1 1/8": (0.825, 0.825), "1 3/8": (1.26, 1.26),
}
#: Outside diameter and wall of type L as printed, in.
TYPE_L = {"1 5/8": (1.625, 0.060), "2 1/8": (2.125, 0.070), "2 5/8": (2.625, 0.080), "3 1/8": (3.125, 0.090),
          "3 5/8": (3.625, 0.100)}


def bore_areas() -> Iterator[float]:
    for size, areas in AREAS.items():
        for temper, area in zip(("annealed", "drawn"), areas, strict=True):
            if area is not None:
                yield percent(pi / 4.0 * from_si(lines.tube_bore(size, temper), "in") ** 2, area)


def type_l() -> Iterator[float]:
    for size, (outside, wall) in TYPE_L.items():
        yield from_si(lines.tube_bore(size, "drawn"), "in") - (outside - 2.0 * wall)


def liquid_lines() -> Iterator[float]:
    """Printed bore area times length times CoolProp's density."""
    for fluid, ours in (*PURE, ("R404A", "R-404A"), ("R410A", "R-410A")):
        for size in ("3/8", "1/2", "5/8"):
            area = AREAS[size][1]
            assert area is not None
            expected = area * 0.0254**2 * 30.48 * props("D", fluid, T=f(100.0), Q=0.0)
            yield percent(lines.liquid_line_charge(size, 30.48, f(100.0), ours, "drawn"), expected)


def rule_of_thumb() -> Iterator[float]:
    got = lines.liquid_line_charge("3/8", 0.3048, f(100.0), "R-22", "drawn")
    yield from_si(got, "oz") - 0.6


def vapor_lines() -> Iterator[float]:
    for fluid, ours in PURE:
        expected = 0.484 * 0.0254**2 * 30.48 * props("D", fluid, P=2.5e5, T=f(60.0))
        yield percent(lines.vapor_line_charge("7/8", 30.48, 2.5e5, f(60.0), ours, "drawn"), expected)


# -- flammable ------------------------------------------------------------------------


def by_volume(cases: tuple[tuple[str, float, float], ...]) -> Iterator[float]:
    """Volume share times molar mass by the molar volume of air at 25 °C."""
    for name, share, molar in cases:
        yield percent(flammable.lower_flammability_limit(name), share * molar / 24.465)


def propane() -> Iterator[float]:
    for cabinet, grams in (("with doors", 300.0), ("open", 500.0), ("earlier listing", 150.0)):
        yield 1000.0 * flammable.flammable_charge_limit("R-290", cabinet) - grams


def propane_words() -> Iterator[float]:
    for grams, cabinet, verdict in (
        (150.0, "earlier listing", "within the limit"), (290.0, "with doors", "within the limit"),
        (320.0, "with doors", "over the limit"), (480.0, "open", "within the limit"), (510.0, "open", "over the limit"),
    ):
        yield float(flammable.flammable_charge_check(grams / 1000.0, "R-290", cabinet).verdict != verdict)


#: lb by 1000 ft³ and g/m³ as printed.
PAIRS = ((13.0, 210.0), (25.0, 400.0), (7.3, 120.0), (4.8, 77.0), (23.0, 370.0), (34.0, 550.0), (47.0, 760.0))


def concentrations() -> Iterator[float]:
    for pounds, grams in PAIRS:
        yield percent(1000.0 * flammable.room_concentration(lb(pounds), to_si(1000.0, "ft3")), grams)


def rooms() -> Iterator[float]:
    for pounds, grams in PAIRS:
        yield percent(from_si(flammable.smallest_room(lb(pounds), grams / 1000.0), "ft3"), 1000.0)


def room_words() -> Iterator[float]:
    for pounds, grams in PAIRS:
        for times, verdict in ((0.95, "within the limit"), (1.05, "over the limit")):
            got = flammable.room_concentration_check(lb(pounds * times), to_si(1000.0, "ft3"), grams / 1000.0)
            yield float(got.verdict != verdict)


CHECKS: tuple[Check, ...] = (
    Check("charge_lost", "two calls weighed in ounces", "whole ounces counted", Evidence.DERIVATION, "oz", 1e-9,
          lost_in_ounces),
    Check("charge_lost_share", "4.5 of 12 lb, 1 of 10 lb too much, none", "percentages worked by hand",
          Evidence.DERIVATION, "points", 1e-9, shares),
    Check("charge_balance", "four calls weighed in ounces", "whole ounces counted", Evidence.DERIVATION, "kg", 1e-12,
          partial(ounces, lambda b: b.lost)),
    Check("charge_balance", "the same as a share", "whole ounces counted", Evidence.DERIVATION, "", 1e-12,
          partial(ounces, lambda b: b.share)),
    Check("vapor_mass", "four refrigerants, -10 inHg to 7 psig", "CoolProp 8, PropsSI", Evidence.REFERENCE_LIBRARY,
          "%", 0.01, vapors),
    Check("vapor_mass", "four refrigerants, 2 to 60 mmHg", "ideal-gas law", Evidence.DERIVATION, "%", 2.0, thin_vapors),
    Check("bore_volume", "three pipes", "the circle cut into 20 000 strips", Evidence.DERIVATION, "%", 0.001, chords),
    Check("hose_liquid", "6 ft of 1/4 in bore, five refrigerants", "CoolProp 8 and geometry",
          Evidence.REFERENCE_LIBRARY, "%", 0.1, hoses),
    Check("tube_bore", "bore area of eleven sizes, three digits printed", PIPES, Evidence.PUBLISHED, "%", 1.0,
          bore_areas),
    Check("tube_bore", "1 5/8 to 3 5/8 in: outside less two walls of type L", "printed table of ASTM B88 (seen)",
          Evidence.PUBLISHED, "in", 1e-9, type_l),
    Check("liquid_line_charge", "100 ft of three sizes, six refrigerants", f"{PIPES}; CoolProp 8", Evidence.PUBLISHED,
          "%", 0.5, liquid_lines),
    Check("liquid_line_charge", "0.6 oz by foot of 3/8 in, R-22", "rule of thumb, common practice",
          Evidence.COMMON_PRACTICE, "oz", 0.05, rule_of_thumb),
    Check("vapor_line_charge", "100 ft of 7/8 in, four refrigerants", f"{PIPES}; CoolProp 8", Evidence.PUBLISHED, "%",
          0.2, vapor_lines),
    Check("lower_flammability_limit", "propane 2.1 % by volume, isobutane 1.8 %",
          "ANSI/ASHRAE 34 and IEC 60335-2-89 (from memory), turned into mass", Evidence.FROM_MEMORY, "%", 2.0,
          partial(by_volume, (("R-290", 0.021, 44.096), ("R-600a", 0.018, 58.122)))),
    Check("lower_flammability_limit", "R-454C 7.7 % by volume, 90.8 g/mol",
          "ANSI/ASHRAE 34 (from memory), turned into mass", Evidence.FROM_MEMORY, "%", 4.0,
          partial(by_volume, (("R-454C", 0.077, 90.8),))),
    Check("flammable_charge_limit", "propane, printed rounded", HYDROCARBONS, Evidence.PUBLISHED, "g", 10.0, propane),
    Check("flammable_charge_check", "five charges of propane", HYDROCARBONS, Evidence.PUBLISHED, "wrong verdicts", 0.0,
          propane_words),
    Check("room_concentration", "seven limits printed in both units, two digits", MECHANICAL_CODE, Evidence.PUBLISHED,
          "%", 3.0, concentrations),
    Check("smallest_room", "seven limits printed in both units, two digits", MECHANICAL_CODE, Evidence.PUBLISHED, "%",
          3.0, rooms),
    Check("room_concentration_check", "5 % below and above seven limits", MECHANICAL_CODE, Evidence.PUBLISHED,
          "wrong verdicts", 0.0, room_words),
)
