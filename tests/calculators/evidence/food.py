"""Food safety against the texts of the model code and logs resampled second by second."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from faultkit.calculators.arguments import Rows
from faultkit.calculators.food import cabinets, cooling, holding, limits
from faultkit.calculators.load.cooling import temperature_after, warm_up_time
from faultkit.units import from_si, to_si
from tests.calculators.evidence_check import Check, Evidence

HOUR = 3600.0
RESAMPLED = "NumPy: the log interpolated to every second and counted"
TIME_CONTROL = "FDA Food Code 3-501.19 as adopted in Wisconsin and Wyoming (seen)"
COOLING = "FDA Food Code 3-501.14 as adopted in Wisconsin (seen)"
HOLDING = "FDA Food Code 3-501.16 as adopted in Wisconsin (seen)"
RECEIVING = "FDA Food Code 3-202.11 as adopted in South Carolina (seen)"
NSF_7 = "NSF/ANSI 7 (from memory)"


def f(degrees: float) -> float:
    return to_si(degrees, "degF")


def log(*pairs: tuple[float, float]) -> Rows:
    """Rows from (hours, °F)."""
    return tuple((hours * HOUR, f(degrees)) for hours, degrees in pairs)


LOGS = (
    log((0.0, 38.0), (0.25, 40.0), (0.5, 44.0), (0.75, 43.0), (1.0, 40.5), (1.25, 42.0), (1.5, 39.0)),
    log((0.0, 45.0), (0.5, 42.0), (1.0, 39.0), (1.5, 41.0), (2.0, 41.5)),
    log((0.0, 37.0), (0.4, 41.3), (0.8, 40.9), (1.2, 50.0), (1.6, 38.0)),
)
FORTY_ONE = f(41.0)


def seconds(rows: Rows, offset: float = 0.0) -> list[bool]:
    """For every second whether the interpolated reading + offset (K) is above 41 °F."""
    import numpy as np

    at = np.arange(0.5, rows[-1][0], 1.0)
    return list(np.interp(at, [t for t, _ in rows], [k + offset for _, k in rows]) > FORTY_ONE)


def run(above: list[bool]) -> int:
    longest = now = 0
    for each in above:
        now = now + 1 if each else 0
        longest = max(longest, now)
    return longest


def times() -> Iterator[float]:
    for rows in LOGS:
        yield holding.time_above(rows, FORTY_ONE, HOUR) - sum(seconds(rows))


def stretches() -> Iterator[float]:
    for rows in LOGS:
        yield holding.longest_time_above(rows, FORTY_ONE, HOUR) - run(seconds(rows))


def bounds() -> Iterator[float]:
    for rows in LOGS:
        for accuracy in (0.0, 0.5, 1.5):
            got = holding.cold_holding(rows, FORTY_ONE, accuracy / 1.8, HOUR)
            for found, offset in (
                (got.surely_above, -accuracy), (got.above, 0.0), (got.possibly_above, accuracy),
            ):
                yield found - sum(seconds(rows, offset / 1.8))


def held() -> Iterator[float]:
    for degrees, verdict in ((40.0, "held"), (41.0, "held"), (41.1, "above the limit"), (45.0, "above the limit")):
        found = holding.cold_holding(log((0.0, degrees), (0.5, degrees)), FORTY_ONE, 0.0, HOUR)
        yield float(found.verdict != verdict)


def peaks() -> Iterator[float]:
    import numpy as np

    for rows in LOGS:
        yield holding.highest_product_temperature(rows) - float(np.max([k for _, k in rows]))


def gaps() -> Iterator[float]:
    import numpy as np

    for rows in (*LOGS, log((0.0, 40.0), (0.5, 40.0), (3.0, 40.0), (3.2, 40.0), (6.0, 40.0))):
        steps = np.diff([t for t, _ in rows])
        yield holding.unknown_log_time(rows, 1800.0) - float(steps[steps > 1800.0].sum())


def straight(hours: float, start: float, end: float) -> Rows:
    count = max(2, round(hours * 4) + 1)
    return log(*((hours * n / (count - 1), start + (end - start) * n / (count - 1)) for n in range(count)))


def timed() -> Iterator[float]:
    """Hours, °F at the start and end, and what (B) and (C) of the section make of them."""
    for hours, start, end, verdict in (
        (4.0, 41.0, 75.0, "within the 4 hours"), (4.1, 41.0, 75.0, "to be discarded by the code"),
        (6.0, 41.0, 70.0, "within the 6 hours"), (6.1, 41.0, 65.0, "to be discarded by the code"),
        (5.0, 41.0, 70.5, "to be discarded by the code"), (1.0, 42.0, 50.0, "to be discarded by the code"),
        (4.0, 135.0, 90.0, "within the 4 hours"), (4.1, 135.0, 90.0, "to be discarded by the code"),
    ):
        rows = straight(hours, start, end)
        found = holding.time_control(rows, "written", FORTY_ONE, f(70.0), 0.0, 2.0 * HOUR)
        yield float(found.verdict != verdict)
        none = holding.time_control(rows, "none", FORTY_ONE, f(70.0), 0.0, 2.0 * HOUR)
        yield float(none.verdict != "no time allowed")


def cooled() -> Iterator[float]:
    for food, rows, verdict in (
        ("cooked", log((0, 135), (2, 70), (6, 41)), "met"), ("cooked", log((0, 135), (2.02, 70), (6, 41)), "not met"),
        ("cooked", log((0, 135), (1.9, 70), (6.02, 41)), "not met"),
        ("made at room temperature", log((0, 72), (4, 41)), "met"),
        ("made at room temperature", log((0, 72), (4.02, 41)), "not met"),
        ("received warmer by law", log((0, 45), (3.9, 41)), "met"),
        ("received warmer by law", log((0, 45), (4.1, 41)), "not met"),
    ):
        yield float(cooling.cooling_check(rows, food, 0.0, 5.0 * HOUR).verdict != verdict)


def down() -> Iterator[float]:
    """The seconds in which the interpolated log lies between the two temperatures."""
    import numpy as np

    rows = log((0.0, 160.0), (0.5, 130.0), (1.2, 95.0), (2.0, 72.0), (3.0, 58.0), (4.5, 44.0), (5.5, 38.0))
    at = np.arange(0.5, rows[-1][0], 1.0)
    curve = np.interp(at, [t for t, _ in rows], [k for _, k in rows])
    for start, end in ((135.0, 70.0), (135.0, 41.0), (100.0, 50.0)):
        counted = int(((curve < f(start)) & (curve > f(end))).sum())
        yield cooling.cooling_time(rows, f(start), f(end), 2.0 * HOUR) - counted


def code_limits(which: str) -> Iterator[float]:
    for step, degrees, text in (
        ("cold holding", 41.0, "holding"), ("hot holding", 135.0, "holding"),
        ("air around raw shell eggs", 45.0, "eggs"), ("receiving cold", 41.0, "receiving"),
        ("receiving raw shell eggs, air", 45.0, "receiving"), ("receiving hot", 135.0, "receiving"),
    ):
        if text == which:
            yield from_si(limits.food_limit(step), "degF") - degrees


def margins() -> Iterator[float]:
    for step, reading, margin in (
        ("cold holding", 38.0, 3.0), ("cold holding", 45.0, -4.0), ("hot holding", 140.0, 5.0),
        ("receiving hot", 130.0, -5.0),
    ):
        yield limits.food_margin(f(reading), step) * 1.8 - margin


def readings() -> Iterator[float]:
    for step, reading, verdict in (
        ("cold holding", 41.0, "meets the limit"), ("cold holding", 41.1, "does not meet the limit"),
        ("hot holding", 135.0, "meets the limit"), ("hot holding", 134.9, "does not meet the limit"),
        ("receiving cold", 42.0, "does not meet the limit"),
    ):
        yield float(limits.food_temperature_check(f(reading), step).verdict != verdict)


def tested_rooms() -> Iterator[float]:
    for cabinet, room in (
        ("open-top preparation table", 86.0), ("storage refrigerator", 100.0), ("storage freezer", 100.0),
        ("display refrigerator, type I", 75.0), ("display refrigerator, type II", 80.0),
    ):
        yield from_si(cabinets.cabinet_test(cabinet).room, "degF") - room


def kitchens() -> Iterator[float]:
    for room, above in ((95.0, 9.0), (86.0, 0.0), (72.0, -14.0)):
        yield cabinets.room_above_test(f(room), "open-top preparation table") * 1.8 - above


def kitchen_words() -> Iterator[float]:
    for room, hot in ((84.0, False), (88.0, False), (89.0, True), (95.0, True)):
        found = cabinets.room_check(f(room), "open-top preparation table", 2.0 / 1.8)
        yield float(found.verdict.startswith("hotter") is not hot)


def tables() -> Iterator[float]:
    for low, high, hours, verdict in (
        (33.0, 41.0, 4.0, "keeps 33 to 41 degF"), (35.0, 42.0, 4.0, "too warm"),
        (31.0, 40.0, 4.0, "too cold: product freezes"), (36.0, 40.0, 3.0, "cannot say: log too short or with gaps"),
    ):
        found = cabinets.prep_table_check(straight(hours, low, high), f(86.0), 0.0, 1800.0)
        yield float(found.verdict != verdict)


def warmed(*, until: bool) -> Iterator[float]:
    """Newton's law solved step by step by SciPy."""
    from scipy.integrate import solve_ivp

    for now, room, constant in ((36.0, 75.0, 10.0), (38.0, 90.0, 2.0), (34.0, 70.0, 25.0)):
        def slope(_: float, y: list[float], room: float = room, constant: float = constant) -> list[float]:
            return [(f(room) - y[0]) / (constant * HOUR)]

        def reached(_: float, y: list[float]) -> float:
            return y[0] - FORTY_ONE

        found = solve_ivp(
            slope, (0.0, 30.0 * HOUR), [f(now)], events=reached, rtol=1e-9, atol=1e-9, t_eval=[4.0 * HOUR]
        )
        if until:
            got = warm_up_time(f(now), FORTY_ONE, f(room), constant * HOUR)
            yield (got - float(found.t_events[0][0])) / 60.0
        else:
            got = temperature_after(f(now), f(room), constant * HOUR, 4.0 * HOUR)
            yield (got - float(found.y[0][0])) * 1.8


