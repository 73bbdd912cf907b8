"""What faultkit ships itself, registered through the same hooks as any plugin."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from faultkit.calculators import Subject
from faultkit.calculators.builtin import SUBJECTS
from faultkit.plugins.hookspecs import hookimpl

__all__ = ["faultkit_calculators", "faultkit_catalogue_folders"]


@hookimpl
def faultkit_catalogue_folders() -> Iterable[Path]:
    """The built-in catalogue."""
    from faultkit.reading.resources import builtin_catalogue

    return [builtin_catalogue()]


@hookimpl
def faultkit_calculators() -> Iterable[Subject]:
    """The built-in calculators."""
    return SUBJECTS
