"""YAML in, model out; every problem of the input raised together."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar

from faultkit.model.catalogue import Catalogue, Section
from faultkit.model.site import SitePlan
from faultkit.problems import InputError, Problem
from faultkit.reading.call import CallPlan, read_call
from faultkit.reading.catalogue import read_catalogue, read_sections
from faultkit.reading.nodes import Node
from faultkit.reading.parse import parse_file
from faultkit.reading.resources import builtin_catalogue
from faultkit.reading.site import read_site
from faultkit.reading.validate import kind_of_file, validate

__all__ = [
    "CallPlan", "builtin_catalogue", "kind_of", "load_call_file", "load_catalogue_folders", "load_file",
    "load_section_folders", "load_site_file",
]

T = TypeVar("T")


def load_catalogue_folders(folders: Sequence[str | os.PathLike[str]]) -> Catalogue:
    """The catalogue of some folders. InputError with every problem of every file."""
    problems: list[Problem] = []
    catalogue = read_catalogue(folders, problems)
    if problems:
        raise InputError(problems)
    return catalogue


def load_section_folders(folders: Sequence[str | os.PathLike[str]]) -> Mapping[str, Section | None]:
    """The sections of folders that ``load_catalogue_folders`` reads; None for one that cannot stand on its own."""
    return read_sections(folders)


def kind_of(path: str | os.PathLike[str]) -> tuple[str, str]:
    """Kind and name that the head of a file gives. InputError where it has none."""
    problems: list[Problem] = []
    node = parse_file(path, problems)
    kind = kind_of_file(node, problems) if node is not None else None
    if node is None or kind is None:
        raise InputError(problems)
    return kind, node.text(kind)


def load_site_file(path: str | os.PathLike[str]) -> SitePlan:
    """The plan in a site file. InputError with every problem of the file."""
    return load_file(path, "site", read_site)


def load_call_file(path: str | os.PathLike[str]) -> CallPlan:
    """The plan in a call file. InputError with every problem of the file."""
    return load_file(path, "call", read_call)


def load_file(path: str | os.PathLike[str], kind: str, read: Callable[[Node, list[Problem]], T]) -> T:
    """What ``read`` makes of a schema-valid file of a kind. InputError with every problem of the file."""
    problems: list[Problem] = []
    node = parse_file(path, problems)
    found = kind_of_file(node, problems) if node is not None else None
    if node is not None and found is not None:
        if found != kind:
            what = f"this is a file of kind '{found}', one of kind '{kind}' is wanted"
            problems.append(Problem(what, f"the name of a file with '{kind}:'", node.at_key(found)))
        elif validate(node, kind, problems):
            made = read(node, problems)
            if not problems:
                return made
    raise InputError(problems)
