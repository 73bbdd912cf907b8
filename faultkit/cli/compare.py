"""``faultkit compare``: what a change of a catalogue does."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import Any

from faultkit.model.catalogue import Catalogue

__all__ = ["add_compare", "run_compare"]


def add_compare(commands: Any) -> None:
    """Declare the command."""
    parser = commands.add_parser(
        "compare", help="what a change of a catalogue does, to the trees and to recorded calls",
        epilog="exit codes: 0 the same; 1 different; 2 bad input",
    )
    parser.add_argument("old", metavar="OLD", help="a folder of equipment types")
    parser.add_argument("new", metavar="NEW", help="the folder after the change")
    parser.add_argument(
        "--calls", metavar="FOLDER", help="diagnose every *.call.yaml and *.cases.yaml in it with both"
    )
    parser.add_argument(
        "--catalogue", action="append", default=[], metavar="FOLDER",
        help="a folder that both need besides their own (may be repeated)",
    )
    parser.add_argument("--strict", action="store_true", help="a broken plugin is an error")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")


def run_compare(options: argparse.Namespace) -> bool:
    """Print how two catalogues differ; whether they do not."""
    import json

    from faultkit.compare.calls import compare_calls, find_calls
    from faultkit.compare.changes import changes_of
    from faultkit.compare.words import as_data, as_text

    old, new = (_catalogue(options, folder) for folder in (options.old, options.new))
    changes = changes_of(old, new)
    calls = compare_calls(find_calls(options.calls), old, new) if options.calls is not None else None
    if options.format == "json":
        print(json.dumps(as_data(changes, calls), indent=2, ensure_ascii=False))
    else:
        print(as_text(changes, calls), end="")
    return not changes and all(c.same for c in calls or ())


def _catalogue(options: argparse.Namespace, folder: str) -> Catalogue:
    """The trees of one folder only, with the calculators of this installation."""
    from faultkit.plugins import load_plugins
    from faultkit.reading import load_catalogue_folders

    plugins = load_plugins(strict=options.strict)
    made = load_catalogue_folders([*map(Path, options.catalogue), Path(folder)])
    return replace(made, calculators=plugins.calculators)
