"""Reads what a folder of trees offers to name, and writes files that must not be there yet, or may be renewed."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from faultkit.authoring.parts import Part
from faultkit.authoring.schemas import SCHEMA_ID, Words
from faultkit.loading import load_sections
from faultkit.model.catalogue import Catalogue
from faultkit.problems import InputError, Problem, Where
from faultkit.reading.parse import parse_file, shown_path

__all__ = ["find_words", "write_new", "write_schemas"]


def find_words(catalogue: Catalogue, folders: Sequence[Path]) -> Words:
    """What can be named: the catalogue, its sections, and the units of sites and cases that lie in ``folders``."""
    sections = {n: s.kind.title if s is not None else "" for n, s in load_sections(folders).items()}
    units = dict.fromkeys(pair for folder in folders for pair in _units(folder))
    return Words(catalogue, sections, tuple(units))


def _units(folder: Path) -> Iterator[tuple[str, str]]:
    for path in sorted(folder.rglob("*.yaml")):
        # A mistake in such a file is not ours to tell: `faultkit check` does.
        node = parse_file(path, [])
        units = node.get("units") if node is not None and node.is_map else None
        if units is not None and units.is_map:
            for name, unit in units.items():
                if unit.is_map:
                    yield name, unit.text("equipment")


def write_schemas(schemas: Mapping[str, Part], folder: Path) -> list[Path]:
    """Write each as ``KIND.v1.json``; schemas written earlier are renewed, any other file is left and told of."""
    paths = {folder / f"{kind}.v1.json": made for kind, made in schemas.items()}
    problems = [
        Problem("this file is not one that 'faultkit schema' wrote", "another folder after --out", _at(path))
        for path in paths if path.exists() and not _ours(path)
    ]
    if problems:
        raise InputError(problems)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, made in paths.items():
            path.write_text(json.dumps(made, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    except OSError as fault:
        raise InputError(f"cannot write into '{folder}': {fault.strerror}", "a folder that may be written") from None
    return list(paths)


def _ours(path: Path) -> bool:
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return False
    return isinstance(found, dict) and str(found.get("$id", "")).startswith(SCHEMA_ID)


def write_new(files: Mapping[Path, str]) -> None:
    """Write files of which none may exist; nothing is written if one does."""
    there = [Problem("this file is there already", "another name, or another folder", _at(p)) for p in files
             if p.exists() or p.is_symlink()]
    if there:
        raise InputError(there)
    try:
        for path, text in files.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            # x: if someone else makes it in this moment, it is theirs.
            with path.open("x", encoding="utf-8") as out:
                out.write(text)
    except OSError as fault:
        raise InputError(f"cannot write '{fault.filename}': {fault.strerror}", "a folder that may be written") from None


def _at(path: Path) -> Where:
    return Where(shown_path(path), 1, 1)
