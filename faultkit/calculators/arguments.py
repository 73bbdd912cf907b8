"""What a calculator takes and gives: quantities, words, logs; one number or several results."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from math import inf, isfinite

from faultkit.problems import InputError, Problem, did_you_mean
from faultkit.units import Kind, format_si, kind_of
from faultkit.units.kinds import described
from faultkit.units.lookup import example_unit

__all__ = [
    "ATMOSPHERE", "Argument", "Column", "DifferenceOf", "Direction", "Interval", "Log", "Parameter", "Result",
    "Rows", "Value", "Word",
]

#: An argument of this name, an absolute pressure, is the air pressure of the site where none is given.
ATMOSPHERE = "atmosphere"

Interval = tuple[float, float]
Rows = tuple[tuple[float, ...], ...]
#: What one argument can be given: bounds (low, high) in SI, a word, or the rows of a log in SI.
Value = Interval | str | Rows


class Direction(StrEnum):
    """Which way the result goes when one argument rises and the others stay."""

    RISING = "rising"
    FALLING = "falling"
    EITHER = "either"  # one way throughout, but which way depends on the other arguments


@dataclass(frozen=True, slots=True)
class Argument:
    """A quantity: the kinds it takes, the way it moves the result, the SI values it may have.

    ``direction`` is None where the result turns around (bounds then go by first
    order). ``valid`` are the lowest and highest SI value, both included;
    ``not_zero`` for a divisor. ``unit`` is what the trade writes it in.
    ``default`` (SI), or ``optional`` with None for the function, lets it be left out. Where
    ``kinds`` is absolute pressure alone, a gauge pressure is taken too and raised by the air
    pressure of the site.
    """

    name: str
    kinds: tuple[Kind, ...]
    direction: Direction | None
    title: str = ""
    valid: Interval = (-inf, inf)
    not_zero: bool = False
    unit: str = ""
    default: float | None = None
    optional: bool = False

    @property
    def needed(self) -> bool:
        """Whether it must be given."""
        return self.default is None and not self.optional

    @property
    def takes(self) -> tuple[Kind, ...]:
        """The kinds a caller may give."""
        absolute = self.kinds == (Kind.ABSOLUTE_PRESSURE,)
        return (*self.kinds, Kind.GAUGE_PRESSURE) if absolute else self.kinds

    def shown(self, value: float) -> str:
        """An SI value in the argument's unit, for messages; an absolute pressure never as a gauge one."""
        if len(self.kinds) > 1:
            return f"{value:g} (SI)"  # nobody has said which kind it is
        unit = self.unit or example_unit(self.kinds[0])
        if kind_of(unit) not in self.kinds:
            unit = example_unit(self.kinds[0])
        return format_si(value, unit, 5)

    def problems(self, of: str, value: object) -> list[Problem]:
        """What is wrong with a value given for this argument of calculator ``of``."""
        me = f"'{self.name}' of '{of}'"
        if not (isinstance(value, tuple) and len(value) == 2 and all(map(_is_real, value))):
            return [Problem(f"{me} is {value!r}", f"bounds of {described(self.kinds[0])}: (low, high) in SI")]
        low, high = value
        if not (isfinite(low) and isfinite(high) and low <= high):
            return [Problem(f"{me} is {low:g} to {high:g} (SI)", "a finite low value, then a high one")]
        if self.valid[0] <= low and high <= self.valid[1] and not (self.not_zero and low <= 0.0 <= high):
            return []
        given = f"{me} is {self.shown(low)}" if low == high else f"{me} is {self.shown(low)} to {self.shown(high)}"
        problems = []
        if self.not_zero and low <= 0.0 <= high:
            problems.append(Problem(f"{given}, which may be zero", "bounds that leave out zero"))
        if low < self.valid[0] or high > self.valid[1]:
            problems.append(Problem(given, self._range()))
        return problems

    def _range(self) -> str:
        lowest, highest = self.valid
        if highest == inf:
            return f"{self.shown(lowest)} or more"
        if lowest == -inf:
            return f"{self.shown(highest)} or less"
        return f"{self.shown(lowest)} to {self.shown(highest)}"


