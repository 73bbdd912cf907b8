"""Sweating surfaces, airflow and coils against ASHRAE examples, CoolProp and a panel of slices."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from faultkit.calculators.air import airflow, coil, humidity, sweat
from tests.calculators.air_reference import (
    ASHRAE,
    COOLPROP,
    STATES,
    coolprop_coil,
    coolprop_cooled,
    coolprop_dew,
    kelvin,
)
from tests.calculators.evidence_check import Check, Evidence

PUBLISHED, LIBRARY = Evidence.PUBLISHED, Evidence.REFERENCE_LIBRARY


def wall_surface(room: float, box: float, u: float, film: float) -> float:
    """Outside surface by relaxation of a panel of 40 slices between two films, its U being ``u`` in all."""
    inner = 9.0
    panel = 1.0 / u - 1.0 / film - 1.0 / inner
    slices = 40
    links = [1.0 / film, *[panel / slices] * slices, 1.0 / inner]
    temperatures = [room + (box - room) * i / len(links) for i in range(len(links) + 1)]
    for _ in range(20_000):
        for i in range(1, len(links)):
            a, b = 1.0 / links[i - 1], 1.0 / links[i]
            temperatures[i] = (a * temperatures[i - 1] + b * temperatures[i + 1]) / (a + b)
    return temperatures[1]


PANELS = ((297.04, 275.37, 2.555, 8.29), (299.82, 255.37, 0.4, 8.29), (305.0, 250.0, 3.0, 12.0))


def begins(room: float, surface: float) -> float:
    """Humidity at which CoolProp's dew point reaches the surface, by bisection."""
    low, high = 0.01, 1.0
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (middle, high) if coolprop_dew(room, middle) < surface else (low, middle)
    return low


def verdict_misses() -> Iterator[float]:
    """1 for each wrong word a point of humidity on either side of where CoolProp sees dew."""
    for room, box, u, film in PANELS:
        surface = wall_surface(room, box, u, film)
        at = begins(room, surface)
        wet = "frosts" if surface < 273.15 else "sweats"
        for ratio, word in ((at - 0.01, "dry"), (at + 0.01, wet)):
            yield float(sweat.sweating_surface(room, box, u, ratio, film).verdict != word)


COILS = (
    (kelvin(2.0), 0.85, kelvin(-2.0), 0.95), (kelvin(30.0), 0.5, kelvin(10.0), 1.0),
    (kelvin(-17.0), 0.9, kelvin(-22.0), 0.95),
)


def coil_errors(
    pick: Callable[[coil.CoilCapacity], float], of: Callable[[tuple[float, float, float]], float]
) -> Callable[[], Iterable[float]]:
    """Percent off CoolProp, by kg of dry air."""
    def errors() -> Iterator[float]:
        for air_in, r_in, air_out, r_out in COILS:
            expected = of(coolprop_coil(air_in, r_in, air_out, r_out))
            flow = 1.0 / humidity.dry_air_density(air_in, r_in)
            yield 100.0 * (pick(coil.coil_capacity(flow, air_in, r_in, air_out, r_out)) / expected - 1.0)

    return errors


EXAMPLE_3 = (5.0, kelvin(30.0), 0.5, kelvin(10.0), 1.0)

