"""Finds plugins, takes what they offer, and reports the broken ones by name."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from faultkit.calculators import CalculatorRegistry
from faultkit.problems import InputError, Problem

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

__all__ = ["BrokenPlugin", "Plugins", "load_plugins"]

_GROUP = "faultkit"


@dataclass(frozen=True, slots=True)
class BrokenPlugin:
    """A plugin that was left out, and why."""

    name: str
    reason: str
    expected: str = ""

    def __str__(self) -> str:
        return self.problem().render()

    def problem(self) -> Problem:
        """The fault as a message about an input."""
        return Problem(f"plugin '{self.name}' is broken: {self.reason}", self.expected)


@dataclass(frozen=True, slots=True)
class Plugins:
    """What all usable plugins offer together: the built-in one first, then in order of name.

    ``folders`` hold equipment types, ``names`` are the plugins used, ``broken`` those left out
    (of a broken plugin nothing is taken).
    """

    folders: tuple[Path, ...]
    calculators: CalculatorRegistry
    names: tuple[str, ...]
    broken: tuple[BrokenPlugin, ...] = ()


def load_plugins(*, strict: bool = False, extra: Iterable[object] = (), installed: bool = True) -> Plugins:
    """Loads the built-in plugin, the installed ones (unless ``installed`` is off) and ``extra``.

    ``extra`` are modules or objects with marked hook functions, for programs
    that bring their own. A broken plugin is left out and named in the result;
    with ``strict`` InputError names all of them instead.
    """
    from faultkit.plugins.offers import PluginFault, offer_of

    folders: dict[Path, None] = {}
    calculators = CalculatorRegistry()
    used: dict[str, None] = {}
    broken: list[BrokenPlugin] = []
    for name, load in _candidates(extra, installed=installed):
        if name in used:
            broken.append(BrokenPlugin(name, "another plugin has the same name", "a name of its own"))
            continue
        try:
            offer = offer_of(load(), name)
            calculators = calculators.joined(offer.calculators)
        except PluginFault as fault:
            broken.append(BrokenPlugin(name, fault.reason, fault.expected))
        except InputError as clash:
            broken += [BrokenPlugin(name, p.what, p.expected) for p in clash.problems]
        else:
            folders.update(dict.fromkeys(offer.folders))
            used[name] = None
    if strict and broken:
        raise InputError(b.problem() for b in broken)
    return Plugins(tuple(folders), calculators, tuple(used), tuple(broken))


def _candidates(extra: Iterable[object], *, installed: bool) -> Iterator[tuple[str, Callable[[], object]]]:
    """Every plugin's name and how to get at it."""
    from importlib.metadata import entry_points

    from faultkit.plugins import builtin

    yield "builtin", lambda: builtin
    if installed:
        for point in sorted(entry_points(group=_GROUP), key=lambda p: (p.name, p.value)):
            yield point.name, _loader(point)
    for plugin in extra:
        yield str(getattr(plugin, "__name__", type(plugin).__name__)), lambda plugin=plugin: plugin  # type: ignore[misc]


def _loader(point: EntryPoint) -> Callable[[], object]:
    from faultkit.plugins.offers import guarded

    def load() -> object:
        with guarded(f"importing '{point.value}'"):
            return point.load()

    return load
