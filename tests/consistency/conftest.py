"""Makes ``tests.consistency`` importable however pytest was started."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

ROOT = str(Path(__file__).resolve().parents[2])
if ROOT not in sys.path:
    sys.path.append(ROOT)

from tests.consistency.pages import Page, PageOf  # noqa: E402 - found only after the line above


@pytest.fixture
def page(tmp_path: Path) -> Page:
    """The page of a check by its code."""
    return lambda code: PageOf(code, tmp_path / "pages")
