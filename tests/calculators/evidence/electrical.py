"""Supply, unbalance, wire, joints, power and heaters against printed tables, worked examples and waves."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product
from math import acos, sqrt

from faultkit.calculators.electrical import drop, power, rolling, supply, unbalance, wires
from tests.calculators import electrical_tables as tables
from tests.calculators.evidence_check import Check, Evidence

PUBLISHED, DERIVED, MEMORY = Evidence.PUBLISHED, Evidence.DERIVATION, Evidence.FROM_MEMORY
KFT = 304.8
RANGES = "table of voltages in an equipment manual (seen)"
TESTER = "manual of a circuit tester, worked example (seen)"
MG1 = "worked examples of the NEMA MG 1 formula in four texts (seen)"
TABLE_9 = "National Electrical Code, chapter 9 table 9, printed column (two reprints seen)"
HEATER = "water-heater maker's statement on heaters at lower voltage, and label (seen)"
WAVES = "power, volts and amps of sampled sine waves"
COPPER = "AWG by its definition, copper of 100 % IACS with its coefficient 0.00393; 2 % for stranding (ASTM B8)"
LOSS = "exact phasors; the wire's ohms from AWG and copper"


def range_misses() -> Iterable[float]:
    for system, (low_b, high_b, low_a, high_a) in tables.EQUIPMENT_RANGES.items():
        found = supply.utilization_voltage_check(low_a, system)
        yield from (found.low_b - low_b, found.high_b - high_b, found.low_a - low_a, found.high_a - high_a)


def one_volt_outside() -> Iterable[float]:
    for system, (low_b, high_b, low_a, high_a) in tables.EQUIPMENT_RANGES.items():
        for limits, low, high in (("range_A", low_a, high_a), ("range_B", low_b, high_b)):
            for volts, off in ((low - 1.0, -1.0), (low, 0.0), (high, 0.0), (high + 1.0, 1.0)):
                yield supply.utilization_voltage_deviation(volts, system, limits) * float(system) - off


def range_208() -> Iterable[float]:
    for serves, low_a, low_b in (("no_lighting", 187.0, 180.0), ("lighting", 191.0, 184.0)):
        found = supply.utilization_voltage_check(208.0, "208", serves)
        yield from (found.low_a - low_a, found.high_a - 218.0, found.low_b - low_b, found.high_b - 220.0)


def sagging() -> Iterable[float]:
    """Volts of a source of 0.4 ohm behind 240 V on two resistors, by the divider."""
    for one, other in product((10.0, 25.0), (3.0, 60.0)):
        v1, v2 = 240.0 * one / (one + 0.4), 240.0 * other / (other + 0.4)
        yield supply.loaded_voltage(240.0, v1, v1 / one, v2 / other) - v2


def rolled() -> Iterable[float]:
    """1 for each wrong verdict: patterns that stay with the lines, and that go with the leads."""
    for way, step in (("L1_on_T2", 1), ("L1_on_T3", 2)):
        for pattern in ((50.0, 46.0, 54.0), (30.0, 30.0, 24.0), (11.0, 10.0, 9.0)):
            moved = (pattern[step % 3], pattern[(1 + step) % 3], pattern[(2 + step) % 3])
            yield float(rolling.rolled_leads_check(*pattern, *pattern, way).verdict != "supply")
            yield float(rolling.rolled_leads_check(*pattern, *moved, way).verdict != "motor")


def impedance_digits() -> Iterable[float]:
    """Errors in units of the last printed digit."""
    for size, printed in tables.IMPEDANCES.items():
        for conduit, text in zip(("nonmetallic", "aluminum", "steel"), printed, strict=True):
            if not text:
                continue
            last = 10.0 ** -len(text.partition(".")[2])
            yield (wires.wire_impedance(size, KFT, 0.85, conduit) - float(text)) / last


def percent(got: float, wanted: float) -> float:
    return (got / wanted - 1.0) * 100.0


def resistances() -> Iterable[float]:
    for size in ("18", "16", "14", "12", "10", "8"):
        yield percent(wires.wire_resistance(size, KFT, "solid"), tables.awg_ohms(size, 75.0))
    for size in ("18", "14", "12", "10", "8", "6", "4", "2", "1/0", "2/0", "3/0", "4/0"):
        yield percent(wires.wire_resistance(size, KFT), 1.02 * tables.awg_ohms(size, 75.0))


def loops() -> Iterable[float]:
    return (percent(wires.loop_resistance(n, KFT, "solid"), 2.0 * ohm) for n, ohm in tables.AWG_20C.items())


def k_factor() -> Iterable[float]:
    """Drop by the trade's K of 12.9 ohm·cmil/ft and circular mils."""
    for size, cmil in (("14", 4110.0), ("12", 6530.0), ("10", 10380.0), ("8", 16510.0), ("4", 41740.0)):
        for phase, count in (("single", 2.0), ("three", sqrt(3.0))):
            yield percent(drop.voltage_drop(phase, size, 150.0 * 0.3048, 20.0), count * 12.9 * 20.0 * 150.0 / cmil)