@dataclass(frozen=True, slots=True)
class Word:
    """One of a list of words: a refrigerant, a wire size. ``read`` turns a spelling into the word meant.

    ``read`` raises InputError for a word it does not know; without it the word must be one of ``choices``.
    ``free``: the choices are examples of what ``read`` takes, such as times of day.
    """

    name: str
    choices: tuple[str, ...]
    title: str = ""
    default: str | None = None
    read: Callable[[str], str] | None = None
    free: bool = False

    @property
    def needed(self) -> bool:
        """Whether it must be given."""
        return self.default is None

    def word(self, text: str) -> str:
        """The choice that a text means. Raises InputError, with the nearest choices, for none."""
        if text in self.choices:
            return text
        if self.read is not None:
            return self.read(text)
        folded = {c.lower(): c for c in self.choices}
        if text.strip().lower() in folded:
            return folded[text.strip().lower()]
        raise InputError(f"'{self.name}' is '{text}'", did_you_mean(text, self.choices))

    def problems(self, of: str, value: object) -> list[Problem]:
        """What is wrong with a value given for this argument of calculator ``of``."""
        if not isinstance(value, str):
            return [Problem(f"'{self.name}' of '{of}' is a quantity", "a word: " + _some(self.choices))]
        try:
            self.word(value)
        except InputError as fault:
            return list(fault.problems)
        return []


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a log; ``rising`` for a clock, whose values never repeat."""

    name: str
    kind: Kind
    title: str = ""
    unit: str = ""
    rising: bool = False


@dataclass(frozen=True, slots=True)
class Log:
    """Rows written down over time, in SI: at least ``least`` of them."""

    name: str
    columns: tuple[Column, ...]
    title: str = ""
    least: int = 2

    @property
    def needed(self) -> bool:
        """Whether it must be given: always."""
        return True

    def problems(self, of: str, value: object) -> list[Problem]:
        """What is wrong with the rows given for this argument of calculator ``of``."""
        me = f"'{self.name}' of '{of}'"
        names = ", ".join(c.name for c in self.columns)
        if not (isinstance(value, tuple) and all(isinstance(row, tuple) for row in value)):
            return [Problem(f"{me} is no log", f"rows of {names}")]
        problems = []
        if len(value) < self.least:
            rows = f"{len(value)} row{'s' if len(value) != 1 else ''}"
            problems.append(Problem(f"{me} has {rows}", f"at least {self.least} rows of {names}"))
        before: tuple[float, ...] | None = None
        for number, row in enumerate(value, 1):
            if len(row) != len(self.columns) or not all(isfinite(v) for v in row):
                problems.append(Problem(f"row {number} of {me} is {row}", f"finite numbers: {names}"))
                continue
            problems += [
                Problem(f"row {number} of {me}: {c.name} does not rise", "rows in order of time, each once")
                for c, v, b in zip(self.columns, row, before or (), strict=False)
                if c.rising and v <= b
            ]
            before = row
        return problems


Parameter = Argument | Word | Log


@dataclass(frozen=True, slots=True)
class DifferenceOf:
    """The result's kind is the kind of a difference of two values of ``argument``."""

    argument: str


@dataclass(frozen=True, slots=True)
class Result:
    """One field of what a calculator with several results returns. ``kind`` None for words, lists and yes/no.

    A field with ``columns`` is a table: rows of SI values.
    """

    name: str
    kind: Kind | None
    title: str = ""
    unit: str = ""
    columns: tuple[Column, ...] = ()


def _is_real(value: object) -> bool:
    return isinstance(value, (float, int))


def _some(words: tuple[str, ...], most: int = 8) -> str:
    return ", ".join(words[:most]) + (", …" if len(words) > most else "")
