"""``faultkit new``: files that work from the first minute."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

__all__ = ["add_new", "run_new"]

_EPILOG = "exit codes: 0 written; 2 bad input. No file is ever overwritten."


def add_new(commands: Any, about: argparse.ArgumentParser) -> None:
    """Declare the command; ``about`` holds the options about the catalogue."""
    parser = commands.add_parser(
        "new", parents=[about], epilog=_EPILOG, help="an equipment type, a file of cases or a plugin to start from"
    )
    parser.add_argument("what", choices=("equipment", "cases", "plugin"), help="what to start")
    parser.add_argument("name", metavar="NAME", help="its name; for cases: the equipment type they are for")
    parser.add_argument("--in", dest="folder", metavar="FOLDER", default=".", help="where (default: here)")
    parser.add_argument("--site", metavar="SITE.yaml", help="for cases: a site that has a unit of the type")


def run_new(options: argparse.Namespace) -> None:
    """Write the files and say what to do next."""
    from faultkit.authoring.files import write_new
    from faultkit.authoring.scaffold import check_name, new_equipment, new_plugin
    from faultkit.cli.commands import catalogue_of
    from faultkit.plugins import load_plugins
    from faultkit.problems import InputError

    folder = Path(options.folder)
    if options.site is not None and options.what != "cases":
        raise InputError("--site is for cases only", "faultkit new cases TYPE --site SITE.yaml")
    catalogue = catalogue_of(options)
    if options.what == "cases":
        from faultkit.authoring.first_case import new_cases

        files = new_cases(options.name, folder, catalogue, options.site)
        after = [f"faultkit test {path}" for path in files]
    elif options.what == "equipment":
        check_name(options.name, catalogue.types, "an equipment type")
        files = new_equipment(options.name, folder)
        home = folder / options.name
        after = [f"faultkit schema --catalogue {folder} --out {folder / 'schemas'}", f"faultkit check {home}",
                 f"faultkit test {home}"]
    else:
        check_name(options.name, {*catalogue.types, *load_plugins().names}, "a plugin or an equipment type")
        files = new_plugin(options.name, folder)
        home = folder / options.name
        after = [f"pip install -e '{home}[test]'", f"pytest {home / 'tests'}",
                 f"faultkit schema --out {home / 'schemas'}"]
    write_new(files)
    print(*files, sep="\n")
    print("\nNext:", *after, sep="\n  ")
