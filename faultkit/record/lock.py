"""One writer at a time: the record file itself is locked, a note beside it says by whom.

The lock is the operating system's and ends with the process that holds it, however
that ends. The note only names the holder: one that is left over tells of a crash.
"""

from __future__ import annotations

import errno
import json
import os
import sys
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from faultkit.problems import InputError

__all__ = ["RecordError", "holder_note", "lock", "unlock"]


class RecordError(InputError):
    """The file of a record cannot be used as asked: it is locked, full, changed, not there."""


def holder_note(path: Path) -> Path:
    """The file that names who is writing a record."""
    return path.with_name(path.name + ".lock")


def lock(fd: int, path: Path) -> str:
    """Lock an open record; what is to be said of a lock left over, else ''.

    RecordError naming the holder where another program writes the record, or where
    the file system knows no locks.
    """
    note = holder_note(path)
    try:
        _take(fd)
    except OSError as fault:
        if fault.errno not in {errno.EAGAIN, errno.EACCES, errno.EDEADLK}:
            raise RecordError(
                f"'{path}' cannot be locked: {(fault.strerror or 'no reason given').lower()}", "a disk that knows locks"
            ) from None
        raise RecordError(
            f"'{path}' is being written by {_holder(note) or 'another program'}",
            "end it first; reading needs no lock",
        ) from None
    left = _holder(note)
    from socket import gethostname

    now = datetime.now(UTC).isoformat(timespec="seconds")
    data = {"process": os.getpid(), "host": gethostname(), "since": now}
    with suppress(OSError):  # on a full disk the lock holds without the note
        note.write_text(json.dumps(data) + "\n", encoding="utf-8")
    return f"'{path}' was left locked by {left}, which is gone; the lock was taken over" if left else ""


def unlock(fd: int, path: Path) -> None:
    """Give the lock of an open record back and close it."""
    with suppress(OSError):
        holder_note(path).unlink(missing_ok=True)
    with suppress(OSError):
        _give(fd)  # closing alone would not end it where a fork of this process holds the file too
    os.close(fd)


def _holder(note: Path) -> str:
    try:
        text = note.read_text(encoding="utf-8")
    except (OSError, ValueError):
        return ""
    try:
        data = json.loads(text)
        return f"process {int(data['process'])} on {data['host']!s:.60}, since {data['since']!s:.40}"
    except (ValueError, KeyError, TypeError):
        return "a program whose note cannot be read"


if sys.platform == "win32":

    def _take(fd: int) -> None:
        import msvcrt

        os.lseek(fd, 2**40, os.SEEK_SET)  # far behind the text, which others may read
        msvcrt.locking(fd, msvcrt.LK_NBLCK, 1)

    def _give(fd: int) -> None:
        import msvcrt

        os.lseek(fd, 2**40, os.SEEK_SET)
        msvcrt.locking(fd, msvcrt.LK_UNLCK, 1)

else:

    def _take(fd: int) -> None:
        import fcntl

        fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def _give(fd: int) -> None:
        import fcntl

        fcntl.flock(fd, fcntl.LOCK_UN)
