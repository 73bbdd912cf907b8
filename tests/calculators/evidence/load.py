"""Doors, product, boxes, cooling of one lump: printed figures, a library, and the physics done step by step."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import exp, sqrt

from faultkit.calculators.load import box, cooling, infiltration, product
from faultkit.units import from_si, to_si
from tests.calculators.evidence_check import Check, Evidence

PUBLISHED, LIBRARY, DERIVATION = Evidence.PUBLISHED, Evidence.REFERENCE_LIBRARY, Evidence.DERIVATION
EARLE = "R. L. Earle, Unit Operations in Food Processing, appendix 7 (from ASHRAE data)"
DOORWAY = "doorway equation in I-P units (13.26 ft³/min, seminar of a refrigeration consortium 2017), air by psychrolib"

#: Fruit and vegetables: share of water, kJ/(kg K) above and below freezing, kJ/kg to freeze.
FOODS = (
    (0.84, 3.60, 1.88, 280.0), (0.75, 3.35, 1.76, 255.0), (0.89, 3.81, 1.93, 293.0), (0.87, 3.78, 1.93, 289.0),
    (0.85, 3.68, 1.88, 285.0), (0.92, 4.06, 2.01, 306.0), (0.93, 3.93, 2.01, 310.0), (0.89, 3.81, 1.97, 297.0),
    (0.92, 3.93, 1.97, 306.0), (0.88, 3.60, 1.88, 293.0), (0.76, 3.35, 1.80, 251.0), (0.74, 3.31, 1.76, 247.0),
    (0.95, 3.98, 2.01, 310.0),
)
#: ft2, ft, degF and humidity of both sides, psia.
DOORS = (
    (20.0, 6.67, 80.0, 0.5, 35.0, 0.9, 14.696), (20.0, 6.67, 80.0, 0.5, 0.0, 0.8, 14.696),
    (6.0, 3.0, 72.0, 0.4, 38.0, 0.8, 14.696), (64.0, 8.0, 90.0, 0.6, -10.0, 0.85, 12.23),
)


def fahrenheit(degrees: float) -> float:
    return to_si(degrees, "degF")


def ours(door: tuple[float, ...]) -> tuple[float, ...]:
    area, height, warm, warm_ratio, cold, cold_ratio, pressure = door
    sides = (fahrenheit(warm), warm_ratio, fahrenheit(cold), cold_ratio)
    return (to_si(area, "ft2"), to_si(height, "ft"), *sides, to_si(pressure, "psia"))


def doorway(door: tuple[float, ...]) -> tuple[float, float, float]:
    """lb/h of air, Btu/h and lb/h of water through an open door, in I-P units throughout."""
    import psychrolib

    area, height, warm, warm_ratio, cold, cold_ratio, pressure = door
    psychrolib.SetUnitSystem(psychrolib.IP)
    sides = []
    for t, ratio in ((warm, warm_ratio), (cold, cold_ratio)):
        w = psychrolib.GetHumRatioFromRelHum(t, ratio, pressure)
        sides.append((psychrolib.GetMoistAirDensity(t, w, pressure), psychrolib.GetMoistAirEnthalpy(t, w), w))
    (outside, h_out, w_out), (inside, h_in, w_in) = sides
    factor = (2.0 / (1.0 + (inside / outside) ** (1.0 / 3.0))) ** 1.5
    flow = 60.0 * 13.26 * area * inside * sqrt(1.0 - outside / inside) * sqrt(32.174 * height) * factor
    return flow, flow * (h_out - h_in), flow * (w_out - w_in)


def open_door(what: int) -> Callable[[], Iterator[float]]:
    """Percent off the doorway equation: air, heat, water; door open 5 % of the time behind strips of 90 %."""
    def errors() -> Iterator[float]:
        for door in DOORS:
            given = ours(door)
            used = (*given[:-1], 0.05, 0.8, 0.9, given[-1])
            found = (
                from_si(infiltration.open_door_flow(*given), "lb_per_h") * 0.05 * 0.8 * 0.1,
                from_si(infiltration.door_infiltration(*used), "Btu_per_h"),
                from_si(infiltration.door_moisture(*used), "lb_per_h"),
            )
            yield 100.0 * (found[what] / (doorway(door)[what] * 0.05 * 0.8 * 0.1) - 1.0)

    return errors


def exchange(door: tuple[float, ...]) -> float:
    """kg/s through a door by Bernoulli, slice by slice, neutral where as much goes in as out; 0.65 for contraction."""
    from CoolProp.HumidAirProp import HAPropsSI

    area, height, warm, warm_ratio, cold, cold_ratio, pressure = ours(door)
    light, heavy = (
        1.0 / HAPropsSI("Vha", "P", pressure, "T", t, "R", r) for t, r in ((warm, warm_ratio), (cold, cold_ratio))
    )
    slices = 4000
    step = height / slices

    def flow(neutral: float, density: float, *, above: bool) -> float:
        total = 0.0
        for i in range(slices):
            z = (i + 0.5) * step - neutral
            if (z > 0.0) is above:
                total += sqrt(2.0 * 9.80665 * abs(z) * (heavy - light) / density) * density * step
        return total * area / height

    low, high = 0.0, height
    for _ in range(40):
        neutral = (low + high) / 2.0
        # Warm air comes in above the neutral level, cold air goes out below it.
        if flow(neutral, light, above=True) > flow(neutral, heavy, above=False):
            low = neutral
        else:
            high = neutral
    return 0.65 * flow(low, heavy, above=False)


def open_seconds() -> Iterator[float]:
    """Points of the share found by counting seconds of a shift with passages and one long opening."""
    shift = 28_800
    open_at = [False] * shift
    for passage in range(20):
        for second in range(15):
            open_at[900 * passage + second] = True
    for second in range(600):
        open_at[20_000 + second] = True
    yield 100.0 * (infiltration.door_open_time_factor(20.0, shift, 15.0, 600.0) - sum(open_at) / shift)


def cooled_step_by_step(start: float, settles: float, time_constant: float, elapsed: float) -> float:
    """Runge-Kutta for dT/dt = (settles - T) / time constant."""
    steps = 2000
    h, t = elapsed / steps, start
    for _ in range(steps):
        k1 = (settles - t) / time_constant
        k2 = (settles - t - h / 2 * k1) / time_constant
        k3 = (settles - t - h / 2 * k2) / time_constant
        k4 = (settles - t - h * k3) / time_constant
        t += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    return t


def run_share(load: float, capacity: float) -> float:
    """Share of the time a unit runs that a thermostat of 2 K switches, second by second."""
    heat_capacity, temperature, running, on, seconds = 2e5, 276.0, True, 0, 400_000
    for _ in range(seconds):
        temperature += (load - (capacity if running else 0.0)) / heat_capacity
        running = temperature > 275.0 if running else temperature >= 277.0
        on += running
    return on / seconds


def coil_heat(td: float) -> float:
    """W of a coil of 500 slices that the air passes one after the other, refrigerant of one temperature."""
    air, flow_heat, ua = td, 600.0, 900.0
    taken = 0.0
    for _ in range(500):
        share = ua / 500 * air
        taken += share
        air -= share / flow_heat
    return taken


def frozen_bit_by_bit(mass: float, entering: float, final: float, water: float, freezes: float) -> float:
    """J by cooling in steps of 0.01 K; the water freezes over the last 0.01 K above the freezing point."""
    steps = round((entering - final) / 0.01)
    heat = 0.0
    for a, b in pairwise(entering - 0.01 * i for i in range(steps + 1)):
        middle = (a + b) / 2.0
        solids = 0.84e3 * (1.0 - water)
        heat += (solids + water * (4.19e3 if middle > freezes else 2.10e3)) * (a - b)
        heat += 335e3 * water if b - 1e-6 <= freezes < a - 1e-6 else 0.0
    return mass * heat


def earle_beef() -> Iterator[float]:
    """Percent off the heat to freeze beef of 75 % water with the table's own values: 3.22, 1.67, 255 at -2 °C."""
    printed = 3.22e3 * 7.0 + 255e3 + 1.67e3 * 16.0
    yield 100.0 * (product.product_heat(1.0, 278.15, 255.15, 0.75, 271.15) / printed - 1.0)


