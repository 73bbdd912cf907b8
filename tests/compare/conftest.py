"""Two catalogues of one tree, the second with an edit."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from faultkit.compare.changes import Change, changes_of
from faultkit.model.catalogue import Catalogue
from faultkit.reading import load_catalogue_folders

COMMON = """\
schema: 1
common: words
source: common practice
hazards: {shock: {caution: Keep out}}
setups: {cover_off: {minutes: 4}}
instruments: {meter: {accuracy: 1 V}}
tools: {ladder: Ladder}
"""

TREE = """\
schema: 1
equipment: box
title: Box
source: common practice
settings: {supply: 115 V, mode: {words: [a, b], default: a}}
house_events: {lamp: {default: no}}
states: {running: It runs}
joins: {feeds: {reverse_of: fed_by, events: [stopped]}, fed_by: {optional: yes, events: [stopped]}}
readings:
  air: {unit: degF, accuracy: 1 delta_degF, range: [0 degF, 140 degF], bands: [cold, 41 degF, warm]}
  room: {unit: degF}
  lift: {unit: delta_degF, calculate: {use: difference, a: room, b: air}, bands: [small, 5 delta_degF, large]}
  turns: {yes_no: yes, in: running}
  volts: {unit: V, bands: [none, 10 V, low, 90 % of supply, good]}
  smell: {one_of: [none, burnt]}
events:
  warm: {any_of: [stopped, {door_open: often}], title: Box warm}
  stopped: {any_of: [no_feed, motor_failed], complete: nothing else stops it}
  both: {all_of: [no_feed, motor_failed]}
  no_feed: {how_common: {winter: rare, otherwise: common}}
  motor_failed: {how_common: common, broken_by: {no_feed: seldom}}
  door_open: {how_common: common}
tells:
  air: [{warm: {warm: always}}, {otherwise: {cold: always}}]
  lift: [{warm: {large: usually}}, {otherwise: {small: nearly_always}}]
  turns: [{stopped: {"no": always}}, {otherwise: {"yes": always}}]
  volts: [{no_feed: {none: always}}, {otherwise: {good: usually}}]
  smell: [{motor_failed: {burnt: usually}}, {no_feed: {burnt: rarely}}, {otherwise: {none: nearly_always}}]
checks:
  look: {gives: [turns, smell], minutes: 1, tools: [ladder], hazards: [shock], steps: [Look.]}
  measure: {gives: [volts], minutes: 3, setups: [cover_off]}
remedies:
  new_motor: {ends: [motor_failed], minutes: 40, parts: [motor], may_leave: {no_feed: rarely}, prove: {smell: none}}
"""


@pytest.fixture
def catalogues(tmp_path: Path) -> Callable[[str, str], tuple[Catalogue, Catalogue]]:
    """The catalogue as it is, and with ``old`` replaced by ``new`` in its files."""

    def make(old: str, new: str) -> tuple[Catalogue, Catalogue]:
        assert old == "" or COMMON.count(old) + TREE.count(old) == 1, old
        found = []
        for name, edit in (("old", False), ("new", True)):
            folder = tmp_path / name
            folder.mkdir(exist_ok=True)
            for file, text in (("words.yaml", COMMON), ("box.yaml", TREE)):
                (folder / file).write_text(text.replace(old, new) if edit and old else text, encoding="utf-8")
            found.append(load_catalogue_folders([folder]))
        return found[0], found[1]

    return make


@pytest.fixture
def changes(catalogues: Callable[[str, str], tuple[Catalogue, Catalogue]]) -> Callable[[str, str], tuple[Change, ...]]:
    def run(old: str, new: str) -> tuple[Change, ...]:
        return changes_of(*catalogues(old, new))

    return run
