"""Low-pressure controls against printed settings, CoolProp and a search that knows only the conditions."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from faultkit.calculators import CalculatorRegistry
from faultkit.calculators.ask import Answer, ask
from faultkit.calculators.controls import CONTROLS
from faultkit.units import from_si, to_si
from tests.calculators.evidence_check import Check, Evidence

REGISTRY = CalculatorRegistry(CONTROLS)
ARTICLE = "trade-press article on low-pressure controls (seen)"
SCHOOL = "trade-journal teaching page on setting a low-pressure switch, June 2019 (seen)"
CASES = "installation manual of a freezer display case, table of settings (seen)"
RACK = "supermarket rack manual, table of evaporator pressures with 2 psi line drop (seen)"
THINK = "trade-press article on thinking in temperature, not pressure (seen)"
LIBRARY = "CoolProp 8, PropsSI"
COOLPROP = {
    "R-134a": "R134a", "R-22": "R22", "R-290": "R290", "R-600a": "R600a", "R-404A": "R404A", "R-448A": "R448A.mix",
}


def told(name: str, **given: str) -> Answer:
    """The answer to a question in trade units."""
    return ask(REGISTRY[name], given)


def number(name: str, unit: str, **given: str) -> float:
    return from_si(told(name, **given).value, unit)


def result(answer: Answer, name: str, unit: str) -> float:
    value = answer[name].value
    assert isinstance(value, float)
    return from_si(value, unit)


def saturation(refrigerant: str, fahrenheit: float, quality: float) -> float:
    """psig by the library itself; quality 1 for dew, 0 for bubble."""
    from CoolProp.CoolProp import PropsSI

    fluid = COOLPROP.get(refrigerant, refrigerant.replace("-", ""))
    pressure = PropsSI("P", "T", to_si(fahrenheit, "degF"), "Q", quality, fluid)
    return (float(pressure) - 101_325.0) / 6894.757293168362


def temperature(refrigerant: str, psig: float, quality: float) -> float:
    """degF by the library itself."""
    from CoolProp.CoolProp import PropsSI

    kelvin = PropsSI("T", "P", psig * 6894.757293168362 + 101_325.0, "Q", quality, COOLPROP[refrigerant])
    return from_si(float(kelvin), "degF")


def outside(value: float, low: float, high: float) -> float:
    """How far a value lies outside a span."""
    return min(value - low, 0.0) + max(value - high, 0.0)


def article_settings() -> Iterator[float]:
    a = told(
        "low_pressure_settings", refrigerant="R-134a", job="temperature control", box_temperature="35 degF",
        temperature_difference="20 delta_degF", restart_temperature="38 degF", ambient_temperature="50 degF",
    )
    yield result(a, "cut_in", "psig") - 33.0
    yield result(a, "cut_out", "psig") - 15.0
    yield result(a, "box_at_cut_out", "degF") - 35.0


def article_check(name: str, **second: str) -> Iterator[float]:
    a = told(
        name, refrigerant="R-134a", job="temperature control", cut_in="33 psig", box_temperature="35 degF",
        temperature_difference="20 delta_degF", restart_temperature="38 degF", ambient_temperature="50 degF", **second,
    )
    yield result(a, "coil_at_cut_in", "degF") - 38.0
    yield result(a, "coil_at_cut_out", "degF") - 15.0
    yield result(a, "box_at_cut_out", "degF") - 35.0
    yield 9.0 * (a["verdict"].value != "no conflict")


def case_settings() -> Iterator[float]:
    """The manual's sat temperatures and its cut-ins, both rounded: only the dew side comes near for R-448A."""
    for refrigerant, fahrenheit, psig in (
        ("R-404A", -2, 31), ("R-448A", -2, 23), ("R-404A", -11, 23), ("R-448A", -11, 16),
    ):
        yield number(
            "low_pressure_cut_in", "psig", restart_temperature=f"{fahrenheit} degF", refrigerant=refrigerant
        ) - psig


