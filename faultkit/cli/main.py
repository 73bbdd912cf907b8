"""Commands and exit codes.

0: done. 1: done, and the facts of the call cannot hold together, a case failed, catalogues differ, or `check`
found errors or warnings.
2: bad input, said on standard error with place and cure.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

from faultkit.cli.author import add_schema, run_schema
from faultkit.cli.cases import add_test, run_test
from faultkit.cli.check import add_check, run_check, run_explain
from faultkit.cli.commands import run_diagnose, run_list
from faultkit.cli.compare import add_compare, run_compare
from faultkit.cli.completion import add_completion, script
from faultkit.cli.guide import add_guide, run_guide
from faultkit.cli.record import add_record, run_record
from faultkit.cli.report import add_report, run_report
from faultkit.cli.scaffold import add_new, run_new
from faultkit.cli.show import add_show, run_show
from faultkit.problems import InputError

__all__ = ["BAD_INPUT", "CONFLICT", "DONE", "FAILED", "FOUND", "main"]

DONE, BAD_INPUT = 0, 2
CONFLICT = FAILED = FOUND = 1

_EPILOG = "exit codes: 0 done; 1 done, but the facts cannot hold together; 2 bad input"


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="faultkit",
        description="Fault-tree diagnosis for commercial refrigeration.",
        epilog=_EPILOG,
    )
    parser.add_argument("--version", action="store_true", help="print the version and stop")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    about = argparse.ArgumentParser(add_help=False)
    about.add_argument(
        "--catalogue", action="append", default=[], metavar="FOLDER",
        help="a folder of equipment types besides the installed ones (may be repeated)",
    )
    about.add_argument("--strict", action="store_true", help="a broken plugin is an error")
    shared = argparse.ArgumentParser(add_help=False, parents=[about])
    shared.add_argument("--format", choices=("text", "json"), default="text", help="default: text")
    diagnose = commands.add_parser(
        "diagnose", parents=[shared], epilog=_EPILOG,
        help="what the facts of a call prove, what is suspected, what to check next",
    )
    diagnose.add_argument(
        "call", nargs="?", metavar="CALL",
        help="a call, CALL.yaml or its record CALL.jsonl; its site file is named inside",
    )
    diagnose.add_argument("--site", metavar="SITE.yaml", help="a site file instead of the one the call names")
    diagnose.add_argument(
        "--example", nargs="?", const="three_faults", metavar="NAME",
        help="a built-in example call: one_fault, three_faults (default) or conflict",
    )
    listing = commands.add_parser(
        "list", parents=[shared], epilog=_EPILOG, help="equipment types, their events, readings, checks, remedies"
    )
    listing.add_argument(
        "what", nargs="?", default="types", choices=("types", "events", "readings", "checks", "remedies"),
        help="default: types",
    )
    listing.add_argument("--type", metavar="NAME", help="of this equipment type only")
    add_test(commands, about)
    add_compare(commands)
    _add_calculate(commands)
    add_check(commands)
    add_record(commands, shared, _EPILOG)
    add_guide(commands, about, _EPILOG)
    add_show(commands, _EPILOG)
    add_report(commands, about, _EPILOG)
    add_schema(commands, about)
    add_new(commands, about)
    add_completion(commands)
    return parser


def _add_calculate(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    calculate = commands.add_parser(
        "calculate", epilog=_EPILOG, help="superheat, charge, volts, settings …: the trade's arithmetic with bounds",
    )
    calculate.add_argument("name", nargs="?", metavar="NAME", help="a calculator, or a subject to list")
    calculate.add_argument(
        "given", nargs="*", metavar="ARGUMENT=VALUE",
        help="a quantity with its unit, its accuracy after ±: 'pressure=22 psig ± 1 psi'; a log is a file's name",
    )
    calculate.add_argument("--altitude", metavar="HEIGHT", help="of the place, for gauge pressures: '5000 ft'")
    calculate.add_argument("--in", dest="unit", default="", metavar="UNIT", help="show the result in this unit")
    calculate.add_argument("--si", action="store_true", help="show metric units")
    calculate.add_argument("--strict", action="store_true", help="a broken plugin is an error")
    calculate.add_argument("--format", choices=("text", "json"), default="text", help="default: text")


def _calculate(options: argparse.Namespace) -> None:
    from faultkit.cli.calculate import run_calculate

    run_calculate(options)


def _done(run: Callable[[argparse.Namespace], None]) -> Callable[[argparse.Namespace], int]:
    """A command that only succeeds."""
    def code(options: argparse.Namespace) -> int:
        run(options)
        return DONE

    return code


#: Each command's exit code.
_COMMANDS: Mapping[str, Callable[[argparse.Namespace], int]] = MappingProxyType({
    "diagnose": lambda options: CONFLICT if run_diagnose(options) else DONE,
    "list": _done(run_list),
    "calculate": _done(_calculate),
    "check": lambda options: FOUND if run_check(options) else DONE,
    "explain": _done(run_explain),
    "test": lambda options: DONE if run_test(options) else FAILED,
    "record": _done(run_record),
    "guide": _done(run_guide),
    "compare": lambda options: DONE if run_compare(options) else FAILED,
    "show": _done(run_show),
    "report": _done(run_report),
    "schema": _done(run_schema),
    "new": _done(run_new),
    "completion": _done(lambda options: print(script(_parser(), options.shell), end="")),
})


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command; the exit code. Bad input never shows a traceback."""
    if argv is None:
        # A command lives a second: collecting its garbage takes longer than leaving it.
        gc.disable()
    parser = _parser()
    options = parser.parse_args(argv)
    try:
        if options.version:
            from importlib.metadata import version

            print(f"faultkit {version('faultkit')}")
            return DONE
        if options.command in _COMMANDS:
            return _COMMANDS[options.command](options)
    except InputError as fault:
        print(fault, file=sys.stderr)
        n = len(fault.problems)
        print(f"{n} problem{'s' if n > 1 else ''}; nothing was done", file=sys.stderr)
        return BAD_INPUT
    except BrokenPipeError:
        # The reader went away (`faultkit list | head`): not our fault, and nothing to say.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    parser.print_help()
    return BAD_INPUT
