"""``faultkit test``: runs the cases kept beside the trees."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from time import perf_counter
from typing import Any

from faultkit.problems import InputError, Problem, Where

__all__ = ["add_test", "run_test"]


def add_test(commands: Any, parent: argparse.ArgumentParser) -> None:
    """Declare the command; ``parent`` holds the options about the catalogue."""
    parser = commands.add_parser(
        "test", parents=[parent], help="run the cases kept beside the trees (*.cases.yaml)",
        epilog="exit codes: 0 all passed; 1 a case failed, or cases reach too little; 2 bad input",
    )
    parser.add_argument("paths", nargs="*", metavar="PATH", help="folders or case files; without: the built-in ones")
    parser.add_argument("-k", dest="name", metavar="NAME", help="only cases with this in their name (set.case)")
    parser.add_argument("--coverage", action="store_true", help="also say what no case reaches")
    parser.add_argument(
        "--minimum", metavar="FILE", help="a coverage file; without: coverage.yaml of the folder that is tested"
    )
    parser.add_argument(
        "--jobs", type=_jobs, default=1, metavar="N", help="processes to share the work; 0: one per core (default: 1)"
    )
    parser.add_argument("--format", choices=("text", "json", "junit", "github"), default="text", help="default: text")


def _jobs(text: str) -> int:
    """A number of processes; ArgumentTypeError for anything else."""
    import os

    if not text.isdecimal():
        raise argparse.ArgumentTypeError(f"'{text}' is no number of processes")
    return int(text) or os.cpu_count() or 1


def run_test(options: argparse.Namespace) -> bool:
    """Run cases and print what came; whether all is well."""
    from faultkit.cases.bench import Bench, find_case_files, folders_with_trees
    from faultkit.cases.coverage import coverage_of, shortfalls
    from faultkit.cases.reading import load_floors
    from faultkit.cases.run import run_cases
    from faultkit.cli.commands import catalogue_of
    from faultkit.reading import builtin_catalogue

    paths = [Path(p) for p in options.paths] or [builtin_catalogue()]
    files = find_case_files(paths)
    if not files:
        raise InputError([Problem("no *.cases.yaml here", "a folder with cases", Where(str(paths[0]), 1, 1))])
    catalogue = catalogue_of(options, folders_with_trees(files))
    cases = Bench(catalogue).load_all(files)
    if options.name is not None:
        cases = tuple(c for c in cases if options.name in c.full_name)
        if not cases:
            raise InputError(f"no case has '{options.name}' in its name", "a part of set.case")
    minimum = _minimum(options, paths)
    floors = load_floors(minimum) if minimum is not None else {}
    started = perf_counter()
    results = list(run_cases(cases, options.jobs))
    elapsed = perf_counter() - started
    covered = coverage_of(results, catalogue.types)
    short = shortfalls(covered, floors)
    _print(options, results, covered, short, elapsed)
    return all(r.good for r in results) and not short


def _minimum(options: argparse.Namespace, paths: Sequence[Path]) -> Path | None:
    if options.minimum is not None:
        return Path(options.minimum)
    # Some of the cases cannot be asked to reach what all of them do.
    beside = paths[0] / "coverage.yaml"
    return beside if options.name is None and len(paths) == 1 and beside.is_file() else None


def _print(options: argparse.Namespace, results: Any, covered: Any, short: Any, elapsed: float) -> None:
    import json

    from faultkit.cases import formats, words

    if options.format == "json":
        print(json.dumps(formats.as_json(results, covered, short), indent=2, ensure_ascii=False))
        return
    if options.format == "junit":
        print(formats.as_junit(results, short), end="")
        return
    if options.format == "github":
        lines = formats.as_annotations(results, short)
    else:
        lines = [line for r in results if r.failures or not r.good for line in (*words.result_lines(r), "")]
        table = covered if options.coverage else {}
        lines += words.coverage_lines(table, short, missed=options.coverage)
    print("\n".join([*lines, words.summary(results, elapsed)]))
