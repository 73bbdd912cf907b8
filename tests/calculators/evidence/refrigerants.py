"""Refrigerant properties against CoolProp, other correlations, and printed tables."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, partial
from typing import Any

from faultkit.calculators.refrigerants import REFRIGERANT, circuit, facts, refrigerant
from faultkit.calculators.refrigerants.make_fits import Sample, samples
from faultkit.calculators.refrigerants.table import IDENTITIES
from faultkit.units import to_si
from tests.calculators.evidence_check import Check, Evidence

NAMES = REFRIGERANT.choices
SERVICE_MANUAL = "R-134a pressure-temperature table of a vehicle service manual, 1998 (seen; older data)"
TRADE_PRESS = "trade-press article on low-pressure controls, 2020 (seen): 33 psig is 38 °F, 15 psig is 15 °F"
STANDARD_34 = "ANSI/ASHRAE 34, normal boiling range (from memory)"
NIST_FILES = "header of NIST's pseudo-pure fluid files, Lemmon 2003, doi 10.1023/A:1025048800563 (seen)"
HANDBOOK = "ASHRAE Handbook Fundamentals, ch. 30 (from memory)"


@cache
def truth(name: str) -> tuple[Sample, ...]:
    """CoolProp's saturation every 0.7 K over the whole range of the fits, off the points they were made from."""
    low, high = refrigerant(name).temperatures
    steps = int((high - low) / 0.7)
    return tuple(samples(IDENTITIES[name], [low + 0.13 + 0.7 * i for i in range(steps)]))


def kelvin(fahrenheit: float) -> float:
    return to_si(fahrenheit, "degF")


def percent(got: float, want: float) -> float:
    return (got / want - 1.0) * 100.0


def psig(value: float) -> float:
    return to_si(value, "psig") + 101_325.0


def pressures(name: str, curve: str) -> Iterator[float]:
    value = getattr(refrigerant(name), curve)
    return (percent(value(s.temperature), getattr(s, curve)) for s in truth(name))


def temperatures(name: str, side: str) -> Iterator[float]:
    fluid = refrigerant(name)
    low, high = fluid.pressures
    for s in truth(name):
        p = getattr(s, f"{side}_pressure")
        if low <= p <= high:
            yield getattr(fluid, f"{side}_temperature")(p) - s.temperature


def of_all(curve: str) -> Iterator[float]:
    for name in NAMES:
        value = getattr(refrigerant(name), curve)
        for s in truth(name):
            yield percent(value(s.temperature), getattr(s, curve))


def fits() -> Iterator[Check]:
    """Every refrigerant over its whole range."""
    source = "CoolProp 8, AbstractState of {}"
    for name in NAMES:
        library = source.format(IDENTITIES[name].coolprop)
        low, high = (t * 1.8 - 459.67 for t in refrigerant(name).temperatures)
        where = f"{name}, {low:.0f} to {high:.0f} °F"
        for side in ("dew", "bubble"):
            yield Check(f"{side}_temperature", where, library, Evidence.REFERENCE_LIBRARY, "K", 0.005,
                        partial(temperatures, name, side))
            yield Check(f"{side}_pressure", where, library, Evidence.REFERENCE_LIBRARY, "%", 0.005,
                        partial(pressures, name, f"{side}_pressure"))
    for curve in ("liquid_density", "vapor_density", "latent_heat"):
        yield Check(curve, "all refrigerants, whole range", source.format("each"), Evidence.REFERENCE_LIBRARY, "%",
                    0.1, partial(of_all, curve))


def wagner() -> Iterator[float]:
    """Dew pressures against correlations fitted to measurements, not to an equation of state."""
    from chemicals import vapor_pressure

    table = vapor_pressure.Psat_data_WagnerMcGarry
    for name, cas in {"R-290": "74-98-6", "R-600a": "75-28-5", "R-22": "75-45-6", "R-744": "124-38-9"}.items():
        row = table.loc[cas]
        for t in range(225, 360, 5):
            if t < min(float(row["Tc"]), refrigerant(name).temperatures[1] + 8) - 8.0:
                constants = [float(row[c]) for c in ("Tc", "Pc", "A", "B", "C", "D")]
                yield percent(refrigerant(name).dew_pressure(t), vapor_pressure.Wagner_original(t, *constants))


