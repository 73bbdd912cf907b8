"""A catalogue from the YAML files of some folders."""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from faultkit.model.catalogue import Catalogue, Section
from faultkit.model.types import Common, EquipmentType
from faultkit.problems import Problem, Where
from faultkit.reading.common import read_common
from faultkit.reading.expand import check_section, expand_section, expand_type
from faultkit.reading.nodes import Node
from faultkit.reading.parse import parse_text
from faultkit.reading.text import read_bytes, shown_path
from faultkit.reading.validate import kind_of_file, validate

__all__ = ["holds_trees", "read_catalogue", "read_sections"]

_HEAD = re.compile(r"^(equipment|section|common|site|call|cases|coverage):[ \t]*([a-z][a-z0-9_]*)?", re.MULTILINE)
_SHARED = re.compile(rb"^(section|common):", re.MULTILINE)
_KEPT = ("equipment", "section", "common")


@dataclass(slots=True)
class _Sorted:
    """Documents by kind and name; ``broken`` has (kind, name) of the unusable ones, '' where unknown."""

    kinds: dict[str, dict[str, Node]] = field(default_factory=lambda: {k: {} for k in _KEPT})
    broken: set[tuple[str, str]] = field(default_factory=set)


def read_catalogue(folders: Sequence[str | os.PathLike[str]], problems: list[Problem]) -> Catalogue:
    """The equipment types of every ``*.yaml`` below the folders (no ``*.cases.yaml``, no sites, no calls).

    Every problem of every file is added to ``problems``; a catalogue read with
    problems is incomplete and must not be used.
    """
    found = _Sorted()
    digest = hashlib.sha256()
    files: list[str] = []
    for name, path in _files(folders, problems):
        data = read_bytes(path, problems)
        if data is None:
            found.broken.add(("", ""))
        elif _sort_in(data, shown_path(path), found, problems):
            files.append(shown_path(path))
            for part in (name.encode(), data):
                digest.update(len(part).to_bytes(8, "big") + part)
    common = read_common(list(found.kinds["common"].values()), problems)
    types = _expand(found, common, problems)
    return Catalogue(types, common, digest.hexdigest(), tuple(files))


def read_sections(folders: Sequence[str | os.PathLike[str]]) -> Mapping[str, Section | None]:
    """The sections of a catalogue that was read without problems, each on its own.

    None for one that is whole only inside a type that includes it.
    """
    found = _Sorted()
    for _, path in _files(folders, []):
        data = read_bytes(path, [])
        if data is not None and _SHARED.search(data):
            _sort_in(data, shown_path(path), found, [])
    common = read_common(list(found.kinds["common"].values()), [])
    sections = found.kinds["section"]
    out: dict[str, Section | None] = {}
    for name, body in sections.items():
        made = expand_section(body, sections, common, [])
        needs = body.get("needs")
        events = needs.get("events") if needs is not None else None
        titles = {key: str(node.value) for key, node in events.items()} if events is not None else {}
        out[name] = Section(made, titles) if made is not None else None
    return out


def _files(folders: Sequence[str | os.PathLike[str]], problems: list[Problem]) -> Iterator[tuple[str, Path]]:
    """Name below its folder and path of each file, sorted; a file that two folders reach comes once."""
    seen: set[Path] = set()
    for folder in map(Path, folders):
        if not folder.is_dir():
            what = "this is no folder" if folder.exists() else "there is no such folder"
            problems.append(Problem(what, "a folder with equipment files", Where(shown_path(folder), 1, 1)))
            continue
        for path in sorted(_walk(folder), key=lambda p: p.relative_to(folder).as_posix()):
            real = path.resolve()
            if real not in seen:
                seen.add(real)
                yield path.relative_to(folder).as_posix(), path


def holds_trees(folder: Path) -> bool:
    """Whether a file of this folder itself (not below it) is part of a catalogue, by its head."""
    for path in sorted(folder.glob("*.yaml")):
        if not path.name.endswith(".cases.yaml") and path.is_file():
            data = read_bytes(path, [])
            head = _HEAD.search(data.decode("utf-8", "replace")) if data is not None else None
            if head is not None and head[1] in _KEPT:
                return True
    return False


def _walk(folder: Path) -> Iterator[Path]:
    # os.walk does not follow links to folders, so a link to a parent cannot lead it in circles.
    for root, below, names in os.walk(folder):
        below[:] = [b for b in below if not b.startswith(".")]
        for name in names:
            if name.endswith(".yaml") and not name.endswith(".cases.yaml") and not name.startswith("."):
                yield Path(root, name)


def _sort_in(data: bytes, file: str, found: _Sorted, problems: list[Problem]) -> bool:
    """Put one file where it belongs; whether it is part of the catalogue."""
    node = parse_text(data, file, problems)
    if node is None:
        guess = _HEAD.search(data.decode("utf-8", "replace"))
        found.broken.add((guess[1], guess[2] or "") if guess else ("", ""))
        return True
    kind = kind_of_file(node, problems)
    if kind is None:
        found.broken.add(("", ""))
        return True
    if kind not in _KEPT:
        return False
    name = node.text(kind)
    if not validate(node, kind, problems):
        found.broken.add((kind, name))
        return True
    first = found.kinds[kind].get(name)
    if first is None:
        found.kinds[kind][name] = node
    else:
        what = f"{kind} '{name}' stands in two files, first at {first.at_key(kind)}"
        problems.append(Problem(what, "a name of its own", node.at_key(kind)))
        found.broken.update({(kind, name)} if kind == "common" else ())  # its hazards would seem unknown
    return True


def _expand(found: _Sorted, common: Common, problems: list[Problem]) -> Mapping[str, EquipmentType]:
    """Expand every type and check the sections that none uses.

    What uses a broken file is left out: its mistakes would only repeat that file's.
    """
    if any(kind in {"", "common"} for kind, _ in found.broken):
        return {}
    sections = found.kinds["section"]
    types: dict[str, EquipmentType] = {}
    used: set[str] = set()
    mistakes: list[Problem] = []
    for name, body in found.kinds["equipment"].items():
        needs = _uses(body, sections)
        used |= needs
        made = None if _broken(needs, found) else expand_type(body, sections, common, mistakes)
        if made is not None:
            types[name] = made
    for name, body in sections.items():
        if name not in used and not _broken(_uses(body, sections), found):
            check_section(body, sections, common, mistakes)
    problems.extend(dict.fromkeys(mistakes))  # a mistake within a section comes once for each type that uses it
    return types


def _broken(names: Iterable[str], found: _Sorted) -> bool:
    return any(("section", n) in found.broken for n in names) or (
        ("section", "") in found.broken and any(n not in found.kinds["section"] for n in names)
    )


def _uses(body: Node, sections: Mapping[str, Node]) -> set[str]:
    """Names of all sections that a document includes, and those that these include."""
    found: set[str] = set()
    todo = [body]
    while todo:
        block = todo.pop().get("sections")
        for _, include in block.items() if block is not None else ():
            name = include.text("use")
            if name not in found:
                found.add(name)
                if name in sections:
                    todo.append(sections[name])
    return found
