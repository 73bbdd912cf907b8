"""The example site, a clock that stands, and a driver of the session that reads and writes nothing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

import faultkit
from faultkit.guide import Reply, answer, layout, start

ROOT = Path(__file__).parents[2]
NOW = "2026-07-14T10:06:00"


@pytest.fixture(scope="session")
def site() -> faultkit.Site:
    return faultkit.load_site(ROOT / "examples" / "site.yaml")


class Player:
    """Types lines; keeps all replies."""

    def __init__(self, call: faultkit.Call) -> None:
        self.reply: Reply = start(call, NOW)
        self.said = self.text()

    def type(self, *lines: str) -> str:
        for line in lines:
            self.reply = answer(self.reply.session, line, NOW)
            self.said = self.text()
        return self.said

    def text(self, width: int = 200) -> str:
        return "\n".join(line for _, line in layout(self.reply.blocks, width))

    @property
    def prompt(self) -> str:
        last = self.reply.blocks[-1]
        return last.text if last.style == "prompt" else ""

    @property
    def call(self) -> faultkit.Call:
        return self.reply.session.call


@pytest.fixture
def play(site: faultkit.Site) -> Callable[..., Player]:
    """A player on a call with a complaint, past the opening."""

    def make(*, complaint: bool = True, role: str = "licensed") -> Player:
        call = faultkit.Call(site, "2026-07-14T10:05")
        if complaint:
            call = call.add({"kind": "complaint", "event": "base.base_warm", "by": "customer"})
        if role:
            call = call.add({"kind": "conditions", "role": role})
        return Player(call)

    return make