#: ft2, in of foam of k 0.19, degF of difference, Btu a day.
WALLS = (
    (6000.0, 4.0, 105.0, 718_200.0), (6750.0, 4.0, 109.0, 838_755.0), (6000.0, 4.0, 107.0, 731_880.0),
    (45_000.0, 5.0, 70.0, 2_872_800.0),
)


def walls() -> Iterator[float]:
    for area, inches, difference, day in WALLS:
        u = to_si(0.19 / inches, "Btu_per_h_ft2_degF")
        gain = box.wall_gain(to_si(area, "ft2"), u, fahrenheit(-10.0 + difference), fahrenheit(-10.0))
        yield from_si(gain, "Btu_per_h") * 24.0 - day


def boxes() -> Iterator[float]:
    """W off the capacity that balances a day of the parts, counted hour by hour."""
    parts = (300.0, 1200.0, 150.0, 80.0, 200.0, 60.0, 40.0)
    found = box.box_load(*parts, run_time=18 * 3600.0, safety=0.1)
    joules = sum(p * 3600.0 for _ in range(24) for p in parts)
    yield found.load - joules / 86_400.0
    yield found.needed_capacity - 1.1 * joules / sum(3600.0 for _ in range(18))
    yield float(found.largest != "infiltration")
    yield found.share - 1200.0 / 2030.0


