"""``faultkit record``: verify a record, show it, turn a YAML call into one and back."""

from __future__ import annotations

import argparse
import json
import sys
import unicodedata
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from faultkit.cli.commands import catalogue_of
from faultkit.problems import InputError

if TYPE_CHECKING:
    from faultkit.model.entries import Entry
    from faultkit.record import Chain

__all__ = ["add_record", "run_record"]

_COMMON = ("kind", "id", "time", "order", "by", "who")


def add_record(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], shared: argparse.ArgumentParser, epilog: str
) -> None:
    """The command and what it takes."""
    record = commands.add_parser("record", epilog=epilog, help="the record of a call as a file: verify, show, convert")
    what = record.add_subparsers(dest="what", metavar="WHAT", required=True)
    reading = argparse.ArgumentParser(add_help=False)
    reading.add_argument("record", metavar="CALL.jsonl", help="the record; it is only read")
    reading.add_argument("--format", choices=("text", "json"), default="text", help="default: text")
    what.add_parser("verify", parents=[reading], epilog=epilog, help="whether every line is as it was written")
    what.add_parser("show", parents=[reading], epilog=epilog, help="the entries by observed time")
    from_yaml = what.add_parser("from-yaml", parents=[shared], epilog=epilog, help="a new record from a YAML call")
    from_yaml.add_argument("call", metavar="CALL.yaml", help="a call; its site file is named inside")
    from_yaml.add_argument("record", metavar="CALL.jsonl", help="the record to create; it must not exist")
    to_yaml = what.add_parser("to-yaml", parents=[shared], epilog=epilog, help="the YAML call of a record")
    to_yaml.add_argument("record", metavar="CALL.jsonl", help="the record; it is only read")
    to_yaml.add_argument("call", metavar="CALL.yaml", help="the file to create; it must not exist")


def run_record(options: argparse.Namespace) -> None:
    """Verify, show or convert."""
    if options.what == "from-yaml":
        from faultkit.loading import record_of_call

        with record_of_call(options.call, options.record, catalogue_of(options)) as made:
            print(f"{options.record}: {made.lines} lines, last sum {made.sum}")
    elif options.what == "to-yaml":
        _to_yaml(options)
    else:
        from faultkit.record import read_record

        chain = read_record(options.record)
        for notice in chain.notices:
            print(f"warning: {notice}", file=sys.stderr)
        if options.format == "json":
            print(json.dumps(_data(chain, entries=options.what == "show"), indent=2, ensure_ascii=False))
        elif options.what == "show":
            _show(chain)
        else:
            lines = f"{chain.lines} line{'s' if chain.lines > 1 else ''}"
            print(f"{options.record}: {lines}, each as it was written; last sum {chain.sum}")


def _to_yaml(options: argparse.Namespace) -> None:
    import os

    from faultkit.loading import load_call, site_of_record
    from faultkit.record import read_record
    from faultkit.record.yaml_text import yaml_text

    call = load_call(options.record, catalogue_of(options))
    target = Path(options.call)
    site = site_of_record(read_record(options.record), options.record)
    text = yaml_text(call, Path(os.path.relpath(site, target.parent)).as_posix())
    try:
        with target.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    except OSError as fault:
        raise InputError(f"'{target}' cannot be created: {(fault.strerror or '').lower()}", "a new name") from None
    print(f"{target}: {len(call.entries)} entries")


def _data(chain: Chain, *, entries: bool) -> dict[str, Any]:
    found: dict[str, Any] = {
        "schema": 1, "kind": "record", "lines": chain.lines, "sum": chain.sum, "notices": list(chain.notices),
    }
    if entries:
        found["entries"] = [e.to_dict() for e in _in_order(chain)]
    return found


def _in_order(chain: Chain) -> Sequence[Entry]:
    from faultkit.model.order import sort_key

    return [chain.opened, *sorted(chain.entries, key=sort_key)]


def _show(chain: Chain) -> None:
    """One line an entry: when, which, by whom, what."""
    from faultkit.evidence.corrections import effective

    entries = _in_order(chain)
    live, withdrawn = effective(entries)
    now = {e.id: e for e in live}
    width = max(len(e.id) for e in entries)
    for entry in entries:
        said = _said(entry.to_dict())
        if entry.id in withdrawn:
            said += "  (withdrawn)"
        elif entry.id in now and now[entry.id] != entry:
            said += "  (corrected: " + _said(now[entry.id].to_dict()) + ")"
        by = entry.by + (f" {entry.who}" if entry.who else "")
        line = f"{entry.time.replace('T', ' ')}  {entry.id:<{width}}  {by}: {entry.kind}  {said}"
        print("".join(c if not unicodedata.category(c).startswith("C") else "\ufffd" for c in line).rstrip())


def _said(data: Mapping[str, Any]) -> str:
    shown = {k: v for k, v in data.items() if k not in _COMMON and v not in ([], {})}
    return ", ".join(f"{key} {_text(value)}" for key, value in shown.items())


def _text(value: Any) -> str:
    if isinstance(value, list):
        return " ".join(map(str, value)) or "none"
    if isinstance(value, dict):
        return "; ".join(f"{k} {_text(v)}" for k, v in value.items())
    return f"{value:g}" if isinstance(value, float) else str(value)
