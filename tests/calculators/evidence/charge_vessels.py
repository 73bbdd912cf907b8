"""Recovery cylinders, receivers and flooded condensers against CoolProp, a worked example and counting."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from faultkit.calculators.charge import cylinder, receiver
from faultkit.units import from_si, to_si
from tests.calculators.evidence.charge import PURE, f, lb, percent, props
from tests.calculators.evidence_check import Check, Evidence

TRADE_PRESS = "trade-press article on filling cylinders, quoting AHRI Guideline K: R-22, WC 1000 lb, 957.6 lb (seen)"


def hot_truck() -> Iterator[float]:
    """Points by which liquid alone would take more than the volume at 131 °F, with CoolProp's densities."""
    for fluid, ours in (*PURE, ("R404A", "R-404A"), ("R507A", "R-507A"), ("R407C", "R-407C"), ("R410A", "R-410A")):
        limit = cylinder.recovery_cylinder_limit(lb(50.0), ours, 0.8)
        volume = 50.0 * 27.737 * 1.6387064e-5
        yield 100.0 * max(0.0, limit / props("D", fluid, T=f(131.0), Q=0.0) / volume - 1.0)


def flashed(fill: Callable[[float, float, float, str], float], per_volume: float) -> Iterator[float]:
    """Liquid's share of a closed volume by CoolProp's own flash on temperature and density."""
    for fluid, ours in PURE:
        for each in (60.0, 250.0, 400.0):
            for t in (f(40.0), f(90.0), f(120.0)):
                quality = props("Q", fluid, T=t, D=each)
                quality = quality if 0.0 <= quality <= 1.0 else 1.0  # all vapor: CoolProp has no quality for it
                liquid = (1.0 - quality) * each / props("D", fluid, T=t, Q=0.0)
                yield 100.0 * (fill(each * per_volume, 1.0, t, ours) - liquid)


def expanded() -> Iterator[float]:
    """CoolProp's saturated-liquid density searched for the contents by the volume, a tenth of a degree at a time."""
    for fluid, ours in (("R134a", "R-134a"), ("R404A", "R-404A"), ("R22", "R-22")):
        for degrees in (80.0, 110.0, 125.0):
            density = props("D", fluid, T=f(degrees), Q=0.0)
            got = cylinder.liquid_full_temperature(density * 50.0 * 27.737 * 1.6387064e-5, lb(50.0), ours)
            yield from_si(got, "degF") - degrees


def half_ton(gross: float) -> float:
    """Room by the trade-press example: a half-ton cylinder of 380 lb that may weigh 1337.6 lb."""
    return from_si(cylinder.recovery_cylinder_room(lb(gross), lb(380.0), lb(1000.0), "R-22", 0.8), "lb")


def receivers() -> Iterator[float]:
    """The capacity put into the receiver: CoolProp's flash then says how high the liquid stands."""
    for fluid, ours in PURE:
        each = receiver.receiver_capacity(1.0, ours, 0.9, f(90.0))
        quality = props("Q", fluid, T=f(90.0), D=each)
        liquid = (1.0 - quality) * each / props("D", fluid, T=f(90.0), Q=0.0)
        yield 100.0 * (liquid - 0.9)


def pumped(words: bool) -> Iterator[float]:
    """Charge let in by ounces until CoolProp's liquid takes 90 % of half a cubic foot."""
    volume = to_si(0.5, "ft3")
    for fluid, ours in (("R404A", "R-404A"), ("R134a", "R-134a"), ("R22", "R-22")):
        density, count = props("D", fluid, T=f(90.0), Q=0.0), 0
        while (count + 1) * to_si(1.0, "oz") / density <= 0.9 * volume:
            count += 1
        if words:
            got = [
                receiver.pump_down(to_si(n, "oz"), volume, ours, 0.9, f(90.0)).verdict for n in (count - 1, count + 2)
            ]
            yield float(got != ["fits", "does not fit"])
        else:
            room = receiver.pump_down_room(lb(5.0), volume, ours, 0.9, f(90.0))
            yield from_si(room, "oz") - (count - 80)


def slices() -> Iterator[tuple[float, float]]:
    """A condenser of 5000 slices flooded until what is left just rejects the heat: calculator's share, counted."""
    for hold, air, design, heat in ((90.0, 0.0, 20.0, 1.0), (80.0, -20.0, 15.0, 0.8), (100.0, 40.0, 25.0, 1.0)):
        count = 5000
        each = 1.0 / count / design  # heat of one slice by degree, all together 1 at design
        left = 0
        while left * each * (hold - air) < heat:
            left += 1
        share = receiver.condenser_flooded_share(f(hold), f(air), design / 1.8, heat)
        yield share, (count - left) / count