CHECKS: tuple[Check, ...] = (
    Check("time_above", "three logs", RESAMPLED, Evidence.DERIVATION, "s", 5.0, times),
    Check("longest_time_above", "three logs", RESAMPLED, Evidence.DERIVATION, "s", 2.0, stretches),
    Check("cold_holding", "three logs, probes of 0, 0.5 and 1.5 °F", RESAMPLED, Evidence.DERIVATION, "s", 5.0, bounds),
    Check("cold_holding", "41.0 °F is held, 41.1 is not", HOLDING, Evidence.PUBLISHED, "wrong verdicts", 0.0, held),
    Check("highest_product_temperature", "three logs", "NumPy: maximum", Evidence.REFERENCE_LIBRARY, "K", 0.0, peaks),
    Check("unknown_log_time", "four logs", "NumPy: differences", Evidence.REFERENCE_LIBRARY, "s", 1e-6, gaps),
    Check("time_control", "eight cases on and beside the limits, with and without procedures", TIME_CONTROL,
          Evidence.PUBLISHED, "wrong verdicts", 0.0, timed),
    Check("cooling_check", "seven cases on and beside the limits", COOLING, Evidence.PUBLISHED, "wrong verdicts", 0.0,
          cooled),
    Check("cooling_time", "three spans of a log", RESAMPLED, Evidence.DERIVATION, "s", 2.0, down),
    Check("food_limit", "hot and cold holding", HOLDING, Evidence.PUBLISHED, "delta_degF", 1e-6,
          partial(code_limits, "holding")),
    Check("food_limit", "receiving", RECEIVING, Evidence.PUBLISHED, "delta_degF", 1e-6,
          partial(code_limits, "receiving")),
    Check("food_limit", "air around raw shell eggs, 45 °F", "FDA Food Code 3-501.16(B) (from memory)",
          Evidence.FROM_MEMORY, "delta_degF", 1e-6, partial(code_limits, "eggs")),
    Check("food_margin", "four readings", HOLDING, Evidence.PUBLISHED, "delta_degF", 1e-6, margins),
    Check("food_temperature_check", "on the limits and beside them", HOLDING, Evidence.PUBLISHED, "wrong verdicts", 0.0,
          readings),
    Check("cabinet_test", "rooms of five kinds of cabinet", NSF_7, Evidence.FROM_MEMORY, "delta_degF", 1e-6,
          tested_rooms),
    Check("room_above_test", "three kitchens", NSF_7, Evidence.FROM_MEMORY, "delta_degF", 1e-6, kitchens),
    Check("room_check", "86 °F and its tolerance of 2 °F", NSF_7, Evidence.FROM_MEMORY, "wrong verdicts", 0.0,
          kitchen_words),
    Check("prep_table_check", "33 to 41 °F over 4 hours", NSF_7, Evidence.FROM_MEMORY, "wrong verdicts", 0.0, tables),
    Check("warm_up_time", "three products", "SciPy: the cooling law integrated", Evidence.REFERENCE_LIBRARY,
          "min", 0.01, partial(warmed, until=True)),
    Check("temperature_after", "three products, 4 hours", "SciPy: the cooling law integrated",
          Evidence.REFERENCE_LIBRARY, "delta_degF", 1e-5, partial(warmed, until=False)),
)