def phasor_drops() -> Iterable[float]:
    """Percent of the drop, single phase, 240 V: the exact magnitude against the approximation, to 5 % drop."""
    for size, ohm, x in (("12", 2.0, 0.054), ("6", 0.49, 0.051), ("2", 0.19, 0.045)):
        for factor in (0.7, 0.85, 0.95):
            amps = 12.0 * KFT / 60.0 / (2.0 * ohm * 60.0)  # about 12 V over 60 m
            share = 2.0 * 60.0 / KFT
            exact = 240.0 - tables.delivered(240.0, amps, ohm * share, x * share, acos(factor))
            yield percent(drop.voltage_drop_impedance("single", size, 60.0, amps, factor), exact)


def joints() -> Iterable[tuple[float, float, float, float]]:
    """Joint's volts, amps, and volts at both ends of 36.576 m of 12 AWG in which it sits, copper of 75 degC."""
    wire = 2.0 * 1.02 * tables.awg_ohms("12", 75.0) * 36.576 / KFT
    for ohm, amps in ((0.0, 12.0), (0.05, 16.0), (0.25, 12.0), (0.5, 6.0)):
        yield ohm * amps, amps, 118.0, 118.0 - amps * (wire + ohm)


def excess() -> Iterable[float]:
    return (
        drop.excess_voltage_drop("single", "12", 36.576, amps, there, here) - lost
        for lost, amps, there, here in joints()
    )


def drop_verdicts() -> Iterable[float]:
    for lost, amps, there, here in joints():
        found = drop.voltage_drop_check("single", "12", 36.576, amps, there, here)
        bad = "bad joint, contact or wire on the way"
        wanted = bad if lost > 0.5 else "wire too thin or too long for the load"  # 5.7 V of 118 V at 12 A
        yield float(found.verdict != wanted)


def powers() -> Iterable[tuple[str, float, float, float, float]]:
    """Phase, volts, amps, power factor, watts by sampled waves."""
    for phase, volts, factor in product(("single", "three"), (120.0, 208.0, 480.0), (1.0, 0.85, 0.3)):
        watts, rms_v, rms_i = tables.cycle(phase, volts, 10.0, acos(factor))
        yield phase, rms_v, rms_i, factor, watts


def bank() -> Iterable[tuple[float, float, float, float]]:
    """Amps of all, of one, how many, how many open: three heaters of 28.8 ohm on 240 V as conductances."""
    for opened in range(4):
        yield sum(240.0 / r for r in [28.8] * (3 - opened)), 240.0 / 28.8, 3.0, float(opened)