# °F → psig, printed to the whole psi.
R134A_MANUAL = {
    20: 18, 30: 26, 40: 35, 45: 40, 50: 45, 55: 51, 60: 57, 65: 64, 70: 71, 75: 79, 80: 87, 85: 95, 90: 104, 95: 114,
    100: 124, 110: 147, 120: 171, 130: 199, 140: 229, 150: 263, 160: 300,
}


def manual() -> Iterator[float]:
    for f, printed in R134A_MANUAL.items():
        yield (circuit.dew_pressure(kelvin(f), "R-134a") - psig(printed)) / 6894.757


def manual_table() -> Iterator[float]:
    rows = facts.pressure_table("R-134a", kelvin(100), kelvin(160), to_si(10.0, "delta_degF")).rows
    for t, _, dew in rows:
        yield dew / 6894.757 - R134A_MANUAL[round(t * 1.8 - 459.67)]


# Normal boiling range, °F: bubble, dew.
BOILING = {
    "R-134a": (-14.9, -14.9), "R-290": (-43.8, -43.8), "R-600a": (10.9, 10.9), "R-22": (-41.5, -41.5),
    "R-404A": (-51.2, -49.9), "R-507A": (-52.1, -52.1), "R-448A": (-50.6, -39.6), "R-449A": (-50.8, -39.8),
    "R-407C": (-46.8, -34.1), "R-410A": (-60.9, -60.7),
}


def boiling(side: int) -> Iterator[float]:
    for name, printed in BOILING.items():
        value = (circuit.bubble_temperature, circuit.dew_temperature)[side](101_325.0, name)
        yield (value - kelvin(printed[side])) * 1.8


# kPa at 0 and 40 °C.
ANCHORS = {"R-134a": (292.8, 1016.6), "R-22": (498.0, 1533.6), "R-290": (474.5, 1369.4), "R-600a": (157.0, 531.2)}


def anchors() -> Iterator[float]:
    for name, printed in ANCHORS.items():
        for t, p in zip((273.15, 313.15), printed, strict=True):
            yield percent(circuit.bubble_pressure(t, name), p * 1000.0)


def props(output: str, fluid: str, **given: float) -> float:
    from CoolProp.CoolProp import PropsSI

    (a, x), (b, y) = given.items()
    return float(PropsSI(output, a, x, b, y, fluid))


def composition() -> Iterator[float]:
    """Our mass shares against those of CoolProp's predefined mixtures."""
    from CoolProp import CoolProp

    for identity in IDENTITIES.values():
        if identity.blend:
            state = CoolProp.AbstractState("HEOS", identity.coolprop.removesuffix(".mix") + ".mix")
            theirs = dict(zip(state.fluid_names(), state.get_mass_fractions(), strict=True))
            ours = {name.replace("-", ""): share for name, share in identity.composition}
            assert set(theirs) == set(ours)
            yield from (100.0 * (ours[n] - theirs[n]) for n in ours)


SATURATED = [(n, f) for n in ("R134a", "R22", "R290", "R404A", "R507A") for f in (-10.0, 20.0, 40.0, 90.0, 120.0)]


def ours(fluid: str) -> str:
    return f"R-{fluid[1:]}"


def superheats() -> Iterator[float]:
    for fluid, f in SATURATED:
        p = props("P", fluid, T=kelvin(f), Q=1.0)
        yield (circuit.superheat(p, kelvin(f + 12.0), ours(fluid)) * 1.8) - 12.0


def subcoolings() -> Iterator[float]:
    for fluid, f in SATURATED:
        p = props("P", fluid, T=kelvin(f), Q=0.0)
        yield (circuit.subcooling(p, kelvin(f - 9.0), ours(fluid)) * 1.8) - 9.0


def differences(which: str) -> Iterator[float]:
    for fluid, f in SATURATED:
        p, b = props("P", fluid, T=kelvin(f), Q=1.0), props("P", fluid, T=kelvin(f), Q=0.0)
        if which == "evaporator":
            yield circuit.evaporator_temperature_difference(kelvin(f + 15.0), p, ours(fluid)) * 1.8 - 15.0
            yield circuit.evaporator_temperature_difference(kelvin(f + 15.0), b, ours(fluid), "bubble") * 1.8 - 15.0
        else:
            yield circuit.condenser_split(p, kelvin(f - 20.0), ours(fluid)) * 1.8 - 20.0
            yield circuit.condenser_split(b, kelvin(f - 20.0), ours(fluid), "bubble") * 1.8 - 20.0


