"""A small tree with cases that can be solved by hand."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from faultkit.cases.bench import Bench
from faultkit.cases.model import Case
from faultkit.loading import load_catalogue

TREE = """\
schema: 1
equipment: box
source: common practice
readings:
  air: {unit: degF, accuracy: 1 delta_degF, bands: [cold, 41 degF, warm], title: Air}
  turns: {yes_no: yes, title: Fan turns}
  volts: {unit: V, accuracy: 1 V, bands: [none, 10 V, good], title: Volts}
  door: {one_of: [shut, open], title: Door}
events:
  warm: {any_of: [stopped, {door_open: often}], title: Box warm}
  stopped: {any_of: [no_feed, motor_failed], complete: nothing else stops it, title: Fan stands}
  no_feed: {how_common: rare, title: No feed}
  motor_failed: {how_common: common, title: Motor burnt}
  door_open: {how_common: common, title: Door open}
tells:
  air: [{warm: {warm: always}}, {otherwise: {cold: always}}]
  turns: [{stopped: {"no": always}}, {otherwise: {"yes": always}}]
  volts: [{no_feed: {none: always}}, {otherwise: {good: always}}]
  door: [{door_open: {open: usually}}, {otherwise: {shut: nearly_always}}]
checks:
  look: {gives: [turns], minutes: 1, title: Look at the fan}
  measure: {gives: [volts], minutes: 3, title: Measure}
  probe: {gives: [air], minutes: 2, title: Probe}
  see_door: {gives: [door], minutes: 1, title: See the door}
remedies:
  new_motor: {ends: [motor_failed], minutes: 40, title: New motor}
  mend_feed: {ends: [no_feed], minutes: 20, title: Mend the feed}
  shut_door: {ends: [door_open], minutes: 1, title: Shut the door}
"""

HEAD = """\
schema: 1
cases: box
opened: 2026-05-12T08:30
units:
  b: {equipment: box, title: Box, place: kitchen}
calls:
"""

#: The fan stands with voltage: its motor is burnt.
BURNT = """\
  burnt:
    story: The fan stands with voltage at its leads.
    entries:
      - {kind: fact, id: air, reading: b.air, value: 50 degF}
      - {kind: fact, id: turns, reading: b.turns, value: "no"}
      - {kind: fact, id: volts, reading: b.volts, value: 115 V}
    expect: """


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The current folder, with the tree in it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "box.yaml").write_text(TREE, encoding="utf-8")
    return tmp_path


@pytest.fixture
def bench(folder: Path) -> Bench:
    return Bench(load_catalogue([folder], installed=False))


@pytest.fixture
def cases(folder: Path, bench: Bench) -> Callable[[str], tuple[Case, ...]]:
    """The cases of a text below HEAD."""

    def load(text: str, head: str = HEAD) -> tuple[Case, ...]:
        (folder / "box.cases.yaml").write_text(head + text, encoding="utf-8")
        return bench.load("box.cases.yaml")

    return load
