"""Displays, transducers and thermocouples against rules, printed tables and brute force."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial

from faultkit.calculators.sensors import probes, thermocouples
from faultkit.calculators.sensors import transducers as signals
from faultkit.units import to_si
from tests.calculators import sensor_tables as tables
from tests.calculators.evidence_check import Check, Evidence

PUBLISHED, DERIVATION, PRACTICE = Evidence.PUBLISHED, Evidence.DERIVATION, Evidence.COMMON_PRACTICE
Table = Mapping[float, float]
EXERCISE = "exercise of an instrumentation site, answers by the ITS-90 table to a degree (seen)"
CHILLER = "service manual of a chiller, transducers of 0-400 and 0-650 psig, volts at each step (seen)"
NE43 = "NAMUR NE 43 as told by four instrumentation sites (seen)"
FOOD = "California Health and Safety Code 114159 (food); D.C. Municipal Regulations 25-A1511 (air, water) (seen)"


def kelvin(celsius: float) -> float:
    return celsius + 273.15


def probe_misses(*, ice: bool) -> Iterable[float]:
    """1 for each verdict another way round: the reference walked through its accuracy in a thousand steps."""
    for use in ("food", "air"):
        limit = probes.thermometer_limit(use)
        for hundredths in range(-250, 251, 7):
            for accuracy in (0.0, 0.11, 0.4, 2.0):
                off = hundredths / 100.0
                within = {abs(off - accuracy + 2.0 * accuracy * i / 1000.0) <= limit for i in range(1001)}
                wanted = "too close to call" if len(within) == 2 else "within" if within == {True} else "out"
                shown = kelvin(off)
                found = probes.ice_bath_check(shown, accuracy, use) if ice else probes.probe_check(
                    shown, kelvin(0.0), accuracy, use
                )
                yield float(found.verdict != wanted)


def volts(span: float) -> dict[float, float]:
    """psig to volts of the chiller's table."""
    return {span * i / 8.0: 0.5 + 0.5 * i for i in range(9)}


def ratio_psi() -> Iterable[float]:
    for span in (400.0, 650.0):
        for p, v in volts(span).items():
            found = signals.ratiometric_pressure(v, 5.0, 0.0, to_si(span, "psig"))
            yield found / to_si(1.0, "psig") - p


def ratio_volts() -> Iterable[float]:
    for span in (400.0, 650.0):
        for p, v in volts(span).items():
            yield signals.ratiometric_signal(to_si(p, "psig"), 5.0, 0.0, to_si(span, "psig")) - v


def ratio_misses() -> Iterable[float]:
    cases = (
        (0.0, 5.0, "stuck low"), (0.2, 5.0, "stuck low"), (0.4, 5.0, "below range"), (0.5, 5.0, "good"),
        (2.5, 5.0, "good"), (4.5, 5.0, "good"), (4.65, 5.0, "above range"), (4.9, 5.0, "stuck high"),
        (5.0, 5.0, "stuck high"), (0.0, 0.0, "bad supply"), (2.5, 4.4, "bad supply"), (2.5, 5.6, "bad supply"),
    )
    for signal, supply, verdict in cases:
        yield float(signals.ratiometric_check(signal, supply, 0.0, 1e6).verdict != verdict)


def loop_misses() -> Iterable[float]:
    cases = (
        (0.0, "open"), (3.5, "open"), (3.7, "below range"), (3.9, "good"), (4.0, "good"), (12.0, "good"),
        (20.0, "good"), (20.4, "good"), (20.7, "above range"), (21.5, "short"), (24.0, "short"),
    )
    for milliamps, verdict in cases:
        yield float(signals.loop_check(milliamps * 1e-3, 0.0, 1e6).verdict != verdict)


QUARTERS = tuple(zip((4.0, 8.0, 12.0, 16.0, 20.0), (0.0, 125.0, 250.0, 375.0, 500.0), strict=True))
def junction_volts() -> Iterable[float]:
    """Type T against 22 degC: what a university's page works out for six temperatures."""
    printed = {-200.0: 6.4733, -100.0: 4.2489, -20.0: 1.6271, 0.0: 0.8703, 10.0: 0.4793, 20.0: 0.0807}
    return (thermocouples.thermocouple_voltage("T", kelvin(t), kelvin(22.0)) * 1e3 + v for t, v in printed.items())


