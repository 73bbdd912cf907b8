"""Scaffolds: an equipment type with its cases, a plugin package. Each works as it is written."""

from __future__ import annotations

import re
from collections.abc import Collection
from pathlib import Path

from faultkit.problems import InputError

__all__ = ["check_name", "new_equipment", "new_plugin"]

_TEMPLATES = Path(__file__).resolve().parent / "templates"
_NAME = re.compile(r"[a-z][a-z0-9_]*")
#: Words that YAML does not read as a text.
_NO_TEXT = frozenset({"true", "false", "null"})
#: What ``faultkit schema`` writes beside the folder of a type.
_SCHEMAS = "../schemas"


def check_name(name: str, taken: Collection[str], what: str) -> None:
    """InputError for a name that no file may hold, or that is taken."""
    if _NAME.fullmatch(name) is None or name in _NO_TEXT:
        raise InputError(f"'{name}' is no name of {what}", "small letters, digits and _, a letter first: reach_in")
    if name in taken:
        raise InputError(f"there is {what} '{name}' already", "a name of its own")


def new_equipment(name: str, folder: Path) -> dict[Path, str]:
    """Path → text of an equipment type and its cases, in a folder of their own."""
    home = folder / name
    words = {"NAME": name, "TITLE": _title(name), "SCHEMAS": _SCHEMAS, "READINGS": "", "TELLS": "", "CHECKS": ""}
    return {
        home / f"{name}.yaml": _filled("tree.yaml", words),
        home / f"{name}.cases.yaml": _filled("cases.yaml", words),
    }


def new_plugin(name: str, folder: Path) -> dict[Path, str]:
    """Path → text of a package with hooks, a calculator, a tree that uses it, cases, and tests."""
    home, package = folder / name, f"faultkit_{name}"
    words = {
        "NAME": name, "TITLE": _title(name), "SCHEMAS": "../../schemas", "PACKAGE": package,
        "DISTRIBUTION": package.replace("_", "-").rstrip("-"),
    }
    words |= {part.upper(): _filled(f"{part}.yaml", words) for part in ("readings", "tells", "checks")}
    inside = home / package
    return {
        home / "pyproject.toml": _filled("pyproject.toml", words),
        home / "README.md": _filled("readme.md", words),
        inside / "__init__.py": _filled("module.py", words),
        inside / "py.typed": "",
        inside / "catalogue" / f"{name}.yaml": _filled("tree.yaml", words),
        inside / "catalogue" / f"{name}.cases.yaml": _filled("cases.yaml", words),
        home / "tests" / "test_plugin.py": _filled("test_plugin.py", words),
    }


def _title(name: str) -> str:
    return name.replace("_", " ").strip().capitalize()


def _filled(template: str, words: dict[str, str]) -> str:
    text = (_TEMPLATES / f"{template}.txt").read_text(encoding="utf-8")
    return re.sub(r"@([A-Z]+)@", lambda found: words[found[1]], text)
