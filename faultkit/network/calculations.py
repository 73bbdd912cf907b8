"""A calculated reading of a site: which calculator, fed with what."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from faultkit.calculators import ATMOSPHERE, Calculator, Word
from faultkit.calculators.arguments import Argument, Interval, Value
from faultkit.model.types import Calculation, Reading
from faultkit.problems import InputError, Where
from faultkit.units import Kind, Quantity, kind_of

__all__ = ["BoundCalculation", "bind"]

Say = Callable[[str, str, Where | None], None]


@dataclass(frozen=True, slots=True)
class BoundCalculation:
    """A calculator with its constants filled in, for one reading of one unit.

    ``constants`` are SI bounds and words by argument; arguments in ``raised`` are read in
    gauge pressure and taken absolute, a ``lowered`` result comes out absolute and is read in gauge
    pressure, both by ``atmosphere`` (Pa).
    """

    calculator: Calculator
    constants: Mapping[str, Value] = field(default_factory=dict)
    raised: frozenset[str] = frozenset()
    lowered: bool = False
    atmosphere: float = 0.0

    def evaluate(self, measured: Mapping[str, Interval]) -> Interval:
        """Bounds of the result (SI) for bounds of what was measured; InputError where it has no value."""
        values: dict[str, Value] = dict(self.constants)
        for arg, (low, high) in measured.items():
            shift = self.atmosphere if arg in self.raised else 0.0
            values[arg] = (low + shift, high + shift)
        low, high = self.calculator.evaluate(values)
        return (low - self.atmosphere, high - self.atmosphere) if self.lowered else (low, high)


def bind(
    calculator: Calculator,
    reading: Reading,
    calculation: Calculation,
    units: Mapping[str, str],
    settings: Mapping[str, tuple[Quantity | str, Where | None]],
    atmosphere: float,
    say: Say,
) -> BoundCalculation | None:
    """The calculator with its constants, or None with every problem said.

    ``units`` are the units of the readings that feed it, ``settings`` the values of the
    settings and where they stand.
    """
    constants, kinds = _constants(calculator, calculation, settings, atmosphere, say)
    raised = set()
    for arg, unit in units.items():
        if not unit:
            say(f"argument '{arg}' of '{calculator.name}' is a reading of words", "a quantity", calculation.where)
            return None
        kinds[arg] = kind_of(unit)
        if _to_raise(calculator, arg, kinds[arg]):
            raised.add(arg)
    try:
        result = calculator.result_kind(kinds)
    except InputError as fault:
        for p in fault.problems:
            say(p.what, p.expected, calculation.where)
        return None
    wanted = kind_of(reading.unit)
    lowered = result is Kind.ABSOLUTE_PRESSURE and wanted is Kind.GAUGE_PRESSURE
    if result is not wanted and not lowered:
        say(
            f"'{calculator.name}' gives a {result.words}, the reading '{reading.name}' is in {reading.unit}",
            f"a unit of {result.words}", calculation.where,
        )
        return None
    return BoundCalculation(calculator, constants, frozenset(raised), lowered, atmosphere)


def _constants(
    calculator: Calculator,
    calculation: Calculation,
    settings: Mapping[str, tuple[Quantity | str, Where | None]],
    atmosphere: float,
    say: Say,
) -> tuple[dict[str, Value], dict[str, Kind | None]]:
    constants: dict[str, Value] = {}
    kinds: dict[str, Kind | None] = {}
    given: dict[str, tuple[Quantity | str, Where | None]] = {
        **{arg: (q, calculation.where) for arg, q in calculation.quantities.items()},
        **{arg: (w, calculation.where) for arg, w in calculation.words.items()},
        **settings,
    }
    for arg, (value, where) in given.items():
        if isinstance(value, Quantity):
            shift = atmosphere if _to_raise(calculator, arg, value.kind) else 0.0
            constants[arg], kinds[arg] = (value.value + shift, value.value + shift), value.kind
            continue
        constants[arg], kinds[arg] = value, None
        argument = next((a for a in calculator.arguments if a.name == arg), None)
        if isinstance(argument, Word):
            for p in argument.problems(calculator.name, value):
                say(p.what, p.expected, where)
    takes_air = any(a.name == ATMOSPHERE for a in calculator.arguments)
    if takes_air and ATMOSPHERE not in given and ATMOSPHERE not in calculation.readings:
        constants[ATMOSPHERE], kinds[ATMOSPHERE] = (atmosphere, atmosphere), Kind.ABSOLUTE_PRESSURE
    return constants, kinds


def _to_raise(calculator: Calculator, arg: str, kind: Kind | None) -> bool:
    argument = next((a for a in calculator.arguments if a.name == arg), None)
    return isinstance(argument, Argument) and kind is Kind.GAUGE_PRESSURE and kind not in argument.kinds
