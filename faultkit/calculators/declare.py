"""What a calculator is: a typed function of SI numbers and a declaration of its arguments."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from itertools import product
from math import inf, isfinite

from faultkit.problems import InputError, Problem, did_you_mean
from faultkit.units import Kind, difference_kind

__all__ = ["Argument", "Calculator", "DifferenceOf", "Direction"]


class Direction(StrEnum):
    """Which way the result goes when one argument rises and the others stay."""

    RISING = "rising"
    FALLING = "falling"
    EITHER = "either"  # one way throughout, but which way depends on the other arguments


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument: the kinds it takes, the way it moves the result, the SI values it may have.

    ``valid`` are the lowest and highest value, both included; ``not_zero`` for a divisor.
    """

    name: str
    kinds: tuple[Kind, ...]
    direction: Direction | None
    title: str = ""
    valid: tuple[float, float] = (-inf, inf)
    not_zero: bool = False


@dataclass(frozen=True, slots=True)
class DifferenceOf:
    """The result's kind is the kind of a difference of two values of ``argument``."""

    argument: str


@dataclass(frozen=True, slots=True)
class Calculator:
    """A reading worked out of others.

    ``function`` takes SI floats by keyword, one for each argument, and returns an
    SI float; its docstring names units and valid range and holds a worked example
    (``>>>``). ``same_kind`` asks all arguments to be of one kind. ``source`` is
    where the formula stands. Raises InputError when the declaration does not fit
    the function or a direction is missing.

    >>> from faultkit.units import Kind
    >>> def power_lost(current: float, resistance: float) -> float:
    ...     return current * current * resistance
    >>> lost = Calculator(
    ...     "power_lost", power_lost,
    ...     (Argument("current", (Kind.CURRENT,), Direction.RISING, valid=(0.0, 1000.0)),
    ...      Argument("resistance", (Kind.RESISTANCE,), Direction.RISING)),
    ...     result=Kind.POWER, source="Joule's law",
    ... )
    >>> lost.evaluate({"current": (2.0, 3.0), "resistance": (10.0, 10.0)})
    (40.0, 90.0)
    """

    name: str
    function: Callable[..., float]
    arguments: tuple[Argument, ...]
    result: Kind | DifferenceOf
    source: str
    same_kind: bool = False

    def __post_init__(self) -> None:
        problems = tuple(self._declaration_problems())
        if problems:
            raise InputError(problems)

    @property
    def title(self) -> str:
        """First line of the function's docstring."""
        return (inspect.getdoc(self.function) or self.name).partition("\n")[0]

    def _declaration_problems(self) -> list[Problem]:
        me = f"calculator '{self.name}'"
        names = [a.name for a in self.arguments]
        taken = list(inspect.signature(self.function).parameters)
        problems = []
        if not names or names != taken:
            problems.append(Problem(
                f"{me} declares the arguments ({', '.join(names)}), its function takes ({', '.join(taken)})",
                "the same names in the same order, at least one",
            ))
        for a in self.arguments:
            if not a.kinds:
                problems.append(Problem(f"argument '{a.name}' of {me} takes no kind of quantity", "a Kind"))
            if a.direction is None:
                problems.append(Problem(
                    f"argument '{a.name}' of {me} has no direction, so bounds cannot be carried through",
                    "rising, falling or either: this version takes only functions monotone in each argument",
                ))
        if isinstance(self.result, DifferenceOf) and self.result.argument not in names:
            problems.append(Problem(
                f"the result of {me} follows '{self.result.argument}', which is no argument",
                did_you_mean(self.result.argument, names),
            ))
        return problems

    def result_kind(self, kinds: Mapping[str, Kind]) -> Kind:
        """Kind of the result for arguments of these kinds; InputError with all that does not fit."""
        problems = self._name_problems(kinds)
        for argument in self.arguments:
            kind = kinds.get(argument.name)
            if kind is not None and kind not in argument.kinds:
                problems.append(Problem(
                    f"argument '{argument.name}' of '{self.name}' is a {kind.words}",
                    "one of " + ", ".join(k.words for k in argument.kinds),
                ))
        if self.same_kind and not problems and len(set(kinds.values())) > 1:
            given = ", ".join(f"{a.name} is a {kinds[a.name].words}" for a in self.arguments)
            problems.append(Problem(f"the arguments of '{self.name}' differ in kind: {given}", "one kind"))
        if problems:
            raise InputError(problems)
        if isinstance(self.result, DifferenceOf):
            return difference_kind(kinds[self.result.argument])
        return self.result

    def evaluate(self, intervals: Mapping[str, tuple[float, float]]) -> tuple[float, float]:
        """Lowest and highest result (SI) while each argument lies in its interval (low, high) in SI.

        Exact up to rounding, since the function is monotone in each argument.
        Raises InputError for names that do not fit, for an interval outside the
        argument's valid range, and where the function has no value.
        """
        problems = self._name_problems(intervals)
        for argument in self.arguments:
            if argument.name in intervals:
                problems += self._value_problems(argument, intervals[argument.name])
        if problems:
            raise InputError(problems)
        least = self._extreme(intervals, Direction.RISING)
        greatest = self._extreme(intervals, Direction.FALLING)
        return min(least), max(greatest)

    def _extreme(self, intervals: Mapping[str, tuple[float, float]], low_end: Direction) -> list[float]:
        """Results at the corners where arguments of direction ``low_end`` stand at their low end."""
        ends: list[tuple[float, ...]] = []
        for a in self.arguments:
            low, high = intervals[a.name]
            if a.direction is Direction.EITHER:
                ends.append((low, high))
            else:
                ends.append((low if a.direction is low_end else high,))
        return [self._call(corner) for corner in product(*ends)]

    def _call(self, values: tuple[float, ...]) -> float:
        named = {a.name: v for a, v in zip(self.arguments, values, strict=True)}
        try:
            result = float(self.function(**named))
            fault = "" if isfinite(result) else f"the result is {result}"
        except (ArithmeticError, ValueError) as error:
            fault = f"{type(error).__name__}: {error}"
        if fault:
            shown = ", ".join(f"{name} = {value:g}" for name, value in named.items())
            raise InputError(f"'{self.name}' has no value at {shown} (SI): {fault}", "values it holds for")
        return result

    def _name_problems(self, given: Mapping[str, object]) -> list[Problem]:
        names = [a.name for a in self.arguments]
        problems = [
            Problem(f"'{name}' is no argument of '{self.name}'", did_you_mean(name, names))
            for name in given if name not in names
        ]
        missing = [name for name in names if name not in given]
        if missing:
            problems.append(Problem(
                f"'{self.name}' has no value for {', '.join(missing)}", f"all of {', '.join(names)}",
            ))
        return problems

    def _value_problems(self, argument: Argument, interval: tuple[float, float]) -> list[Problem]:
        low, high = interval
        lowest, highest = argument.valid
        given = f"'{argument.name}' of '{self.name}' is {low:g} to {high:g} (SI)"
        if not (isfinite(low) and isfinite(high) and low <= high):
            return [Problem(given, "a finite low value, then a high one")]
        problems = []
        if argument.not_zero and low <= 0.0 <= high:
            problems.append(Problem(f"{given}, which may be zero", "bounds that leave out zero"))
        if low < lowest or high > highest:
            problems.append(Problem(given, f"between {lowest:g} and {highest:g} (SI)"))
        return problems
