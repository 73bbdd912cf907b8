"""What importing faultkit, and a diagnosis, must not drag in."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

HEAVY = ("pint", "jinja2", "jsonschema", "numpy", "CoolProp", "pyagrum", "scipy", "pandas")
EXAMPLES = Path(__file__).parents[1] / "examples"


def loaded_after(code: str) -> set[str]:
    """Top-level modules a fresh interpreter holds after ``code``."""
    report = "import sys; print(*sorted({name.partition('.')[0] for name in sys.modules}), file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\n{report}"], capture_output=True, text=True, check=True
    )
    return set(done.stderr.split())


@pytest.mark.parametrize(
    "module",
    [
        "faultkit", "faultkit.cli", "faultkit.call", "faultkit.loading", "faultkit.faulttree", "faultkit.reading",
        "faultkit.plugins", "faultkit.reports", "faultkit.calculators", "faultkit.cases.run", "faultkit.compare.calls",
        "faultkit.pytest_plugin", "faultkit.consistency", "faultkit.record",
    ],
)
def test_importing_brings_nothing_heavy(module: str) -> None:
    loaded = loaded_after(f"import {module}")
    assert "faultkit" in loaded
    assert not loaded.intersection(HEAVY)


def test_the_library_imports_nothing_until_asked() -> None:
    assert not loaded_after("import faultkit").intersection({"yaml", "pluggy", "argparse"})


def test_every_heavy_name_is_a_module_that_would_be_seen() -> None:
    assert {"pint", "jsonschema"} <= loaded_after("import pint, jsonschema")


def test_a_diagnosis_needs_no_numpy_and_no_property_library() -> None:
    call = EXAMPLES / "one_fault.call.yaml"
    loaded = loaded_after(f"from faultkit.cli import main; assert main(['diagnose', {str(call)!r}]) == 0")
    assert "yaml" in loaded
    assert not loaded.intersection({"numpy", "CoolProp", "pint"})
