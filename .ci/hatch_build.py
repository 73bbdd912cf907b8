"""Puts the data kept beside the package into the wheel, where faultkit.reading looks for it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

__all__ = ["DataHook"]

# With the catalogue go the settings and the baseline of its own check.
_WHAT = {"catalogue": ("*.yaml", "*.json"), "schemas": ("*.json",), "examples": ("*.yaml",)}
_NOT = ("examples", "plugin")  # a package of its own


class DataHook(BuildHookInterface[Any]):
    """Adds catalogue, schemas and the examples' YAML as ``faultkit/_data``."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called by hatchling; an editable install gets nothing, it reads the folders themselves."""
        if version == "editable":
            return
        root = Path(self.root)
        for folder, patterns in _WHAT.items():
            files = [p.relative_to(root) for pattern in patterns for p in sorted((root / folder).rglob(pattern))]
            files = [p for p in files if p.parts[:2] != _NOT]
            if not files:
                wanted = " or ".join(patterns)
                raise FileNotFoundError(f"{root / folder} holds no {wanted}: the wheel would lack its data")
            for path in files:
                build_data["force_include"][str(root / path)] = f"faultkit/_data/{path.as_posix()}"
