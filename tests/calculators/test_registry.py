"""The registry: a mapping that cannot change and refuses clashes."""

from __future__ import annotations

import pickle
import subprocess
import sys

import pytest

from faultkit.calculators import BASIC, Argument, Calculator, CalculatorRegistry, Direction, Subject
from faultkit.calculators.builtin import SUBJECTS
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


@pytest.mark.parametrize("subject", SUBJECTS, ids=lambda s: s.name)
def test_a_subject_names_what_its_module_holds(subject: Subject) -> None:
    assert subject.calculators == tuple(c.name for c in subject.load())


def test_a_subject_is_imported_when_it_is_first_asked() -> None:
    code = (
        "import sys\n"
        "from faultkit.plugins import load_plugins\n"
        "registry = load_plugins(installed=False).calculators\n"
        "assert len(registry) > 200 and 'voltage_unbalance' in registry\n"
        "loaded = [m for m in sys.modules if m.startswith('faultkit.calculators.electrical')]\n"
        "assert not loaded, loaded\n"
        "registry['voltage_unbalance']\n"
        "assert 'faultkit.calculators.electrical' in sys.modules\n"
        "assert 'faultkit.calculators.sensors' not in sys.modules\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_clashes_with_a_subject_are_found_without_importing_it() -> None:
    taken = Subject("mine", "nowhere.at_all:NOTHING", ("sum",))
    with pytest.raises(InputError, match=r"two calculators are named 'sum': .* and nowhere\.at_all:NOTHING"):
        CalculatorRegistry([*SUBJECTS, taken])


def test_a_registry_can_be_pickled() -> None:
    registry = CalculatorRegistry([*SUBJECTS, CLASH_FREE])
    again = pickle.loads(pickle.dumps(registry))  # noqa: S301 - our own
    assert list(again) == list(registry)
    assert again["superheat"] == registry["superheat"]


CLASH_FREE = Calculator("something_else", other, (ARGUMENT,), Kind.CURRENT, source="arithmetic")
