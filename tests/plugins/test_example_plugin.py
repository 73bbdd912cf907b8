"""The example plugin can be installed and does what its README says."""

from __future__ import annotations

import doctest
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PLUGIN = ROOT / "examples" / "plugin"


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the example plugin installed from a copy, so that the build leaves nothing behind."""
    source = tmp_path_factory.mktemp("source") / "plugin"
    shutil.copytree(PLUGIN, source, ignore=shutil.ignore_patterns("__pycache__", "build", "dist"))
    target = tmp_path_factory.mktemp("site")
    command = [
        sys.executable, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps",
        "--no-build-isolation", "--target", str(target), str(source),
    ]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return target


def run(installed: Path, code: str) -> str:
    """Output of a fresh Python that sees the installed plugin (and this faultkit, however it is found)."""
    path = os.pathsep.join([str(installed), str(ROOT)])
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=installed,
        env=os.environ | {"PYTHONPATH": path, "PYTHONDONTWRITEBYTECODE": "1"},
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.slow
def test_it_is_found_and_offers_a_folder_and_a_calculator(installed: Path) -> None:
    out = run(
        installed,
        "from faultkit.plugins import load_plugins; p = load_plugins(strict=True); "
        "print(*p.names); print(*p.folders, sep='\\n'); "
        "print(p.calculators['ice_melt_rate'].evaluate({'volume': (1e-3, 2e-3), 'time': (500.0, 1000.0)}))",
    ).splitlines()
    assert "ice_bin" in out[0].split()
    assert str(installed / "faultkit_example_ice_bin" / "catalogue") in out
    assert out[-1] == "(0.001, 0.004)"


@pytest.mark.slow
def test_its_type_is_listed(installed: Path) -> None:
    out = run(installed, "import sys; from faultkit.cli import main; sys.exit(main(['list']))")
    assert "example_ice_bin" in out


def test_the_worked_example_of_its_calculator_holds() -> None:
    place = PLUGIN / "faultkit_example_ice_bin" / "__init__.py"
    spec = importlib.util.spec_from_file_location("faultkit_example_ice_bin", place)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert doctest.testmod(module) == doctest.TestResults(failed=0, attempted=1)
