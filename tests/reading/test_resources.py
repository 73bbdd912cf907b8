"""The folders that come with faultkit."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.problems import InputError
from faultkit.reading.resources import builtin_catalogue, builtin_schemas, data_folder


def install(root: Path) -> Path:
    package = root / "faultkit"
    package.mkdir()
    return package


def test_the_folders_are_there() -> None:
    assert (builtin_schemas() / "equipment.v1.json").is_file()
    assert builtin_catalogue().is_dir()


def test_inside_the_package_comes_first(tmp_path: Path) -> None:
    package = install(tmp_path)
    (package / "_data" / "schemas").mkdir(parents=True)
    (tmp_path / "schemas").mkdir()
    (tmp_path / "pyproject.toml").touch()
    assert data_folder("schemas", package) == package / "_data" / "schemas"


def test_beside_the_package_in_a_checkout(tmp_path: Path) -> None:
    package = install(tmp_path)
    (tmp_path / "schemas").mkdir()
    (tmp_path / "pyproject.toml").touch()
    assert data_folder("schemas", package) == tmp_path / "schemas"


def test_the_folder_of_installed_packages_is_not_searched(tmp_path: Path) -> None:
    package = install(tmp_path)
    (tmp_path / "schemas").mkdir()  # of somebody else
    with pytest.raises(InputError, match="'schemas' of faultkit is not installed"):
        data_folder("schemas", package)


def test_a_file_of_that_name_is_no_folder(tmp_path: Path) -> None:
    package = install(tmp_path)
    (tmp_path / "schemas").touch()
    (tmp_path / "pyproject.toml").touch()
    with pytest.raises(InputError):
        data_folder("schemas", package)
