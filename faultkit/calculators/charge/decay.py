"""The decay test: a system shut off from the vacuum pump; does it hold, is it wet, does it leak."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from faultkit.calculators.air.moist import saturation
from faultkit.calculators.arguments import Argument, Column, Log, Result, Rows
from faultkit.calculators.charge.straight import Band, levels_off_fits, line_slopes
from faultkit.calculators.charge.terms import VACUUM, share, temperature
from faultkit.calculators.declare import Calculator
from faultkit.problems import InputError, Problem
from faultkit.units import Kind, format_si

__all__ = ["DECAY", "DecayTest", "decay_test", "vacuum_rise"]

_HOUR = 3600.0
_MOST_BANDS = 300
_LEVELS = 120
_NEAREST = 1e-4


@dataclass(frozen=True, slots=True)
class DecayTest:
    """``tight``, ``leak``, ``moisture`` or ``cannot say``, and why; Pa absolute; Pa in an hour; Pa absolute."""

    verdict: str
    why: str
    last: float
    rise: float
    water: float


def vacuum_rise(readings: Rows, settling: float) -> float:
    """Rise of a vacuum in an hour after the pump is shut off, from a log.

    Rows of s and Pa absolute, the first at the shutting of the valve; what is written in the settling
    time, while pressures inside even out, is left out. The slope of least squares, given as Pa in one hour.

    >>> round(vacuum_rise(((0, 60.0), (120, 66.0), (420, 70.0), (720, 74.0)), 120.0), 6)
    48.0
    """
    rows = _settled(readings, settling)
    if len(rows) < 2:
        raise InputError(
            f"{len(rows)} rows are left after {format_si(settling, 'min')} of settling",
            "two or more, over a longer time",
        )
    return _slope(rows) * _HOUR


def decay_test(
    readings: Rows, temperature: float, limit: float, hold: float, settling: float, accuracy: float, scatter: float,
    moisture_level: float,
) -> DecayTest:
    """Decay test after evacuation: tight, leak, moisture, or cannot say.

    Rows of s and Pa absolute from the shutting of the valve; K of the coldest place; the pressure a
    tight and dry system stays below; the time it must do so; the gauge's accuracy and the scatter from
    row to row as shares of the reading. Air leaking in raises the pressure in a straight line. Water
    raises it ever more slowly towards its own vapor pressure, no further; damp oil and outgassing level
    off below that. Whichever curve goes through all rows is possible; ``moisture_level`` (Pa) is how high
    bound moisture is expected to level off when the rows are straight. Where both go through, the log is too short.

    >>> rows = tuple((60.0 * m, 60.0 + 12.0 * m) for m in range(41))  # 12 Pa a minute, straight
    >>> decay_test(rows, 294.26, 133.3, 600.0, 120.0, 0.1, 0.02, 333.3).verdict
    'leak'
    """
    if not all(p > 0.0 for _, p in readings):
        raise InputError([
            Problem(f"row {n} of 'readings' is {p:g} Pa", "an absolute pressure above zero")
            for n, (_, p) in enumerate(readings, 1) if p <= 0.0
        ])
    rows, water = _settled(readings, settling), saturation(temperature)
    last = readings[-1][1]
    slope = _slope(rows) if len(rows) > 1 else 0.0
    lasted = readings[-1][0] - readings[0][0]
    if len(rows) < 3:
        verdict, why = "cannot say", f"fewer than three readings after {format_si(settling, 'min')} of settling"
    elif last * (1.0 + accuracy) <= limit:
        verdict, why = _held(rows, scatter, limit, hold, lasted)
    elif last * (1.0 - accuracy) <= limit:
        verdict = "cannot say"
        why = f"the last reading is within the gauge's accuracy of the limit, {format_si(limit, 'micron')}"
    else:
        verdict, why = _risen(rows, readings[0][1], scatter, accuracy, water, moisture_level)
    return DecayTest(verdict, why, last, slope * _HOUR, water)


def _held(rows: Rows, scatter: float, limit: float, hold: float, lasted: float) -> tuple[str, str]:
    """The last reading is surely below the limit: does it stay there."""
    if lasted < hold:
        return "cannot say", f"watched for {format_si(lasted, 'min')} only: watch for {format_si(hold, 'min')}"
    straight = line_slopes(_bands(rows, scatter))
    # Surely climbing in a straight line: where is it after as long again?
    if straight is not None and straight[0] > 0.0 and rows[-1][1] + straight[0] * hold > limit:
        return "cannot say", f"still rising in a straight line towards {format_si(limit, 'micron')}: watch longer"
    return "tight", f"below {format_si(limit, 'micron')} after {format_si(lasted, 'min')}"


def _risen(
    rows: Rows, first: float, scatter: float, accuracy: float, water: float, moisture_level: float
) -> tuple[str, str]:
    """The last reading is surely above the limit: by air, or by water."""
    bands, last = _bands(rows, scatter), rows[-1][1]
    straight, at_most = line_slopes(bands), water * (1.0 + accuracy)
    highest = max(low for _, low, _ in bands)
    if straight is not None and straight[0] <= 0.0:
        return _flat(first * (1.0 + scatter) < last * (1.0 - scatter), last, water, accuracy)
    if straight is not None:
        if _levels(bands, highest, min(moisture_level, at_most)):
            return "cannot say", "a straight rise and one that levels off both fit: go on reading"
        return "leak", (
            f"rises in a straight line; moisture is expected to level off by {format_si(moisture_level, 'micron')} "
            f"(much water, slow to boil, could reach {format_si(water, 'micron')}: where in doubt read on)"
        )
    level = _levels(bands, highest, at_most)
    if level:
        return "moisture", (
            f"levels off towards {format_si(level, 'micron')}, no higher than the {format_si(water, 'micron')} "
            "of water here: water, ice, damp oil, or gas out of the oil; not air"
        )
    if last * (1.0 - accuracy) > water:
        return "leak", f"rises past the {format_si(water, 'micron')} that water can reach at this temperature"
    return "cannot say", "neither a straight rise nor one that levels off: a leak and moisture together, or warming"


def _flat(rose: bool, at: float, water: float, accuracy: float) -> tuple[str, str]:
    """Above the limit and, after settling, not moving."""
    if abs(at - water) <= accuracy * at:
        return "moisture", f"stands at the {format_si(water, 'micron')} of water at this temperature"
    if rose and at < water:
        return "moisture", (
            f"rose at once and stands at {format_si(at, 'micron')}, below the {format_si(water, 'micron')} "
            "of water here: not evacuated far enough, damp oil, or gas out of the oil; not air"
        )
    return "cannot say", "stands above the limit without rising: never evacuated that far, or gas out of the oil"


def _levels(bands: Sequence[Band], above: float, highest: float) -> float:
    """The lowest level, up to ``highest``, at which a rise through all bands could end; 0 for none."""
    if highest <= above:
        return 0.0
    # Finest near the highest reading, where a level that has been reached lies.
    nearest = _NEAREST * above
    ratio = max(1.0, (highest - above) / nearest) ** (1.0 / _LEVELS)
    levels = (above + min(nearest * ratio ** n, highest - above) for n in range(_LEVELS + 1))
    return next((level for level in levels if levels_off_fits(bands, level)), 0.0)


def _settled(readings: Rows, settling: float) -> Rows:
    return tuple(row for row in readings if row[0] - readings[0][0] >= settling)


def _bands(rows: Rows, scatter: float) -> list[Band]:
    """Each reading with its scatter; of a long log an even choice, with the last."""
    every = -(-len(rows) // _MOST_BANDS)
    return [(t, p * (1.0 - scatter), p * (1.0 + scatter)) for t, p in [*rows[:-1:every], rows[-1]]]


def _slope(rows: Rows) -> float:
    """Pa by second, least squares."""
    mean_t, mean_p = (sum(row[i] for row in rows) / len(rows) for i in (0, 1))
    return sum((t - mean_t) * (p - mean_p) for t, p in rows) / sum((t - mean_t) ** 2 for t, _ in rows)


_READINGS = Log(
    "readings",
    (
        Column("time", Kind.TIME, "since the pump was shut off", "min", rising=True),
        Column("pressure", Kind.ABSOLUTE_PRESSURE, "vacuum", "micron"),
    ),
    "vacuum after the pump is shut off", least=3,
)
_SETTLING = Argument(
    "settling", (Kind.TIME,), None, "first minutes left out", valid=(0.0, 3600.0), unit="min", default=120.0
)
_WRITTEN = (
    "time (min), pressure (micron)\n0, 380\n2, 450\n4, 610\n6, 770\n8, 930\n10, 1090\n15, 1490\n20, 1890\n30, 2690\n"
    "40, 3490"
)

#: The calculators of this file.
DECAY: tuple[Calculator, ...] = (
    Calculator(
        "vacuum_rise", vacuum_rise, (_READINGS, _SETTLING), result=Kind.PRESSURE_DIFFERENCE, unit="delta_micron",
        source="least squares; settling time common practice, no source", caution=VACUUM,
        example={"readings": _WRITTEN},
    ),
    Calculator(
        "decay_test", decay_test,
        (
            _READINGS, temperature("temperature", "coldest place of the system"),
            Argument(
                "limit", (Kind.ABSOLUTE_PRESSURE,), None, "a tight and dry system stays below", valid=(1.0, 2000.0),
                unit="micron", default=133.322387,
            ),
            Argument("hold", (Kind.TIME,), None, "for at least", valid=(60.0, 1e5), unit="min", default=600.0),
            _SETTLING, share("accuracy", "accuracy of the gauge, of the reading", (0.0, 0.5), 0.1),
            share("scatter", "from row to row, of the reading", (1e-4, 0.2), 0.02),
            Argument(
                "moisture_level", (Kind.ABSOLUTE_PRESSURE,), None, "bound moisture levels off below",
                valid=(1.0, 1e4), unit="micron", default=333.305968,
            ),
        ),
        result=(
            Result("verdict", None, "verdict"), Result("why", None, "why"),
            Result("last", Kind.ABSOLUTE_PRESSURE, "last reading", "micron"),
            Result("rise", Kind.PRESSURE_DIFFERENCE, "rise in an hour", "delta_micron"),
            Result("water", Kind.ABSOLUTE_PRESSURE, "water boils here below", "micron"),
        ),
        source="a leak rises on to the air outside, moisture levels off: a maker's service manual (seen); vapor "
        "pressure of water from the ASHRAE Handbook; 1000 micron, 10 min and 2500 micron common practice, no source",
        caution=VACUUM, example={"readings": _WRITTEN, "temperature": "70 degF"},
    ),
)
