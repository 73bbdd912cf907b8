"""What cabinets are tested for, and whether a kitchen is hotter than that."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.calculators.arguments import Argument, Direction, Result, Rows, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.food.profile import excess, refuse_odd, unknown_time
from faultkit.calculators.food.terms import ACCURACY, COLD_K, GAP, HOUR, HYGIENE, READINGS, food_temperature
from faultkit.units import Kind, format_si

__all__ = [
    "CABINETS", "CabinetTest", "PrepTable", "RoomCheck", "cabinet_test", "prep_table_check",
    "room_above_test", "room_check",
]

_PREP = "open-top preparation table"
#: K of the room, coldest and warmest product or air (None where the standard gives none), hours.
_TESTS: Mapping[str, tuple[float, float | None, float | None, float | None]] = MappingProxyType({
    _PREP: (303.15, 273.705555556, COLD_K, 4.0),
    "storage refrigerator": (310.927777778, None, 277.594444444, None),
    "storage freezer": (310.927777778, None, 255.372222222, None),
    "display refrigerator, type I": (297.038888889, None, None, None),
    "display refrigerator, type II": (299.816666667, None, None, None),
})
_STANDARD = "NSF/ANSI 7 (from memory)"
_LUMPED = "lumped heat capacity, Newton's law of cooling"


@dataclass(frozen=True, slots=True)
class CabinetTest:
    """K, K, K, s; None where the standard gives none."""

    room: float
    coldest: float | None
    warmest: float | None
    lasts: float | None


@dataclass(frozen=True, slots=True)
class RoomCheck:
    """K, K, words."""

    tested: float
    above: float
    verdict: str


@dataclass(frozen=True, slots=True)
class PrepTable:
    """K, K, s, s, words, words."""

    lowest: float
    highest: float
    lasted: float
    unknown: float
    verdict: str
    note: str


def cabinet_test(cabinet: str) -> CabinetTest:
    """Room and product temperatures at which a kind of cabinet is tested.

    K and s; None where the standard gives none. An open-top preparation table keeps every pan at 33 to 41 °F for
    4 hours in a room of 86 °F, precooled, with food put in cold: it is made to keep food cold, not to cool it.

    >>> round((cabinet_test("open-top preparation table").room - 255.372222222) * 1.8, 6)
    86.0
    """
    room, coldest, warmest, hours = _TESTS[cabinet]
    return CabinetTest(room, coldest, warmest, None if hours is None else hours * HOUR)


def room_above_test(room: float, cabinet: str) -> float:
    """How much hotter the room is than the one this kind of cabinet is tested for; below zero: cooler.

    Takes and gives K.

    >>> round(room_above_test(308.15, "open-top preparation table") * 1.8, 1)  # 95 degF kitchen
    9.0
    """
    return room - _TESTS[cabinet][0]


def room_check(room: float, cabinet: str, tolerance: float) -> RoomCheck:
    """Is the kitchen hotter than the room a cabinet is tested for: unit good, room too hot.

    Takes K where the condenser takes its air, and the tolerance (K) of the test room.

    >>> room_check(308.15, "open-top preparation table", 1.1111111).verdict  # 95 degF
    'hotter than the room it is tested for'
    """
    above = room_above_test(room, cabinet)
    hot = excess(above, tolerance) > 0.0
    verdict = "hotter than the room it is tested for" if hot else "no hotter than the room it is tested for"
    return RoomCheck(_TESTS[cabinet][0], above, verdict)


def prep_table_check(readings: Rows, room: float, accuracy: float, longest_gap: float) -> PrepTable:
    """Does an open-top preparation table keep product as it is tested to: 33 to 41 °F over 4 hours.

    Rows of s and K of the warmest pan, room (K), probe accuracy (K), longest gap (s). In a hotter room than 86 °F
    a table that is too warm need not be faulty.

    >>> log = tuple((1800.0 * n, 276.0) for n in range(9))  # 37.1 degF, 4:00 h
    >>> prep_table_check(log, 300.0, 0.0, 1800.0).verdict
    'keeps 33 to 41 degF'
    """
    refuse_odd(readings)
    test = cabinet_test(_PREP)
    assert test.coldest is not None
    assert test.warmest is not None
    assert test.lasts is not None
    low, high = min(t for _, t in readings), max(t for _, t in readings)
    lasted, unknown = readings[-1][0] - readings[0][0], unknown_time(readings, longest_gap)
    if excess(high - accuracy, test.warmest) > 0.0:
        verdict = "too warm"
    elif excess(low + accuracy, test.coldest) < 0.0:
        verdict = "too cold: product freezes"
    elif excess(high + accuracy, test.warmest) > 0.0 or excess(low - accuracy, test.coldest) < 0.0:
        verdict = "too close to call"
    elif lasted < test.lasts or unknown:
        verdict = "cannot say: log too short or with gaps"
    else:
        verdict = "keeps 33 to 41 degF"
    note = "room as tested or cooler"
    if excess(room, test.room) > 0.0:
        note = f"room hotter than {format_si(test.room, 'degF')}, for which it is tested"
    return PrepTable(low, high, lasted, unknown, verdict, note)


_UP = Direction.RISING
_CABINET = Word("cabinet", tuple(_TESTS), "kind of cabinet", default=_PREP)
_PANS = "time (h), temperature (degF)\n" + "\n".join(f"{n * 0.5:g}, {38 + n % 3}" for n in range(9))

#: The calculators of this file.
CABINETS: tuple[Calculator, ...] = (
    Calculator(
        "cabinet_test", cabinet_test, (_CABINET,),
        result=(
            Result("room", Kind.TEMPERATURE, "test room", "degF"),
            Result("coldest", Kind.TEMPERATURE, "coldest allowed", "degF"),
            Result("warmest", Kind.TEMPERATURE, "warmest allowed, product or mean air", "degF"),
            Result("lasts", Kind.TIME, "for", "h"),
        ),
        source=_STANDARD, example={"cabinet": _PREP},
    ),
    Calculator(
        "room_above_test", room_above_test, (food_temperature("room", "room at the cabinet", _UP), _CABINET),
        result=Kind.TEMPERATURE_DIFFERENCE, unit="delta_degF", source=_STANDARD,
        example={"room": "95 degF ± 1 delta_degF"},
    ),
    Calculator(
        "room_check", room_check,
        (
            food_temperature("room", "room at the cabinet", None), _CABINET,
            Argument(
                "tolerance", (Kind.TEMPERATURE_DIFFERENCE,), None, "tolerance of the test room", valid=(0.0, 10.0),
                unit="delta_degF", default=2.0 / 1.8,
            ),
        ),
        result=(
            Result("tested", Kind.TEMPERATURE, "tested in", "degF"),
            Result("above", Kind.TEMPERATURE_DIFFERENCE, "room hotter by", "delta_degF"),
            Result("verdict", None, "verdict"),
        ),
        source=_STANDARD, example={"room": "95 degF ± 1 delta_degF"},
    ),
    Calculator(
        "prep_table_check", prep_table_check,
        (READINGS, food_temperature("room", "room at the table", None), ACCURACY, GAP),
        result=(
            Result("lowest", Kind.TEMPERATURE, "lowest", "degF"),
            Result("highest", Kind.TEMPERATURE, "highest", "degF"),
            Result("lasted", Kind.TIME, "watched for", "h"),
            Result("unknown", Kind.TIME, "unknown, gaps in the log", "h"),
            Result("verdict", None, "verdict"), Result("note", None, "room"),
        ),
        source=_STANDARD, caution=HYGIENE, example={"readings": _PANS, "room": "84 degF"},
    ),
)