def lost() -> Iterator[float]:
    for fluid in ("R404A", "R134a", "R22"):
        p = props("P", fluid, T=kelvin(105.0), Q=0.0)
        after = props("T", fluid, P=p - 10 * 6894.757, Q=0.0)
        yield (circuit.subcooling_lost(10 * 6894.757, p, ours(fluid)) - (kelvin(105.0) - after)) * 1.8


def glides() -> Iterator[float]:
    for name in ("R-448A", "R-449A", "R-407A", "R-454C"):
        for s in truth(name)[40:200:20]:
            dew = [t for t in truth(name) if t.dew_pressure >= s.bubble_pressure]
            if dew:
                before = truth(name)[truth(name).index(dew[0]) - 1]
                share = (s.bubble_pressure - before.dew_pressure) / (dew[0].dew_pressure - before.dew_pressure)
                between = before.temperature + share * (dew[0].temperature - before.temperature)
                yield circuit.glide(s.bubble_pressure, name) - (between - s.temperature)


def air() -> Iterator[float]:
    """A gram-mole count of air let into the same space as the refrigerant adds its own partial pressure."""
    for fluid, f in (("R134a", 75.0), ("R404A", 60.0), ("R290", 90.0)):
        moles, volume = 0.4, 0.01
        partial_pressure = moles * 8.314462618 * kelvin(f) / volume
        total = props("P", fluid, T=kelvin(f), Q=0.0) + partial_pressure
        yield (circuit.non_condensable_pressure(total, kelvin(f), ours(fluid)) - partial_pressure) / 6894.757


def hot_gas() -> Iterator[float]:
    """The whole state by CoolProp's own flash on pressure and entropy, then on pressure and enthalpy."""
    for fluid, low, high, gas, eta in (
        ("R134a", 20, 110, 65, 0.65), ("R22", -20, 105, 40, 0.65), ("R290", 20, 105, 65, 0.7),
        ("R600a", 15, 110, 70, 0.6),
    ):
        p1, p2 = (props("P", fluid, T=kelvin(f), Q=1.0) for f in (low, high))
        h1, s1 = (props(o, fluid, P=p1, T=kelvin(gas)) for o in ("Hmass", "Smass"))
        h2 = h1 + (props("Hmass", fluid, P=p2, Smass=s1) - h1) / eta
        t2 = props("T", fluid, P=p2, Hmass=h2)
        yield (circuit.discharge_temperature(p1, kelvin(gas), p2, ours(fluid), eta) - t2) * 1.8


def ratio() -> Iterator[float]:
    import pint

    u: Any = pint.UnitRegistry()
    for discharge, suction in ((252.1, 16.01), (146.38, 18.43), (120.0, -2.0)):
        high, low = ((v * u.psi + 1.0 * u.atm).to("bar").magnitude for v in (discharge, suction))
        yield circuit.compression_ratio(psig(discharge), psig(suction)) - high / low


def columns() -> Iterator[float]:
    for fluid in ("R404A", "R134a", "R22", "R290"):
        density = props("D", fluid, T=kelvin(100.0), Q=0.0)
        got = circuit.liquid_column_pressure(0.3048, kelvin(100.0), ours(fluid))
        yield percent(got, density * 9.80665 * 0.3048)




def nist_files() -> Iterator[float]:
    for name, boils in (("R-404A", 226.93), ("R-507A", 226.41)):
        yield circuit.bubble_temperature(101_325.0, name) - boils


def half_a_psi() -> Iterator[float]:
    for name in ("R-22", "R-134a"):
        yield circuit.liquid_column_pressure(0.3048, kelvin(100.0), name) / 6894.757 - 0.5


