"""Plugins: packages that add equipment types and calculators.

A plugin names a module under the entry-point group ``faultkit`` and marks its
hook functions with ``hookimpl``; ``faultkit.plugins.hookspecs`` says what each
hook returns. Importing this package does not import pluggy.
"""

from typing import TYPE_CHECKING

from faultkit.plugins.manager import BrokenPlugin, Plugins, load_plugins

if TYPE_CHECKING:
    from faultkit.plugins.hookspecs import hookimpl

__all__ = ["BrokenPlugin", "Plugins", "hookimpl", "load_plugins"]


def __getattr__(name: str) -> object:
    if name == "hookimpl":
        from faultkit.plugins.hookspecs import hookimpl

        return hookimpl
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
