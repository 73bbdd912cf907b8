"""What a calculator is: a typed function of SI numbers and a declaration of its arguments."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import product
from math import isfinite
from typing import Any

from faultkit.calculators.arguments import (
    Argument,
    DifferenceOf,
    Direction,
    Interval,
    Log,
    Parameter,
    Result,
    Value,
    Word,
)
from faultkit.calculators.figures import Figure, bounds_of, figure_of, spread
from faultkit.problems import InputError, Problem, did_you_mean
from faultkit.units import Kind, difference_kind

__all__ = ["Calculator"]

#: Words are tried at every combination of so many uncertain quantities' ends.
_MOST_TOGETHER = 5


@dataclass(frozen=True, slots=True)
class Calculator:
    """A number, or several, worked out of readings.

    ``function`` takes one value by keyword for each argument: SI floats, words, rows
    of a log. It returns an SI float, or, where ``result`` is a tuple of Results, an
    object with a field for each. Its docstring names units and valid range and holds
    a worked example (``>>>``). ``same_kind`` asks all quantities to be of one kind.
    ``source`` is where the formula stands, ``caution`` what to mind before measuring.
    ``example`` is one asking in words, argument by argument. Raises InputError when
    the declaration does not fit the function.

    Bounds are carried through exactly, by corners, where every quantity has a
    direction, else by first order (see ``method``).

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
    function: Callable[..., Any]
    arguments: tuple[Parameter, ...]
    result: Kind | DifferenceOf | tuple[Result, ...]
    source: str
    same_kind: bool = False
    unit: str = ""
    caution: str = ""
    example: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        problems = tuple(self._declaration_problems())
        if problems:
            raise InputError(problems)

    @property
    def title(self) -> str:
        """First paragraph of the function's docstring, on one line."""
        text = inspect.getdoc(self.function) or self.name
        return " ".join(text.partition("\n\n")[0].split())

    @property
    def subject(self) -> str:
        """The subject it belongs to: the module or folder under ``calculators`` it stands in."""
        _, _, rest = self.function.__module__.partition("calculators.")
        return rest.partition(".")[0] or self.function.__module__.partition(".")[0]

    @property
    def method(self) -> str:
        """How bounds are carried through: ``corners`` or ``first order``."""
        if isinstance(self.result, tuple):
            return "first order"
        for a in self.arguments:
            if isinstance(a, Log) or (isinstance(a, Argument) and a.direction is None):
                return "first order"
        return "corners"

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
        problems += [
            Problem(f"argument '{a.name}' of {me} takes no kind of quantity", "a Kind")
            for a in self.arguments if isinstance(a, Argument) and not a.kinds
        ]
        if isinstance(self.result, DifferenceOf) and self.result.argument not in names:
            problems.append(Problem(
                f"the result of {me} follows '{self.result.argument}', which is no argument",
                did_you_mean(self.result.argument, names),
            ))
        if self.result == ():
            problems.append(Problem(f"{me} gives nothing", "a Kind, or at least one Result"))
        problems += [
            Problem(f"the example of {me} gives '{name}'", did_you_mean(name, names))
            for name in self.example if name not in names
        ]
        return problems

    def argument(self, name: str) -> Parameter:
        """The argument of that name; InputError with the nearest names when there is none."""
        found = next((a for a in self.arguments if a.name == name), None)
        if found is None:
            raise InputError(
                f"'{name}' is no argument of '{self.name}'", did_you_mean(name, [a.name for a in self.arguments])
            )
        return found

    def result_kind(self, kinds: Mapping[str, Kind | None]) -> Kind:
        """Kind of the result for arguments of these kinds (None: a word); InputError with all that does not fit.

        An InputError too for a calculator with several results: nothing can be read off it as one number.
        """
        problems = self._name_problems(kinds)
        for a in self.arguments:
            if a.name not in kinds:
                continue
            kind = kinds[a.name]
            if isinstance(a, Argument) and kind not in a.takes:
                problems.append(Problem(
                    f"argument '{a.name}' of '{self.name}' is a {kind.words if kind else 'word'}",
                    "one of " + ", ".join(k.words for k in a.takes),
                ))
            elif not isinstance(a, Argument) and kind is not None:
                wanted = "a log" if isinstance(a, Log) else "a word"
                problems.append(Problem(f"argument '{a.name}' of '{self.name}' is a {kind.words}", wanted))
        given = [(a.name, kind) for a in self.arguments if (kind := kinds.get(a.name)) is not None]
        if self.same_kind and not problems and len({kind for _, kind in given}) > 1:
            told = ", ".join(f"{name} is a {kind.words}" for name, kind in given)
            problems.append(Problem(f"the arguments of '{self.name}' differ in kind: {told}", "one kind"))
        if isinstance(self.result, tuple):
            problems.append(Problem(
                f"'{self.name}' gives several results: {', '.join(r.name for r in self.result)}",
                "a calculator that gives one number",
            ))
        if problems:
            raise InputError(problems)
        return self._kind_of(self.result, kinds)

    def _kind_of(self, result: Kind | DifferenceOf | tuple[Result, ...], kinds: Mapping[str, Kind | None]) -> Kind:
        if isinstance(result, DifferenceOf):
            kind = kinds[result.argument]
            assert kind is not None
            return difference_kind(kind)
        assert not isinstance(result, tuple)
        return result

    def evaluate(self, values: Mapping[str, Value]) -> Interval:
        """Lowest and highest result (SI) while each quantity lies in its bounds (low, high) in SI.

        Exact up to rounding for method ``corners``. Raises InputError for names
        that do not fit, for values outside the argument's valid range, where the
        function has no value, and for a calculator with several results.
        """
        self.check(values)
        if isinstance(self.result, tuple):
            raise InputError(f"'{self.name}' gives several results", "a calculator that gives one number")
        if self.method == "first order":
            centre = float(self._call(self._middle(values)))
            half = spread(centre, [float(self._call(v)) for v in self._one_at_a_time(values)])
            return centre - half, centre + half
        return self._by_corners(values)

    def figures(
        self, values: Mapping[str, Value], kinds: Mapping[str, Kind | None] | None = None
    ) -> tuple[Figure, ...]:
        """Every result with its bounds; ``kinds`` of what was given, for a result whose kind follows an argument's."""
        self.check(values)
        if not isinstance(self.result, tuple):
            low, high = self.evaluate(values)
            centre = float(self._call(self._middle(values)))
            kind = self._kind_of(self.result, kinds or {})
            return (Figure(Result(self.name, kind, self.title, self.unit), centre, kind, low, high),)
        centre = self._call(self._middle(values))
        moved = [self._call(v) for v in self._one_at_a_time(values)]
        corners = []
        for named in self._together(values):
            with suppress(InputError):  # a combination without a meaning says nothing
                corners.append(self._call(named))
        return tuple(
            figure_of(
                r, getattr(centre, r.name), [getattr(m, r.name) for m in moved], [getattr(c, r.name) for c in corners]
            )
            for r in self.result
        )

    def check(self, values: Mapping[str, Value]) -> None:
        """Raises InputError with everything that is wrong with these values."""
        problems = self._name_problems(values)
        for a in self.arguments:
            if a.name in values:
                problems += a.problems(self.name, values[a.name])
        if problems:
            raise InputError(problems)

    # -- carrying bounds through ----------------------------------------------

    def _by_corners(self, values: Mapping[str, Value]) -> Interval:
        """Least and greatest result over the corners that the directions leave in question."""
        least: dict[str, Any] = {}
        greatest: dict[str, Any] = {}
        either: list[list[tuple[str, float]]] = []
        for a in self.arguments:
            if isinstance(a, Argument) and a.name in values:
                low, high = bounds_of(values[a.name])
                if a.direction is Direction.FALLING:
                    low, high = high, low
                elif a.direction is Direction.EITHER:
                    either.append([(a.name, low), (a.name, high)])
                least[a.name], greatest[a.name] = low, high
            else:
                least[a.name] = greatest[a.name] = self._plain(a, values)
        if not either:
            return float(self._call(least)), float(self._call(greatest))
        corners = [dict(corner) for corner in product(*either)]
        return (
            min(float(self._call({**least, **corner})) for corner in corners),
            max(float(self._call({**greatest, **corner})) for corner in corners),
        )

    def _middle(self, values: Mapping[str, Value]) -> dict[str, Any]:
        """One value for each argument: the middle of its bounds, the word meant, the log, or the default."""
        named: dict[str, Any] = {}
        for a in self.arguments:
            if isinstance(a, Argument) and a.name in values:
                low, high = bounds_of(values[a.name])
                named[a.name] = low if low == high else (low + high) / 2.0
            else:
                named[a.name] = self._plain(a, values)
        return named

    @staticmethod
    def _plain(a: Parameter, values: Mapping[str, Value]) -> object:
        """The word meant, the log, or the default."""
        if a.name not in values:
            return None if isinstance(a, Log) else a.default
        return a.word(str(values[a.name])) if isinstance(a, Word) else values[a.name]

    def _one_at_a_time(self, values: Mapping[str, Value]) -> list[dict[str, Any]]:
        """The middle with one argument at its low end, then at its high end, argument by argument."""
        middle = self._middle(values)
        found = []
        for a in self.arguments:
            if isinstance(a, Argument) and a.name in values:
                low, high = bounds_of(values[a.name])
                if low < high:
                    found += [{**middle, a.name: low}, {**middle, a.name: high}]
        return found

    def _together(self, values: Mapping[str, Value]) -> list[dict[str, Any]]:
        """Where several quantities have bounds, all their ends in every combination; too many: all low, all high."""
        middle = self._middle(values)
        ends = [
            [(a.name, low), (a.name, high)]
            for a in self.arguments if isinstance(a, Argument) and a.name in values
            for low, high in [bounds_of(values[a.name])] if low < high
        ]
        if len(ends) < 2:
            return []
        if len(ends) > _MOST_TOGETHER:
            return [{**middle, **dict(end[side] for end in ends)} for side in (0, 1)]
        return [{**middle, **dict(corner)} for corner in product(*ends)]

    def _call(self, named: Mapping[str, Any]) -> Any:
        try:
            result = self.function(**named)
            bad = isinstance(result, float | int) and not isfinite(result)
            fault = f"the result is {result}" if bad else ""
        except InputError as error:
            raise InputError(
                Problem(f"'{self.name}': {p.what}", p.expected, p.where) for p in error.problems
            ) from None
        except (ArithmeticError, ValueError) as error:
            fault = f"{type(error).__name__}: {error}"
        if fault:
            shown = ", ".join(self._shown(name, value) for name, value in named.items())
            raise InputError(f"'{self.name}' has no value at {shown}: {fault}", "values it holds for")
        return result

    def _shown(self, name: str, value: object) -> str:
        a = self.argument(name)
        if isinstance(a, Argument) and isinstance(value, float | int):
            return f"{name} = {a.shown(value)}"
        return f"{name}: {len(value)} rows" if isinstance(value, tuple) else f"{name} = {value}"

    def _name_problems(self, given: Mapping[str, object]) -> list[Problem]:
        names = [a.name for a in self.arguments]
        problems = [
            Problem(f"'{name}' is no argument of '{self.name}'", did_you_mean(name, names))
            for name in given if name not in names
        ]
        missing = [
            a.name for a in self.arguments if a.name not in given and a.needed
        ]
        if missing:
            problems.append(Problem(
                f"'{self.name}' has no value for {', '.join(missing)}", f"all of {', '.join(names)}",
            ))
        return problems
