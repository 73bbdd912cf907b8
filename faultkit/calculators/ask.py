"""Asking a calculator in words: texts with units and accuracy in, results with bounds out."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from faultkit.calculators.arguments import ATMOSPHERE, Argument, Log, Parameter, Rows, Value
from faultkit.calculators.declare import Calculator
from faultkit.calculators.figures import Figure
from faultkit.calculators.logs import read_log
from faultkit.problems import InputError, Problem
from faultkit.units import (
    Kind,
    UnitError,
    convert_pressure,
    parse_accuracy,
    parse_quantity,
    physical_range,
    wrong_kind,
)
from faultkit.units.kinds import described
from faultkit.units.lookup import example_unit
from faultkit.units.quantity import split_number

__all__ = ["SEA_LEVEL_PA", "Answer", "ask", "example_of"]

#: Standard air pressure.
SEA_LEVEL_PA = 101_325.0

_WITHIN = re.compile(r"±|\+/-|\+-")

Given = str | float | Sequence[Sequence[object]]


@dataclass(frozen=True, slots=True)
class Answer:
    """What a calculator said. ``values`` are the SI bounds, words and rows it was given, defaults included."""

    calculator: Calculator
    given: Mapping[str, str]
    values: Mapping[str, Value]
    figures: tuple[Figure, ...]
    atmosphere: float

    @property
    def value(self) -> float:
        """The one number (SI). TypeError where there are several results, or none."""
        if len(self.figures) != 1 or not isinstance(self.figures[0].value, float | int):
            names = ", ".join(f.result.name for f in self.figures)
            raise TypeError(f"'{self.calculator.name}' gives {names}: take them from figures")
        return float(self.figures[0].value)

    def __getitem__(self, name: str) -> Figure:
        """The result of that name. KeyError with the names there are."""
        for figure in self.figures:
            if figure.result.name == name:
                return figure
        raise KeyError(f"{name}: there are {', '.join(f.result.name for f in self.figures)}")


def ask(calculator: Calculator, given: Mapping[str, Given], atmosphere: float = SEA_LEVEL_PA) -> Answer:
    """Ask ``calculator`` with texts: ``{"suction_pressure": "22.1 psig ± 1 psi", "refrigerant": "R-134a"}``.

    A quantity is written with its unit, its accuracy after ``±`` or ``+/-``; a log is the
    text of a table or rows of texts or SI numbers (see ``read_log``). ``atmosphere`` (Pa) is the
    air pressure of the place: it turns gauge into absolute pressure. Raises InputError with all problems.
    """
    problems: list[Problem] = []
    values: dict[str, Value] = {}
    kinds: dict[str, Kind | None] = {}
    for name, text in given.items():
        try:
            parameter = calculator.argument(name)
            values[name], kinds[name] = _read(parameter, text, atmosphere)
        except InputError as fault:
            problems += fault.problems
        except UnitError as fault:
            problems.append(Problem(f"{name}: {fault.what}", fault.expected))
    if problems:
        raise InputError(problems)
    if ATMOSPHERE not in given and any(a.name == ATMOSPHERE for a in calculator.arguments):
        values[ATMOSPHERE], kinds[ATMOSPHERE] = (atmosphere, atmosphere), Kind.ABSOLUTE_PRESSURE
    if not isinstance(calculator.result, tuple):
        calculator.result_kind(kinds)
    figures = calculator.figures(values, kinds)
    shown = {name: text if isinstance(text, str) else "rows" for name, text in given.items()}
    return Answer(calculator, shown, values, figures, atmosphere)


def _read(parameter: Parameter, given: Given, atmosphere: float) -> tuple[Value, Kind | None]:
    if isinstance(parameter, Log):
        return _rows(parameter, given, atmosphere), None
    if not isinstance(given, str):
        raise InputError(f"{parameter.name} is {given!r}, which is no text", "a text with its unit")
    if not isinstance(parameter, Argument):
        return parameter.word(given.strip()), None
    return _quantity(parameter, given, atmosphere)


def _rows(log: Log, given: Given, atmosphere: float) -> Rows:
    if isinstance(given, float | int):
        raise InputError(f"{log.name} is {given!r}, which is no log", example_of(log))
    return read_log(given, log, atmosphere=atmosphere)


def _quantity(argument: Argument, text: str, atmosphere: float) -> tuple[tuple[float, float], Kind]:
    """SI bounds of a quantity, in the kind the calculator takes."""
    parts = _WITHIN.split(text)
    if len(parts) > 2:
        raise InputError(f"{argument.name}: '{text}' has two accuracies", "one, as in '22 psig ± 1 psi'")
    try:
        quantity = parse_quantity(parts[0])
    except UnitError:
        parse_quantity(parts[0], argument.takes[-1])  # says what to write for this kind
        raise
    unit = split_number(parts[0].strip(), "")[1]
    if quantity.kind not in argument.takes:
        if len(argument.takes) <= 2:
            raise wrong_kind(parts[0].strip(), unit, argument.takes[-1])
        raise InputError(
            f"{argument.name}: '{text.strip()}' is {described(quantity.kind)}",
            "one of " + ", ".join(k.words for k in argument.takes),
        )
    bound = parse_accuracy(parts[1], unit).bound(quantity.value) if len(parts) == 2 else 0.0
    low, high = quantity.value - bound, quantity.value + bound
    lowest = physical_range(quantity.kind)[0]
    if low < lowest <= high:
        low = lowest  # accuracy reaches below what nature allows, the reading does not
    kind = quantity.kind
    if kind not in argument.kinds:
        low, high = (convert_pressure(v, kind, Kind.ABSOLUTE_PRESSURE, atmosphere) for v in (low, high))
        if high <= 0.0:
            raise InputError(
                f"{argument.name}: '{text.strip()}' is deeper than a full vacuum here",
                f"a pressure above {-atmosphere / 6894.757293168362:.2f} psig, or psia",
            )
        low, kind = max(low, 0.0), Kind.ABSOLUTE_PRESSURE
    return (low, high), kind


def example_of(parameter: Parameter) -> str:
    """How a value for this argument is written, for help texts."""
    if isinstance(parameter, Argument):
        return f"in {parameter.unit or example_unit(parameter.kinds[0])}"
    if isinstance(parameter, Log):
        return "rows of " + ", ".join(c.name for c in parameter.columns)
    if not parameter.choices:
        return "a text"
    return ("such as " if parameter.free else "one of ") + ", ".join(parameter.choices)