def volt_errors(couple: str, table: Table) -> Callable[[], Iterable[float]]:
    return lambda: (thermocouples.thermocouple_voltage(couple, kelvin(t)) * 1e3 - v for t, v in table.items())


def couple_kelvins(couple: str, table: Table) -> Callable[[], Iterable[float]]:
    # A microvolt is 0.064 K at -200 degC, the flattest part.
    return lambda: (thermocouples.thermocouple_temperature(couple, v * 1e-3) - kelvin(t) for t, v in table.items())


def exercise() -> Iterable[float]:
    for millivolts, fahrenheit in ((2.55, 195.0), (6.21, 357.0), (10.93, 567.0), (18.83, 904.0)):
        found = thermocouples.thermocouple_temperature("K", millivolts * 1e-3, to_si(84.0, "degF"))
        yield (found - to_si(fahrenheit, "degF")) * 1.8


CHECKS = (
    Check("probe_offset", "41.3 shown, 38.5 degF true: -2.8 degF", "worked in Fahrenheit", DERIVATION, "K", 1e-9,
          lambda: [probes.probe_offset(to_si(41.3, "degF"), to_si(38.5, "degF")) + 2.8 / 1.8]),
    Check("thermometer_limit", "2 degF and 1 degC of food, 3 degF and 1.5 degC of air", FOOD, PUBLISHED, "K", 1e-9,
          lambda: [
              probes.thermometer_limit("food", "fahrenheit") - 2.0 / 1.8,
              probes.thermometer_limit("food", "celsius") - 1.0,
              probes.thermometer_limit("air", "fahrenheit") - 3.0 / 1.8,
              probes.thermometer_limit("air", "celsius") - 1.5,
          ]),
    Check("probe_check", "verdicts with the reference anywhere in its accuracy", "brute force", DERIVATION,
          "wrong verdicts", 0.0, partial(probe_misses, ice=False)),
    Check("ice_bath_check", "verdicts with the bath anywhere in its accuracy", "brute force", DERIVATION,
          "wrong verdicts", 0.0, partial(probe_misses, ice=True)),
    Check("loop_pressure", "quarters of 0-500 psig at 4, 8, 12, 16, 20 mA", "common practice", PRACTICE, "psi", 1e-9,
          lambda: (
              signals.loop_pressure(ma * 1e-3, 0.0, to_si(500.0, "psig")) / to_si(1.0, "psig") - p for ma, p in QUARTERS
          )),
    Check("loop_current", "quarters of 0-500 psig at 4, 8, 12, 16, 20 mA", "common practice", PRACTICE, "mA", 1e-9,
          lambda: (
              signals.loop_current(to_si(p, "psig"), 0.0, to_si(500.0, "psig")) * 1e3 - ma for ma, p in QUARTERS
          )),
    Check("loop_check", "eleven currents", NE43, PUBLISHED, "wrong verdicts", 0.0, loop_misses),
    Check("ratiometric_pressure", "0.5 to 4.5 V of 5 V, by half volts", CHILLER, PUBLISHED, "psi", 1e-9, ratio_psi),
    Check("ratiometric_signal", "0.5 to 4.5 V of 5 V, by half volts", CHILLER, PUBLISHED, "V", 1e-9, ratio_volts),
    Check("ratiometric_check", "twelve pairs of signal and supply", "common practice; 5 V ± 0.5 V in a manual (seen)",
          PRACTICE, "wrong verdicts", 0.0, ratio_misses),
    Check("transducer_error", "8 psi of 500 psi is 1.6 %", "arithmetic by hand", DERIVATION, "points", 1e-9, lambda: [
        signals.transducer_error(*(to_si(p, "psig") for p in (208.0, 200.0, 0.0, 500.0))) * 100.0 - 1.6
    ]),
    *(
        Check("thermocouple_voltage", f"type {couple}, ends in ice", source, PUBLISHED, "mV", 0.00051,
              volt_errors(couple, table))
        for couple, table, source in tables.MILLIVOLTS
    ),
    Check("thermocouple_voltage", "type T, ends at 22 degC", "a university's page on type T (seen)", PUBLISHED, "mV",
          0.00006, junction_volts),
    *(
        Check("thermocouple_temperature", f"type {couple}, ends in ice", source, PUBLISHED, "K", 0.035,
              couple_kelvins(couple, table))
        for couple, table, source in tables.MILLIVOLTS
    ),
    Check("thermocouple_temperature", "type K, ends at 84 degF", EXERCISE, PUBLISHED, "degF", 0.5, exercise),
)
