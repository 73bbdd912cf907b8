"""Head-pressure controls and thermostats against CoolProp, printed settings, and trying every case."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import product

from tests.calculators.evidence.controls import (
    COOLPROP,
    LIBRARY,
    number,
    outside,
    result,
    saturation,
    temperature,
    told,
)
from tests.calculators.evidence_check import Check, Evidence

REACH_IN = "trade-press article on temperature controls in reach-ins (seen)"


def printed_r410a() -> Iterator[float]:
    """The table does not say which side it shows: a figure between the library's dew and our bubble, rounded,
    agrees."""
    for fahrenheit, psig in ((40, 118), (50, 143), (70, 201), (85, 255), (100, 318), (120, 418), (130, 477)):
        bubble = number(
            "head_pressure_setting", "psig", condensing_temperature=f"{fahrenheit} degF", refrigerant="R-410A"
        )
        yield outside(psig, saturation("R-410A", fahrenheit, 1.0), bubble)


def bubble_by_library() -> Iterator[float]:
    for refrigerant, fahrenheit in product(COOLPROP, (70, 90, 110)):
        yield number(
            "head_pressure_setting", "psig", condensing_temperature=f"{fahrenheit} degF", refrigerant=refrigerant
        ) - saturation(refrigerant, fahrenheit, 0.0)


def fans_by_library() -> Iterator[float]:
    for refrigerant in COOLPROP:
        a = told("fan_cycling_settings", refrigerant=refrigerant, on_temperature="95 degF", off_temperature="72 degF")
        yield result(a, "cut_in", "psig") - saturation(refrigerant, 95, 0.0)
        yield result(a, "cut_out", "psig") - saturation(refrigerant, 72, 0.0)


def found_fans() -> Iterator[float]:
    a = told("fan_cycling_check", refrigerant="R-134a", cut_in="170 psig", cut_out="120 psig")
    yield result(a, "on_temperature", "degF") - temperature("R-134a", 170, 0.0)
    yield result(a, "off_temperature", "degF") - temperature("R-134a", 120, 0.0)


def fan_speed_by_library() -> Iterator[float]:
    for refrigerant in ("R-134a", "R-404A", "R-448A", "R-290"):
        a = told("fan_speed_settings", refrigerant=refrigerant, condensing_temperature="75 degF", band="40 psi")
        start = saturation(refrigerant, 75, 0.0)
        yield result(a, "full_speed_temperature", "degF") - temperature(refrigerant, start + 40.0, 0.0)


def valves_by_library() -> Iterator[float]:
    for refrigerant, psig in (("R-404A", 180), ("R-448A", 180), ("R-134a", 100), ("R-22", 180)):
        a = told("flooding_valve_check", refrigerant=refrigerant, setting=f"{psig} psig", ambient_temperature="0 degF")
        yield result(a, "condensing_temperature", "degF") - temperature(refrigerant, psig, 0.0)


def ceilings() -> Iterator[float]:
    """Highest whole psig that breaks none of the three limits, by trying them all."""
    for refrigerant, limit, rated, relief in (
        ("R-404A", 130, 450, 450), ("R-404A", 140, 380, 450), ("R-404A", 140, 450, 400), ("R-134a", 150, 350, 400),
        ("R-448A", 130, 400, 420),
    ):
        dew = saturation(refrigerant, limit, 1.0)
        want = max(p for p in range(1000) if p <= dew and p <= rated and p <= 0.9 * relief)
        yield number(
            "high_pressure_ceiling", "psig", condensing_temperature=f"{limit} degF", rated_pressure=f"{rated} psig",
            relief_pressure=f"{relief} psig", refrigerant=refrigerant,
        ) - (want + 0.5)


def cut_outs_by_library() -> Iterator[float]:
    for refrigerant, psig in (("R-404A", 380), ("R-134a", 250), ("R-448A", 380), ("R-290", 300)):
        a = told(
            "high_pressure_check", refrigerant=refrigerant, cut_out=f"{psig} psig", condensing_temperature="130 degF",
            rated_pressure="450 psig", relief_pressure="450 psig", highest_normal_temperature="110 degF",
        )
        yield result(a, "condensing_temperature", "degF") - temperature(refrigerant, psig, 1.0)


def air_by_trying(name: str, cut: str, pick: Callable[[Iterator[float]], float]) -> Iterator[float]:
    """Every probe error of a fine grid: the air at the product when the probe reads the setting."""
    for setting, accuracy, offset in product((-5.0, 35.0, 39.5), (0.0, 1.0, 2.5), (-2.0, 0.0, 3.0)):
        errors = [accuracy * i / 50 for i in range(-50, 51)]
        want = pick(iter([setting - e - offset for e in errors]))
        yield number(name, "degF", **{
            cut: f"{setting} degF", "probe_accuracy": f"{accuracy} delta_degF",
            "position_offset": f"{offset} delta_degF",
        }) - want


def swings() -> Iterator[float]:
    """A thermostat stepped through its cycle with every probe error of a grid."""
    a = told(
        "thermostat_check", cut_in="39 degF", cut_out="36 degF", product_low="33 degF", product_high="41 degF",
        probe_accuracy="1.5 delta_degF", position_offset="2 delta_degF",
    )
    seen: list[float] = []
    for error in (-1.5 + i * 0.05 for i in range(61)):
        air, running = 45.0, True
        for step in range(4000):
            probe = air + 2.0 + error  # the air is the product's, 2 degF below that at the probe
            running = probe >= 39.0 or (running and probe > 36.0)
            air += -0.01 if running else 0.01
            if step > 2000:
                seen.append(air)
    yield result(a, "coldest", "degF") - min(seen)
    yield result(a, "warmest", "degF") - max(seen)


def lowest_cut_ins() -> Iterator[float]:
    """Lowest cut-in of a grid that the check passes."""
    want = min(
        c / 20 for c in range(680, 820)
        if "frost" not in str(told(
            "thermostat_check", cut_in=f"{c / 20} degF", cut_out="33 degF", product_low="20 degF",
            product_high="60 degF", probe_accuracy="1.5 delta_degF",
        )["verdict"].value)
    )
    yield number("lowest_off_cycle_cut_in", "degF", probe_accuracy="1.5 delta_degF") - want


def held_air() -> Iterator[float]:
    """The air at which what the controller believes is its set point, by halving."""
    for point, error, offset in product((-10.0, 37.0), (-3.0, 0.0, 2.0), (-2.0, 0.0, 4.0)):
        low, high = point - 30.0, point + 30.0
        for _ in range(60):
            middle = (low + high) / 2.0
            low, high = (middle, high) if middle + error + offset < point else (low, middle)
        given = {
            "set_point": f"{point} degF", "probe_error": f"{error} delta_degF",
            "entered_offset": f"{offset} delta_degF",
        }
        yield number("true_set_point", "degF", **given) - low
        yield result(told("probe_offset_effect", **given), "air", "degF") - low


def offsets() -> Iterator[float]:
    """A controller with the offset entered shows the true temperature, whatever its probe's error."""
    for true, error, old in product((-5.0, 38.0), (-3.0, 2.5), (0.0, 1.0)):
        new = number(
            "probe_offset_to_enter", "delta_degF", shown=f"{true + error + old} degF", true=f"{true} degF",
            entered_offset=f"{old} delta_degF",
        )
        yield (true + error + new) - true


