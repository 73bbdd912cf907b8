"""What each command does; imports wait until one runs."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from faultkit.model.catalogue import Catalogue
from faultkit.problems import InputError, did_you_mean

__all__ = ["catalogue_of", "run_diagnose", "run_list", "warn_of_a_torn_end"]

Row = dict[str, str | float]


def catalogue_of(options: argparse.Namespace, more: Sequence[Path] = ()) -> Catalogue:
    """The catalogue of ``--catalogue`` and ``--strict``, with ``more`` folders; broken plugins are warned of."""
    from faultkit.loading import load_catalogue

    catalogue = load_catalogue([*map(Path, options.catalogue), *more], strict=options.strict)
    for broken in catalogue.broken:
        print(f"warning: {broken}", file=sys.stderr)
    return catalogue


def run_diagnose(options: argparse.Namespace) -> bool:
    """Print the diagnosis of a call; True where its facts conflict."""
    from faultkit.loading import load_call

    if (options.call is None) == (options.example is None):
        raise InputError("no call to diagnose" if options.call is None else "both a call and --example",
                         "faultkit diagnose CALL.yaml (or CALL.jsonl), or faultkit diagnose --example")
    path = Path(options.call) if options.call is not None else _example(options.example)
    warn_of_a_torn_end(path)
    call = load_call(path, catalogue_of(options), site=options.site)
    diagnosis = call.diagnose()
    if options.format == "json":
        print(json.dumps(diagnosis.to_dict(), indent=2, ensure_ascii=False))
    else:
        from faultkit.reports.text import render_text

        print(render_text(call, diagnosis), end="")
    return not diagnosis.consistent


def warn_of_a_torn_end(path: Path) -> None:
    """Say on standard error what a crash left at the end of a record."""
    from faultkit.record import is_record, read_record

    if is_record(path):
        for notice in read_record(path).notices:
            print(f"warning: {notice}", file=sys.stderr)


def _example(name: str) -> Path:
    from faultkit.reading.resources import data_folder

    folder = data_folder("examples")
    found = folder / f"{name}.call.yaml"
    if not found.is_file():
        known = [p.name.removesuffix(".call.yaml") for p in sorted(folder.glob("*.call.yaml"))]
        raise InputError(f"there is no example '{name}'", did_you_mean(name, known))
    return found


def run_list(options: argparse.Namespace) -> None:
    """Print what the catalogue holds."""
    catalogue = catalogue_of(options)
    if options.type is not None and options.type not in catalogue.types:
        raise InputError(f"equipment type '{options.type}' is not known", did_you_mean(options.type, catalogue.types))
    chosen = [t for name, t in catalogue.types.items() if options.type in {None, name}]
    if options.what == "types":
        rows: list[Row] = [
            {
                "name": t.name, "title": t.title,
                "basic_events": sum(e.prior is not None for e in t.events.values()),
                "events": len(t.events), "readings": len(t.readings), "checks": len(t.checks),
                "remedies": len(t.remedies),
            }
            for t in chosen
        ]
    else:
        rows = [
            {"type": t.name, "name": x.name, "title": x.title, **_more(x)}
            for t in chosen
            for x in getattr(t, options.what).values()
        ]
    if options.format == "json":
        print(json.dumps(rows, indent=2, ensure_ascii=False))
    else:
        _table(rows)


def _more(x: object) -> Row:
    from faultkit.model.types import Check, Event, Reading, Remedy

    if isinstance(x, Event):
        return {"gate": x.gate.value}
    if isinstance(x, Reading):
        bands = " / ".join(dict.fromkeys(b for o in x.observables for b in o.bands))
        return {"unit": x.unit or x.kind.value, "bands": bands}
    if isinstance(x, Check | Remedy):
        return {"minutes": x.minutes, "power": x.power.value}
    return {}


def _table(rows: Sequence[Row]) -> None:
    """Columns as wide as they need to be; numbers to the right."""
    if not rows:
        print("none")
        return
    heads = list(rows[0])
    cells = [[_cell(r[h]) for h in heads] for r in rows]
    widths = [max(len(h), *(len(c[i]) for c in cells)) for i, h in enumerate(heads)]
    right = [not isinstance(rows[0][h], str) for h in heads]
    print(_line([h.replace("_", " ") for h in heads], widths, right))
    for c in cells:
        print(_line(c, widths, right))


def _cell(value: str | float) -> str:
    return value if isinstance(value, str) else f"{value:g}"


def _line(cells: Iterable[str], widths: Sequence[int], right: Sequence[bool]) -> str:
    parts = [c.rjust(w) if r else c.ljust(w) for c, w, r in zip(cells, widths, right, strict=True)]
    return "  ".join(parts).rstrip()
