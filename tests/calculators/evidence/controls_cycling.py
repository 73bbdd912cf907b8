"""Cycling and time delays against printed figures, simulation and counting."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product
from random import Random

from faultkit.calculators.controls import cycling, cycling_model, timers
from faultkit.units import from_si
from tests.calculators.evidence.controls import number
from tests.calculators.evidence_check import Check, Evidence

Rows = tuple[tuple[float, ...], ...]

GUIDE = "compressor maker's application guide: 12 starts an hour, 2 min runs, 180 s off (seen)"
SIMULATION = "EnergyPlus source, latent degradation routine: Ton, Toff from Nmax and run time fraction (seen)"
ROOM = "room thermostat manual: 3 cycles an hour at half load are 10 min on, 10 min off (seen)"
LOAD = "cold-room load sizing page: at 16 h running load 10 kW become 15 kW (seen)"


def random_log(seed: int) -> Rows:
    random = Random(seed)  # noqa: S311 - no secret
    rows, time, state = [], 0.0, float(seed % 2)
    for _ in range(random.randrange(6, 30)):
        rows.append((time, state))
        time += random.randrange(1, 900)
        state = 1.0 - state if random.random() < 0.8 else state
    return (*rows, (time, state))


def counted(log: Rows) -> tuple[list[int], list[int], list[int], float]:
    """Second by second: when it started, whole runs, whole rests, and the share on between first and last start."""
    states = [0] * int(log[-1][0])
    for (begin, state), (end, _) in pairwise(log):
        states[int(begin):int(end)] = [int(state)] * int(end - begin)
    states.append(int(log[-1][1]))
    changes = [i for i in range(1, len(states)) if states[i] != states[i - 1]]
    starts = [i for i in changes if states[i]]
    runs = [b - a for a, b in pairwise(changes) if states[a]]
    rests = [b - a for a, b in pairwise(changes) if not states[a]]
    window = states[starts[0]:starts[-1]] if len(starts) > 1 else states[:-1]
    return starts, runs, rests, sum(window) / len(window)


def logs(what: str) -> Iterator[float]:
    for seed in range(40):
        log = random_log(seed)
        starts, runs, rests, share = counted(log)
        if what == "share":
            yield cycling.run_fraction(log) - share
        elif what == "rate" and len(starts) > 1:
            yield cycling.starts_per_hour(log) * 3600 - (len(starts) - 1) / (starts[-1] - starts[0]) * 3600
        elif what == "run" and runs:
            yield cycling.shortest_run(log) - min(runs)
        elif what == "off" and rests:
            yield cycling.shortest_off(log) - min(rests)
        elif what == "all":
            a = cycling.cycling_log(log, 12 / 3600, 120.0, 180.0)
            yield a.starts - len(starts)
            yield (a.mean_run or 0.0) - (sum(runs) / len(runs) if runs else 0.0)
            yield (a.mean_off or 0.0) - (sum(rests) / len(rests) if rests else 0.0)
            yield a.busiest_hour - max((sum(s <= t < s + 3600 for t in starts) for s in starts), default=0)


def thermostat(share: float, band: float = 3.0, pull: float = 0.01) -> Rows:
    """A box that warms at ``share * pull`` a second and cools at the rest of it, switched at both ends of a band."""
    air, running, rows = band, True, []
    for second in range(40_000):
        rows.append((float(second), float(running)))
        air += share * pull - pull * running
        running = air >= band or (running and air > 0.0)
    return tuple(rows)


def simulated_rates() -> Iterator[float]:
    """Starts of the simulated box, in % of the model, whose Nmax is pull / (4 band)."""
    for share in (0.2, 0.35, 0.5, 0.65, 0.8):
        log = thermostat(share)
        model = cycling_model.cycling_rate(share, 0.01 / (4 * 3.0))
        yield (cycling.starts_per_hour(log) / model - 1.0) * 100.0
        yield (cycling_model.cycling_comparison(log, 0.01 / (4 * 3.0), 1.5).ratio - 1.0) * 100.0
        nmax = cycling_model.most_cycling_rate(cycling.starts_per_hour(log), cycling.run_fraction(log))
        yield (nmax / (0.01 / 12.0) - 1.0) * 100.0


def on_and_off_times() -> Iterator[float]:
    """3600/Ton+Toff as that program has them, in starts an hour."""
    for share, nmax in product((0.1, 0.3, 0.5, 0.9), (2.0, 3.0, 6.0)):
        on, off = 3600.0 / (4.0 * nmax * (1.0 - share)), 3600.0 / (4.0 * nmax * share)
        yield cycling_model.cycling_rate(share, nmax / 3600.0) * 3600.0 - 3600.0 / (on + off)


def run_hours() -> Iterator[float]:
    for hours, words in ((17, "as sized"), (22, "too little capacity"), (8, "mild weather"), (24, "without a stop")):
        yield float(words not in cycling_model.run_hours_check(hours / 24, 57_600.0, 64_800.0, 0.98).verdict)


def metered() -> Iterator[float]:
    """A meter that counts the seconds of a log."""
    for seed in range(20):
        log = random_log(seed)
        first = 1234.0
        meter = first + sum(b[0] - a[0] for a, b in pairwise(log) if a[1])
        spread = cycling_model.run_fraction_by_meter(first, meter, log[-1][0])
        ran = sum(1 for t in range(int(log[-1][0])) if [s for b, s in log if b <= t][-1])
        yield spread - ran / log[-1][0]


def rests_by_trying() -> Iterator[float]:
    """Least whole second of rest that keeps to the starts and lets the pressures level."""
    for level, starts, run in ((180, 12, 120), (300, 10, 60), (60, 6, 120), (120, 20, 30)):
        want = next(s for s in range(4000) if s >= level and 3600 / (s + run) <= starts)
        yield timers.anti_short_cycle_time(float(level), starts / 3600, float(run)) - want


def restarts() -> Iterator[float]:
    """Relays at every mix of their extremes: the next unit never starts inside the starting time of the one before."""
    for delay, tolerance, start in product((30.0, 60.0), (0.0, 0.1, 0.3), (0.0, 2.0, 5.0)):
        second = timers.next_restart_delay(delay, tolerance, start)
        room = min(
            second * (1 + b * tolerance) - (delay * (1 + a * tolerance) + start)
            for a, b in product((-1, 0, 1), repeat=2)
        )
        yield room  # none to spare, none missing
        latest = max(timers.next_restart_delay(second, tolerance, start) * (1 + a * tolerance) for a in (-1, 0, 1))
        yield timers.last_restart_time(3.0, delay, tolerance, start) - latest


def relays() -> Iterator[float]:
    for delay, tolerance in product((120.0, 180.0, 400.0), (0.0, 0.1, 0.25)):
        tried = [delay * (1 + tolerance * i / 100) for i in range(-100, 101)]
        a = timers.delay_relay_check(delay, tolerance, 180.0, 300.0)
        yield a.shortest - min(tried)
        yield a.longest - max(tried)
        fits = all(180.0 - 1e-9 <= t <= 300.0 + 1e-9 for t in tried)
        yield float(fits != (a.verdict == "no conflict"))


P, D, C = Evidence.PUBLISHED, Evidence.DERIVATION, Evidence.COMMON_PRACTICE
CHECKS = (
    Check("cycling_log", "40 random logs", "counting second by second", D, "count or s", 1e-6, lambda: logs("all")),
    Check("starts_per_hour", "40 random logs", "counting second by second", D, "per h", 1e-9, lambda: logs("rate")),
    Check("run_fraction", "40 random logs", "counting second by second", D, "ratio", 1e-9, lambda: logs("share")),
    Check("shortest_run", "40 random logs", "counting second by second", D, "s", 1e-9, lambda: logs("run")),
    Check("shortest_off", "40 random logs", "counting second by second", D, "s", 1e-9, lambda: logs("off")),
    Check("cycling_rate", "half load, 3 an hour", ROOM, P, "min", 1e-9, lambda: [
        0.5 / (number("cycling_rate", "per_h", run_fraction="50 %", most_starts="3 per_h") / 60.0) - 10.0]),
    Check("cycling_rate", "on and off times at 10 to 90 %", SIMULATION, P, "per h", 1e-9, on_and_off_times),
    Check("cycling_rate", "box on a differential", "simulated second by second", D, "%", 2.0, simulated_rates),
    Check("most_cycling_rate", "box on a differential", "simulated second by second", D, "%", 2.0, simulated_rates),
    Check("cycling_comparison", "box on a differential", "simulated second by second", D, "%", 2.0, simulated_rates),
    Check("run_hours_per_day", "16 h a day make 10 kW of load 15 kW of capacity", LOAD, P, "kW", 1e-9, lambda: [
        10.0 * 24.0 / from_si(cycling_model.run_hours_per_day(10.0 / 15.0), "h") - 15.0]),
    Check("run_fraction_by_meter", "20 random logs", "counting second by second", D, "ratio", 1e-9, metered),
    Check("run_hours_check", "8, 17, 22, 24 h against 16 to 18 h", "common practice", C, "wrong verdicts", 0.0,
          run_hours),
    Check("anti_short_cycle_time", "12 starts an hour and 2 min runs: 180 s", GUIDE, P, "s", 1e-6, lambda: [
        number("anti_short_cycle_time", "s", equalizing_time="1 s") - 180.0]),
    Check("anti_short_cycle_time", "least rest", "trying every second", D, "s", 1e-6, rests_by_trying),
    Check("starts_limit_by_delay", "180 s off and 2 min runs: 12 starts an hour", GUIDE, P, "per h", 1e-9, lambda: [
        number("starts_limit_by_delay", "per_h", delay="180 s", least_run="2 min") - 12.0]),
    Check("delay_relay_check", "every delay within the tolerance", "trying them all", D, "s", 1e-6, relays),
    Check("next_restart_delay", "relays at their extremes", "trying every mix", D, "s", 1e-9, restarts),
    Check("last_restart_time", "relays at their extremes", "trying every mix", D, "s", 1e-9, restarts),
)