def rack_table() -> Iterator[float]:
    """One column serves R-404A and R-507A: the printed figure must lie between the two, to its rounding."""
    for fahrenheit, both, r22 in (
        (-25, 11, 5), (-22, 13, 7), (-20, 14, 8), (-15, 18, 12), (6, 37, 27), (9, 41, 30), (12, 44, 33),
        (15, 47, 36), (18, 51, 39), (21, 55, 42), (25, 60, 47), (30, 68, 53),
    ):
        spans = [rack_cut_out(fahrenheit, r) for r in ("R-404A", "R-507A", "R-22")]
        yield outside(both, spans[0], spans[1])
        if fahrenheit != -15:  # named in the check: there the table prints 12 for 11.2
            yield spans[2] - r22


def rack_cut_out(fahrenheit: float, refrigerant: str) -> float:
    return number(
        "low_pressure_cut_out", "psig", box_temperature=f"{fahrenheit + 10} degF",
        temperature_difference="10 delta_degF",
        refrigerant=refrigerant, suction_line_drop="2 psi",
    )


def dew_by_library() -> Iterator[float]:
    for refrigerant, fahrenheit in product(COOLPROP, (-20, 10, 38)):
        want = saturation(refrigerant, fahrenheit, 1.0)
        yield number(
            "low_pressure_cut_in", "psig", restart_temperature=f"{fahrenheit} degF", refrigerant=refrigerant
        ) - want


def winter_by_library() -> Iterator[float]:
    for refrigerant, fahrenheit in product(COOLPROP, (-20, 0, 30)):
        yield number(
            "cut_in_winter_margin", "psi", cut_in="12 psig", ambient_temperature=f"{fahrenheit} degF",
            refrigerant=refrigerant,
        ) - (saturation(refrigerant, fahrenheit, 1.0) - 12.0)


def pump_down_by_search() -> Iterator[float]:
    """Highest cut-in of a fine grid that clears winter and restart by 2 psi, saturation from the library."""
    for refrigerant, coil, restart, ambient in (
        ("R-404A", 25, 38, 0), ("R-404A", -20, -10, -20), ("R-448A", -20, -10, 20), ("R-134a", 20, 38, 20),
        ("R-290", 20, 38, -10), ("R-22", -10, 0, 60),
    ):
        limits = [saturation(refrigerant, f, 1.0) for f in (restart, ambient)]
        grid = (i / 50 for i in range(5000))
        want = max(p for p in grid if all(p <= limit - 2.0 for limit in limits))
        a = told(
            "low_pressure_settings_by_coil", refrigerant=refrigerant, job="pump_down",
            evaporating_temperature=f"{coil} degF", restart_temperature=f"{restart} degF",
            ambient_temperature=f"{ambient} degF",
        )
        yield result(a, "cut_in", "psig") - want


def boxes_by_library() -> Iterator[float]:
    for refrigerant, psig in product(COOLPROP, (5, 20, 60)):
        yield number(
            "box_temperature_at_cut_out", "degF", cut_out=f"{psig} psig", temperature_difference="12 delta_degF",
            refrigerant=refrigerant, suction_line_drop="2 psi",
        ) - (temperature(refrigerant, psig + 2, 1.0) + 12.0)


def coil(psig: float, refrigerant: str) -> float:
    return number("setting_saturation_temperature", "degF", setting=f"{psig} psig", refrigerant=refrigerant)


