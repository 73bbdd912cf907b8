"""Files → objects: the installed catalogue with its plugins, sites and calls.

The only room above the core that opens files; everything it returns is immutable.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from faultkit.calculators import CalculatorRegistry
from faultkit.call import Call
from faultkit.model.catalogue import Catalogue, Section
from faultkit.model.entries import Entry, entry_from_data
from faultkit.network.join import join_site
from faultkit.network.site import Site
from faultkit.plugins import load_plugins
from faultkit.problems import InputError, Problem
from faultkit.reading import load_call_file, load_catalogue_folders, load_section_folders, load_site_file

__all__ = ["load_calculators", "load_call", "load_catalogue", "load_sections", "load_site"]

Path_ = str | os.PathLike[str]


def load_catalogue(
    folders: Sequence[Path_] = (), *, strict: bool = False, plugins: Iterable[object] = (), installed: bool = True
) -> Catalogue:
    """The built-in catalogue, that of installed plugins, and ``folders``.

    ``plugins`` are further plugin modules; ``installed=False`` leaves installed ones out.
    A broken plugin is named in ``broken``, or an InputError with ``strict``. Raises
    InputError with all problems of all files.
    """
    found = load_plugins(strict=strict, extra=plugins, installed=installed)
    catalogue = load_catalogue_folders([*found.folders, *folders])
    return replace(
        catalogue,
        calculators=dict(found.calculators),
        broken=tuple(str(b.problem().render()) for b in found.broken),
    )


def load_sections(
    folders: Sequence[Path_] = (), *, plugins: Iterable[object] = (), installed: bool = True
) -> Mapping[str, Section | None]:
    """The sections that the types of ``load_catalogue`` share, each on its own (None where it cannot stand alone)."""
    found = load_plugins(extra=plugins, installed=installed)
    return load_section_folders([*found.folders, *folders])


def load_calculators(
    *, strict: bool = False, plugins: Iterable[object] = (), installed: bool = True
) -> CalculatorRegistry:
    """The built-in calculators and those of installed plugins and of ``plugins``, by name.

    >>> from faultkit import ask, load_calculators
    >>> superheat = load_calculators(installed=False)["superheat"]
    >>> answer = ask(superheat, {
    ...     "suction_pressure": "22.1 psig", "line_temperature": "35 degF", "refrigerant": "R-134a"})
    >>> round(answer.value * 1.8, 1)   # SI, a difference in K: here in delta degF
    10.0
    """
    return load_plugins(strict=strict, extra=plugins, installed=installed).calculators


def load_site(path: Path_, catalogue: Catalogue | None = None) -> Site:
    """A site file, joined with the types of ``catalogue`` (the installed one by default)."""
    catalogue = catalogue or load_catalogue()
    return join_site(
        load_site_file(path),
        catalogue.types,
        catalogue.common,
        catalogue=catalogue.hash,
        calculators=catalogue.calculators,
    )


def load_call(path: Path_, catalogue: Catalogue | None = None) -> Call:
    """A call file and the site it names (relative to the call's own folder).

    Raises InputError with all problems of the call, or of its site.
    """
    plan = load_call_file(path)
    site = load_site(Path(path).parent / plan.site, catalogue)
    problems: list[Problem] = []
    entries: list[Entry] = []
    for data, where in plan.entries:
        try:
            entries.append(entry_from_data(data, where))
        except InputError as fault:
            problems += fault.problems
    call = Call(site, plan.opened, plan.name, plan.title)
    try:
        call = call.add_all(entries)
    except InputError as fault:
        problems += fault.problems
    if problems:
        raise InputError(problems)
    return call
