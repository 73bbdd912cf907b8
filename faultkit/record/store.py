"""A record on disk: created, opened by one writer, appended to line by line."""

from __future__ import annotations

import os
import re
import threading
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from faultkit.call import Call
from faultkit.model.entries import Entry, Opened, entry_from_data
from faultkit.model.order import has_zone
from faultkit.network.site import Site
from faultkit.problems import InputError, Problem
from faultkit.record.disk import BINARY, LIMIT, flush, flush_folder, keep_aside, read_all, refuse, write_all
from faultkit.record.lines import START, Chain, line_of, read_lines
from faultkit.record.lock import RecordError, lock, unlock

__all__ = ["Record", "is_record", "read_record"]

Path_ = str | os.PathLike[str]

_HEAD = re.compile(rb'\{"schema": [0-9]+, "line": 1,')
_FREE = "nothing before it is lost: make room, or see to the disk, then record it again"


def is_record(path: Path_) -> bool:
    """Whether a file is the record of a call, by its name or its first bytes."""
    if Path(path).suffix == ".jsonl":
        return True
    try:
        with Path(path).open("rb") as stream:
            return _HEAD.match(stream.read(64)) is not None
    except (OSError, ValueError):
        return False


def read_record(path: Path_) -> Chain:
    """What a record holds. Needs no lock and changes nothing: a torn end is left where it is.

    Raises RecordError where the file cannot be read, InputError with every line that is not as it was written.
    """
    return read_lines(read_all(Path(path)), str(path))


