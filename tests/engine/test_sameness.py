"""Same site and entries, same diagnosis to the byte; records that never change."""

from __future__ import annotations

import json
import os
import pickle
import random
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given

from faultkit.problems import InputError
from tests.engine.strategies import Case, calls, examples, make_call, make_case

ROOT = Path(__file__).resolve().parents[2]
SEEDS = range(12)
Drawn = tuple[Case, list[dict[str, Any]]]


def text_of(case: Case, entries: list[dict[str, Any]]) -> str:
    return json.dumps(case.call(entries).diagnose().to_dict())


def all_texts() -> list[str]:
    out = []
    for seed in SEEDS:
        rng = random.Random(seed)  # noqa: S311
        case = make_case(rng)
        out.append(text_of(case, make_call(rng, case)))
    return out


@pytest.mark.parametrize("hash_seed", ["0", "1", "4711"])
def test_another_process_with_another_hash_seed_says_the_same(hash_seed: str) -> None:
    code = "import json, tests.engine.test_sameness as t; print(json.dumps(t.all_texts()))"
    env = {**os.environ, "PYTHONHASHSEED": hash_seed, "PYTHONPATH": str(ROOT)}
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env=env, capture_output=True, text=True, check=True, timeout=120
    )
    assert json.loads(run.stdout) == all_texts()


@examples(60)
@given(calls())
def test_asking_again_changes_no_byte(drawn: Drawn) -> None:
    case, entries = drawn
    call = case.call(entries)
    first = json.dumps(call.diagnose().to_dict())
    assert json.dumps(call.diagnose().to_dict()) == first
    assert text_of(case, entries) == first
    # Many passes later the circuits may run as generated code: no bit may depend on it.
    for _ in range(3):
        assert json.dumps(call.diagnose().to_dict()) == first


@examples(60)
@given(calls())
def test_sites_and_calls_survive_pickling(drawn: Drawn) -> None:
    case, entries = drawn
    call = case.call(entries)
    before = call.diagnose()
    again = pickle.loads(pickle.dumps(call))  # noqa: S301
    assert again == call
    assert again.site.memo == {}
    assert again.diagnose().to_dict() == before.to_dict()
    assert pickle.loads(pickle.dumps(before)) == before  # noqa: S301


@examples(60)
@given(calls())
def test_adding_an_entry_again_changes_nothing(drawn: Drawn) -> None:
    case, entries = drawn
    call = case.call(entries)
    assert call.add_all(entries) == call
    assert call.add_all(call.entries) == call
    for entry in entries:
        with pytest.raises(InputError, match="is taken by a different entry"):
            call.add({**entry, "by": "somebody"})


@examples(60)
@given(calls())
def test_entries_of_the_same_time_may_come_in_any_order(drawn: Drawn) -> None:
    """Unless one thing was looked at twice where only the latest counts: then order is time."""
    case, entries = drawn
    assume(all(e["kind"] != "correction" for e in entries))
    # By one instrument or said by one person, or of a reading that a calculation takes.
    looks = [
        (e["kind"], e.get("reading"))
        if str(e.get("reading")).rpartition(".")[2] in {"left", "right"}
        else (e.get("reading"), e.get("state"), e.get("by") or e.get("instrument"))
        for e in entries
    ]
    assume(len(set(looks)) == len(looks))
    at = [{**e, "time": "2026-07-14T10:30"} for e in entries]
    one, other = case.call(at).diagnose(advice=False), case.call(at[::-1]).diagnose(advice=False)
    assert set(one.events) == set(other.events)
    for name, event in one.events.items():
        same = other.events[name]
        assert event.verdict is same.verdict
        assert event.probability.low == pytest.approx(same.probability.low, rel=1e-12, abs=0.0)
    assert {frozenset(c.facts) for c in one.conflicts} == {frozenset(c.facts) for c in other.conflicts}


@examples(60)
@given(calls())
def test_what_if_leaves_the_call_alone(drawn: Drawn) -> None:
    case, entries = drawn
    assume(entries)
    call = case.call(entries[:-1])
    kept, before = call.entries, json.dumps(call.diagnose().to_dict())
    supposed = call.what_if(entries[-1])
    assert call.entries == kept
    assert json.dumps(call.diagnose().to_dict()) == before
    assert supposed.to_dict() == call.add(entries[-1]).diagnose().to_dict()


@examples(60)
@given(calls())
def test_entries_survive_json(drawn: Drawn) -> None:
    case, entries = drawn
    call = case.call(entries)
    data = json.loads(json.dumps([e.to_dict() for e in call.entries]))
    assert case.call(data).entries == call.entries
