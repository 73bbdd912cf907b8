"""Bytes that stay: written whole, flushed to the disk, with the folder that names them."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from faultkit.record.lock import RecordError

__all__ = ["BINARY", "LIMIT", "flush", "flush_folder", "keep_aside", "read_all", "refuse", "write_all"]

#: Bytes of one record; 10 000 entries have about five million.
LIMIT = 200_000_000

BINARY: int = getattr(os, "O_BINARY", 0)


def refuse(path: Path, what: str, fault: OSError, expected: str) -> RecordError:
    """The error for what the operating system would not do."""
    reason = (fault.strerror or "no reason given").lower()
    return RecordError(f"'{path}' {what}: {reason}", expected)


def flush(fd: int) -> None:
    """Have what was written on the disk, not only on its way."""
    if sys.platform == "darwin":
        import fcntl

        fcntl.fcntl(fd, fcntl.F_FULLFSYNC)  # there fsync leaves it in the drive's own memory
    else:
        os.fsync(fd)


def flush_folder(folder: Path) -> None:
    """Have the names in a folder on the disk. Where folders cannot be flushed, nothing is done."""
    if sys.platform == "win32":
        return
    fd = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(fd)
    finally:
        os.close(fd)


def write_all(fd: int, data: bytes) -> None:
    """Write all of it, however many turns that takes."""
    view = memoryview(data)
    while view:
        view = view[os.write(fd, view):]


def read_all(path: Path) -> bytes:
    """The bytes of a record. RecordError where it is missing, too large, or no plain file."""
    try:
        if not path.is_file():
            what = "is no plain file" if path.exists() else "does not exist"
            raise RecordError(f"'{path}' {what}", "the name of a record")
        with path.open("rb") as stream:
            data = stream.read(LIMIT + 1)
    except OSError as fault:
        raise refuse(path, "cannot be read", fault, "a file that may be read") from None
    if len(data) > LIMIT:
        raise RecordError(f"'{path}' is too large: over {LIMIT:_} bytes".replace("_", " "), "a record of one call")
    return data


def keep_aside(path: Path, torn: bytes) -> Path:
    """Append torn bytes to the file beside a record that keeps them, and a line break."""
    aside = path.with_name(path.name + ".torn")
    fd = os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_APPEND | BINARY, 0o644)
    try:
        write_all(fd, torn + b"\n")
        flush(fd)
    finally:
        os.close(fd)
    flush_folder(path.parent)
    return aside
