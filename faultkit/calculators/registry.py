"""Calculators by name; built once, never changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

from faultkit.calculators.declare import Calculator
from faultkit.problems import InputError, Problem, did_you_mean

__all__ = ["CalculatorRegistry"]


class CalculatorRegistry(Mapping[str, Calculator]):
    """Calculators by name. The same name twice raises InputError with every clash."""

    __slots__ = ("_by_name",)

    def __init__(self, calculators: Iterable[Calculator] = ()) -> None:
        by_name: dict[str, Calculator] = {}
        problems = []
        for calculator in calculators:
            first = by_name.setdefault(calculator.name, calculator)
            if first is not calculator:
                problems.append(Problem(
                    f"two calculators are named '{calculator.name}': {_home(first)} and {_home(calculator)}",
                    "one name for each calculator",
                ))
        if problems:
            raise InputError(problems)
        self._by_name = MappingProxyType(by_name)

    def __getitem__(self, name: str) -> Calculator:
        return self._by_name[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_name)

    def __len__(self) -> int:
        return len(self._by_name)

    def __repr__(self) -> str:
        return f"CalculatorRegistry({', '.join(self._by_name)})"

    def find(self, name: str) -> Calculator:
        """The calculator of that name; InputError with the nearest names when there is none."""
        if name not in self._by_name:
            raise InputError(f"'{name}' is no calculator", did_you_mean(name, self._by_name))
        return self._by_name[name]

    def joined(self, calculators: Iterable[Calculator]) -> CalculatorRegistry:
        """A registry with these as well; InputError when a name is taken."""
        return CalculatorRegistry([*self._by_name.values(), *calculators])


def _home(calculator: Calculator) -> str:
    return f"{calculator.function.__module__}.{calculator.function.__qualname__}"
