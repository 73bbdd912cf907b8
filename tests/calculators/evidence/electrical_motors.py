"""Motors, windings, insulation, capacitors, protection and coils against printed figures and worked circuits."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, permutations, product
from math import pi, sin, sqrt

from faultkit.calculators.electrical import (
    capacitors,
    control,
    insulation,
    motors,
    overload,
    protection,
    windings,
)
from tests.calculators import electrical_tables as tables
from tests.calculators.evidence_check import Check, Evidence

PUBLISHED, DERIVED, MEMORY = Evidence.PUBLISHED, Evidence.DERIVATION, Evidence.FROM_MEMORY
EFFECTS = "table of voltage effects on induction motors (seen)"
OHMED = "distributor's and training pages, worked examples (seen)"
CIRCUIT = "circuits of run, start and common with every set of breaks"
LEADS = "wye and delta worked out by conductances"
QUIZ = "electrical magazine, code quizzes with answers (seen)"
BULLETIN = "compressor maker's bulletin on megohm values (seen)"
GUIDE = "guide to IEEE 43 (seen): 200 Mohm at 20 degC is 25 Mohm at 50 degC"
WINDING = "problem worked on a physics forum: 80 ohm at 20 degC, 100 ohm hot, constant 234.5, rise 63.63 K (seen)"
FORUM = "trade forum, 7.5 uF with 6 %: 7.05 uF is the limit, 7.02 uF out (seen)"
TM = "TM 5-683, coils work at 85 to 110 % (seen)"
MAIN_45, MAIN_35 = 45.0, 35.0


def effects() -> Iterable[tuple[float, float, float, float]]:
    return ((share, *seen) for share, seen in tables.VOLTAGE_EFFECTS.items())


def states() -> Iterable[float]:
    """1 for each wrong verdict: rotor locked on all legs and with one leg lost; a start of 0.3 s; running at RLA."""
    impedance = 230.0 / sqrt(3.0) / 60.0  # of one phase in wye, 60 A locked at 230 V
    for volts, seconds in product((230.0, 207.0), (0.3, 4.0)):
        for amps in (volts / sqrt(3.0) / impedance, volts / (2.0 * impedance)):
            found = motors.motor_state(amps, 12.0, 60.0, 230.0, volts, seconds).verdict
            yield float(found != ("stalled" if seconds > 3.0 else "starting, too early to say"))
    yield float(motors.motor_state(12.0, 12.0, 60.0, 230.0, 230.0, 60.0).verdict != "runs")


def terminals() -> Iterable[float]:
    """1 for each wrong pin: five motors, pins in every order."""
    for run, start in ((1.5, 4.5), (0.5, 3.0), (2.0, 4.0), (4.0, 11.0), (12.0, 19.0)):
        for order in permutations("123"):
            at = dict(zip(order, ("common", "run", "start"), strict=True))
            from_common = {"common": 0.0, "run": run, "start": -start}
            ohms = [abs(from_common[at[a]] - from_common[at[b]]) for a, b in ("12", "13", "23")]
            found = windings.winding_terminals(*ohms)
            yield float({found.common: "common", found.run: "run", found.start: "start"} != at)


def three_phase_cases() -> Iterable[tuple[tuple[float, float, float], str]]:
    """Readings and the word that fits: sound, turns shorted in one phase, a phase of a delta open."""
    for kind in ("wye", "delta"):
        yield tables.between_leads(kind, (1.5, 1.5, 1.5)), "alike"
        yield tables.between_leads(kind, (1.5, 1.5, 0.6)), "unlike: shorted turns or a bad joint"
    for place in range(3):
        phases = [1.5, 1.5, 1.5]
        phases[place] = 1e12
        yield tables.between_leads("delta", (phases[0], phases[1], phases[2])), "one phase of a delta open"


def breaks() -> Iterable[float]:
    """1 for each set of breaks whose pattern is called wrong, shell cool and hot."""
    for count in range(4):
        for broken in map(frozenset, combinations(("common", "run", "start"), count)):
            for shell in (300.0, 360.0):
                found = overload.overload_pattern(*tables.readings_of_breaks(broken), shell).verdict
                yield float(found not in words_of(broken, hot=shell > 330.0))


def words_of(broken: frozenset[str], *, hot: bool) -> set[str]:
    if not broken:
        return {"nothing open"}
    if broken == {"common"}:
        return {"too hot to judge"} if hot else {"overload open on a cool shell"}
    return {f"{w} winding open" for w in broken if len(broken) == 1} or {"a winding open"}


def sampled_capacitor(farads: float, volts: float, hertz: float) -> float:
    """Rms amps of a capacitor, from charge moved between samples of a sine."""
    steps = 4000
    peak, span = sqrt(2.0) * volts, 1.0 / hertz / steps
    moved = [farads * peak * (sin(2 * pi * (n + 1) / steps) - sin(2 * pi * n / steps)) / span for n in range(steps)]
    return sqrt(sum(i * i for i in moved) / steps)


CAPS = ((37.1e-6, 300.0, 60.0), (5e-6, 370.0, 60.0), (40e-6, 240.0, 50.0))


CHECKS = (
    Check("current_ratio", "90 % of the voltage: 111 % of full-load amps", EFFECTS, PUBLISHED, "points", 0.5, lambda: [
        motors.current_ratio(motors.motor_current_at_voltage(12.0, 230.0, 207.0), 12.0) * 100.0 - 111.0
    ]),
    Check("locked_rotor_current", "90 and 110 % voltage: 10 to 12 % less and more", EFFECTS, PUBLISHED, "points", 1.01,
          lambda: (
              (motors.locked_rotor_current(60.0, 230.0, s * 230.0) / 60.0 - c) * 100.0 for s, _, _, c in effects()
          )),
    Check("locked_rotor_ratio", "a rotor locked at 90 and 110 % of the voltage is at 100 %", EFFECTS, PUBLISHED,
          "points", 1.2, lambda: (
              (motors.locked_rotor_ratio(60.0 * c, 60.0, 230.0, s * 230.0) - 1.0) * 100.0 for s, _, _, c in effects()
          )),
    Check("motor_state", "locked on three legs and on two, two voltages, early and late", "phasors of a motor at "
          "standstill", DERIVED, "wrong verdicts", 0.0, states),
    Check("motor_current_at_voltage", "90 % of the voltage: 11 % more amps", EFFECTS, PUBLISHED, "points", 0.5,
          lambda: [motors.motor_current_at_voltage(1.0, 230.0, 207.0) * 100.0 - 111.0]),
    # Above the rating magnetizing current eats part of the gain, as the docstring says.
    Check("motor_current_at_voltage", "110 % of the voltage: 7 % less amps", EFFECTS, PUBLISHED, "points", 2.5,
          lambda: [motors.motor_current_at_voltage(1.0, 230.0, 253.0) * 100.0 - 93.0]),
    Check("starting_torque_ratio", "90 and 110 % of the voltage: 81 and 121 %", EFFECTS, PUBLISHED, "points", 1e-9,
          lambda: ((motors.starting_torque_ratio(s * 230.0, 230.0) - t) * 100.0 for s, t, _, _ in effects())),
    Check("winding_sum_error", "4, 11, 15 ohm and 2, 4, 6 ohm add up", OHMED, PUBLISHED, "points", 1e-9, lambda: [
        windings.winding_sum_error(4.0, 11.0, 15.0) * 100.0, windings.winding_sum_error(2.0, 4.0, 6.0) * 100.0,
    ]),
    Check("single_phase_winding_check", "4, 11, 15 ohm and 2, 4, 6 ohm good; start and run the other way not", OHMED,
          PUBLISHED, "wrong verdicts", 0.0, lambda: [
              float(windings.single_phase_winding_check(4.0, 11.0, 15.0).verdict != "good"),
              float(windings.single_phase_winding_check(2.0, 4.0, 6.0).verdict != "good"),
              float(windings.single_phase_winding_check(11.0, 4.0, 15.0).verdict == "good"),
          ]),
    Check("winding_terminals", "6 ohm 1-2, 2 ohm 1-3, 4 ohm 2-3: 1 run, 2 start, 3 common", OHMED, PUBLISHED,
          "wrong pins", 0.0, lambda: [
              float(got != want) for got, want in zip(
                  (windings.winding_terminals(6.0, 2.0, 4.0).run, windings.winding_terminals(6.0, 2.0, 4.0).start,
                   windings.winding_terminals(6.0, 2.0, 4.0).common), "123", strict=True)
          ]),
    Check("winding_terminals", "five motors, pins in every order", "points on a line", DERIVED, "wrong pins", 0.0,
          terminals),
    Check("winding_unbalance", "one phase of a delta open: half", LEADS, DERIVED, "points", 1e-6, lambda: [
        windings.winding_unbalance(*tables.between_leads("delta", (1.5, 1.5, 1e12))) * 100.0 - 50.0
    ]),
    Check("three_phase_winding_check", "sound, shorted and open phases", LEADS, DERIVED, "wrong verdicts", 0.0,
          lambda: (
              float(windings.three_phase_winding_check(*ohms).verdict != word) for ohms, word in three_phase_cases()
          )),
    Check("three_phase_winding_check", "line ohms two phases in wye, two thirds in delta",
          "instrument maker's page (seen)", PUBLISHED, "ohm", 1e-9, lambda: [
              (windings.three_phase_winding_check(*tables.between_leads("wye", (1.5,) * 3)).average or 0.0) - 3.0,
              (windings.three_phase_winding_check(*tables.between_leads("delta", (1.5,) * 3)).average or 0.0) - 1.0,
          ]),
    Check("overload_pattern", "every set of breaks, shell cool and hot", CIRCUIT, DERIVED, "wrong verdicts", 0.0,
          breaks),
    Check("overload_pattern", "C-R and C-S open, R-S reads, hot: the overload, wait", "distributor's page (seen)",
          PUBLISHED, "wrong verdicts", 0.0, lambda: [
              float(overload.overload_pattern("open", "open", "reads", 360.0).verdict != "too hot to judge")
          ]),
    Check("winding_temperature", "80 to 100 ohm from 20 degC: 83.63 degC", WINDING, PUBLISHED, "K", 0.01,
          lambda: [overload.winding_temperature(80.0, 293.15, 100.0) - 273.15 - 83.63]),
    Check("winding_temperature_rise", "80 to 100 ohm from 20 degC: 63.63 K", WINDING, PUBLISHED, "K", 0.01,
          lambda: [overload.winding_temperature_rise(80.0, 293.15, 100.0, 293.15) - 63.63]),
    Check("winding_resistance", "copper at 20 degC has 82.2 % of 75 degC",
          "National Electrical Code, chapter 9 table 8, note 2: 0.00323 (seen)", PUBLISHED, "points", 0.05, lambda: [
              overload.winding_resistance(1.0, 348.15, 293.15) * 100.0 - 100.0 * (1.0 - 55.0 * 0.00323)
          ]),
    Check("insulation_minimum", "230 V: 5 and 1.23 Mohm; 4160 V form-wound: 100, old 5.16 Mohm",
          "IEEE 43 (from memory)", MEMORY, "Mohm", 1e-9, lambda: (
              insulation.insulation_minimum(volts, made) / 1e6 - wanted for volts, made, wanted in (
                  (230.0, "random_wound", 5.0), (230.0, "before_1970", 1.23), (4160.0, "form_wound", 100.0),
                  (4160.0, "before_1970", 5.16),
              )
          )),
    Check("insulation_resistance_at_40c", "200 Mohm at 20 and 25 Mohm at 50 degC are one", GUIDE, PUBLISHED, "Mohm",
          1e-6, lambda: [(insulation.insulation_resistance_at_40c(200e6, 293.15)
                    - insulation.insulation_resistance_at_40c(25e6, 323.15)) / 1e6]),
    Check("insulation_check", "200 Mohm at 20 and 25 Mohm at 50 degC: the same", GUIDE, PUBLISHED, "Mohm", 1e-6,
          lambda: [
              (insulation.insulation_check(200e6, 293.15, 230.0).at_40c
               - insulation.insulation_check(25e6, 323.15, 230.0).at_40c) / 1e6,
          ]),
    Check("ground_limit", "460 V: 0.46 Mohm; 208 to 230 V: 0.208 to 0.230 Mohm", BULLETIN, PUBLISHED, "Mohm", 1e-9,
          lambda: (
              insulation.ground_limit(v) / 1e6 - m for v, m in ((460.0, 0.46), (208.0, 0.208), (230.0, 0.230))
          )),
    Check("hermetic_insulation_check", "none condemned above 0.5 Mohm, 208 to 460 V", BULLETIN, PUBLISHED,
          "wrong verdicts", 0.0, lambda: (
              float((insulation.hermetic_insulation_check(r, v).verdict == "failed") != (r < 0.5e6))
              for v in (208.0, 230.0, 460.0) for r in (0.1e6, 0.49e6, 0.51e6, 10e6, 200e6)
          )),
    Check("capacitance", "amps times 2652 by volts at 60 Hz", "trade page (seen)", PUBLISHED, "uF", 0.05, lambda: (
        capacitors.capacitance(i, v) * 1e6 - 2652.0 * i / v for i, v in ((4.2, 300.0), (2.1, 440.0), (8.3, 240.0))
    )),
    Check("capacitance", "three capacitors at 50 and 60 Hz", "charge moved between samples of a sine", DERIVED, "%",
          0.001, lambda: (
              (capacitors.capacitance(sampled_capacitor(c, v, f), v, f) / c - 1.0) * 100.0 for c, v, f in CAPS
          )),
    Check("capacitor_current", "three capacitors at 50 and 60 Hz", "charge moved between samples of a sine", DERIVED,
          "%", 0.001, lambda: (
              (capacitors.capacitor_current(c, v, f) / sampled_capacitor(c, v, f) - 1.0) * 100.0 for c, v, f in CAPS
          )),
    Check("capacitance_deviation", "7.05 of 7.5 uF: -6 %", FORUM, PUBLISHED, "points", 1e-9,
          lambda: [capacitors.capacitance_deviation(7.05e-6, 7.5e-6) * 100.0 + 6.0]),
    Check("capacitor_check", "7.05 of 7.5 uF within, 7.02 uF not", FORUM, PUBLISHED, "wrong verdicts", 0.0, lambda: [
        float(capacitors.capacitor_check(7.05e-6, 7.5e-6).verdict != "within"),
        float(capacitors.capacitor_check(7.02e-6, 7.5e-6).verdict == "within"),
    ]),
    Check("overload_trip_ceiling", "relay 140 %, protector 156 %",
          "National Electrical Code 440.52, text and article on it (seen)", PUBLISHED, "A", 1e-9, lambda: [
              protection.overload_trip_ceiling(10.0, "overload_relay") - 14.0,
              protection.overload_trip_ceiling(10.0, "thermal_protector") - 15.6,
          ]),
    Check("overload_trip_ceiling", "fuse or breaker 125 %", "National Electrical Code 440.52(A)(3) (from memory)",
          MEMORY, "A", 1e-9, lambda: [protection.overload_trip_ceiling(10.0, "breaker_or_fuse") - 12.5]),
    Check("branch_device_ceiling", "40 A: 70 A; 20 A and 2.5 A: 37.5, if need be 47.5 A", QUIZ, PUBLISHED, "A", 1e-9,
          lambda: [
              protection.branch_device_ceiling(40.0) - 70.0,
              protection.branch_device_ceiling(20.0, "normal", 2.5) - 37.5,
              protection.branch_device_ceiling(20.0, "will_not_carry_start", 2.5) - 47.5,
          ]),
    Check("branch_device_size", "the same: 70, 35, 45 A", QUIZ, PUBLISHED, "A", 0.0, lambda: [
        protection.branch_device_size(40.0) - 70.0, protection.branch_device_size(20.0, "normal", 2.5) - MAIN_35,
        protection.branch_device_size(20.0, "will_not_carry_start", 2.5) - MAIN_45,
    ]),
    Check("branch_device_check", "20 A and 2.5 A: 35 A, if need be 45 A", QUIZ, PUBLISHED, "A", 0.0, lambda: [
        protection.branch_device_check(40.0, 20.0, 2.5).normal_size - MAIN_35,
        protection.branch_device_check(40.0, 20.0, 2.5).largest_size - MAIN_45,
    ]),
    Check("contactor_pick_up", "24 V coil: 20.4 V", TM, PUBLISHED, "V", 1e-9,
          lambda: [control.contactor_pick_up(24.0) - 20.4]),
    Check("contactor_drop_out", "24 V coil: below about 60 %", "common practice, no source", Evidence.COMMON_PRACTICE,
          "V", 1e-9, lambda: [control.contactor_drop_out(24.0) - 14.4]),
    Check("contactor_coil_check", "84 % too little, 86 and 109 % enough, 111 % too much", TM, PUBLISHED,
          "wrong verdicts", 0.0, lambda: (
              float((control.contactor_coil_check(1.2 * p, 120.0).verdict == "enough") != good)
              for p, good in ((84.0, False), (86.0, True), (109.0, True), (111.0, False))
          )),
    Check("ptc_check", "3 to 10 ohm and 25 ohm cold good; infinite open; thousands hot not judged",
          "appliance maker's manual, "
          "two service texts (seen)", PUBLISHED, "wrong verdicts", 0.0, lambda: (
              float(control.ptc_check(ohm, t).verdict != word) for ohm, t, word in (
                  (3.0, 296.0, "good"), (10.0, 298.0, "good"), (25.0, 295.0, "good"), (1e8, 296.0, "open"),
                  (10e3, 350.0, "too warm to judge"), (30e3, 350.0, "too warm to judge"),
              )
          )),
)
