"""A pseudo-terminal to type into: spawns a session, waits for its prompts."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Mapping
from pathlib import Path

__all__ = ["ROOT", "Terminal"]

ROOT = Path(__file__).parents[2]
PROMPT = "\n> "


class Terminal:
    """``faultkit guide`` in a terminal of so many columns."""

    def __init__(self, *args: str, columns: int = 80, env: Mapping[str, str] | None = None) -> None:
        self.text = ""
        self.pid, self.fd = pty.fork()
        if self.pid == 0:  # the new process
            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 30, columns, 0, 0))
            kept = {k: v for k, v in os.environ.items() if k not in {"NO_COLOR", "COLUMNS", "LINES"}}
            known = {**kept, "TERM": "xterm-256color", "PYTHONPATH": str(ROOT), **(env or {})}
            os.execve(sys.executable, [sys.executable, "-m", "faultkit", "guide", *args], known)  # noqa: S606

    def wait(self, seconds: float = 240.0) -> str:
        """Everything up to the next prompt, or to the end."""
        until, start = time.monotonic() + seconds, len(self.text)
        while not self.text.endswith(PROMPT) or len(self.text) == start:
            if time.monotonic() > until:
                raise TimeoutError(self.text[-2000:])
            if not select.select([self.fd], [], [], 0.2)[0]:
                continue
            try:
                data = os.read(self.fd, 65536)
            except OSError:  # the other end is closed
                data = b""
            if not data:
                break
            self.text += data.decode("utf-8", "replace").replace("\r", "")
        return self.text[start:]

    def type(self, line: str) -> str:
        """Type a line, wait for what comes."""
        os.write(self.fd, line.encode() + b"\n")
        return self.wait()

    def kill(self) -> None:
        """As a battery does."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.fd)

    def end(self) -> int:
        """The exit code, once the session is over."""
        self.wait()
        _, status = os.waitpid(self.pid, 0)
        os.close(self.fd)
        return os.waitstatus_to_exitcode(status)

    @property
    def coloured(self) -> bool:
        """Whether anything but text was written."""
        return re.search(r"\x1b\[[0-9;]*m", self.text) is not None
