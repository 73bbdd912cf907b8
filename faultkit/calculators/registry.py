"""Calculators by name; built once, never changed. A subject is imported when one of its calculators is first used."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from importlib import import_module

from faultkit.calculators.declare import Calculator
from faultkit.problems import InputError, Problem, did_you_mean

__all__ = ["CalculatorRegistry", "Subject"]


@dataclass(frozen=True, slots=True)
class Subject:
    """The calculators of one subject by name, and where they are: ``package.module:TUPLE``, not imported yet."""

    name: str
    home: str
    calculators: tuple[str, ...]

    def load(self) -> tuple[Calculator, ...]:
        """Import them."""
        module, _, attribute = self.home.partition(":")
        found: tuple[Calculator, ...] = getattr(import_module(module), attribute)
        return found


class CalculatorRegistry(Mapping[str, Calculator]):
    """Calculators by name. The same name twice raises InputError with every clash."""

    __slots__ = ("_by_name", "_loaded")

    def __init__(self, calculators: Iterable[Calculator | Subject] = ()) -> None:
        by_name: dict[str, Calculator | Subject] = {}
        problems = []
        for item in calculators:
            for name in item.calculators if isinstance(item, Subject) else (item.name,):
                first = by_name.setdefault(name, item)
                if first is not item:
                    problems.append(Problem(
                        f"two calculators are named '{name}': {_home(first)} and {_home(item)}",
                        "one name for each calculator",
                    ))
        if problems:
            raise InputError(problems)
        self._by_name = by_name
        self._loaded: dict[str, Calculator] = {}

    def __getitem__(self, name: str) -> Calculator:
        item = self._by_name[name]
        if isinstance(item, Calculator):
            return item
        if name not in self._loaded:
            self._loaded |= {c.name: c for c in item.load()}
        return self._loaded[name]

    def __contains__(self, name: object) -> bool:
        return name in self._by_name  # without importing it

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_name)

    def __len__(self) -> int:
        return len(self._by_name)

    def __repr__(self) -> str:
        return f"CalculatorRegistry({', '.join(self._by_name)})"

    def __reduce__(self) -> tuple[type[CalculatorRegistry], tuple[tuple[Calculator | Subject, ...]]]:
        return type(self), (self.items_given(),)

    def items_given(self) -> tuple[Calculator | Subject, ...]:
        """What it was made of."""
        return tuple({id(item): item for item in self._by_name.values()}.values())

    def find(self, name: str) -> Calculator:
        """The calculator of that name; InputError with the nearest names when there is none."""
        if name not in self._by_name:
            raise InputError(f"'{name}' is no calculator", did_you_mean(name, self._by_name))
        return self[name]

    def joined(self, calculators: Iterable[Calculator | Subject]) -> CalculatorRegistry:
        """A registry with these as well; InputError when a name is taken."""
        return CalculatorRegistry([*self.items_given(), *calculators])


def _home(item: Calculator | Subject) -> str:
    if isinstance(item, Subject):
        return item.home
    return f"{item.function.__module__}.{item.function.__qualname__}"