CASES = ((294.26, 274.82, 10_800.0, 19_044.0), (275.37, 297.04, 36_000.0, 14_400.0), (310.0, 255.0, 5000.0, 20_000.0))

CHECKS = (
    Check("open_door_flow", "4 doors, cooler to freezer at 5000 ft", DOORWAY, LIBRARY, "%", 0.1, open_door(0)),
    Check(
        "open_door_flow", "4 doors, flow in and out slice by slice (contraction of 0.6 to 0.7: within 8 %)",
        "Bernoulli's equation, air by CoolProp", DERIVATION, "%", 8.0,
        lambda: (100.0 * (infiltration.open_door_flow(*ours(d)) / exchange(d) - 1.0) for d in DOORS),
    ),
    Check("door_infiltration", "4 doors open 5 % of the time behind strips", DOORWAY, LIBRARY, "%", 0.2, open_door(1)),
    Check("door_moisture", "4 doors open 5 % of the time behind strips", DOORWAY, LIBRARY, "%", 0.2, open_door(2)),
    Check(
        "door_open_time_factor", "a shift of 8 h second by second", "counting", DERIVATION, "points", 1e-9, open_seconds
    ),
    Check(
        "specific_heat_above_freezing", "13 fruits and vegetables, the rule's own roughness allowed", EARLE,
        Evidence.COMMON_PRACTICE, "%", 10.0,
        lambda: (100.0 * (product.specific_heat_above_freezing(w) / (1e3 * a) - 1.0) for w, a, _, _ in FOODS),
    ),
    Check(
        "specific_heat_above_freezing", "kiwi fruit of 85 % water: 0.88 Btu/(lb °F)",
        "postharvest centre of a university, Siebel's formula with example", PUBLISHED, "Btu/(lb °F)", 0.005,
        lambda: [from_si(product.specific_heat_above_freezing(0.85), "Btu_per_lb_degF") - 0.88],
    ),
    Check(
        "specific_heat_below_freezing", "13 fruits and vegetables, the rule's own roughness allowed", EARLE,
        Evidence.COMMON_PRACTICE, "%", 10.0,
        lambda: (100.0 * (product.specific_heat_below_freezing(w) / (1e3 * b) - 1.0) for w, _, b, _ in FOODS),
    ),
    Check(
        "latent_heat_of_freezing", "13 fruits and vegetables, the rule's own roughness allowed", EARLE,
        Evidence.COMMON_PRACTICE, "%", 10.0,
        lambda: (100.0 * (product.latent_heat_of_freezing(w) / (1e3 * c) - 1.0) for w, _, _, c in FOODS),
    ),
    Check(
        "chilling_heat", "100 carcasses of 200 kg, 30 to 5 °C in 8 h at 3.2 kJ/(kg K): 55.6 kW",
        "solved textbook problem on beef cooling", PUBLISHED, "kW", 0.05,
        lambda: [1e-3 * product.chilling_heat(20_000.0, 303.15, 278.15, 3200.0) / 28_800.0 - 55.6],
    ),
    Check(
        "freezing_heat", "10,000 lb of dough, 65 to 15 °F, freezes at 26: 292,500 + 590,000 + 38,500 Btu",
        "refrigeration load example of a freezer builder", PUBLISHED, "Btu", 1.0,
        lambda: [
            from_si(product.freezing_heat(
                to_si(10_000.0, "lb"), fahrenheit(65.0), fahrenheit(15.0), fahrenheit(26.0),
                to_si(0.75, "Btu_per_lb_degF"), to_si(0.35, "Btu_per_lb_degF"), to_si(59.0, "Btu_per_lb"),
            ), "Btu") - 921_000.0
        ],
    ),
    Check("product_heat", "beef, 5 to -18 °C (a rule of thumb)", EARLE, PUBLISHED, "%", 3.0, earle_beef),
    Check(
        "product_heat", "above, through and below freezing in steps of 0.01 K", "enthalpy added up", DERIVATION, "%",
        0.01,
        lambda: (
            100.0 * (product.product_heat(45.0, a, b, w, 271.15) / frozen_bit_by_bit(45.0, a, b, w, 271.15) - 1.0)
            for a, b, w in ((294.15, 276.15, 0.9), (278.15, 255.15, 0.75), (265.15, 250.15, 0.6))
        ),
    ),
    Check(
        "product_load", "20 lb an hour for a day, added up in steps of 0.01 K", "enthalpy added up", DERIVATION, "W",
        0.5,
        lambda: [
            product.product_load(217.7, 278.15, 255.15, 0.75, 86_400.0, 271.15)
            - sum(frozen_bit_by_bit(217.7 / 24.0, 278.15, 255.15, 0.75, 271.15) for _ in range(24)) / 86_400.0
        ],
    ),
    Check(
        "wall_gain", "3 walls and a ceiling of a freezer, Btu a day", "heat load worksheet of an engineer (printed)",
        PUBLISHED, "Btu/day", 1.0, walls,
    ),
    Check(
        "needed_capacity", "18 h of it against 24 h of the load with a tenth more", "heat added up by the hour",
        DERIVATION, "W", 1e-6,
        lambda: [
            box.needed_capacity(2000.0, 64_800.0, 0.1) - sum(2200.0 for _ in range(24)) / sum(1.0 for _ in range(18))
        ],
    ),
    Check("box_load", "7 parts", "heat added up by the hour", DERIVATION, "W", 1e-6, boxes),
    Check(
        "expected_run_fraction", "a thermostat switching for 111 h, three loads", "simulation by the second",
        DERIVATION, "points", 0.5,
        lambda: (
            100.0 * (box.expected_run_fraction(load, 3500.0) - run_share(load, 3500.0))
            for load in (800.0, 2300.0, 3200.0)
        ),
    ),
    Check(
        "evaporator_capacity_at_td", "a coil of 500 slices at 5 TDs", "heat balance slice by slice", DERIVATION, "%",
        1e-6,
        lambda: (
            100.0 * (box.evaporator_capacity_at_td(coil_heat(6.0), 6.0, td) / coil_heat(td) - 1.0)
            for td in (3.0, 5.0, 6.0, 8.0, 12.0)
        ),
    ),
    Check(
        "pull_down_rate", "slope of an exponential in its middle, an hour apart", "calculus", DERIVATION, "K", 0.01,
        lambda: [
            cooling.pull_down_rate(cooled_step_by_step(295.0, 275.0, 36_000.0, 7200.0),
                                   cooled_step_by_step(295.0, 275.0, 36_000.0, 10_800.0), 3600.0)
            - 20.0 * exp(-9000.0 / 36_000.0) / 36_000.0 * 3600.0
        ],
    ),
    Check(
        "temperature_after", "3 cases", "Runge-Kutta", DERIVATION, "K", 1e-6,
        lambda: (cooling.temperature_after(*case) - cooled_step_by_step(*case) for case in CASES),
    ),
    Check(
        "pull_down_time", "temperature after that time is the set point, 2 cases", "Runge-Kutta", DERIVATION, "K", 1e-6,
        lambda: (
            cooled_step_by_step(start, settles, tau, cooling.pull_down_time(start, goal, settles, tau)) - goal
            for start, settles, tau, goal in ((294.26, 274.82, 10_800.0, 278.15), (310.0, 255.0, 5000.0, 256.0))
        ),
    ),
    Check(
        "time_constant_of_two_readings", "from two temperatures of 3 runs", "Runge-Kutta", DERIVATION, "s", 0.1,
        lambda: (
            cooling.time_constant_of_two_readings(start, cooled_step_by_step(start, settles, tau, t), settles, t) - tau
            for start, settles, tau, t in CASES
        ),
    ),
    Check(
        "product_time_constant", "a lump warmed by its heat flow second by second: 63.2 % after it", "Euler steps",
        DERIVATION, "% of the way", 0.02,
        lambda: [100.0 * lump(2.0, 3600.0, 0.08, 7.0) - 63.212],
    ),
    Check(
        "warm_up_time", "temperature after that time is the limit, 2 cases", "Runge-Kutta", DERIVATION, "K", 1e-6,
        lambda: (
            cooled_step_by_step(start, room, tau, cooling.warm_up_time(start, limit, room, tau)) - limit
            for start, limit, room, tau in ((275.37, 278.15, 297.04, 36_000.0), (255.0, 265.0, 300.0, 8000.0))
        ),
    ),
)


def lump(mass: float, specific_heat: float, area: float, film: float) -> float:
    """Share of the way to the room that a lump has come after its time constant."""
    seconds = cooling.product_time_constant(mass, specific_heat, area, film)
    temperature = 0.0
    for _ in range(round(seconds)):
        temperature += film * area * (1.0 - temperature) / (mass * specific_heat)
    return temperature
