"""Humidity of air against the ASHRAE tables and examples and two libraries."""

from __future__ import annotations

from collections.abc import Callable

from faultkit.calculators.air import humidity
from tests.calculators.air_reference import (
    ASHRAE,
    COOLPROP,
    PSYCHROLIB,
    SATURATED,
    SATURATION,
    SEA_LEVEL,
    STATES,
    coolprop,
    kelvin,
    over_states,
    psychro_celsius,
    psychro_density,
    psychrolib,
    water_pressure,
)
from tests.calculators.evidence_check import Check, Evidence

PUBLISHED, LIBRARY = Evidence.PUBLISHED, Evidence.REFERENCE_LIBRARY


def states(function: Callable[..., float]) -> Callable[[float, float, float], float]:
    return lambda t, r, p: function(kelvin(t), r, p)


def dew(t: float, r: float, _p: float) -> float:
    return humidity.dew_point(kelvin(t), r)


CHECKS = (
    Check(
        "water_vapor_pressure", "12 rows from -30 to 50 °C", f"{ASHRAE}, table 3", PUBLISHED, "%", 0.05,
        lambda: (100.0 * (humidity.water_vapor_pressure(kelvin(t)) / (p * 1e3) - 1.0) for t, p in SATURATION.items()),
    ),
    Check(
        "water_vapor_pressure", "every 5 K from 0.01 to 95 °C", "CoolProp, water (IAPWS-95)", LIBRARY, "%", 0.05,
        lambda: (
            100.0 * (humidity.water_vapor_pressure(t) / water_pressure(t) - 1.0)
            for t in (273.17 + 5.0 * i for i in range(20))
        ),
    ),
    Check("dew_point", "9 states", COOLPROP, LIBRARY, "K", 0.02, over_states(dew, coolprop("Tdp"))),
    Check(
        "dew_point", "9 states", PSYCHROLIB, LIBRARY, "K", 0.002,
        over_states(dew, psychro_celsius("GetTDewPointFromRelHum", 0, 1)),
    ),
    Check(
        "relative_humidity_from_dew_point", "dew points of 9 states back to their humidity", COOLPROP, LIBRARY,
        "points", 0.1,
        lambda: (
            100.0 * (humidity.relative_humidity_from_dew_point(kelvin(t), coolprop("Tdp")(t, r, p)) - r)
            for t, r, p in STATES
        ),
    ),
    Check(
        "relative_humidity_from_wet_bulb", "example 1 (40/20 °C: 14 %); 40/30 °C at sea level 49 %, at 84.54 kPa 50 %",
        ASHRAE, PUBLISHED, "points", 0.5,
        lambda: (
            100.0 * humidity.relative_humidity_from_wet_bulb(313.15, kelvin(wet), p) - told
            for wet, p, told in ((20.0, SEA_LEVEL, 14.0), (30.0, SEA_LEVEL, 49.0), (30.0, 84_540.0, 50.0))
        ),
    ),
    Check(
        "relative_humidity_from_wet_bulb", "wet bulbs above freezing back to their humidity", PSYCHROLIB, LIBRARY,
        "points", 0.01,
        lambda: (
            100.0 * (humidity.relative_humidity_from_wet_bulb(kelvin(t), kelvin(wet), p) - r)
            for t, r, p in STATES
            if (wet := psychrolib("GetTWetBulbFromRelHum", 0, 1, 2)(t, r, p)) > 0.0
        ),
    ),
    Check(
        "wet_bulb", "9 states", COOLPROP, LIBRARY, "K", 0.05, over_states(states(humidity.wet_bulb), coolprop("Twb"))
    ),
    Check(
        "wet_bulb", "9 states", PSYCHROLIB, LIBRARY, "K", 0.002,
        over_states(states(humidity.wet_bulb), psychro_celsius("GetTWetBulbFromRelHum", 0, 1, 2)),
    ),
    Check(
        "humidity_ratio", "saturated air, 9 rows from -40 to 40 °C (perfect gas: the chapter allows 0.7 %)",
        f"{ASHRAE}, table 2", PUBLISHED, "%", 0.7,
        lambda: (
            100.0 * (humidity.humidity_ratio(kelvin(t), 1.0) / row[0] - 1.0) for t, row in SATURATED.items()
        ),
    ),
    Check(
        "humidity_ratio", "40/30 °C: 23.0 g/kg at sea level, 28.6 at 84.54 kPa", f"{ASHRAE}, charts 1 and 6 compared",
        PUBLISHED, "g/kg", 0.2,
        lambda: (
            1e3 * humidity.humidity_ratio(
                313.15, humidity.relative_humidity_from_wet_bulb(313.15, 303.15, p), p
            ) - told
            for p, told in ((SEA_LEVEL, 23.0), (84_540.0, 28.6))
        ),
    ),
    Check(
        "humidity_ratio", "9 states", PSYCHROLIB, LIBRARY, "%", 0.02,
        over_states(states(humidity.humidity_ratio), psychrolib("GetHumRatioFromRelHum", 0, 1, 2), relative=True),
    ),
    Check(
        "moist_air_enthalpy", "example 1: 56.7 kJ/kg; 40/30 °C: 99.5 kJ/kg, at 84.54 kPa 114.1", ASHRAE, PUBLISHED,
        "kJ/kg", 0.5,
        lambda: (
            1e-3 * humidity.moist_air_enthalpy(
                313.15, humidity.relative_humidity_from_wet_bulb(313.15, kelvin(wet), p), p
            ) - told
            for wet, p, told in ((20.0, SEA_LEVEL, 56.7), (30.0, SEA_LEVEL, 99.5), (30.0, 84_540.0, 114.1))
        ),
    ),
    Check(
        "moist_air_enthalpy", "saturated air less air of 1 %, -20 to 30 °C (perfect gas: the chapter allows 0.7 %)",
        f"{ASHRAE}, table 2", PUBLISHED, "%", 0.7,
        lambda: (
            100.0 * (
                (humidity.moist_air_enthalpy(kelvin(t), 1.0) - humidity.moist_air_enthalpy(kelvin(t), 0.01))
                / ((row[2] - row[3]) * 990.0) - 1.0
            )
            for t, row in SATURATED.items() if -20 <= t <= 30
        ),
    ),
    Check(
        "moist_air_density", "9 states", PSYCHROLIB, LIBRARY, "%", 0.002,
        over_states(states(humidity.moist_air_density), psychro_density, relative=True),
    ),
    Check(
        "moist_air_density", "9 states", COOLPROP, LIBRARY, "%", 0.15,
        over_states(states(humidity.moist_air_density), lambda t, r, p: 1.0 / coolprop("Vha")(t, r, p), relative=True),
    ),
    Check(
        "dry_air_density", "saturated air, 9 rows from -40 to 40 °C (perfect gas: the chapter allows 0.7 %)",
        f"{ASHRAE}, table 2", PUBLISHED, "%", 0.7,
        lambda: (
            100.0 * (humidity.dry_air_density(kelvin(t), 1.0) * row[1] - 1.0) for t, row in SATURATED.items()
        ),
    ),
    Check(
        "dry_air_density", "40/30 °C: 0.920 m³/kg at sea level, 1.111 at 84.54 kPa (perfect gas)",
        f"{ASHRAE}, charts 1 and 6 compared", PUBLISHED, "m³/kg", 0.0015,
        lambda: (
            1.0 / humidity.dry_air_density(
                313.15, humidity.relative_humidity_from_wet_bulb(313.15, 303.15, p), p
            ) - told
            for p, told in ((SEA_LEVEL, 0.920), (84_540.0, 1.111))
        ),
    ),
)
