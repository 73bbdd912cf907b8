"""Overload trips and branch devices of motor-compressors: the highest the code allows."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Direction, Result, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import RISING, current
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind

__all__ = [
    "PROTECTION", "BranchDevice", "branch_device_ceiling", "branch_device_check", "branch_device_size",
    "overload_trip_ceiling",
]

_TRIPS = {"overload_relay": 1.40, "breaker_or_fuse": 1.25, "thermal_protector": 1.56}
_ALLOWANCES = {"normal": 1.75, "will_not_carry_start": 2.25}
#: Standard ratings of fuses and breakers in amps, from 15 A (a smaller one is never asked for).
_STANDARD = (
    15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500,
    600, 700, 800, 1000,
)
_LEAST = 15.0


@dataclass(frozen=True, slots=True)
class BranchDevice:
    """``normal_size`` and ``largest_size`` in amps."""

    verdict: str
    normal_size: float
    largest_size: float


def overload_trip_ceiling(rated_load_current: float, device: str) -> float:
    """Highest current at which the overload of a motor-compressor may trip, or its rating (A).

    From the rated-load current (A): a separate relay trips at no more than 140 %, a fuse or
    inverse-time breaker serving as overload is rated no more than 125 %, an integral thermal protector
    lets no more than 156 % go on. The marking on the equipment comes first.

    >>> overload_trip_ceiling(10.0, "overload_relay")
    14.0
    """
    if device not in _TRIPS:
        raise InputError(f"'device' is '{device}'", did_you_mean(device, list(_TRIPS)))
    return rated_load_current * _TRIPS[device]


def branch_device_ceiling(rated_load_current: float, allowance: str = "normal", other_loads: float = 0.0) -> float:
    """Highest rating of the branch breaker or fuse of a motor-compressor (A).

    175 % of the rated-load or branch-circuit selection current (A), the larger of the two; 225 % only where
    the lower does not carry the start; ``other_loads`` (A) on the branch on top, 15 A at least. The
    marking on the equipment (maximum overcurrent device) comes first.

    >>> branch_device_ceiling(10.0)
    17.5
    """
    if allowance not in _ALLOWANCES:
        raise InputError(f"'allowance' is '{allowance}'", did_you_mean(allowance, list(_ALLOWANCES)))
    return max(_LEAST, rated_load_current * _ALLOWANCES[allowance] + other_loads)


def branch_device_size(rated_load_current: float, allowance: str = "normal", other_loads: float = 0.0) -> float:
    """Largest standard breaker or fuse for the branch of a motor-compressor (A).

    The standard rating at or below branch_device_ceiling; rounding up is not allowed here.

    >>> branch_device_size(20.0, "normal", 2.5)  # 37.5 A
    35.0
    """
    # A hair's width: 10 times 1.75 is not to fall short of 17.5 by rounding.
    ceiling = branch_device_ceiling(rated_load_current, allowance, other_loads) * (1.0 + 1e-12)
    return float(max(size for size in _STANDARD if size <= ceiling))


def branch_device_check(device_rating: float, rated_load_current: float, other_loads: float = 0.0) -> BranchDevice:
    """Whether the breaker or fuse found on the branch of a motor-compressor is too large.

    ``device_rating`` (A) as marked on it, the rest as for branch_device_ceiling.

    >>> branch_device_check(50.0, 20.0, 2.5).verdict
    'too large'
    """
    normal = branch_device_size(rated_load_current, "normal", other_loads)
    largest = branch_device_size(rated_load_current, "will_not_carry_start", other_loads)
    if device_rating < rated_load_current + other_loads:
        verdict = "too small for the load"
    elif device_rating <= normal:
        verdict = "allowed"
    else:
        verdict = "allowed only if a smaller one does not carry the start" if device_rating <= largest else "too large"
    return BranchDevice(verdict, normal, largest)


_CAUTION = (
    "A larger device or a higher setting never cures tripping: find the cause. The equipment's marking and local codes "
    "rule; work of a licensed electrician where the law says so."
)
_440_22 = "National Electrical Code 440.22 and 240.6(A) (worked examples and texts on it seen; 15 A from memory)"


def _rated(direction: Direction | None) -> Argument:
    return current(
        "rated_load_current", "rated-load or branch-circuit selection current, the larger", direction, (0.1, 400.0)
    )


def _others(direction: Direction | None) -> Argument:
    return current("other_loads", "amps of other loads on the branch", direction, (0.0, 100.0), 0.0)


_ALLOWANCE = Word("allowance", tuple(_ALLOWANCES), "whether the lower rating carries the start", default="normal")

#: The calculators of this file.
PROTECTION: tuple[Calculator, ...] = (
    Calculator(
        "overload_trip_ceiling", overload_trip_ceiling,
        (
            current("rated_load_current", "rated-load current", RISING, (0.1, 400.0)),
            Word("device", tuple(_TRIPS), "what protects against overload"),
        ),
        result=Kind.CURRENT, unit="A",
        source="National Electrical Code 440.52 (140 % and 156 % seen; 125 % from memory)", caution=_CAUTION,
        example={"rated_load_current": "10 A", "device": "overload_relay"},
    ),
    Calculator(
        "branch_device_ceiling", branch_device_ceiling, (_rated(RISING), _ALLOWANCE, _others(RISING)),
        result=Kind.CURRENT, unit="A", source=_440_22, caution=_CAUTION, example={"rated_load_current": "10 A"},
    ),
    Calculator(
        "branch_device_size", branch_device_size, (_rated(RISING), _ALLOWANCE, _others(RISING)),
        result=Kind.CURRENT, unit="A", source=_440_22, caution=_CAUTION,
        example={"rated_load_current": "20 A", "other_loads": "2.5 A"},
    ),
    Calculator(
        "branch_device_check", branch_device_check,
        (
            current("device_rating", "amps marked on the breaker or fuse", None, (1.0, 1200.0)), _rated(None),
            _others(None),
        ),
        result=(
            Result("verdict", None, "the device is"), Result("normal_size", Kind.CURRENT, "largest, normally", "A"),
            Result("largest_size", Kind.CURRENT, "largest, if the start asks for it", "A"),
        ),
        source=_440_22, caution=_CAUTION,
        example={"device_rating": "50 A", "rated_load_current": "20 A", "other_loads": "2.5 A"},
    ),
)