P, L, D = Evidence.PUBLISHED, Evidence.REFERENCE_LIBRARY, Evidence.DERIVATION
CHECKS = (
    Check("low_pressure_cut_in", "R-134a cooler: 33 psig for 38 °F", ARTICLE, P, "psi", 0.5, lambda: [
        number("low_pressure_cut_in", "psig", restart_temperature="38 degF", refrigerant="R-134a") - 33.0]),
    Check("low_pressure_cut_in", "R-134a: 236.5 kPa for 4 °C", SCHOOL, P, "kPa", 0.25, lambda: [
        number("low_pressure_cut_in", "kPa_gauge", restart_temperature="4 degC", refrigerant="R-134a") - 236.5]),
    Check("low_pressure_cut_in", "R-404A and R-448A, -2 and -11 °F: dew side", CASES, P, "psi", 1.0, case_settings),
    Check("low_pressure_cut_in", "six refrigerants, -20 to 38 °F", LIBRARY, L, "psi", 0.03, dew_by_library),
    Check("low_pressure_cut_out", "R-134a cooler: 15 psig for box 35 °F, TD 20 °F", ARTICLE, P, "psi", 0.5, lambda: [
        number("low_pressure_cut_out", "psig", box_temperature="35 degF", temperature_difference="20 delta_degF",
               refrigerant="R-134a") - 15.0]),
    Check("low_pressure_cut_out",
          "R-404A to R-507A and R-22, -25 to 30 °F (R-22 at -15 °F left out: it prints 12 for 11.2)", RACK, P, "psi",
          0.5, rack_table),
    Check("low_pressure_settings", "R-134a cooler 35 to 38 °F, TD 20 °F: 33 and 15 psig", ARTICLE, P, "psi or °F", 0.5,
          article_settings),
    Check("low_pressure_settings_by_coil", "pump-down: highest cut-in that clears winter and restart",
          "search over a grid of settings, saturation from CoolProp 8", D, "psi", 0.05, pump_down_by_search),
    Check("low_pressure_check", "33 and 15 psig mean 38 °F, 15 °F, box 35 °F, no conflict", ARTICLE, P, "°F", 0.5,
          lambda: article_check("low_pressure_check", cut_out="15 psig")),
    Check("low_pressure_check_by_differential", "33 psig less 18 psi, the same", ARTICLE, P, "°F", 0.5,
          lambda: article_check("low_pressure_check_by_differential", differential="18 psi")),
    Check("setting_saturation_temperature", "R-134a: 33 psig is 38 °F, 15 psig is 15 °F", ARTICLE, P, "°F", 0.5,
          lambda: [coil(33, "R-134a") - 38.0, coil(15, "R-134a") - 15.0]),
    Check("setting_saturation_temperature", "20 °F coil: R-22 43 psig, R-134a 18 psig", THINK, P, "°F", 0.75, lambda: [
        coil(43, "R-22") - 20.0, coil(18, "R-134a") - 20.0]),
    Check("cut_in_winter_margin", "six refrigerants, -20 to 30 °F", LIBRARY, L, "psi", 0.03, winter_by_library),
    Check("pressure_differential", "cut-in 15 psig, cut-out 5 psig: 10 psi", "supermarket rack manual (seen)", P, "psi",
          1e-9, lambda: [number("pressure_differential", "psi", cut_in="15 psig", cut_out="5 psig") - 10.0]),
    Check("cut_out_from_differential", "30 psi less 20 psi: 10 psi", "technician's web page on controls (seen)", P,
          "psi", 1e-9, lambda: [
              number("cut_out_from_differential", "psig", cut_in="30 psig", differential="20 psi") - 10.0]),
    Check("cut_out_from_differential", "5 bar less 3 bar: 2 bar", "condensing unit manual (seen)", P, "bar", 1e-9,
          lambda: [number("cut_out_from_differential", "bar_gauge", cut_in="5 bar_gauge", differential="3 bar") - 2.0]),
    Check("box_temperature_at_cut_out", "R-134a 15 psig, TD 20 °F: 35 °F", ARTICLE, P, "°F", 0.5, lambda: [
        number("box_temperature_at_cut_out", "degF", cut_out="15 psig", temperature_difference="20 delta_degF",
               refrigerant="R-134a") - 35.0]),
    Check("box_temperature_at_cut_out", "six refrigerants, 5 to 60 psig", LIBRARY, L, "°F", 0.05, boxes_by_library),
)
