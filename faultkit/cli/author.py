"""``faultkit schema``: help for those who write trees."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

__all__ = ["add_schema", "run_schema"]


def add_schema(commands: Any, about: argparse.ArgumentParser) -> None:
    """Declare the command; ``about`` holds the options about the catalogue."""
    parser = commands.add_parser(
        "schema", parents=[about], epilog="exit codes: 0 written; 2 bad input",
        help="JSON Schemas with the names of your catalogue, so that an editor completes and checks them",
    )
    parser.add_argument(
        "--out", metavar="FOLDER", default="schemas", help="where they are written or renewed (default: schemas)"
    )


def run_schema(options: argparse.Namespace) -> None:
    """Write the schemas and say how a file points to them."""
    from faultkit.authoring.files import find_words, write_schemas
    from faultkit.authoring.schemas import special_schemas
    from faultkit.cli.commands import catalogue_of

    catalogue = catalogue_of(options)
    words = find_words(catalogue, [Path(f) for f in options.catalogue])
    written = write_schemas(special_schemas(words), Path(options.out))
    for path in written:
        print(path)
    print(
        "\nAn editor with YAML language support uses the one that the first line of a file names, as a path from that"
        f"\nfile:\n\n  # yaml-language-server: $schema=<path to {options.out}>/equipment.v1.json\n"
        "\nWrite them again when names were added, so that the editor knows those too."
    )
