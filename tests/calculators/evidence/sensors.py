"""Sensors against printed tables, rules and worked examples."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from itertools import pairwise
from math import log

from faultkit.calculators.sensors import check, convert, faults, thermistors, tolerances
from faultkit.units import to_si
from tests.calculators import sensor_tables as tables
from tests.calculators.evidence_check import Check, Evidence

PUBLISHED = Evidence.PUBLISHED
Table = Mapping[float, float]
SERVICE_CHART = "service manual of a split unit, thermistor 15 kohm at 0 degC, B 3480 K, with its formula (seen)"


def kelvin(celsius: float) -> float:
    return celsius + 273.15


def ohm_errors(curve: str, table: Table) -> Callable[[], Iterable[float]]:
    return lambda: (convert.sensor_resistance(curve, kelvin(t)) - r for t, r in table.items())


def kelvin_errors(curve: str, table: Table, scale: float = 1.0) -> Callable[[], Iterable[float]]:
    return lambda: (convert.sensor_temperature(curve, scale * r) - kelvin(t) for t, r in table.items())


def between(table: Table, ohms: float) -> float:
    """degC in a table at ``ohms``: ln R straight between rows."""
    rows = sorted(table.items())
    for (t1, r1), (t2, r2) in pairwise(rows):
        if min(r1, r2) <= ohms <= max(r1, r2):
            return t1 + (t2 - t1) * log(ohms / r1) / log(r2 / r1)
    raise ValueError(ohms)


def logger_rows() -> list[tuple[float, float, float]]:
    """Row by row: degC, its ohms, the ohms one degree warmer."""
    rows = sorted(tables.LOGGER_TYPE_2.items())
    return [(t, r, warmer) for (t, r), (_, warmer) in pairwise(rows)]


def deviations() -> Iterable[float]:
    return (
        (check.sensor_deviation("ntc_10k_type_2", warmer, kelvin(t)) - (warmer / r - 1.0)) * 100.0
        for t, r, warmer in logger_rows()
    )


def verdict_misses() -> Iterable[float]:
    """1 for each row called wrong: good at home, drift 2 K away; an open and a short."""
    for t, r, _ in logger_rows():
        cases = ((r, 0.0, "good"), (r, 2.0, "drift"), (r, -2.0, "drift"), (1e8, 0.0, "open"), (20.0, 0.0, "short"))
        for ohms, off, verdict in cases:
            yield float(check.sensor_check("ntc_10k_type_2", ohms, kelvin(t + off)).verdict != verdict)


def wrong_curves() -> Iterable[tuple[float, float, float]]:
    """degC, what the control shows, what the control's table has at the sensor's printed ohms."""
    for sensor, table in (("ntc_10k_type_3", tables.TYPE_3), ("ntc_10k_3435", tables.BETA_3435)):
        for t in (-30.0, -20.0, -10.0, 0.0):
            shown = faults.wrong_curve_reading(sensor, "ntc_10k_type_2", kelvin(t)) - 273.15
            seen = table[t]
            if min(tables.LOGGER_TYPE_2.values()) < seen:
                yield t, shown, between(tables.LOGGER_TYPE_2, seen)
            else:
                yield t, shown, between({k: 1e4 * v for k, v in tables.RATIO_A.items()}, seen)


def one_degree(error: Callable[[str, float, float], float], *, leak: bool) -> Iterable[float]:
    """Errors of what brings one row's ohms to the next row's."""
    for t, r, warmer in logger_rows():
        if leak:
            yield error("ntc_10k_type_2", kelvin(t), r * warmer / (r - warmer)) - 1.0
        else:
            yield error("ntc_10k_type_2", kelvin(t + 1.0), r - warmer) + 1.0


def lead_errors() -> Iterable[float]:
    """Cable whose printed ohms are those of Pt100 from 0 to 10 degC reads 10 K warm."""
    for gauge, ohms in tables.AWG_OHMS.items():
        length = to_si(1000.0, "ft") * (tables.PT1000[10.0] / 10.0 - 100.0) / (2.0 * ohms)
        yield faults.lead_wire_error("pt100", kelvin(0.0), length, str(gauge)) - 10.0


def limit_errors() -> Iterable[float]:
    for grade, t, _, ohms in tables.IEC_TOLERANCES:
        found = tolerances.rtd_limits("pt100", grade, kelvin(t), "wire_wound")
        yield (found.high - found.low) / 2.0 - ohms


CHART = {0.0: 15e3, 10.0: 9.6e3, 20.0: 6.3e3, 25.0: 5.2e3, 30.0: 4.3e3, 40.0: 3.0e3}


def betas() -> Iterable[float]:
    m = tables.MATERIAL_1
    return (
        thermistors.thermistor_beta(kelvin(a), 1e4 * m[a], kelvin(b), 1e4 * m[b]) - beta
        for a, b, _, beta in tables.MATERIAL_1_BETAS
    )


def coefficients() -> Iterable[float]:
    """Percent off the coefficients others print for three rows."""
    printed = (
        (
            (-20.0, 67770.0, 25.0, 10000.0, 50.0, 4160.0),
            (8.93907855517688e-4, 2.50424219255434e-4, 1.96612085902327e-7),
        ),
        ((0.0, 29490.0, 25.0, 10000.0, 50.0, 3893.0), (1.029e-3, 2.391e-4, 1.566e-7)),
        ((0.0, 32650.0, 25.0, 10000.0, 50.0, 3602.0), (1.127e-3, 2.344e-4, 8.675e-8)),
    )
    for (t1, r1, t2, r2, t3, r3), wanted in printed:
        found = thermistors.steinhart_hart(kelvin(t1), r1, kelvin(t2), r2, kelvin(t3), r3)
        yield from ((got / want - 1.0) * 100.0 for got, want in zip((found.a, found.b, found.c), wanted, strict=True))


def three_rows(table: Table, scale: float, rows: tuple[float, float, float]) -> tuple[float, ...]:
    return tuple(v for t in rows for v in (kelvin(t), scale * table[t]))


_ROWS = ((tables.BETA_3435, 1.0, (-40.0, 25.0, 100.0)), (tables.RATIO_A, 5e3, (-20.0, 20.0, 60.0)),
         (tables.TYPE_3, 1.0, (-20.0, 20.0, 60.0)))


def three_point_kelvins() -> Iterable[float]:
    for table, scale, rows in _ROWS:
        point = three_rows(table, scale, rows)
        yield from (
            thermistors.three_point_temperature(scale * r, *point) - kelvin(t)
            for t, r in table.items() if rows[0] <= t <= rows[2]
        )


def three_point_percents() -> Iterable[float]:
    for table, scale, rows in _ROWS:
        point = three_rows(table, scale, rows)
        yield from (
            (thermistors.three_point_resistance(kelvin(t), *point) / (scale * r) - 1.0) * 100.0
            for t, r in table.items() if rows[0] <= t <= rows[2]
        )


# Half the last digit of a table is 0.005 K to 0.03 K on a thermistor, and curves of one name differ between makers:
# the tables' own interchangeability is allowed, 0.2 K, and 1 K for the type 2 table of SENSOR_SHEET.
_NTC = (
    ("ntc_10k_type_2", "-50 to 150 degC", tables.RATIO_A, 1e4, 0.2, tables.RATIO),
    ("ntc_10k_type_2", "-40 to 1 degC", tables.LOGGER_TYPE_2, 1.0, 0.2, tables.LOGGER),
    ("ntc_10k_type_2", "another maker's, -50 to 130 degC", tables.TYPE_2, 1.0, 1.0, tables.SENSOR_SHEET),
    ("ntc_10k_type_3", "-50 to 130 degC", tables.TYPE_3, 1.0, 0.2, tables.SENSOR_SHEET),
    ("ntc_10k_type_3", "another maker's, 0 to 50 degC", tables.TYPE_3_OTHER, 1.0, 0.2, tables.SENSOR_SHEET),
    ("ntc_10k_3435", "-50 to 110 degC", tables.BETA_3435, 1.0, 0.1, tables.SHEET_3435),
    ("ntc_5k", "-50 to 150 degC", tables.RATIO_A, 5e3, 0.2, tables.RATIO),
    ("ntc_3k", "-50 to 150 degC", tables.RATIO_A, 3e3, 0.2, tables.RATIO),
    ("ntc_3k", "another maker's, 0 to 70 degC", tables.NTC_3K, 1.0, 0.2, tables.SENSOR_SHEET),
    ("ntc_2252", "-50 to 150 degC", tables.RATIO_A, 2252.0, 0.2, tables.RATIO),
    ("ntc_2252", "another maker's, 0 to 70 degC", tables.NTC_2252, 1.0, 0.2, tables.SENSOR_SHEET),
    ("ntc_2k", "-50 to 150 degC (same material)", tables.RATIO_A, 2e3, 0.2, tables.RATIO),
)

CHECKS = (
    Check("sensor_resistance", "Pt100, -200 to 600 degC", tables.PT_TABLE, PUBLISHED, "ohm", 0.0052,
          ohm_errors("pt100", tables.PT100)),
    Check("sensor_resistance", "Pt1000, -50 to 120 degC", tables.SENSOR_SHEET, PUBLISHED, "ohm", 0.0051,
          ohm_errors("pt1000", tables.PT1000)),
    Check("sensor_resistance", "Pt100 at 850 degC: 390.48 ohm", "IEC 60751 (from memory)", Evidence.FROM_MEMORY, "ohm",
          0.005, ohm_errors("pt100", {850.0: 390.48})),
    Check("sensor_resistance", "PTC 1000 ohm, -55 to 100 degC", tables.PTC_TABLE, PUBLISHED, "ohm", 0.5,
          ohm_errors("ptc_1k", tables.PTC_1K)),
    Check("sensor_resistance", "PTC 990 ohm, -55 to 100 degC", tables.PTC_TABLE, PUBLISHED, "ohm", 0.5,
          ohm_errors("ptc_990", tables.PTC_990)),
    Check("sensor_temperature", "Pt100, -200 to 600 degC", tables.PT_TABLE, PUBLISHED, "K", 0.016,
          kelvin_errors("pt100", tables.PT100)),
    *(
        Check("sensor_temperature", f"{curve}, {what}", source, PUBLISHED, "K", allowed,
              kelvin_errors(curve, table, scale))
        for curve, what, table, scale, allowed, source in _NTC
    ),
    Check("ice_bath_resistance", "10 kohm type 2 in ice water: 32 650 ohm", "service manual of a heat pump (seen)",
          PUBLISHED, "ohm", 5.0, lambda: [convert.ice_bath_resistance("ntc_10k_type_2") - 32650.0]),
    Check("ice_bath_resistance", "PTC of 1000 and 990 ohm: 815 and 807 ohm", tables.PTC_TABLE, PUBLISHED, "ohm", 0.5,
          lambda: [convert.ice_bath_resistance("ptc_1k") - 815.0, convert.ice_bath_resistance("ptc_990") - 807.0]),
    Check("sensor_error", "each row's ohms one degree away read 1 K warm", tables.LOGGER, PUBLISHED, "K", 0.02,
          lambda: (check.sensor_error("ntc_10k_type_2", w, kelvin(t)) - 1.0 for t, _, w in logger_rows())),
    Check("sensor_deviation", "each row's ohms against the next row's", tables.LOGGER, PUBLISHED, "points", 0.1,
          deviations),
    Check("sensor_check", "41 rows called good, drift, open and short", tables.LOGGER, PUBLISHED, "wrong verdicts", 0.0,
          verdict_misses),
    Check("wrong_curve_reading", "type 3 and 3435 sensors looked up in the type 2 table", tables.LOGGER, PUBLISHED, "K",
          0.2, lambda: (shown - wanted for _, shown, wanted in wrong_curves())),
    Check("wrong_curve_error", "a 3435 sensor at -20 degC is row -13.7 of the type 2 table", tables.LOGGER, PUBLISHED,
          "K", 0.2, lambda: (
              faults.wrong_curve_error("ntc_10k_3435", "ntc_10k_type_2", kelvin(t)) - (wanted - t)
              for t, _, wanted in list(wrong_curves())[4:]
          )),
    Check("series_resistance_error", "the ohms between two rows make it read one degree cold", tables.LOGGER, PUBLISHED,
          "K", 0.02, partial(one_degree, faults.series_resistance_error, leak=False)),
    Check("parallel_leakage_error", "the leak between two rows makes it read one degree warm", tables.LOGGER, PUBLISHED,
          "K", 0.02, partial(one_degree, faults.parallel_leakage_error, leak=True)),
    Check("lead_wire_error", "14 to 30 AWG on a Pt100: 10 K for the ohms of 10 K", tables.COPPER_TABLE, PUBLISHED, "K",
          0.005, lead_errors),
    Check("rtd_tolerance", "classes A and B, -100 to 600 degC", "IEC 60751 tolerances, a maker's sheet (seen)",
          PUBLISHED, "K", 0.005, lambda: (
              tolerances.rtd_tolerance(grade, kelvin(t), "wire_wound") - k for grade, t, k, _ in tables.IEC_TOLERANCES
          )),
    Check("rtd_tolerance", "class AA is 0.1 + 0.0017 |t|: 0.27 K at 100 degC", "three makers of sensors (seen)",
          PUBLISHED, "K", 1e-9, lambda: [tolerances.rtd_tolerance("AA", kelvin(100.0)) - 0.27]),
    Check("rtd_limits", "Pt100 of classes A and B in ohm", "IEC 60751 tolerances, a maker's sheet (seen)", PUBLISHED,
          "ohm", 0.0052, limit_errors),
    # The chart states the sensor to 3 %.
    Check("beta_resistance", "15 kohm at 0 degC, B 3480 K: chart of 0 to 40 degC", SERVICE_CHART, PUBLISHED, "%", 3.0,
          lambda: (
              (thermistors.beta_resistance(15e3, 3480.0, kelvin(t), 273.15) / r - 1.0) * 100.0 for t, r in CHART.items()
          )),
    Check("beta_temperature", "10 kohm, 3435 K: 1451 ohm is 85 degC", tables.SHEET_3435, PUBLISHED, "K", 0.02,
          lambda: [thermistors.beta_temperature(1e4, 3435.0, 1451.0) - kelvin(85.0)]),
    # Ratios of four digits are worth up to 1.2 K of beta, beta itself is rounded.
    Check("thermistor_beta", "six intervals of one table", tables.MATERIAL, PUBLISHED, "K", 1.7, betas),
    Check("thermistor_beta", "25 and 85 degC of the 3435 K table", tables.SHEET_3435, PUBLISHED, "K", 1.0,
          lambda: [thermistors.thermistor_beta(kelvin(25.0), 1e4, kelvin(85.0), 1451.0) - 3435.0]),
    Check("steinhart_hart_coefficients", "three sets of coefficients, of four and of fifteen digits",
          "two public programs for thermistors (seen)", PUBLISHED, "%", 0.05, coefficients),
    Check("three_point_temperature", "three rows, and all rows between them", f"{tables.SHEET_3435}; {tables.RATIO}",
          PUBLISHED, "K", 0.1, three_point_kelvins),
    Check("three_point_resistance", "three rows, and all rows between them", f"{tables.SHEET_3435}; {tables.RATIO}",
          PUBLISHED, "%", 0.5, three_point_percents),
)
