"""Makes ``tests.engine`` importable however pytest was started."""

from __future__ import annotations

import random
import sys
from pathlib import Path

import pytest

ROOT = str(Path(__file__).resolve().parents[2])
if ROOT not in sys.path:
    sys.path.append(ROOT)

from tests.engine.strategies import Case, make_case  # noqa: E402 - found only after the line above


@pytest.fixture
def wide() -> Case:
    """A site with a handful of basic events."""
    return make_case(random.Random(3))  # noqa: S311