def reach_in() -> Iterator[float]:
    a = told(
        "coil_thermostat_check", cut_in="38 degF", cut_out="25 degF", temperature_difference="10 delta_degF",
        product_low="33 degF", product_high="41 degF",
    )
    yield result(a, "box_at_cut_out", "degF") - 35.0
    yield 9.0 * (a["verdict"].value != "no conflict")


def set_points() -> Iterator[float]:
    above = told("set_point_settings", set_point="36 degF", differential="8 delta_degF", scheme="above")
    below = told("set_point_settings", set_point="36 degF", differential="8 delta_degF", scheme="below")
    yield result(above, "cut_out", "degF") - 36.0
    yield result(above, "cut_in", "degF") - 44.0
    yield result(below, "cut_in", "degF") - 36.0
    yield result(below, "cut_out", "degF") - 28.0


P, L, D = Evidence.PUBLISHED, Evidence.REFERENCE_LIBRARY, Evidence.DERIVATION
CHECKS = (
    Check("head_pressure_setting", "R-410A, 40 to 130 °F", "air conditioner manual, pressure table (seen)", P, "psi",
          0.5, printed_r410a),
    Check("head_pressure_setting", "six refrigerants, 70 to 110 °F", LIBRARY, L, "psi", 0.1, bubble_by_library),
    Check("high_pressure_ceiling", "the lowest of three limits", "trying every whole psig; 90 % of relief is ASHRAE 15 "
          "(from memory)", D, "psi", 0.51, ceilings),
    Check("fan_cycling_settings", "six refrigerants, on 95 °F, off 72 °F", LIBRARY, L, "psi", 0.1, fans_by_library),
    Check("fan_cycling_check", "R-134a, 170 and 120 psig", LIBRARY, L, "°F", 0.05, found_fans),
    Check("fan_cycling_check", "cut-in 170, cut-out 120 psig: differential 50", "low-ambient kit manual (seen)", P,
          "psi", 1e-6, lambda: [result(told(
              "fan_cycling_check", refrigerant="R-134a", cut_in="170 psig", cut_out="120 psig",
          ), "differential", "psi") - 50.0]),
    Check("fan_speed_settings", "condensing temperature at full speed", LIBRARY, L, "°F", 0.05, fan_speed_by_library),
    Check("flooding_valve_check", "condensing temperature held", LIBRARY, L, "°F", 0.05, valves_by_library),
    Check("high_pressure_check", "condensing temperature at the cut-out", LIBRARY, L, "°F", 0.05, cut_outs_by_library),
    Check("thermostat_warmest_air", "every probe error of a grid", "trying them all", D, "°F", 1e-6,
          lambda: air_by_trying("thermostat_warmest_air", "cut_in", max)),
    Check("thermostat_coldest_air", "every probe error of a grid", "trying them all", D, "°F", 1e-6,
          lambda: air_by_trying("thermostat_coldest_air", "cut_out", min)),
    Check("thermostat_check", "coldest and warmest air", "stepping a thermostat through its cycle", D, "°F", 0.021,
          swings),
    Check("lowest_off_cycle_cut_in", "lowest cut-in without a frost conflict", "trying a grid of cut-ins", D, "°F",
          0.05, lowest_cut_ins),
    Check("set_point_settings", "set point 36 °F, differential 8 °F, above and below", "trade forum answer (seen)", P,
          "°F", 1e-6, set_points),
    Check("coil_thermostat_check", "coil 25 °F, TD 10 °F: case 35 °F; cut-in about 38 °F", REACH_IN, P, "°F", 1e-6,
          reach_in),
    Check("true_set_point", "air at which the controller sees its set point", "halving", D, "°F", 1e-6, held_air),
    Check("probe_offset_effect", "air at which the controller sees its set point", "halving", D, "°F", 1e-6, held_air),
    Check("probe_offset_to_enter", "the display then shows the truth", "adding the offset to the reading", D, "°F",
          1e-6, offsets),
)
