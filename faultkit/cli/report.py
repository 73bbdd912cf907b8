"""``faultkit report``: what is told of a call, to the customer or to the shop."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from faultkit.problems import InputError

__all__ = ["add_report", "run_report"]


def add_report(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], about: argparse.ArgumentParser, epilog: str
) -> None:
    """The command and what it takes."""
    report = commands.add_parser(
        "report", parents=[about], epilog=epilog, help="the report of a call, for the customer or for the shop"
    )
    report.add_argument("call", metavar="CALL", help="a call, CALL.yaml or its record CALL.jsonl; it is only read")
    report.add_argument("--site", metavar="SITE.yaml", help="a site file instead of the one the call names")
    report.add_argument(
        "--for", dest="reader", choices=("customer", "shop"), default="customer",
        help="plain words (default), or readings, proofs and entries",
    )
    report.add_argument("--format", choices=("text", "markdown", "json", "html"), default="text", help="default: text")
    report.add_argument("--out", metavar="FILE", help="the file to write; standard output if not given")
    report.add_argument("--prices", metavar="BOOK", help="a price book (schemas/prices.v1.json); else no money appears")


def run_report(options: argparse.Namespace) -> None:
    """Write the report."""
    from faultkit.cli.commands import catalogue_of, warn_of_a_torn_end
    from faultkit.loading import load_call
    from faultkit.reports.visit.gather import build_report
    from faultkit.reports.visit.prices import load_prices
    from faultkit.reports.visit.report import render

    if options.out is not None and Path(options.out).resolve() in {
        Path(p).resolve() for p in (options.call, options.prices, options.site) if p
    }:
        raise InputError(f"--out {options.out} is a file that is read", "another name: nothing read is written over")
    warn_of_a_torn_end(Path(options.call))
    prices = load_prices(options.prices) if options.prices else None
    call = load_call(options.call, catalogue_of(options), site=options.site)
    text = render(call, build_report(call, call.diagnose(advice=False), prices), options.reader, options.format)
    if options.out is None:
        print(text, end="")
        return
    try:
        Path(options.out).write_text(text, encoding="utf-8", newline="\n")
    except OSError as fault:
        what = f"'{options.out}' cannot be written: {(fault.strerror or 'no reason given').lower()}"
        raise InputError(what, "--out with a place that can be written to") from None
    print(options.out, file=sys.stderr)