CHECKS: tuple[Check, ...] = (
    *fits(),
    Check("dew_pressure", "R-290, R-600a, R-22 and R-744, -54 °F up", "chemicals: Wagner equation, McGarry 1983",
          Evidence.REFERENCE_LIBRARY, "%", 0.4, wagner),
    Check("dew_pressure", "R-134a, 20 to 160 °F, to 1 psi", SERVICE_MANUAL, Evidence.PUBLISHED, "psi",
          0.75, manual),
    Check("pressure_table", "R-134a, 100 to 160 °F by 10, to 1 psi", SERVICE_MANUAL, Evidence.PUBLISHED, "psi",
          0.75, manual_table),
    Check("dew_temperature", "R-134a at 33 and 15 psig, printed to 1 °F", TRADE_PRESS, Evidence.PUBLISHED,
          "delta_degF", 0.5,
          lambda: [(circuit.dew_temperature(psig(p), "R-134a") - kelvin(f)) * 1.8 for p, f in ((33, 38), (15, 15))]),
    Check("bubble_temperature", "R-404A boils at 226.93 K, R-507A at 226.41 K", NIST_FILES, Evidence.PUBLISHED, "K",
          0.01, nist_files),
    Check("bubble_temperature", "ten refrigerants at the atmosphere", STANDARD_34, Evidence.FROM_MEMORY, "delta_degF",
          0.6, partial(boiling, 0)),
    Check("dew_temperature", "ten refrigerants at the atmosphere", STANDARD_34, Evidence.FROM_MEMORY, "delta_degF",
          0.6, partial(boiling, 1)),
    Check("bubble_pressure", "four refrigerants at 0 and 40 °C, printed to 0.1 kPa", HANDBOOK, Evidence.FROM_MEMORY,
          "%", 0.05, anchors),
    Check("superheat", "12 °F above saturation, five refrigerants", "CoolProp 8, PropsSI", Evidence.REFERENCE_LIBRARY,
          "delta_degF", 0.01, superheats),
    Check("subcooling", "9 °F below saturation, five refrigerants", "CoolProp 8, PropsSI",
          Evidence.REFERENCE_LIBRARY, "delta_degF", 0.01, subcoolings),
    Check("evaporator_temperature_difference", "15 °F, dew and bubble", "CoolProp 8, PropsSI",
          Evidence.REFERENCE_LIBRARY, "delta_degF", 0.01, partial(differences, "evaporator")),
    Check("condenser_split", "20 °F, dew and bubble", "CoolProp 8, PropsSI", Evidence.REFERENCE_LIBRARY, "delta_degF",
          0.01, partial(differences, "condenser")),
    Check("subcooling_lost", "10 psi from 105 °F", "CoolProp 8, PropsSI", Evidence.REFERENCE_LIBRARY, "delta_degF",
          0.01, lost),
    Check("glide", "four blends, -20 to 120 °F", "CoolProp 8, dew curve searched for the bubble pressure",
          Evidence.REFERENCE_LIBRARY, "K", 0.03, glides),
    Check("glide", "R-407C at the atmosphere: 7.1 K", STANDARD_34, Evidence.FROM_MEMORY, "K", 0.2,
          lambda: [circuit.glide(101_325.0, "R-407C") - 7.1]),
    Check("non_condensable_pressure", "0.4 mol of air in 10 L, three refrigerants",
          "ideal-gas law of the air alone, saturation by CoolProp 8", Evidence.DERIVATION, "psi", 0.05, air),
    Check("discharge_temperature", "four single refrigerants, efficiency 0.6 to 0.7",
          "CoolProp 8, PropsSI's flash on entropy and enthalpy", Evidence.REFERENCE_LIBRARY, "delta_degF", 0.01,
          hot_gas),
    Check("compression_ratio", "three pairs of gauge readings", "pint: atmospheres and psi added in bar",
          Evidence.REFERENCE_LIBRARY, "", 0.005, ratio),
    Check("liquid_column_pressure", "a foot at 100 °F, four refrigerants", "CoolProp 8 and standard gravity",
          Evidence.REFERENCE_LIBRARY, "%", 0.1, columns),
    Check("liquid_column_pressure", "half a psi a foot for R-22 and R-134a", "rule of thumb, common practice",
          Evidence.COMMON_PRACTICE, "psi", 0.02,
          half_a_psi),
    Check("refrigerant_facts", "mass shares of ten blends", "CoolProp 8, predefined mixtures",
          Evidence.REFERENCE_LIBRARY, "points", 0.05, composition),
    Check("refrigerant_facts", "begins to boil at the atmosphere, ten refrigerants", STANDARD_34, Evidence.FROM_MEMORY,
          "delta_degF", 0.6,
          lambda: [(facts.refrigerant_facts(n).boils_at - kelvin(p[0])) * 1.8 for n, p in BOILING.items()]),
)
