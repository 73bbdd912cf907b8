"""Files and bytes before YAML sees them: size, readability, encoding, lines."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path

from faultkit.problems import Problem, Where, did_you_mean

__all__ = ["SIZE_LIMIT", "read_bytes", "readable_text", "shown_path", "split_lines"]

#: Bytes of one file. A catalogue file of 5000 lines has about 0.25 million.
SIZE_LIMIT = 5_000_000

# What YAML 1.2.2, section 5.1, calls printable; the byte order mark only in front of the text.
_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
# What ends a line for YAML's parser, so that line numbers agree with its marks.
_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
_OTHER_BREAKS = re.compile("[\r\x85\u2028\u2029]")
_UTF16 = (b"\xff\xfe", b"\xfe\xff")


def split_lines(text: str) -> list[str]:
    """The lines of a text as YAML counts them."""
    return _BREAK.split(text) if _OTHER_BREAKS.search(text) else text.split("\n")


def shown_path(path: str | os.PathLike[str]) -> str:
    """How messages name a file: relative to the current folder when it lies below it."""
    given = Path(path)
    try:
        return given.resolve().relative_to(Path.cwd()).as_posix()
    except (ValueError, OSError, RuntimeError):
        return str(given)


def read_bytes(path: str | os.PathLike[str], problems: list[Problem], *, limit: int = SIZE_LIMIT) -> bytes | None:
    """The content of a file, or None with a problem: missing, no plain file, unreadable, over ``limit``."""
    name = shown_path(path)
    where = Where(name, 1, 1)
    try:
        found = Path(path).stat()
        if stat.S_ISDIR(found.st_mode):
            problems.append(Problem("this is a folder", "the name of a file", where))
            return None
        if not stat.S_ISREG(found.st_mode):
            problems.append(Problem("this is no plain file", "a file that can be read from start to end", where))
            return None
        if found.st_size > limit:
            problems.append(_too_large(where, found.st_size, limit))
            return None
        with Path(path).open("rb") as stream:
            data = stream.read(limit + 1)
    except (FileNotFoundError, NotADirectoryError):
        problems.append(Problem("there is no such file", _near(Path(path)), where))
        return None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        problems.append(Problem(f"the file cannot be read: {reason.lower()}", "a file that may be read", where))
        return None
    if len(data) > limit:  # it grew while it was read, or its size is not known beforehand
        problems.append(_too_large(where, len(data), limit))
        return None
    return data


def _too_large(where: Where, size: int, limit: int) -> Problem:
    what = f"the file is too large: {size:_} bytes, and {limit:_} are read at most".replace("_", " ")
    return Problem(what, "smaller files", where)


def _near(path: Path) -> str:
    try:
        beside = sorted(p.name for p in path.parent.iterdir())
    except OSError:
        return "the name of a file"
    return did_you_mean(path.name, beside) if beside else "the name of a file"


def readable_text(data: str | bytes, file: str, problems: list[Problem], limit: int = SIZE_LIMIT) -> str | None:
    """Text without byte order mark, or None with the problem: too large, no text, not UTF-8, unprintable."""
    if len(data) > limit:
        problems.append(_too_large(Where(file, 1, 1), len(data), limit))
        return None
    text = _decoded(data, file, problems) if isinstance(data, bytes) else data
    if text is None:
        return None
    text = text.removeprefix("\ufeff")
    wrong = _UNPRINTABLE.search(text)
    if wrong is None:
        return text
    before = split_lines(text[: wrong.start()])
    line = split_lines(text)[len(before) - 1]
    where = Where(file, len(before), len(before[-1]) + 1, _shown(line))
    problems.append(
        Problem(
            f"a character that cannot be seen stands here: U+{ord(wrong[0]):04X}",
            "the text without it",
            where,
        )
    )
    return None


def _shown(line: str) -> str:
    return _UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", line)


def _decoded(data: bytes, file: str, problems: list[Problem]) -> str | None:
    if data.startswith(_UTF16):
        problems.append(Problem("the file is saved as UTF-16", "save it as UTF-8", Where(file, 1, 1)))
        return None
    zero = data.find(b"\0")
    if zero >= 0:
        what = f"this is no text file: a zero byte stands at byte {zero}"
        problems.append(Problem(what, "a YAML text saved as UTF-8", _place(data, zero, file)))
        return None
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        what = f"byte {error.start} (0x{data[error.start]:02x}) is not UTF-8"
        problems.append(Problem(what, "save the file as UTF-8", _place(data, error.start, file)))
        return None


def _place(data: bytes, at: int, file: str) -> Where:
    """Line and column of a byte; what cannot be read in its line is shown as a replacement character."""
    before = split_lines(data[:at].decode("utf-8", "replace").removeprefix("\ufeff"))
    end = data.find(b"\n", at)
    rest = data[at : end if end >= 0 else len(data)][:200].decode("utf-8", "replace")
    return Where(file, len(before), len(before[-1]) + 1, _shown(before[-1] + rest))
