"""Printed tables and worked examples on electricity, as seen; and circuits worked out without the calculators."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, hypot, pi, sin, sqrt

__all__ = [
    "AWG_20C", "DERATING_ELSEWHERE", "EQUIPMENT_RANGES", "IMPEDANCES", "UNBALANCES", "VOLTAGE_EFFECTS", "awg_ohms",
    "between_leads", "cycle", "delivered", "readings_of_breaks",
]

#: 600 to 120 V systems: lowest and highest to function, lowest and highest for full performance (equipment manual).
EQUIPMENT_RANGES: Mapping[str, tuple[float, float, float, float]] = {
    "120": (104, 127, 108, 126), "240": (208, 254, 216, 252), "277": (240, 293, 249, 291), "480": (416, 508, 432, 504),
    "600": (520, 635, 540, 630),
}

#: Three line voltages and their unbalance in percent, as printed.
UNBALANCES = (
    ((460.0, 467.0, 450.0), 1.96), ((462.0, 463.0, 455.0), 1.1), ((480.0, 476.0, 472.0), 0.84),
    ((462.0, 468.0, 450.0), 2.2),
)

#: Unbalance and share of rated load, from texts other than the table the curve was taken from.
DERATING_ELSEWHERE = ((0.01, 1.0), (0.0196, 0.95), (0.03, 0.90), (0.05, 0.75))

#: Solid copper at 20 degC, ohm for 1000 ft, by AWG (a physics department's table).
AWG_20C = {"18": 6.385, "16": 4.016, "14": 2.525, "12": 1.588, "10": 0.9989, "8": 0.6282}

#: Effective impedance at power factor 0.85, ohm for 1000 ft, as printed: plastic, aluminum, steel conduit.
#: Empty where the reprint was cut off.
IMPEDANCES: Mapping[str, tuple[str, str, str]] = {
    "14": ("2.7", "2.7", "2.7"), "12": ("1.7", "1.7", "1.7"), "10": ("1.1", "1.1", "1.1"),
    "8": ("0.69", "0.69", "0.70"), "6": ("0.44", "0.45", "0.45"), "4": ("0.29", "0.29", "0.30"),
    "3": ("0.23", "0.24", "0.24"), "2": ("0.19", "0.19", "0.20"), "1": ("0.16", "0.16", "0.16"),
    "1/0": ("", "0.13", "0.13"), "2/0": ("", "0.11", "0.11"), "3/0": ("", "0.092", "0.094"),
    "4/0": ("", "0.078", "0.080"),
}

#: Share of rated voltage: torque, full-load current, starting current, each a share (starting: 10 to 12 % off).
VOLTAGE_EFFECTS = {0.9: (0.81, 1.11, 0.89), 1.1: (1.21, 0.93, 1.11)}


def awg_ohms(size: str, celsius: float) -> float:
    """Ohm for 1000 ft of solid copper: AWG by its definition, 100 % IACS copper with its own coefficient."""
    number = -(int(size[0]) - 1) if "/" in size else int(size)
    mils = 5.0 * pow(92.0, (36.0 - number) / 39.0)
    square_metres: float = pi / 4.0 * (mils * 25.4e-6) ** 2
    return 1.7241e-8 * (1.0 + 0.00393 * (celsius - 20.0)) * 304.8 / square_metres


def cycle(phase: str, volts: float, amps: float, angle: float, steps: int = 720) -> tuple[float, float, float]:
    """Watts, and rms volts and amps of one wire, from sampled waves of a balanced load; volts line to line."""
    count, peak_v = (3, sqrt(2.0 / 3.0) * volts) if phase == "three" else (1, sqrt(2.0) * volts)
    watts = squares_v = squares_i = 0.0
    for n in range(steps):
        t = 2.0 * pi * n / steps
        waves = [(peak_v * sin(t - k * 2.0 * pi / 3.0), sqrt(2.0) * amps * sin(t - k * 2.0 * pi / 3.0 - angle))
                 for k in range(count)]
        watts += sum(v * i for v, i in waves) / steps
        squares_v += (waves[0][0] - (waves[1][0] if count == 3 else 0.0)) ** 2 / steps
        squares_i += waves[0][1] ** 2 / steps
    return watts, sqrt(squares_v), sqrt(squares_i)


def delivered(source: float, amps: float, ohms: float, reactance: float, angle: float) -> float:
    """Volts at the load behind an impedance, exactly: the load's own voltage is the reference."""
    along = amps * (ohms * cos(angle) + reactance * sin(angle))
    across = amps * (reactance * cos(angle) - ohms * sin(angle))
    low, high = 0.0, source
    for _ in range(80):
        middle = (low + high) / 2.0
        low, high = (middle, high) if hypot(middle + along, across) < source else (low, middle)
    return low


def between_leads(kind: str, phases: tuple[float, float, float]) -> tuple[float, float, float]:
    """Ohms T1-T2, T2-T3, T3-T1 of phases in wye (T1, T2, T3) or delta (12, 23, 31), by conductances."""
    a, b, c = phases
    if kind == "wye":
        return a + b, b + c, c + a
    return tuple(1.0 / (1.0 / p + 1.0 / (a + b + c - p)) for p in phases)  # type: ignore[return-value]


def readings_of_breaks(broken: frozenset[str]) -> tuple[str, str, str]:
    """What common-run, common-start, run-start show when these of common, run and start are broken."""
    paths = ({"common", "run"}, {"common", "start"}, {"run", "start"})
    first, second, third = ("open" if broken & path else "reads" for path in paths)
    return first, second, third
