"""``faultkit show --watch``: pages served to this machine, renewed as the files change.

Nothing but the pages is served, to nobody but this machine. A file that cannot be read
leaves the last good picture standing, with what is wrong above it.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import secrets
import sys
import threading
import time
from collections.abc import Iterable, Mapping, Sequence
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from faultkit.cli.show import Pages, folders_of, is_file, prepare, write_pages
from faultkit.problems import InputError, Problem

__all__ = ["Watcher", "watch"]

_PAUSE = 0.4  # seconds between two looks at the files


class Watcher:
    """The pages as they are now. ``look`` reads the files anew where one has changed."""

    def __init__(self, options: argparse.Namespace) -> None:
        self.options = options
        self.good: Pages | None = None
        self.seen: dict[str, tuple[int, int]] | None = None
        self.pages: Mapping[str, str] = {}
        self.problems: tuple[Problem, ...] = ()
        self.version = ""
        self.token = secrets.token_hex(4)
        self.count = 0

    def look(self) -> bool:
        """Whether anything had changed."""
        now = _snapshot(self.folders(), self.options.what if is_file(self.options.what) else None)
        if now == self.seen:
            return False
        self.seen = now
        try:
            self.good = prepare(self.options)
            self.problems = ()
        except InputError as fault:
            self.problems = fault.problems
        self.count += 1
        version = f"{self.token}-{self.count}"
        self.pages = self.drawn(version)
        self.version = version  # after the pages: who sees it will find them
        if self.options.out:
            write_pages(self.drawn(""), self.options.out)
        return True

    def folders(self) -> list[Path]:
        """Where the files lie that a page may come from."""
        from faultkit.plugins import load_plugins

        return [*map(Path, load_plugins().folders), *folders_of(self.options)]

    def drawn(self, version: str) -> Mapping[str, str]:
        """The last good pages with today's problems, or the problems alone."""
        if self.good is not None:
            return self.good(self.problems, version)
        from faultkit.reports.tree.page import fault_page

        return {"index.html" if self.options.all else "": fault_page(self.problems, version)}

    def server(self, port: int) -> ThreadingHTTPServer:
        """A server on this machine's own address; the caller runs and closes it."""
        watcher = self

        class Handler(_Handler):
            def page(self, path: str) -> tuple[str, str] | None:
                if path == "/version":
                    return watcher.version, "text/plain"
                name = path.lstrip("/") or ("index.html" if watcher.options.all else "")
                found = watcher.pages.get(name)
                return None if found is None else (found, "text/html")

        try:
            return ThreadingHTTPServer(("127.0.0.1", port), Handler)
        except OSError as fault:
            raise InputError(f"port {port} cannot be used: {fault.strerror}", "another --port, or none") from fault


class _Handler(BaseHTTPRequestHandler):
    """Answers GET for pages; a request under another host's name (a rebound address) is refused."""

    def page(self, path: str) -> tuple[str, str] | None:
        raise NotImplementedError

    def do_GET(self) -> None:
        assert isinstance(self.server, ThreadingHTTPServer)
        port = self.server.server_port
        if self.headers.get("Host", "") not in {f"127.0.0.1:{port}", f"localhost:{port}"}:
            self.send_error(403)
            return
        found = self.page(self.path.partition("?")[0])
        if found is None:
            self.send_error(404)
            return
        data = found[0].encode()
        self.send_response(200)
        for name, value in (
            ("Content-Type", f"{found[1]}; charset=utf-8"), ("Content-Length", str(len(data))),
            ("Cache-Control", "no-store"), ("X-Content-Type-Options", "nosniff"), ("X-Frame-Options", "DENY"),
        ):
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(data)

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the name of the base class
        """Say nothing: the terminal is for problems."""


def _snapshot(folders: Iterable[Path], file: str | None) -> dict[str, tuple[int, int]]:
    """Time and size of every YAML file below the folders."""
    found: dict[str, tuple[int, int]] = {}
    paths = [Path(root, n) for f in folders for root, _, names in os.walk(f) for n in names]
    kept = [p for p in paths if p.suffix in {".yaml", ".yml"}]
    for path in [*kept, *([Path(file)] if file else [])]:
        with contextlib.suppress(OSError):  # gone between listing and looking
            stat = path.stat()
            found[str(path)] = (stat.st_mtime_ns, stat.st_size)
    return found


def watch(options: argparse.Namespace) -> None:
    """Serve until interrupted."""
    watcher = Watcher(options)
    watcher.look()
    server = watcher.server(options.port)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    print(f"http://127.0.0.1:{server.server_port}/  (Ctrl-C ends it)", flush=True)
    try:
        _say(watcher.problems)
        while True:
            time.sleep(_PAUSE)
            if watcher.look():
                _say(watcher.problems)
    except KeyboardInterrupt:
        print()
    finally:
        server.shutdown()
        server.server_close()


def _say(problems: Sequence[Problem]) -> None:
    print(InputError(problems) if problems else "read", file=sys.stderr, flush=True)