CHECKS = (
    Check("voltage_deviation", "208 V motor 187 to 229 V, 230 V motor 207 to 253 V: 10 %",
          "motor supplier's text (seen)", PUBLISHED, "points", 0.25, lambda: (
              abs(supply.voltage_deviation(v, r)) * 100.0 - 10.0
              for v, r in ((187.0, 208.0), (229.0, 208.0), (207.0, 230.0), (253.0, 230.0))
          )),
    Check("utilization_voltage_check", "ranges of 120, 240, 277, 480, 600 V", RANGES, PUBLISHED, "V", 0.0,
          range_misses),
    Check("utilization_voltage_check", "ranges of 208 V", "ANSI C84.1 table 1 (from memory)", MEMORY, "V", 0.0,
          range_208),
    Check("utilization_voltage_deviation", "at each limit 0, one volt outside 1 V", RANGES, PUBLISHED, "V", 1e-9,
          one_volt_outside),
    Check("dual_voltage_deviation", "208/230 V three phase runs from 187 to 253 V: 10 % off each", "compressor maker's "
          "table of voltages (seen)", PUBLISHED, "points", 0.25, lambda: [
              supply.dual_voltage_deviation(187.0, 208.0, 230.0) * 100.0 + 10.0,
              supply.dual_voltage_deviation(253.0, 208.0, 230.0) * 100.0 - 10.0,
          ]),
    Check("motor_voltage_check", "208/230 V three phase: 187 to 253 V", "compressor maker's table of voltages (seen)",
          PUBLISHED, "V", 0.5, lambda: [
              supply.motor_voltage_check(208.0, 208.0, 230.0).least - 187.0,
              supply.motor_voltage_check(208.0, 208.0, 230.0).most - 253.0,
          ]),
    Check("voltage_sag", "120 to 115 V: 4.16 %", TESTER, PUBLISHED, "points", 0.01,
          lambda: [supply.voltage_sag(120.0, 115.0) * 100.0 - 4.16]),
    Check("source_impedance", "120 to 115 V at 8 A: 0.625 ohm", TESTER, PUBLISHED, "ohm", 1e-12,
          lambda: [supply.source_impedance(120.0, 115.0, 8.0) - 0.625]),
    Check("loaded_voltage", "the same at 12 A: 7.5 V lost", TESTER, PUBLISHED, "V", 1e-9,
          lambda: [supply.loaded_voltage(120.0, 115.0, 8.0, 12.0) - 112.5]),
    Check("loaded_voltage", "0.4 ohm behind 240 V on resistors", "voltage divider", DERIVED, "V", 1e-9, sagging),
    Check("voltage_unbalance", "four sets of volts", MG1, PUBLISHED, "points", 0.051, lambda: (
        unbalance.voltage_unbalance(*volts) * 100.0 - wanted for volts, wanted in tables.UNBALANCES
    )),
    Check("current_unbalance", "33, 29, 34 A: 9.4 %; 51, 46, 53 A: 8 %; 50, 48, 52 A: 4 %", "meter maker's and pump "
          "maker's manuals (seen)", PUBLISHED, "points", 0.051, lambda: (
              unbalance.current_unbalance(*amps) * 100.0 - wanted
              for amps, wanted in (((33.0, 29.0, 34.0), 9.4), ((51.0, 46.0, 53.0), 8.0), ((50.0, 48.0, 52.0), 4.0))
          )),
    Check("unbalance_derating", "1, 1.96, 3 and 5 % in other texts: 1, 0.95, 0.90, 0.75",
          "a maker of power equipment, a motor service firm, a calculation page (seen)", PUBLISHED, "points",
          1.0 + 1e-9, lambda: (
              (unbalance.unbalance_derating(u) - f) * 100.0 for u, f in tables.DERATING_ELSEWHERE
          )),
    Check("unbalance_derating", "2, 3, 4, 5 %: 0.95, 0.88, 0.82, 0.75", "NEMA MG 1 figure 14-1 (from memory)", MEMORY,
          "points", 1.0 + 1e-9, lambda: (
              (unbalance.unbalance_derating(u / 100.0) - f) * 100.0
              for u, f in ((2.0, 0.95), (3.0, 0.88), (4.0, 0.82), (5.0, 0.75))
          )),
    Check("unbalance_rise_share", "3 %: almost 20 %; 3.5 %: 25 %; 5 %: 50 %", "pump magazine, motor test firm (seen)",
          PUBLISHED, "points", 2.0 + 1e-9, lambda: (
              unbalance.unbalance_rise_share(u) * 100.0 - p for u, p in ((0.03, 20.0), (0.035, 25.0), (0.05, 50.0))
          )),
    Check("unbalance_rise", "3.5 %: a rise of 80 K becomes 100 K", "motor test firm: 25 % (seen)", PUBLISHED, "K", 0.5,
          lambda: [unbalance.unbalance_rise(0.035, 80.0) - 20.0]),
    Check("voltage_unbalance_check", "460, 467, 450 V: 1.96 %, about 0.95 of the load", "calculation page (seen)",
          PUBLISHED, "points", 1.0, lambda: [
              unbalance.voltage_unbalance_check(460.0, 467.0, 450.0).unbalance * 100.0 - 1.96,
              ((unbalance.voltage_unbalance_check(460.0, 467.0, 450.0).derating or 0.0) - 0.95) * 100.0,
          ]),
    Check("rolled_leads_check", "51, 46, 53 then 50, 48, 52 A: it stays on L2's side, the supply",
          "pump maker's manual, worked example (seen)", PUBLISHED, "wrong verdicts", 0.0,
          lambda: [float(rolling.rolled_leads_check(51.0, 46.0, 53.0, 50.0, 48.0, 52.0).verdict != "supply")]),
    Check("rolled_leads_check", "patterns that stay, patterns that move, both ways", "the leads permuted", DERIVED,
          "wrong verdicts", 0.0, rolled),
    # Table 8 keeps three digits and stranding 2 %; ASTM's 1 to 2 % by class.
    Check("wire_resistance", "solid and stranded, 18 to 4/0 AWG at 75 degC", COPPER, DERIVED, "%", 1.0, resistances),
    # Half the last digit of 1.21 ohm is 0.41 %.
    Check("loop_resistance", "solid, 18 to 8 AWG at 20 degC", "wire table of a physics department (seen)", PUBLISHED,
          "%", 0.45, loops),
    Check("wire_impedance", "14 to 4/0 AWG at 0.85, three conduits, last digits", TABLE_9, PUBLISHED, "last digits",
          1.0, impedance_digits),
    Check("voltage_drop", "14 to 4 AWG by K and circular mils",
          "formula 2 K I L / CM, 3 phase root 3 (seen); K 12.9 ohm cmil/ft (from memory)", MEMORY, "%", 1.0, k_factor),
    Check("voltage_drop_impedance", "three sizes, three power factors, about 5 % of 240 V", "exact phasors", DERIVED,
          "%", 2.0, phasor_drops),
    Check("excess_voltage_drop", "joints of 0 to 0.5 ohm in 120 ft of 12 AWG", LOSS, DERIVED, "V", 0.08, excess),
    Check("voltage_drop_check", "joints of 0 to 0.5 ohm in 120 ft of 12 AWG", LOSS, DERIVED, "wrong verdicts", 0.0,
          drop_verdicts),
    Check("splice_drop", "0.625 ohm at 12 A: 7.5 V", TESTER, PUBLISHED, "V", 1e-12,
          lambda: [drop.splice_drop(0.625, 12.0) - 7.5]),
    Check("splice_resistance", "5 V at 8 A: 0.625 ohm", TESTER, PUBLISHED, "ohm", 1e-12,
          lambda: [drop.splice_resistance(5.0, 8.0) - 0.625]),
    Check("splice_watts", "3 V at 12 A, in phase", WAVES, DERIVED, "W", 1e-9,
          lambda: [drop.splice_watts(3.0, 12.0) - tables.cycle("single", 3.0, 12.0, 0.0)[0]]),
    Check("splice_check", "a few hundredths of a volt good; 20 V across a contact bad", "service page, trade textbook "
          "(seen)", PUBLISHED, "wrong verdicts", 0.0, lambda: [
              float(drop.splice_check(0.03, 20.0).verdict != "good"),
              float(drop.splice_check(20.0, 20.0).verdict != "bad"),
          ]),
    Check("apparent_power", "4500 W heater at 240 V: 18.75 A", HEATER, PUBLISHED, "W", 1e-9,
          lambda: [power.apparent_power("single", 240.0, 18.75) - 4500.0]),
    Check("apparent_power", "three phase, power factor 1", WAVES, DERIVED, "W", 1e-6, lambda: (
        power.apparent_power(p, v, i) - w for p, v, i, f, w in powers() if f == 1.0
    )),
    Check("real_power", "both phases, power factors 1, 0.85, 0.3", WAVES, DERIVED, "W", 1e-6,
          lambda: (power.real_power(p, v, i, f) - w for p, v, i, f, w in powers())),
    Check("power_factor", "both phases, power factors 1, 0.85, 0.3", WAVES, DERIVED, "points", 1e-9,
          lambda: ((power.power_factor(p, w, v, i) - f) * 100.0 for p, v, i, f, w in powers())),
    Check("heater_resistance", "4500 W at 240 V: 12.8 ohm", HEATER, PUBLISHED, "ohm", 0.05,
          lambda: [power.heater_resistance(4500.0, 240.0) - 12.8]),
    Check("heater_power", "5500 W at 240 V: 4131 W at 208 V; 4500 W: 3380 W", HEATER, PUBLISHED, "W", 0.5, lambda: [
        power.heater_power(5500.0, 240.0, 208.0) - 4131.0, power.heater_power(4500.0, 240.0, 208.0) - 3380.0,
    ]),
    Check("heater_current", "4500 W at 240 V: 18.75 A, at 208 V 16.25 A", HEATER, PUBLISHED, "A", 0.005, lambda: [
        power.heater_current(4500.0, 240.0, 240.0) - 18.75, power.heater_current(4500.0, 240.0, 208.0) - 16.25,
    ]),
    Check("heater_bank_current", "three heaters, none to all open", "sum of conductances", DERIVED, "A", 1e-9,
          lambda: (power.heater_bank_current(each, n, opened) - all_ for all_, each, n, opened in bank())),
    Check("open_heaters", "three heaters, none to all open", "sum of conductances", DERIVED, "count", 1e-9,
          lambda: (power.open_heaters(all_, each, n) - opened for all_, each, n, opened in bank())),
    Check("heater_bank_check", "three heaters, none to all open", "sum of conductances", DERIVED, "wrong verdicts", 0.0,
          lambda: (float(power.heater_bank_check(a, each, n).open != opened) for a, each, n, opened in bank())),
)
