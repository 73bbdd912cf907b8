"""A program that records, started by tests that kill it or take its disk away.

``python -m tests.record.writer RECORD SIZE COUNT [LIMIT]``: appends COUNT notes of SIZE letters, printing the
id of each once it is recorded; LIMIT is the largest file it may write, in bytes.
"""

from __future__ import annotations

import sys

from faultkit.problems import InputError
from faultkit.record import Record
from tests.engine.small import rig

__all__ = ["main"]


def main(path: str, size: int, count: int, limit: int = 0) -> int:
    """Append; 3 where an entry was refused, with the reason on standard error."""
    if limit:
        import resource

        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
    with Record.open(path, rig()) as record:
        for n in range(count):
            try:
                made = record.append({"kind": "note", "text": f"{n} " + "x" * size})
            except InputError as fault:
                print(fault, file=sys.stderr)  # noqa: T201 - what the test reads
                return 3
            print(made.id, flush=True)  # noqa: T201
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], *map(int, sys.argv[2:])))
