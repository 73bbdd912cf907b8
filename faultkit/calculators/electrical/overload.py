"""A motor that shows open: internal overload or winding, and how warm the winding is."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Result, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import (
    EITHER,
    FALLING,
    HOT,
    LOCKED_OUT,
    RISING,
    resistance,
    temperature,
)
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind, format_si

__all__ = [
    "OVERLOAD", "OverloadPattern", "overload_pattern", "winding_resistance", "winding_temperature",
    "winding_temperature_rise",
]

_READS = ("reads", "open")
_ZERO_C = 273.15
#: Where the resistance of copper, carried on in a straight line, would be zero: so far below 0 degC.
_COPPER = 234.5
_HOTTEST, _COLDEST = 573.15, 223.15


@dataclass(frozen=True, slots=True)
class OverloadPattern:
    """``verdict`` in words, what may be ``open``, what to do ``next``."""

    verdict: str
    open: tuple[str, ...]
    next: str


def overload_pattern(
    common_run: str, common_start: str, run_start: str, shell_temperature: float, cool_below: float = 327.5944444444444
) -> OverloadPattern:
    """What is open in a single-phase compressor, from which pairs of pins show continuity.

    Each pair ``reads`` some ohms or is ``open``; leads off. The overload sits in common: run to
    start reads and both others are open when it has opened. Above ``cool_below`` (K, 130 degF) at
    the hottest of shell or head, it may just be doing its work: nothing is judged. From hot it may
    take two hours and more to close. All three open take a broken winding, hot or not.

    >>> overload_pattern("open", "open", "reads", 350.0).verdict  # shell at 170 degF
    'too hot to judge'
    """
    for name, word in (("common_run", common_run), ("common_start", common_start), ("run_start", run_start)):
        if word not in _READS:
            raise InputError(f"'{name}' is '{word}'", did_you_mean(word, _READS))
    cr, cs, rs = (w == "open" for w in (common_run, common_start, run_start))
    if not (cr or cs or rs):
        return OverloadPattern("nothing open", (), "compare the ohms, then test to ground")
    if cr + cs + rs == 1:
        return OverloadPattern("contradictory", (), "clean the pins, read all three pairs again")
    overload = "internal overload or its lead to common"
    replace = "read at the pins themselves; confirmed, the compressor is to be replaced"
    if cr and cs and rs:
        return OverloadPattern("a winding open", (overload, "run winding", "start winding"), replace)
    if cr and cs and shell_temperature > cool_below:
        wait = "power off, let it cool to where a hand can stay, read again; then find why it got hot"
        return OverloadPattern("too hot to judge", (overload,), wait)
    if cr and cs:
        return OverloadPattern("overload open on a cool shell", (overload,), f"wait once more; {replace}")
    winding = "run winding" if cr else "start winding"
    return OverloadPattern(f"{winding} open", (winding,), replace)


def winding_temperature(
    cold_resistance: float, cold_temperature: float, hot_resistance: float, copper: float = _COPPER
) -> float:
    """Temperature of a winding from its resistance (K).

    Ohms between the same two leads ``cold``, at a known temperature of the whole motor (K), and ``hot``,
    read within half a minute of switching off. ``copper`` is 234.5 K for copper, 225 K for
    aluminum. It is the average of the winding; the hottest spot is 5 to 15 K warmer.

    >>> round(winding_temperature(1.20, 298.15, 1.56) - 273.15, 1)  # 25 degC cold: 102.9 degC
    102.9
    """
    hot = cold_temperature + (hot_resistance / cold_resistance - 1.0) * (copper + cold_temperature - _ZERO_C)
    if not _COLDEST <= hot <= _HOTTEST:
        raise InputError(
            f"{format_si(hot_resistance, 'ohm', 4)} hot against {format_si(cold_resistance, 'ohm', 4)} cold would be "
            f"{format_si(hot, 'degF', 4)}",
            f"{format_si(_COLDEST, 'degF')} to {format_si(_HOTTEST, 'degF')}: the same two leads, meter zeroed",
        )
    return hot


def winding_temperature_rise(
    cold_resistance: float, cold_temperature: float, hot_resistance: float, surroundings: float,
    copper: float = _COPPER,
) -> float:
    """How far a winding is above its surroundings, from its resistance (K).

    As winding_temperature; ``surroundings`` (K) is the air at the motor, or for a hermetic the gas
    coming back, while it was hot.

    >>> round(winding_temperature_rise(1.20, 298.15, 1.56, 308.15), 1)
    67.9
    """
    return winding_temperature(cold_resistance, cold_temperature, hot_resistance, copper) - surroundings


def winding_resistance(
    resistance: float, temperature: float, other_temperature: float, copper: float = _COPPER
) -> float:
    """Resistance a winding would have at another temperature (ohm).

    To compare a reading at one ``temperature`` (K) with the maker's ohms, given for another (K, often
    77 degF). Cold copper reads low: at 0 degF 15 % below 77 degF.

    >>> round(winding_resistance(1.56, 375.98, 298.15), 2)
    1.2
    """
    at, there = copper + temperature - _ZERO_C, copper + other_temperature - _ZERO_C
    return resistance * there / at


_METHOD = (
    "resistance method of IEEE 112 and IEC 60034-1 (formula seen in a text on both; IEC takes 235 K for copper)"
)
_PATTERN = (
    "follows from the overload in series with common; makers' manuals (seen); 130 degF: common practice, no source"
)
_OHMS = (0.01, 1e5)


def _copper_constant() -> Argument:
    return Argument(
        "copper", (Kind.TEMPERATURE_DIFFERENCE,), EITHER, "constant of the metal", valid=(220.0, 245.0),
        unit="delta_degC", default=_COPPER,
    )


_COLD = (
    resistance("cold_resistance", "ohms cold", FALLING, _OHMS),
    temperature("cold_temperature", "temperature cold", RISING, (233.15, 333.15)),
    resistance("hot_resistance", "ohms hot", RISING, _OHMS),
)
_READ = {
    "cold_resistance": "1.20 ohm ± 0.01 ohm", "cold_temperature": "77 degF ± 2 delta_degF",
    "hot_resistance": "1.56 ohm ± 0.01 ohm",
}


def _pair(name: str, title: str) -> Word:
    return Word(name, _READS, title)


#: The calculators of this file.
OVERLOAD: tuple[Calculator, ...] = (
    Calculator(
        "overload_pattern", overload_pattern,
        (
            _pair("common_run", "common to run"), _pair("common_start", "common to start"),
            _pair("run_start", "run to start"),
            temperature("shell_temperature", "hottest of shell and head", None),
            temperature("cool_below", "cool enough below", None, (283.15, 373.15), 327.5944444444444),
        ),
        result=(
            Result("verdict", None, "the compressor"), Result("open", None, "may be open"),
            Result("next", None, "next"),
        ),
        source=_PATTERN, caution=HOT,
        example={
            "common_run": "open", "common_start": "open", "run_start": "reads",
            "shell_temperature": "170 degF ± 5 delta_degF",
        },
    ),
    Calculator(
        "winding_temperature", winding_temperature, (*_COLD, _copper_constant()),
        result=Kind.TEMPERATURE, unit="degF", source=_METHOD, caution=LOCKED_OUT, example=_READ,
    ),
    Calculator(
        "winding_temperature_rise", winding_temperature_rise,
        (*_COLD, temperature("surroundings", "air at the motor", FALLING, (233.15, 353.15)), _copper_constant()),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_METHOD, caution=LOCKED_OUT,
        example={**_READ, "surroundings": "95 degF ± 2 delta_degF"},
    ),
    Calculator(
        "winding_resistance", winding_resistance,
        (
            resistance("resistance", "ohms read", RISING, _OHMS),
            temperature("temperature", "winding's temperature then", FALLING),
            temperature("other_temperature", "temperature wanted", RISING), _copper_constant(),
        ),
        result=Kind.RESISTANCE, unit="ohm", source=_METHOD, caution=LOCKED_OUT,
        example={"resistance": "1.05 ohm", "temperature": "0 degF", "other_temperature": "77 degF"},
    ),
)
