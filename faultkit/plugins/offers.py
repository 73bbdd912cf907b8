"""What one plugin offers, with every way of being broken told apart. Importing this module imports pluggy."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pluggy

from faultkit.calculators import Calculator, Subject
from faultkit.plugins import hookspecs
from faultkit.problems import did_you_mean

__all__ = ["Offer", "PluginFault", "guarded", "offer_of"]

_HOOKS = ("faultkit_catalogue_folders", "faultkit_calculators")


@dataclass(frozen=True, slots=True)
class Offer:
    """What one plugin brings."""

    folders: tuple[Path, ...]
    calculators: tuple[Calculator | Subject, ...]


class PluginFault(Exception):  # noqa: N818  (a finding about a plugin, caught by the manager)
    """Why a plugin cannot be used, and what it should do instead."""

    def __init__(self, reason: str, expected: str = "") -> None:
        self.reason = reason
        self.expected = expected
        super().__init__(reason)


@contextmanager
def guarded(doing: str) -> Iterator[None]:
    """Turns whatever a plugin's code raises into a PluginFault."""
    try:
        yield
    except (Exception, SystemExit) as error:
        if isinstance(error, PluginFault):
            raise
        told = " ".join(str(error).split())
        raise PluginFault(f"{doing} raised {type(error).__name__}: {told}") from error


def offer_of(plugin: object, name: str) -> Offer:
    """Runs a plugin's hooks once. Raises PluginFault for the first thing that is wrong with it."""
    # A manager of its own: in a shared one the first hook to raise would end the round for all.
    manager = pluggy.PluginManager(hookspecs.PROJECT)
    manager.add_hookspecs(hookspecs)
    with guarded("registering it"):
        _check_hook_names(manager, plugin)
        try:
            manager.register(plugin, name)
        except pluggy.PluginValidationError as error:
            told = "; ".join(line.strip() for line in str(error).splitlines()[1:] if line.strip())
            raise PluginFault(f"a hook does not fit: {told}", "a hook function without arguments") from error
    folders = [_checked_folder(f) for f in _returned(manager, "faultkit_catalogue_folders", (Path,), "pathlib.Path")]
    calculators = _returned(manager, "faultkit_calculators", (Calculator, Subject), "faultkit.Calculator")
    return Offer(tuple(dict.fromkeys(folders)), tuple(calculators))


def _check_hook_names(manager: pluggy.PluginManager, plugin: object) -> None:
    marked = {attribute: manager.parse_hookimpl_opts(plugin, attribute) for attribute in dir(plugin)}
    found = False
    for attribute, options in marked.items():
        if options is None:
            if attribute in _HOOKS:
                raise PluginFault(f"its {attribute} is not marked as a hook", "@hookimpl in front of it")
            continue
        hook = options["specname"] or attribute
        if hook not in _HOOKS and not options["optionalhook"]:
            raise PluginFault(f"'{hook}' is no hook", did_you_mean(hook, _HOOKS))
        found = True
    if not found:
        raise PluginFault("it has no hook", "one of " + ", ".join(_HOOKS) + ", marked with @hookimpl")


def _returned(manager: pluggy.PluginManager, hook: str, wanted: tuple[type, ...], name: str) -> list[Any]:
    """All items that the plugin's functions for one hook return, each one of ``wanted``."""
    caller: pluggy.HookCaller = getattr(manager.hook, hook)
    with guarded(hook):
        answers = caller()
    should = f"a list of {name}"
    if len(answers) < sum(not (i.hookwrapper or i.wrapper) for i in caller.get_hookimpls()):
        raise PluginFault(f"{hook} returned None", should)
    items: list[Any] = []
    for answer in answers:
        if not isinstance(answer, Iterable):
            raise PluginFault(f"{hook} returned a {type(answer).__name__}", should)
        with guarded(hook):
            given = list(answer)
        for item in given:
            if not isinstance(item, wanted):
                kinds = f"{type(answer).__name__} of {type(item).__name__}"
                raise PluginFault(f"{hook} returned a {kinds}", should)
            items.append(item)
    return items


def _checked_folder(folder: Path) -> Path:
    if not folder.is_absolute():
        raise PluginFault(f"the folder '{folder}' is not absolute", "Path(__file__).parent / …")
    if not folder.is_dir():
        raise PluginFault(f"the folder '{folder}' does not exist", "a folder installed with the package")
    if next(folder.rglob("*.yaml"), None) is None:
        raise PluginFault(f"the folder '{folder}' holds no .yaml file", "files installed with the package")
    return folder
