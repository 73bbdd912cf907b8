"""``faultkit guide``: the terminal of a guided session; what it says and means is in ``faultkit.guide``."""

from __future__ import annotations

import argparse
import contextlib
import os
import shutil
import sys
import threading
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from faultkit.cli.commands import catalogue_of

if TYPE_CHECKING:
    from faultkit.guide import Block
    from faultkit.network.site import Site
    from faultkit.record import Record

__all__ = ["add_guide", "run_guide"]

_STYLES = {"head": "bold", "caution": "bold yellow", "good": "green", "problem": "bold red", "prompt": "bold cyan"}
_WIDEST = 92
#: Seconds after which a terminal shows that it is at work.
_PATIENCE = 2.0


def add_guide(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], about: argparse.ArgumentParser, epilog: str
) -> None:
    """The command and what it takes."""
    guide = commands.add_parser(
        "guide", parents=[about], epilog=epilog, help="a session on the call: next checks, readings, repairs, closing"
    )
    guide.add_argument("site", metavar="SITE.yaml", help="the site of the call")
    guide.add_argument(
        "--record", required=True, metavar="CALL.jsonl", help="the record of the call: created, or gone on with"
    )
    guide.add_argument("--complaint", metavar="EVENT", help="what the customer says is wrong, as in rail.pans_warm")
    guide.add_argument("--opened", metavar="TIME", help="when a new call was opened, as in 2026-07-14T10:05; else now")
    guide.add_argument("--plain", action="store_true", help="no colour; NO_COLOR and a pipe do the same")


def run_guide(options: argparse.Namespace) -> None:
    """Lines in, blocks out, every entry on the disk before the next question."""
    from faultkit.guide import Block, layout
    from faultkit.loading import load_site
    from faultkit.record import RecordError

    site = load_site(options.site, catalogue_of(options))
    write = _writer(plain=options.plain)
    if hasattr(sys.stdin, "reconfigure"):
        sys.stdin.reconfigure(errors="replace")
    with _record(options, site) as record:
        write(layout([Block("problem", notice) for notice in record.notices], _width()))
        if options.complaint and not any(e.kind == "complaint" for e in record.call.entries):
            record.append({"kind": "complaint", "event": options.complaint, "by": "customer", "time": _now(record)})
        try:
            _talk(record, write)
        except KeyboardInterrupt:
            write([("text", ""), ("text", "Stopped. What was recorded stays; go on with the same command.")])
        except RecordError:
            write([("problem", "Not recorded:")])
            raise


def _record(options: argparse.Namespace, site: Site) -> Record:
    from faultkit.record import Record

    path = Path(options.record)
    if path.exists():
        return Record.open(path, site)
    opened = options.opened or datetime.now().astimezone().replace(tzinfo=None).isoformat(timespec="minutes")
    return Record.create(path, site, opened, name="", site_file=options.site)


def _now(record: Record) -> str:
    """The clock in the form of the call's opening: with an offset or without."""
    now = datetime.now().astimezone()
    zoned = datetime.fromisoformat(record.call.opened).tzinfo is not None
    return (now if zoned else now.replace(tzinfo=None)).isoformat(timespec="seconds")


def _talk(record: Record, write: Callable[[Iterable[tuple[str, str]]], None]) -> None:
    from faultkit.guide import answer, layout, start

    def show(blocks: Iterable[Block]) -> None:
        write(layout(blocks, _width()))

    with _patience():
        reply = start(record.call, _now(record))
    while True:
        record.merge(reply.entries)
        show(reply.blocks)
        if reply.session.over:
            return
        line = _line()
        if line is None:
            write([("text", ""), ("text", "The input ends here. Go on with the same command.")])
            return
        with _patience():
            reply = answer(reply.session, line, _now(record))


@contextlib.contextmanager
def _patience() -> Iterator[None]:
    """Say on a terminal that it goes on, where an answer takes its time."""
    timer = threading.Timer(_PATIENCE, lambda: print("(working it out)", flush=True))
    timer.daemon = True
    if sys.stdout.isatty():
        timer.start()
    try:
        yield
    finally:
        timer.cancel()


def _line() -> str | None:
    """A line, or None at the end; shown again where nobody typed it, so that what is piped in reads like a talk."""
    print("> ", end="", flush=True)
    line = sys.stdin.readline()
    if not line:
        return None
    if not sys.stdin.isatty():
        from faultkit.guide.blocks import clean

        print(clean(line))
    return line


def _width() -> int:
    return min(shutil.get_terminal_size((80, 24)).columns - 1, _WIDEST)


def _writer(*, plain: bool) -> Callable[[Iterable[tuple[str, str]]], None]:
    """Plain lines; on a terminal that shows colours, and where rich is installed, with them."""
    if not plain and sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb":
        with contextlib.suppress(ImportError):
            return _coloured()

    def write(lines: Iterable[tuple[str, str]]) -> None:
        for _, line in lines:
            print(line, flush=True)

    return write


def _coloured() -> Callable[[Iterable[tuple[str, str]]], None]:
    from rich.console import Console
    from rich.text import Text

    console = Console(highlight=False, soft_wrap=True)

    def write(lines: Iterable[tuple[str, str]]) -> None:
        for style, line in lines:
            console.print(Text(line, style=_STYLES.get(style, "")))

    return write