def flooded() -> Iterator[float]:
    for share, counted in slices():
        yield 100.0 * (share - counted)


def winter(total: bool) -> Iterator[float]:
    """Liquid put into the counted slices and vapor taken out of them, slice by slice, with CoolProp's densities."""
    for (_, counted), hold, air, design, heat in zip(
        slices(), (90.0, 80.0, 100.0), (0.0, -20.0, 40.0), (20.0, 15.0, 25.0), (1.0, 0.8, 1.0), strict=True
    ):
        liquid, vapor = props("D", "R134a", T=f(air), Q=0.0), props("D", "R134a", T=f(hold), Q=1.0)
        mass = sum(0.004 / 5000 * (liquid - vapor) for _ in range(round(counted * 5000)))
        if total:
            got = receiver.winter_charge_check(3.0, 0.004, f(hold), f(air), design / 1.8, 0.02, "R-134a", heat).total
            yield percent(got, mass + 3.0)
        else:
            yield percent(receiver.winter_charge(0.004, f(hold), f(air), design / 1.8, "R-134a", heat), mass)


CHECKS: tuple[Check, ...] = (
    Check("recovery_cylinder_limit", "worked example, R-22; the refrigerant's data there are older", TRADE_PRESS,
          Evidence.PUBLISHED, "%", 0.5,
          lambda: [percent(from_si(cylinder.recovery_cylinder_limit(lb(1000.0), "R-22", 0.8), "lb"), 957.6)]),
    Check("recovery_cylinder_limit", "eight refrigerants filled to it do not fill the cylinder at 131 °F",
          "CoolProp 8, saturated liquid; 49 CFR 173.304(b)", Evidence.REFERENCE_LIBRARY, "points", 0.0, hot_truck),
    Check("recovery_cylinder_room", "nothing at 1337.6 lb gross, within 0.5 % of the limit", TRADE_PRESS,
          Evidence.PUBLISHED, "lb", 5.0, lambda: [half_ton(1337.6)]),
    Check("recovery_cylinder", "gross limit 1337.6 lb, within 0.5 % of the contents", TRADE_PRESS, Evidence.PUBLISHED,
          "lb", 5.0,
          lambda: [from_si(cylinder.recovery_cylinder(
              lb(900.0), lb(380.0), lb(1000.0), "R-22", f(77.0), 0.8).gross_limit, "lb") - 1337.6]),
    Check("cylinder_fill", "four refrigerants, three fills, 40 to 120 °F",
          "CoolProp 8, flash on temperature and density", Evidence.REFERENCE_LIBRARY, "points", 0.1,
          partial(flashed, cylinder.cylinder_fill, 27.737 * 1.6387064e-5 / 0.45359237)),
    Check("liquid_full_temperature", "three refrigerants, 80 to 125 °F", "CoolProp 8, saturated liquid",
          Evidence.REFERENCE_LIBRARY, "delta_degF", 0.1, expanded),
    Check("receiver_fill", "four refrigerants, three fills, 40 to 120 °F",
          "CoolProp 8, flash on temperature and density", Evidence.REFERENCE_LIBRARY, "points", 0.1,
          partial(flashed, receiver.receiver_fill, 1.0)),
    Check("receiver_capacity", "capacity in the receiver stands at 90 %, less what is vapor (at most 1 %)",
          "CoolProp 8, flash on temperature and density", Evidence.REFERENCE_LIBRARY, "points", 1.0, receivers),
    Check("pump_down_room", "half a cubic foot filled by ounces, three refrigerants", "CoolProp 8, counted",
          Evidence.REFERENCE_LIBRARY, "oz", 1.0, partial(pumped, words=False)),
    Check("pump_down", "an ounce below and two above fit and do not", "CoolProp 8, counted",
          Evidence.REFERENCE_LIBRARY, "wrong verdicts", 0.0, partial(pumped, words=True)),
    Check("condenser_flooded_share", "three condensers", "5000 slices counted until they reject the heat",
          Evidence.DERIVATION, "points", 0.03, flooded),
    Check("winter_charge", "R-134a, three condensers", "5000 slices filled, CoolProp 8", Evidence.DERIVATION, "%", 0.1,
          partial(winter, total=False)),
    Check("winter_charge_check", "R-134a, three condensers, with 3 kg of summer charge",
          "5000 slices filled, CoolProp 8", Evidence.DERIVATION, "%", 0.1, partial(winter, total=True)),
)
