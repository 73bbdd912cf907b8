"""Where current unbalance comes from: the motor leads rolled on the lines."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from faultkit.calculators.arguments import Result, Word
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import LIVE, share
from faultkit.calculators.electrical.unbalance import farthest, largest_deviation, legs
from faultkit.problems import InputError, did_you_mean
from faultkit.units import Kind

__all__ = ["ROLLING", "LeadRolling", "rolled_leads_check"]

_LEGS = ("L1", "L2", "L3")
#: How far the line lies that a lead is on after rolling.
_ROLLED = {"L1_on_T2": -1, "L1_on_T3": 1}
#: Cosine of 30 degrees: patterns are at 0 or 120 degrees where there is one cause.
_LIKE = 0.866


@dataclass(frozen=True, slots=True)
class LeadRolling:
    """``verdict`` says where the unbalance is; both unbalances are ratios."""

    verdict: str
    unbalance: float
    unbalance_rolled: float
    farthest: tuple[str, ...]
    farthest_rolled: tuple[str, ...]


def rolled_leads_check(
    current_l1: float, current_l2: float, current_l3: float,
    rolled_l1: float, rolled_l2: float, rolled_l3: float, rolled: str = "L1_on_T2", small: float = 0.02,
) -> LeadRolling:
    """Whether current unbalance comes from the supply or from the motor, by rolling the leads.

    Amps of the lines with L1 L2 L3 on T1 T2 T3, then with all three motor leads moved on one place,
    at the same load (``rolled`` says which way; the motor turns as before). The pattern stays with
    the lines: supply; it goes with the leads: motor. ``small``: no unbalance to speak of.

    >>> rolled_leads_check(51.0, 46.0, 53.0, 50.0, 48.0, 52.0).verdict
    'supply'
    """
    if rolled not in _ROLLED:
        raise InputError(f"'rolled' is '{rolled}'", did_you_mean(rolled, list(_ROLLED)))
    before, after = (current_l1, current_l2, current_l3), (rolled_l1, rolled_l2, rolled_l3)
    one, other = largest_deviation(before, "currents"), largest_deviation(after, "rolled currents")
    step = _ROLLED[rolled]
    with_leads = (after[step % 3], after[(1 + step) % 3], after[(2 + step) % 3])
    verdict = "both: take the third hookup too"  # also where they cancel in one of the two
    if max(one, other) <= small:
        verdict = "no unbalance"
    elif min(one, other) > small and _likeness(before, after) >= _LIKE:
        verdict = "supply"
    elif min(one, other) > small and _likeness(before, with_leads) >= _LIKE:
        verdict = "motor"
    return LeadRolling(verdict, one, other, farthest(before, _LEGS), farthest(after, _LEGS))


def _likeness(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
    """Cosine between two patterns of deviation from the average: 1 alike, -0.5 rolled on one place."""
    mean_a, mean_b = sum(a) / 3.0, sum(b) / 3.0
    da, db = [v - mean_a for v in a], [v - mean_b for v in b]
    size = hypot(*da) * hypot(*db)
    return sum(x * y for x, y in zip(da, db, strict=True)) / size if size > 0.0 else 0.0


def _ratio(name: str, title: str) -> Result:
    return Result(name, Kind.RATIO, title, "%")


#: The calculators of this file.
ROLLING: tuple[Calculator, ...] = (
    Calculator(
        "rolled_leads_check", rolled_leads_check,
        (
            *legs("current", "amps of"), *legs("rolled", "amps after rolling of"),
            Word("rolled", tuple(_ROLLED), "which way the leads were moved", default="L1_on_T2"),
            share("small", "no unbalance to speak of", None, (0.0, 0.1), 0.02),
        ),
        result=(
            Result("verdict", None, "unbalance comes from"), _ratio("unbalance", "unbalance"),
            _ratio("unbalance_rolled", "unbalance after rolling"),
            Result("farthest", None, "farthest from the average"),
            Result("farthest_rolled", None, "farthest after rolling"),
        ),
        source="pump and motor makers' procedure (manual and magazine seen)",
        caution="Lock out and prove dead before every change of leads. " + LIVE,
        example={
            "current_l1": "51 A", "current_l2": "46 A", "current_l3": "53 A",
            "rolled_l1": "50 A", "rolled_l2": "48 A", "rolled_l3": "52 A",
        },
    ),
)
