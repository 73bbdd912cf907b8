"""Defrost and its clock against printed figures and step-by-step simulation."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from random import Random

from faultkit.calculators.ask import ask
from faultkit.calculators.controls import defrost
from tests.calculators.evidence.controls import REGISTRY, number, result, told
from tests.calculators.evidence_check import Check, Evidence

FREEZER = "walk-in freezer page of a maker: every six hours, four a day, 40 min (seen)"
MANUAL = "freezer manual: 50 °F ends, fans at 25 °F; trade page: fail-safe 35 to 45 min (both seen)"
CLOCKS = "web pages on synchronous clocks: 72 s a minute, ten minutes slow every hour on 50 Hz (seen)"
STEPS = "stepping through the day minute by minute"


def minutes_of(defrosts: int, parts: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    """(minute of the day, which part) of every minute spent on a defrost, spaced evenly."""
    for n in range(defrosts):
        minute = n * 1440 // defrosts
        for part, length in enumerate(parts):
            for _ in range(length):
                yield minute % 1440, part
                minute += 1


def days() -> Iterator[float]:
    for defrosts, length, drip, fans, pump in ((4, 40, 2, 3, 0), (2, 30, 5, 4, 3), (6, 20, 1, 2, 1), (1, 55, 5, 0, 0)):
        seen = list(minutes_of(defrosts, (pump, length, drip, fans)))
        heated = sum(part == 1 for _, part in seen)
        given = {
            "defrosts": f"{defrosts} count", "length": f"{length} min", "drip_time": f"{drip} min",
            "fan_delay": f"{fans} min", "pump_down": f"{pump} min",
        }
        yield number("share_not_refrigerating", "%", **given) - len({m for m, _ in seen}) / 14.4
        a = told("defrost_day", heater_power="1.5 kW", **given)
        yield result(a, "heater_time", "min") - heated
        yield result(a, "energy", "kWh") - sum(1.5 / 60 for _ in range(heated))
        yield result(a, "off_time", "min") - len(seen)


def energies() -> Iterator[float]:
    for defrosts, length, power in product((1, 3, 4), (20, 45), (800, 2500)):
        heated = sum(part == 0 for _, part in minutes_of(defrosts, (length,)))
        given = {"defrosts": f"{defrosts} count", "length": f"{length} min", "heater_power": f"{power} W"}
        yield number("defrost_energy", "kWh", **given) - sum(power / 6e4 for _ in range(heated))


def heater_times() -> Iterator[float]:
    for defrosts, length in product((1, 2, 3, 4), (15, 40, 55)):
        heated = sum(1 for _ in minutes_of(defrosts, (length,)))
        yield number("defrost_heater_time", "min", defrosts=f"{defrosts} count", length=f"{length} min") - heated


def gaps() -> Iterator[float]:
    """Longest row of minutes, round the day, in which no defrost runs."""
    for starts, length in (((2, 8, 14, 20), 40), ((2, 8, 14), 30), ((0, 1, 13), 20), ((5,), 45)):
        busy = {(s * 60 + m) % 1440 for s in starts for m in range(length)}
        run = best = 0
        for minute in range(2880):
            run = 0 if minute % 1440 in busy else run + 1
            best = max(best, run)
        text = " ".join(f"{s:02d}:00" for s in starts)
        yield number("longest_time_between_defrosts", "min", starts=text, length=f"{length} min") - best


def frosting() -> Iterator[float]:
    """Ten days of frost gathered minute by minute, cleared whenever the limit is reached."""
    for rate, limit in ((1.0, 6.0), (0.35, 2.0), (2.0, 3.0)):
        frost, cleared = 0.0, 0
        for _ in range(14_400):
            frost += rate / 60.0
            if frost >= limit - 1e-9:
                frost, cleared = 0.0, cleared + 1
        a_day = number("defrosts_needed", "per_day", frost_rate=f"{rate} lb_per_h", frost_limit=f"{limit} lb")
        yield a_day - cleared / 10


def melting() -> Iterator[float]:
    """Btu by hand: 144 to melt a pound, half a Btu a degree to warm its ice."""
    for pounds, fahrenheit in ((1.0, 32.0), (3.0, -10.0), (5.0, 20.0)):
        minutes = number(
            "frost_melt_time", "min", frost_mass=f"{pounds} lb", coil_temperature=f"{fahrenheit} degF",
            heater_power="2000 W", share_to_frost="100 %",
        )
        by_hand = pounds * (144.0 + 0.5 * (32.0 - fahrenheit)) / (2000.0 * 3.412142 / 60.0)
        yield (minutes / by_hand - 1.0) * 100.0


def maker_settings() -> Iterator[float]:
    a = told(
        "defrost_settings_check", evaporating_temperature="-20 degF", termination_temperature="50 degF",
        fan_delay_temperature="25 degF", fail_safe="45 min", drip_time="2 min",
    )
    yield float(len(a["conflicts"].value))


def heated_coil(frost: float, fail_safe: float, *, terminates: bool) -> float:
    """Seconds of heat: ice melts, then the coil warms to 10 degC and the termination opens, if it works."""
    coil, ice, second = -20.0, frost, 0.0
    while second < fail_safe:
        if ice > 0.0 and coil >= 0.0:
            ice -= 1000.0 / 333_550.0
        else:
            coil += 1000.0 / 12_000.0
        second += 1.0
        if terminates and coil >= 10.0:
            break
    return second


def endings() -> Iterator[float]:
    """Coils simulated with and without a working termination: the verdict must know which was which."""
    random = Random(3)  # noqa: S311 - no secret, a fixed row of frosts
    for terminates, words in ((True, "ended by temperature"), (False, "ended by the fail-safe every time")):
        rows = tuple(
            (n * 21_600.0, heated_coil(random.uniform(1.0, 4.0), 2700.0, terminates=terminates)) for n in range(8)
        )
        a = defrost.defrost_ending(rows, 2700.0, 60.0, 300.0, 3.0)
        yield float(not a.verdict.startswith(words))
        yield defrost.fail_safe_share(rows, 2700.0, 60.0) - (0.0 if terminates else 1.0)


def off_cycles() -> Iterator[float]:
    """Air warmer than ice clears a coil, air below it never does, a coil above freezing has none."""
    for air, coil, words in (("38 degF", "25 degF", "possible"), ("30 degF", "15 degF", "needs heat"),
                             ("55 degF", "40 degF", "no frost")):
        a = told("off_cycle_defrost_check", air_temperature=air, evaporating_temperature=coil)
        yield float(not str(a["verdict"].value).startswith(words))


def clocks() -> Iterator[float]:
    """Hands turned minute by minute until two dials agree: the nearer way round is the error."""
    random = Random(5)  # noqa: S311 - no secret
    for _ in range(60):
        shown, true = random.randrange(1440), random.randrange(1440)
        forward = next(m for m in range(1440) if (true + m) % 1440 == shown)
        back = next(m for m in range(1440) if (true - m) % 1440 == shown)
        given = {"shown": f"{shown // 60:02d}:{shown % 60:02d}", "true": f"{true // 60:02d}:{true % 60:02d}"}
        yield number("clock_error_size", "min", **given) - min(forward, back)
        a = told("clock_error", **given)
        yield result(a, "error", "min") - min(forward, back)


def drifts() -> Iterator[float]:
    """A clock motor ticked second by second at the wrong speed, or without power for a while."""
    for speed, outage, days, words in (
        (5 / 6, 0, 1, "a 60 Hz clock on 50 Hz"), (6 / 5, 0, 2, "a 50 Hz clock on 60 Hz"), (1.0, 0, 3, "keeps time"),
        (1.0, 9000, 2, "power off for 2.5 h"), (0.0, 0, 0, "stopped"),
    ):
        elapsed = days * 86_400 + 5 * 3600
        dial = 8 * 3600.0 + sum(speed for _ in range(0, elapsed - outage, 60)) * 60.0
        shown = round(dial / 60) % 1440
        a = told(
            "clock_drift", shown_first="08:00", true_first="08:00", shown_last=f"{shown // 60:02d}:{shown % 60:02d}",
            true_last="13:00", days=f"{days} count",
        )
        yield float(not any(words in fit for fit in a["fits"].value))


def services() -> Iterator[float]:
    """Minutes of every defrost counted against the minutes of service."""
    random = Random(7)  # noqa: S311 - no secret
    for _ in range(40):
        off, opens, closes = (random.randrange(1440) for _ in range(3))
        length = random.randrange(10, 60)
        if opens == closes:
            continue
        starts = sorted(random.sample(range(1440), 4))
        service = {(opens + m) % 1440 for m in range((closes - opens) % 1440)}
        want = sum(any((s + off + m) % 1440 in service for m in range(length)) for s in starts)
        given = {
            "starts": " ".join(f"{s // 60:02d}:{s % 60:02d}" for s in starts), "shown": "00:00",
            "true": f"{off // 60:02d}:{off % 60:02d}", "length": f"{length} min",
            "service_start": f"{opens // 60:02d}:{opens % 60:02d}",
            "service_end": f"{closes // 60:02d}:{closes % 60:02d}",
        }
        yield number("defrosts_in_service", "count", **given) - want
        yield float(told("defrost_times", **given)["in_service"].value) - want


def wrong_frequency() -> Iterator[float]:
    rate = ask(REGISTRY["synchronous_clock_rate"], {"clock_frequency": "60 Hz", "supply_frequency": "50 Hz"}).value
    yield 60.0 / (1.0 + rate) - 72.0
    yield -rate * 60.0 - 10.0


P, D, C = Evidence.PUBLISHED, Evidence.DERIVATION, Evidence.COMMON_PRACTICE
CHECKS = (
    Check("defrost_heater_time", "days of 1 to 4 defrosts", STEPS, D, "min", 1e-9, heater_times),
    Check("defrost_energy", "days of 1 to 4 defrosts", STEPS, D, "kWh", 1e-9, energies),
    Check("share_not_refrigerating", "days of 1 to 6 defrosts", STEPS, D, "points", 1e-9, days),
    Check("defrost_day", "days of 1 to 6 defrosts", STEPS, D, "min, kWh or points", 1e-9, days),
    Check("longest_time_between_defrosts", "four days' plans", STEPS, D, "min", 1e-6, gaps),
    Check("longest_time_between_defrosts", "four a day: one every six hours", FREEZER, P, "h", 1e-9, lambda: [
        number("longest_time_between_defrosts", "h", starts="02:00 08:00 14:00 20:00", length="40 min")
        + 40 / 60 - 6.0]),
    Check("defrosts_needed", "ten days of frost", STEPS, D, "a day", 0.11, frosting),
    Check("frost_melt_time", "1 to 5 lb", "144 Btu/lb and 0.5 Btu/(lb °F) (from memory)", Evidence.FROM_MEMORY, "%",
          0.6, melting),
    Check("defrost_settings_check", "50 °F, 25 °F, 45 min: no conflict", MANUAL, P, "conflicts", 0.0, maker_settings),
    Check("defrost_ending", "coils with and without a working termination", "simulated melting", D, "wrong verdicts",
          0.0, endings),
    Check("fail_safe_share", "coils with and without a working termination", "simulated melting", D, "ratio", 0.0,
          endings),
    Check("off_cycle_defrost_check", "38, 30 and 55 °F air", "common practice; ice melts at 32 °F", C,
          "wrong verdicts", 0.0, off_cycles),
    Check("off_cycle_defrost_margin", "38 °F over 36 °F", "common practice; ice melts at 32 °F", C, "°F", 1e-6,
          lambda: [number("off_cycle_defrost_margin", "delta_degF", air_temperature="38 degF") - 2.0]),
    Check("clock_error_size", "60 pairs of times", "turning the hands minute by minute", D, "min", 1e-9, clocks),
    Check("clock_error", "60 pairs of times", "turning the hands minute by minute", D, "min", 1e-9, clocks),
    Check("clock_drift", "wrong frequency, outage, stopped, right", "ticking a clock", D, "wrong causes", 0.0, drifts),
    Check("synchronous_clock_rate", "60 Hz clock on 50 Hz", CLOCKS, P, "s or min", 1e-9, wrong_frequency),
    Check("defrost_times", "40 random plans", STEPS, D, "defrosts", 0.0, services),
    Check("defrosts_in_service", "40 random plans", STEPS, D, "defrosts", 0.0, services),
)