class Record:
    """The record of a call, open for writing by this process and no other.

    Every entry is checked against the site before it is written, and is on the disk when ``append``
    returns. Errors leave record and call as they were.

    >>> with Record.create("call.jsonl", site, "2026-07-14T10:05") as record:        # doctest: +SKIP
    ...     record.append({"kind": "fact", "reading": "rail.box_air", "value": "51 degF"})
    ...     record.call.diagnose()
    """

    def __init__(self, path: Path, fd: int, call: Call, head: Opened, notices: Sequence[str] = ()) -> None:
        self.path = path.absolute()  # whatever folder the program goes to
        self.head = head
        self.notices = tuple(notices)
        self._fd: int | None = fd
        self._call = call
        self._pid = os.getpid()
        self._mutex = threading.RLock()
        self._lines = self._length = 0
        self._sum = START
        self._broken = False

    @classmethod
    def create(
        cls, path: Path_, site: Site, opened: str, *, name: str = "", title: str = "", site_file: Path_ = ""
    ) -> Self:
        """A new record with its opening. ``site_file`` is remembered as seen from the record's folder.

        Raises RecordError where the file exists already or cannot be written, InputError for a bad time.
        """
        where = Path(path)
        call = Call(site, opened, name, title)
        head = replace(call.opening, site_file=_seen_from(where.parent, site_file))
        entry_from_data(head.to_dict())
        try:
            fd = os.open(where, os.O_RDWR | os.O_CREAT | os.O_EXCL | os.O_APPEND | BINARY, 0o644)
        except FileExistsError:
            raise RecordError(f"'{where}' exists already", "a new name, or open it to go on with it") from None
        except OSError as fault:
            raise refuse(where, "cannot be created", fault, "a folder that exists and may be written to") from None
        record: Self | None = None
        try:
            lock(fd, where)
            record = cls(where, fd, call, head)
            record._write([head])
            flush_folder(where.resolve().parent)
        except (OSError, InputError) as fault:
            unlock(fd, where)
            where.unlink(missing_ok=True)
            if isinstance(fault, OSError):
                raise refuse(where, "cannot be created", fault, "a disk that can be written to") from None
            raise
        return record

    @classmethod
    def open(cls, path: Path_, site: Site) -> Self:
        """Go on with a record. What was torn by a crash is set aside and told in ``notices``.

        Raises RecordError where it is written by another program, missing or read-only; InputError
        where it is of another site, was changed, or holds entries that do not fit the site.
        """
        where = Path(path)
        try:
            fd = os.open(where, os.O_RDWR | os.O_APPEND | BINARY)
        except OSError as fault:
            missing = isinstance(fault, FileNotFoundError)
            raise refuse(
                where, "cannot be opened for writing", fault,
                "the name of a record" if missing else "a record that may be written to; reading needs no more",
            ) from None
        said: list[str] = []
        try:
            said.append(lock(fd, where))
        except InputError:
            os.close(fd)
            raise
        try:
            chain = read_record(where)
            call = chain.call(site)
            said += _mended(fd, where, chain)
        except (OSError, InputError) as fault:
            unlock(fd, where)
            if isinstance(fault, OSError):
                raise refuse(where, "has a torn end that cannot be set aside", fault, _FREE) from None
            raise
        record = cls(where, fd, call, chain.opened, [s for s in said if s])
        record._lines, record._sum = chain.lines, chain.sum
        record._length = os.fstat(fd).st_size
        return record

    @property
    def call(self) -> Call:
        """The call as recorded so far."""
        return self._call

    @property
    def lines(self) -> int:
        """How many lines the record has."""
        return self._lines

    @property
    def sum(self) -> str:
        """The sum of the last line: kept elsewhere, it shows later that no line is gone from the end."""
        return self._sum

    def entries(self) -> tuple[Entry, ...]:
        """The opening and every entry, by observed time."""
        return (self.head, *self._call.entries)

    def append(self, entry: Entry | Mapping[str, Any]) -> Entry:
        """Record an entry made here; as recorded, with the id, time and order it did not have.

        A known entry is not written again. Raises InputError where it does not fit
        (``Call.add`` says how), RecordError where it could not be written.
        """
        with self._mutex:
            given = entry if isinstance(entry, Entry) else entry_from_data(entry)
            call = self._call.add(given)
            new = self._take(call)
            return new[0] if new else next((e for e in self._call.entries if e.id == given.id), given)

    def merge(self, entries: Iterable[Entry | Mapping[str, Any]]) -> tuple[Entry, ...]:
        """Record entries made elsewhere, all or none; those that were new. Errors as in ``append``."""
        with self._mutex:
            return self._take(self._call.merge(entries))

    def _take(self, call: Call) -> tuple[Entry, ...]:
        known = {e.id for e in self._call.entries}
        new = tuple(e for e in call.entries if e.id not in known)
        zoned = has_zone(self.head.time)
        problems = [
            Problem(
                f"the time '{e.time}' of entry '{e.id}' has {'no ' if zoned else 'a '}time zone, unlike that of the "
                f"call, '{self.head.time}'",
                "both with one, as in +02:00, or both without",
                e.where,
            )
            for e in new
            if has_zone(e.time) != zoned
        ]
        if problems:
            raise InputError(problems)
        if new:
            self._write(new)
        self._call = call
        return new

    def _write(self, entries: Sequence[Entry]) -> None:
        fd = self._usable()
        made, lines, last = [], self._lines, self._sum
        for entry in entries:
            lines += 1
            line, last = line_of(lines, entry, last)
            made.append(line)
        data = b"".join(made)
        if self._length + len(data) > LIMIT:
            raise RecordError(f"'{self.path}' is full: a record has at most {LIMIT} bytes", "a new call")
        try:
            write_all(fd, data)
            flush(fd)
        except BaseException as fault:
            self._undo(fd)
            if isinstance(fault, OSError):
                if not self._lines:
                    raise refuse(self.path, "cannot be created", fault, "a disk with room on it") from None
                raise refuse(self.path, "could not take the entry", fault, _FREE) from None
            raise
        self._lines, self._sum, self._length = lines, last, self._length + len(data)

    def _undo(self, fd: int) -> None:
        """Take back what was written of an entry that failed."""
        try:
            os.ftruncate(fd, self._length)
            flush(fd)
        except OSError:
            self._broken = True  # whatever stands there, opening it again finds out

    def _usable(self) -> int:
        """The open file, once it is sure that nobody else wrote to it."""
        again = "open the record again"
        if self._fd is None:
            raise RecordError(f"'{self.path}' is closed", again)
        if self._pid != os.getpid():
            raise RecordError(f"'{self.path}' was opened by process {self._pid}, this is {os.getpid()}", again)
        if self._broken:
            raise RecordError(f"'{self.path}' could not be restored after a failed write", again)
        try:
            here, there = os.fstat(self._fd), self.path.stat()
            same = os.path.samestat(here, there) and here.st_size == self._length
        except OSError:
            same = False
        if not same:
            raise RecordError(f"'{self.path}' was changed, moved or deleted by another program", again)
        return self._fd

    def close(self) -> None:
        """Give the record free for others. Twice does no harm."""
        with self._mutex:
            if self._fd is not None and self._pid == os.getpid():
                unlock(self._fd, self.path)
            self._fd = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def _mended(fd: int, path: Path, chain: Chain) -> list[str]:
    """Set a torn end aside, or end the last line; what was done."""
    if chain.torn:
        aside = keep_aside(path, chain.torn)
        os.ftruncate(fd, chain.length)
        flush(fd)
        return [*chain.notices, f"what was there of line {chain.lines + 1} is kept in '{aside}'"]
    if chain.unended:
        write_all(fd, b"\n")
        flush(fd)
        return [*chain.notices, "the line break was added"]
    return []


def _seen_from(folder: Path, file: Path_) -> str:
    if not os.fspath(file):
        return ""
    try:
        return Path(os.path.relpath(file, folder)).as_posix()
    except ValueError:  # on another drive
        return Path(file).resolve().as_posix()
