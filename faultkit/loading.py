"""Files → objects: the installed catalogue with its plugins, sites, calls and their records.

Everything it returns is immutable, but for a record open for writing.
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
from faultkit.reading.call import Entries
from faultkit.record import Chain, Record, is_record, read_record

__all__ = [
    "call_of", "load_calculators", "load_call", "load_catalogue", "load_sections", "load_site", "open_record",
    "record_of_call", "site_of_record",
]

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
        calculators=found.calculators,
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


def load_call(path: Path_, catalogue: Catalogue | None = None, *, site: Path_ | None = None) -> Call:
    """A call, from its YAML file or its record, and the site it names (relative to the call's own folder).

    ``site`` is a site file to use instead. Raises InputError with all problems of
    the call, or of its site. A record is only read: nothing in it is mended.
    """
    if is_record(path):
        chain = read_record(path)
        return chain.call(load_site(site or site_of_record(chain, path), catalogue))
    plan = load_call_file(path)
    joined = load_site(site or Path(path).parent / plan.site, catalogue)
    return call_of(Call(joined, plan.opened, plan.name, plan.title), plan.entries)


def call_of(call: Call, written: Entries) -> Call:
    """The call with entries as they were read. InputError with the problems of all of them."""
    problems: list[Problem] = []
    entries: list[Entry] = []
    for data, where in written:
        try:
            entries.append(entry_from_data(data, where))
        except InputError as fault:
            problems += fault.problems
    try:
        call = call.add_all(entries)
    except InputError as fault:
        problems += fault.problems
    if problems:
        raise InputError(problems)
    return call


def site_of_record(chain: Chain, path: Path_) -> Path:
    """The site file that a record at ``path`` names. InputError where it names none."""
    if not chain.opened.site_file:
        raise InputError(f"the record '{path}' names no site file", "the site file besides: --site SITE.yaml")
    return Path(path).parent / chain.opened.site_file


def open_record(path: Path_, catalogue: Catalogue | None = None, *, site: Path_ | None = None) -> Record:
    """Go on with a record and the site file it names, or ``site``. Errors as of ``Record.open``."""
    return Record.open(path, load_site(site or site_of_record(read_record(path), path), catalogue))


def record_of_call(
    path: Path_, record: Path_, catalogue: Catalogue | None = None, *, site: Path_ | None = None
) -> Record:
    """A new record with all that a YAML call holds, open. RecordError where it exists already."""
    call = load_call(path, catalogue, site=site)
    named = site or Path(path).parent / load_call_file(path).site
    made = Record.create(record, call.site, call.opened, name=call.name, title=call.title, site_file=named)
    try:
        made.merge(call.entries)
    except InputError:
        made.close()
        Path(record).unlink()
        raise
    return made
