"""What a record costs: ``python tests/benchmarks/record.py [ENTRIES] [FOLDER]`` (10 000 in a temporary folder).

Half of the entries are facts, half notes; every one is checked, chained, written and flushed to the disk.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

__all__ = ["main"]

WORDS = ("yes", "no")


def timed(action: Callable[[], object]) -> float:
    """Seconds an action takes."""
    begin = perf_counter()
    action()
    return perf_counter() - begin


def main(count: int, folder: Path) -> None:
    """Print milliseconds: an append to a short and to a long record, and reading, opening, merging it whole."""
    sys.path[0] = str(Path(__file__).parents[2])  # the repository instead of this folder
    from faultkit.record import Record, read_record
    from tests.engine.small import OPENED, rig

    site, path = rig(), folder / "call.jsonl"
    entries = [
        {
            "time": f"2026-07-{14 + n // 1440:02}T{n // 60 % 24:02}:{n % 60:02}",
            **({"kind": "fact", "reading": "u.turns", "value": WORDS[n % 4 // 2]} if n % 2
               else {"kind": "note", "text": f"note {n} of a long call"}),
        }
        for n in range(count)
    ]  # fmt: skip
    tenth = max(1, count // 10)
    with Record.create(path, site, OPENED) as record:
        times = [timed(lambda e=e: record.append(e)) for e in entries]  # type: ignore[misc]
    print(f"{count} entries, {path.stat().st_size:_} bytes")  # noqa: T201 - it is a table to read
    rows = {
        "append, first tenth": 1e3 * sum(times[:tenth]) / tenth,
        "append, last tenth": 1e3 * sum(times[-tenth:]) / tenth,
        "append, longest": 1e3 * max(times),
        "read and verify all": 1e3 * timed(lambda: read_record(path)),
        "open (verify, check against the site)": 1e3 * timed(lambda: Record.open(path, site).close()),
    }
    with Record.create(folder / "copy.jsonl", site, OPENED) as copy:
        rows["merge all into a new record"] = 1e3 * timed(lambda: copy.merge(record.entries()))
    for name, milliseconds in rows.items():
        print(f"  {name:<40} {milliseconds:10.2f} ms")  # noqa: T201


if __name__ == "__main__":
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    with tempfile.TemporaryDirectory(dir=sys.argv[2] if len(sys.argv) > 2 else None) as made:
        main(number, Path(made))