CHECKS = (
    Check(
        "outside_surface_temperature", "3 panels of 40 slices relaxed to balance", "finite differences",
        Evidence.DERIVATION, "K", 0.01,
        lambda: (sweat.outside_surface_temperature(*panel) - wall_surface(*panel) for panel in PANELS),
    ),
    Check(
        "sweat_margin", "3 panels relaxed to balance, rooms of 30, 50 and 80 %", "finite differences and " + COOLPROP,
        LIBRARY, "K", 0.03,
        lambda: (
            sweat.sweat_margin(room, box, u, ratio, film)
            - (wall_surface(room, box, u, film) - coolprop_dew(room, ratio))
            for room, box, u, film in PANELS for ratio in (0.3, 0.5, 0.8)
        ),
    ),
    Check(
        "surface_dew_point_margin", "surfaces of 60 °F in air of 3 humidities", COOLPROP, LIBRARY, "K", 0.02,
        lambda: (
            sweat.surface_dew_point_margin(288.71, 297.04, ratio) - (288.71 - coolprop_dew(297.04, ratio))
            for ratio in (0.3, 0.5, 0.8)
        ),
    ),
    Check(
        "sweating_humidity", "humidity at which the dew point reaches the relaxed surface, 3 panels",
        "finite differences and " + COOLPROP, LIBRARY, "points", 0.2,
        lambda: (
            100.0 * (sweat.sweating_humidity(*panel) - begins(panel[0], wall_surface(*panel))) for panel in PANELS
        ),
    ),
    Check(
        "sweating_surface", "words one point of humidity on either side of where dew begins, 3 panels",
        "finite differences and " + COOLPROP, LIBRARY, "wrong words", 0.0, verdict_misses,
    ),
    Check(
        "airflow", "example 2: 490 kW from 2 °C saturated to 40 °C is 10 m³/s", ASHRAE, PUBLISHED, "m³/s", 0.02,
        lambda: [airflow.airflow(490e3, 38.0, kelvin(2.0), 1.0) - 10.0],
    ),
    Check(
        "airflow", "Btu/h over 1.08 times °F at 70 °F and sea level (1.08 itself rounded)",
        "trade press on the sensible heat formula: 60 x 0.075 x 0.24 = 1.08", PUBLISHED, "%", 0.5,
        lambda: [
            100.0 * (airflow.airflow(3516.853, 20 / 1.8, 294.261, 0.01) / (12000 / (1.08 * 20) * 4.719474e-4) - 1.0)
        ],
    ),
    Check(
        "sensible_capacity", "example 2: 10 m³/s from 2 °C saturated to 40 °C take 490 kW", ASHRAE, PUBLISHED, "kW",
        1.0,
        lambda: [1e-3 * airflow.sensible_capacity(10.0, 38.0, kelvin(2.0), 1.0) - 490.0],
    ),
    Check(
        "sensible_capacity", "cooling by 5 K without condensation, 7 states",
        COOLPROP, LIBRARY, "%", 0.3,
        lambda: (
            100.0 * (airflow.sensible_capacity(1.0, 5.0, kelvin(t), r, p) / coolprop_cooled(t, r, p, 5.0) - 1.0)
            for t, r, p in STATES if r <= 0.6
        ),
    ),
    Check(
        "air_temperature_split", "example 2: 490 kW in 10 m³/s saturated at 2 °C are 38 K", ASHRAE, PUBLISHED, "K",
        0.08,
        lambda: [airflow.air_temperature_split(490e3, 10.0, kelvin(2.0), 1.0) - 38.0],
    ),
    Check(
        "coil_capacity",
        "example 3: 5 m³/s of 30 °C, 50 % to saturated 10 °C take 197 kW (chart readings to 0.1 kJ/kg)", ASHRAE,
        PUBLISHED, "kW", 1.2, lambda: [1e-3 * coil.coil_capacity(*EXAMPLE_3).total - 197.0],
    ),
    Check(
        "coil_capacity", "latent part of 3 coils, two with frost", COOLPROP, LIBRARY, "%", 1.2,
        coil_errors(lambda c: c.latent, lambda told: told[0] - told[1]),
    ),
    Check(
        "coil_total_capacity", "3 coils, two with frost", COOLPROP, LIBRARY, "%", 1.0,
        coil_errors(lambda c: c.total, lambda told: told[0]),
    ),
    Check(
        "coil_total_capacity", "example 3: 197 kW", ASHRAE, PUBLISHED, "kW", 1.2,
        lambda: [1e-3 * coil.coil_total_capacity(*EXAMPLE_3) - 197.0],
    ),
    Check(
        "coil_sensible_capacity", "3 coils", COOLPROP, LIBRARY, "%", 0.3,
        coil_errors(lambda c: c.sensible, lambda told: told[1]),
    ),
    Check(
        "coil_sensible_heat_ratio", "3 coils, two with frost", COOLPROP, LIBRARY, "points", 0.8,
        lambda: (
            100.0 * (coil.coil_sensible_heat_ratio(*c) - coolprop_coil(*c)[1] / coolprop_coil(*c)[0]) for c in COILS
        ),
    ),
    Check(
        "coil_moisture_removed", "example 3: 5.70 (13.3 - 7.66) g/s", ASHRAE, PUBLISHED, "g/s", 0.35,
        lambda: [1e3 * coil.coil_moisture_removed(*EXAMPLE_3) - 5.70 * (13.3 - 7.66)],
    ),
    Check(
        "coil_moisture_removed", "3 coils, two with frost", COOLPROP, LIBRARY, "%", 1.2,
        coil_errors(lambda c: c.water, lambda told: told[2]),
    ),
)
