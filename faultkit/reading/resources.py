"""Where the catalogue and the schemas that come with faultkit lie."""

from __future__ import annotations

from pathlib import Path

from faultkit.problems import InputError

__all__ = ["builtin_catalogue", "builtin_schemas", "data_folder"]

_PACKAGE = Path(__file__).resolve().parents[1]


def data_folder(name: str, package: Path = _PACKAGE) -> Path:
    """The folder ``name`` shipped inside the package, or beside it in a source checkout.

    InputError when there is neither: the folder that the package was installed
    into is never searched, another package's ``schemas`` may lie there.
    """
    shipped = package / "_data" / name
    if shipped.is_dir():
        return shipped
    beside = package.parent / name
    if beside.is_dir() and (package.parent / "pyproject.toml").is_file():
        return beside
    raise InputError(f"the folder '{name}' of faultkit is not installed", "a complete installation of faultkit")


def builtin_catalogue() -> Path:
    """The folder of equipment types that comes with faultkit."""
    return data_folder("catalogue")


def builtin_schemas() -> Path:
    """The folder of JSON Schemas that comes with faultkit."""
    return data_folder("schemas")
