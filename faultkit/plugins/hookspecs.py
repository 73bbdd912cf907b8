"""The hooks a plugin can implement. Importing this module imports pluggy."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pluggy

from faultkit.calculators import Calculator, Subject

__all__ = ["PROJECT", "faultkit_calculators", "faultkit_catalogue_folders", "hookimpl"]

#: Name of the pluggy project and of the entry-point group.
PROJECT = "faultkit"

hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)


@hookspec
def faultkit_catalogue_folders() -> Iterable[Path]:  # type: ignore[empty-body]
    """Folders of equipment types: absolute paths, read with all their subfolders.

    >>> import tempfile
    >>> from faultkit.plugins import hookimpl, load_plugins
    >>> class MyPlugin:
    ...     folder = Path(tempfile.mkdtemp())   # a package has: Path(__file__).parent / "catalogue"
    ...     @hookimpl
    ...     def faultkit_catalogue_folders(self):
    ...         return [self.folder]
    >>> _ = (MyPlugin.folder / "ice_bin.yaml").write_text("schema: 1")
    >>> MyPlugin.folder in load_plugins(extra=[MyPlugin()]).folders
    True
    """


@hookspec
def faultkit_calculators() -> Iterable[Calculator | Subject]:  # type: ignore[empty-body]
    """Calculators that a tree can name under ``calculate: {use: …}``.

    A ``Subject`` names calculators of a module that is imported when one of them is first used.

    >>> from faultkit.calculators import Argument, Calculator, Direction
    >>> from faultkit.plugins import hookimpl, load_plugins
    >>> from faultkit.units import Kind
    >>> def doubled(current: float) -> float:
    ...     return 2.0 * current
    >>> class MyPlugin:
    ...     @hookimpl
    ...     def faultkit_calculators(self):
    ...         current = Argument("current", (Kind.CURRENT,), Direction.RISING)
    ...         return [Calculator("doubled", doubled, (current,), Kind.CURRENT, source="arithmetic")]
    >>> load_plugins(extra=[MyPlugin()]).calculators["doubled"].evaluate({"current": (1.0, 2.0)})
    (2.0, 4.0)
    """
