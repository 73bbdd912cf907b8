"""``faultkit check`` and ``faultkit explain``."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from faultkit.problems import InputError

__all__ = ["add_check", "run_check", "run_explain"]

_EPILOG = "exit codes: 0 clean (notes aside); 1 errors or warnings; 2 bad input"
_FORMATS = ("text", "json", "sarif", "github", "junit")


def add_check(commands: Any) -> None:
    """The two commands with their options."""
    check = commands.add_parser(
        "check", epilog=_EPILOG, help="what is wrong with a catalogue, proved, with place, witness and cure"
    )
    check.add_argument(
        "path", nargs="*", metavar="PATH",
        help="folders, catalogue files, sites, calls (default: the built-in catalogue and plugins)",
    )
    check.add_argument(
        "--catalogue", action="append", default=[], metavar="FOLDER",
        help="a folder of equipment types that is used but not spoken of (may be repeated)",
    )
    check.add_argument("--alone", action="store_true", help="without the installed catalogue and plugins")
    check.add_argument("--strict", action="store_true", help="a broken plugin is an error")
    check.add_argument("--format", choices=_FORMATS, default="text", help="default: text")
    check.add_argument("--output", metavar="FILE", help="write the report there instead of printing it")
    check.add_argument("--testability", action="store_true", help="print what the checks can tell apart")
    check.add_argument(
        "--update-baseline", action="store_true", help="keep the testability as it is now, for CI to hold"
    )
    explain = commands.add_parser("explain", help="the page of a check of `faultkit check`")
    explain.add_argument("code", nargs="?", metavar="CODE", help="such as L404; without it, all codes")


def run_check(options: argparse.Namespace) -> bool:
    """Check and report; True where there are errors or warnings."""
    from faultkit.consistency import check_catalogue
    from faultkit.consistency.formats import FORMATS

    report = check_catalogue(
        options.path,
        catalogue=options.catalogue,
        alone=options.alone,
        strict=options.strict,
        testability=options.testability,
        update_baseline=options.update_baseline,
    )
    for broken in report.broken:
        print(f"warning: {broken}", file=sys.stderr)
    text = FORMATS[options.format](report)
    if options.output:
        try:
            Path(options.output).write_text(text, encoding="utf-8")
        except OSError as error:
            raise InputError(f"'{options.output}' cannot be written: {error.strerror}", "a file that may be") from None
    else:
        print(text, end="")
    return not report.clean


def run_explain(options: argparse.Namespace) -> None:
    """Print a check's page, or the list of checks."""
    from faultkit.consistency.pages import explain, overview

    print(explain(options.code) if options.code else overview(), end="")
