"""Insulation resistance: least values, temperature, the scale for hermetics, a dead ground."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, exp2

from faultkit.calculators.arguments import Argument, Direction, Result, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import FALLING, MEGOHM, RISING, current, resistance, temperature, voltage
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind, format_si

__all__ = [
    "INSULATION", "HermeticInsulation", "InsulationCheck", "ground_limit", "hermetic_insulation_check",
    "insulation_check", "insulation_minimum", "insulation_resistance_at_40c",
]

_WINDINGS = ("random_wound", "form_wound", "before_1970")
_SYSTEMS = ("thermoplastic", "thermosetting")
_REFERENCE = 313.15
#: Temperatures for which each correction is given.
_HOLDS = {"thermoplastic": (283.15, 333.15), "thermosetting": (283.15, 358.15)}
#: Constants of the two straight lines for thermosetting insulation, below and above 40 degC.
_COOL, _WARM = 1245.0, 4230.0


@dataclass(frozen=True, slots=True)
class InsulationCheck:
    """``at_40c`` and ``minimum`` in ohms, both at 40 degC."""

    verdict: str
    at_40c: float
    minimum: float


@dataclass(frozen=True, slots=True)
class HermeticInsulation:
    """``ground_limit`` in ohms; ``next`` says what to do."""

    verdict: str
    ground_limit: float
    next: str


def insulation_minimum(rated_voltage: float, winding: str = "random_wound") -> float:
    """Least insulation resistance of a motor winding at 40 degC after one minute (ohm).

    IEEE 43: 5 Mohm for random-wound and below 1 kV, 100 Mohm for form-wound, a megohm and one more
    for each kilovolt of rating (V) for those made before 1970. It covers machines from 1 hp, not
    fractional horsepower, and knows no hermetics: for those hermetic_insulation_check.

    >>> insulation_minimum(230.0) / 1e6
    5.0
    """
    if winding not in _WINDINGS:
        raise InputError(f"'winding' is '{winding}'", did_you_mean(winding, _WINDINGS))
    if winding == "before_1970":
        return (rated_voltage / 1000.0 + 1.0) * 1e6
    return 100e6 if winding == "form_wound" else 5e6


def insulation_resistance_at_40c(
    resistance: float, winding_temperature: float, insulation: str = "thermoplastic"
) -> float:
    """What an insulation resistance would be with the winding at 40 degC (ohm).

    A reading (ohm) after one minute and the winding's temperature (K). ``thermoplastic`` (older,
    asphalt, and the trade's rule): halves every 10 K, 50 to 140 degF. ``thermosetting`` (epoxy,
    polyester, since about 1970): 50 to 185 degF. Below the dew point of the air it means nothing.

    >>> round(insulation_resistance_at_40c(20e6, 298.15) / 1e6, 2)  # 20 Mohm at 77 degF
    7.07
    """
    if insulation not in _SYSTEMS:
        raise InputError(f"'insulation' is '{insulation}'", did_you_mean(insulation, _SYSTEMS))
    low, high = _HOLDS[insulation]
    # A hair's width for temperatures that come from Fahrenheit.
    if not low - 1e-6 <= winding_temperature <= high + 1e-6:
        raise InputError(
            f"winding_temperature is {format_si(winding_temperature, 'degF', 4)}",
            f"{format_si(low, 'degF')} to {format_si(high, 'degF')} for {insulation} insulation",
        )
    if insulation == "thermoplastic":
        return resistance * exp2((winding_temperature - _REFERENCE) / 10.0)
    constant = _COOL if winding_temperature <= _REFERENCE else _WARM
    # Written in the standard with 273 and 313, which differ from kelvins by 0.15.
    return resistance * exp(-constant * (1.0 / (winding_temperature - 0.15) - 1.0 / 313.0))


def insulation_check(
    resistance: float, winding_temperature: float, rated_voltage: float, winding: str = "random_wound",
    insulation: str = "thermoplastic",
) -> InsulationCheck:
    """Whether the insulation of an open motor is good enough to run, by IEEE 43.

    As insulation_resistance_at_40c against insulation_minimum; 500 V dc for motors below 1000 V.
    Not for hermetic compressors and fractional-horsepower motors.

    >>> insulation_check(20e6, 298.15, 230.0).verdict
    'good'
    """
    corrected = insulation_resistance_at_40c(resistance, winding_temperature, insulation)
    least = insulation_minimum(rated_voltage, winding)
    verdict = "good" if corrected >= least else "too low: dry, clean, test again before it runs"
    return InsulationCheck(verdict, corrected, least)


def ground_limit(rated_voltage: float, leakage: float = 1e-3) -> float:
    """Resistance to ground below which a circuit counts as grounded (ohm).

    Rated volts over the leakage that is too much: 1 mA is 1000 ohm for each volt, 0.23 Mohm at
    230 V. A sheathed heater that drew damp may dry out above it.

    >>> round(ground_limit(230.0) / 1e3, 6)
    230.0
    """
    return rated_voltage / leakage


def hermetic_insulation_check(
    resistance: float, rated_voltage: float, good: float = 100e6, watch: float = 20e6, failed: float = 0.5e6
) -> HermeticInsulation:
    """What the insulation resistance of a hermetic compressor says.

    At 500 V dc after one minute, leads off, system under pressure, warm from running if it can. Oil and
    liquid refrigerant on the winding read low without harm: one reading condemns only below
    ``failed`` (ohm); above, the trend counts. ``good`` and ``watch`` are the trade's steps.

    >>> hermetic_insulation_check(8e6, 230.0).verdict
    'contaminated or moist'
    """
    if not failed <= watch <= good:
        raise InputError(
            f"failed {format_si(failed, 'Mohm')}, watch {format_si(watch, 'Mohm')} and good {format_si(good, 'Mohm')} "
            "are not in order", "the lowest first",
        )
    limit = ground_limit(rated_voltage)
    if resistance < max(failed, limit):
        return HermeticInsulation("failed", limit, "read at the pins, leads off, crankcase warm; then replace")
    if resistance < watch:
        return HermeticInsulation(
            "contaminated or moist", limit, "test oil for acid and moisture, change filter drier, read again"
        )
    if resistance < good:
        return HermeticInsulation("watch", limit, "run warm, read again, write down for the trend")
    return HermeticInsulation("good", limit, "write down for the trend")


_IEEE = "IEEE 43-2013, table of least values (5 and 100 Mohm, kV + 1) and clause 6.3 (from memory; texts on it seen)"
_TWO_TIMES = "IEEE 43-2013, 6.3: thermoplastic (seen in a guide to it); thermosetting from memory"
_SCALE = (
    "1000 ohm for each volt and 0.5 Mohm: a compressor maker's bulletin (seen); 20 and 100 Mohm: common practice, no "
    "source"
)
_READ = {"resistance": "20 Mohm ± 5 %", "winding_temperature": "77 degF"}
_WINDING = Word("winding", _WINDINGS, "how the winding is made", default="random_wound")
_SYSTEM = Word("insulation", _SYSTEMS, "kind of insulation", default="thermoplastic")
_RATED = voltage("rated_voltage", "rated volts", RISING, (20.0, 1000.0))
_WARMTH = temperature("winding_temperature", "temperature of the winding", RISING, (283.15, 358.15))


def _megohms(
    name: str, title: str, direction: Direction | None = None, default: float | None = None, most: float = 1e13
) -> Argument:
    return resistance(name, title, direction, (0.0, most), default, unit="Mohm")


#: The calculators of this file.
INSULATION: tuple[Calculator, ...] = (
    Calculator(
        "insulation_minimum", insulation_minimum,
        (voltage("rated_voltage", "rated volts", RISING, (20.0, 15e3)), _WINDING),
        result=Kind.RESISTANCE, unit="Mohm", source=_IEEE, caution=MEGOHM, example={"rated_voltage": "230 V"},
    ),
    Calculator(
        "insulation_resistance_at_40c", insulation_resistance_at_40c,
        (_megohms("resistance", "reading after one minute", RISING), _WARMTH, _SYSTEM),
        result=Kind.RESISTANCE, unit="Mohm", source=_TWO_TIMES, caution=MEGOHM, example=_READ,
    ),
    Calculator(
        "insulation_check", insulation_check,
        (_megohms("resistance", "reading after one minute"), _WARMTH, _RATED, _WINDING, _SYSTEM),
        result=(
            Result("verdict", None, "the insulation is"), Result("at_40c", Kind.RESISTANCE, "at 40 degC", "Mohm"),
            Result("minimum", Kind.RESISTANCE, "least at 40 degC", "Mohm"),
        ),
        source=_IEEE, caution=MEGOHM, example={**_READ, "rated_voltage": "230 V"},
    ),
    Calculator(
        "ground_limit", ground_limit,
        (_RATED, current("leakage", "leakage that is too much", FALLING, (1e-6, 0.1), 1e-3)),
        result=Kind.RESISTANCE, unit="kohm", source="a compressor maker's bulletin, 1000 ohm for each volt (seen)",
        caution=MEGOHM, example={"rated_voltage": "230 V"},
    ),
    Calculator(
        "hermetic_insulation_check", hermetic_insulation_check,
        (
            _megohms("resistance", "reading after one minute"), _RATED,
            _megohms("good", "good from here", None, 100e6, 1e10), _megohms("watch", "moist below", None, 20e6, 1e10),
            _megohms("failed", "failed below", None, 0.5e6, 1e10),
        ),
        result=(
            Result("verdict", None, "the winding"), Result("ground_limit", Kind.RESISTANCE, "grounded below", "kohm"),
            Result("next", None, "next"),
        ),
        source=_SCALE, caution=MEGOHM, example={"resistance": "8 Mohm ± 5 %", "rated_voltage": "230 V"},
    ),
)
