"""The registry: a mapping that cannot change and refuses clashes."""

from __future__ import annotations

import pytest

from faultkit.calculators import BASIC, Argument, Calculator, CalculatorRegistry, Direction
from faultkit.problems import InputError
from faultkit.units import Kind


def other(current: float) -> float:
    """Something else."""
    return current


ARGUMENT = Argument("current", (Kind.CURRENT,), Direction.RISING)
CLASH = Calculator("difference", other, (ARGUMENT,), Kind.CURRENT, source="arithmetic")


def test_it_is_a_mapping_in_the_order_given() -> None:
    registry = CalculatorRegistry(BASIC)
    assert list(registry) == ["difference", "sum", "percent_of", "percent_deviation"]
    assert len(registry) == 4
    assert registry["sum"] is BASIC[1]
    assert "total" not in registry
    assert "percent_of" in repr(registry)


def test_it_cannot_be_changed() -> None:
    registry = CalculatorRegistry(BASIC)
    with pytest.raises(TypeError):
        registry["sum"] = CLASH  # type: ignore[index]


def test_the_same_name_twice_names_both_homes() -> None:
    with pytest.raises(InputError, match=r"'difference': faultkit\.calculators\.basic\.diff.* and .*other"):
        CalculatorRegistry([*BASIC, CLASH])


def test_joining_leaves_the_old_one_alone() -> None:
    empty = CalculatorRegistry()
    assert len(empty.joined(BASIC)) == len(BASIC)
    assert len(empty) == 0
    with pytest.raises(InputError, match="difference"):
        empty.joined(BASIC).joined([CLASH])


def test_an_unknown_name_gets_a_suggestion() -> None:
    with pytest.raises(InputError, match="'diference' is no calculator") as caught:
        CalculatorRegistry(BASIC).find("diference")
    assert caught.value.problems[0].expected == "did you mean 'difference'?"
