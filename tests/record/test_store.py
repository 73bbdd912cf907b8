"""Records on disk: what is appended stays, whatever breaks."""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import assume, given

from faultkit.problems import InputError
from faultkit.record import Record, RecordError, is_record, read_record
from faultkit.record.lock import holder_note
from tests.engine.small import OPENED, rig
from tests.engine.strategies import Case, calls, examples

ROOT = Path(__file__).parents[2]
SITE = rig()


def start(path: Path) -> Record:
    return Record.create(path, SITE, OPENED, name="one", title="Warm box", site_file=path.parent / "s" / "site.yaml")


def fact(minute: int, value: str = "yes", **more: object) -> dict[str, object]:
    return {"kind": "fact", "reading": "u.turns", "value": value, "time": f"2026-07-14T10:{minute:02}", **more}


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A record of three lines, closed."""
    path = tmp_path / "call.jsonl"
    with start(path) as record:
        record.append(fact(10, id="f1"))
        record.append({"kind": "note", "text": "hums"})
    return path


def said(action: object, *given: object, **more: object) -> str:
    assert callable(action)
    with pytest.raises(InputError) as caught:
        action(*given, **more)
    assert "Traceback" not in str(caught.value)
    return str(caught.value)


# -- as it should be -----------------------------------------------------------


def test_what_is_appended_is_there_again(path: Path) -> None:
    with Record.open(path, SITE) as record:
        assert record.notices == ()
        assert (record.head.site_file, record.head.title) == ("s/site.yaml", "Warm box")
        assert [e.kind for e in record.entries()] == ["opened", "fact", "note"]
        made = record.append({"kind": "fact", "reading": "u.feed", "value": "5 V"})
        assert (made.time, made.order, made.id[:3]) == ("2026-07-14T10:10", 2, "e3-")
        assert record.call.entries[-1] == made
        last = record.sum
    chain = read_record(path)
    assert (chain.lines, chain.sum) == (4, last)
    assert chain.call(SITE) == record.call
    assert chain.call(SITE).diagnose().to_dict() == record.call.diagnose().to_dict()


def test_only_the_record_is_left_when_it_is_closed(path: Path) -> None:
    assert [p.name for p in path.parent.iterdir()] == ["call.jsonl"]


def test_the_same_entry_is_written_once(path: Path) -> None:
    before = path.read_bytes()
    with Record.open(path, SITE) as record:
        assert record.append(fact(10, id="f1")) == record.call.entries[0]
        assert record.merge(record.entries()) == ()
    assert path.read_bytes() == before


def test_late_entries_of_a_second_phone_are_merged(path: Path, tmp_path: Path) -> None:
    other = tmp_path / "second.jsonl"
    other.write_bytes(path.read_bytes())
    with Record.open(other, SITE) as second, Record.open(path, SITE) as first:
        second.append(fact(5, "no"))
        first.append(fact(12))
        second.append({"kind": "setup", "unit": "u", "on": ["gauges_on"], "time": "2026-07-14T10:12"})
        assert len(first.merge(second.entries())) == 2
        assert len(second.merge(first.entries())) == 1
        assert first.call == second.call
        assert first.call.entries[0].time.endswith("10:05")
    assert read_record(path).call(SITE) == read_record(other).call(SITE)


@examples(25)
@given(calls())
def test_any_call_is_the_same_from_its_record(drawn: tuple[Case, list[dict[str, object]]]) -> None:
    case, entries = drawn
    assume(entries)
    site = case.site()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "c.jsonl")
        with Record.create(path, site, "2026-07-14T10:05") as record:
            for entry in entries:
                record.append(entry)
        again = read_record(path).call(site)
        assert again.entries == record.call.entries
        assert json.dumps(again.diagnose().to_dict()) == json.dumps(record.call.diagnose().to_dict())
        shuffled = list(again.entries)
        random.Random(len(entries)).shuffle(shuffled)  # noqa: S311
        other = Path(folder, "d.jsonl")
        with Record.create(other, site, "2026-07-14T10:05") as late:
            late.merge(shuffled)
        assert read_record(other).call(site) == again


def test_a_record_is_known_by_name_or_first_bytes(path: Path, tmp_path: Path) -> None:
    plain = tmp_path / "call"
    plain.write_bytes(path.read_bytes())
    (tmp_path / "call.yaml").write_text('{"schema": 1, "call": "one"}', encoding="utf-8")
    assert is_record(path)
    assert is_record(plain)
    assert not is_record(tmp_path / "call.yaml")
    assert not is_record(tmp_path / "nowhere")


def test_a_record_stays_its_own_when_the_program_goes_elsewhere(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(path.parent)
    with Record.open("call.jsonl", SITE) as record:
        (tmp_path / "elsewhere").mkdir()
        monkeypatch.chdir(tmp_path / "elsewhere")
        record.append(fact(30))
    assert not holder_note(path).exists()
    assert read_record(path).lines == 4


def test_threads_take_turns(path: Path) -> None:
    with Record.open(path, SITE) as record:
        def go(name: str) -> None:
            for n in range(15):
                record.append({"kind": "note", "text": f"{name} {n}"})

        threads = [threading.Thread(target=go, args=(f"thread {n}",)) for n in range(4)]
        for t in threads:
            t.start()
        for t in threads:
            t.join()
        assert len(record.call.entries) == 62
        assert read_record(path).entries == record.call.entries


def test_a_record_does_not_grow_beyond_what_is_read(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("faultkit.record.store.LIMIT", path.stat().st_size + 1000)
    with Record.open(path, SITE) as record:
        assert "is full" in said(record.append, {"kind": "note", "text": "x" * 1000})
        record.append(fact(30))


# -- entries that do not fit -----------------------------------------------------


def test_what_does_not_fit_leaves_no_trace(path: Path) -> None:
    before = path.read_bytes()
    with Record.open(path, SITE) as record:
        kept = record.call
        assert "did you mean 'u.turns'" in said(record.append, {**fact(20), "reading": "u.trns"})
        assert "is taken by a different entry" in said(record.append, fact(20, id="f1"))
        assert "'f7' is not an earlier entry" in said(
            record.append, {"kind": "correction", "corrects": "f7", "retract": "yes"}
        )
        assert "has a time zone" in said(record.append, {**fact(20), "time": "2026-07-14T10:20Z"})
        assert "half a character" in said(record.append, {"kind": "note", "text": "\ud83d"})
        assert "has no 'time'" in said(record.merge, [{"kind": "note", "text": "x", "id": "n9"}, fact(30, id="n10")])
        assert "is of site 'elsewhere'" in said(
            record.merge, [{"kind": "opened", "site": "elsewhere", "time": OPENED, "call": "one"}]
        )
        assert record.call == kept
        record.append(fact(21))
    assert path.read_bytes().startswith(before)
    assert read_record(path).lines == 4


def test_a_record_of_another_site(path: Path) -> None:
    text = path.read_bytes()
    from faultkit.model.site import SitePlan, Unit
    from faultkit.model.types import Common, EquipmentType
    from faultkit.network.join import join_site

    other = join_site(SitePlan("elsewhere", units={"u": Unit("u", "kind", "u", "bar")}),
                      {"kind": EquipmentType("kind")}, Common())
    assert "this record is of site 'place', the site given is 'elsewhere'" in said(Record.open, path, other)
    assert path.read_bytes() == text
    assert not holder_note(path).exists()


def test_entries_that_no_longer_fit_the_site_are_shown_with_their_line(path: Path) -> None:
    from tests.engine.small import basic, one_unit

    told = said(Record.open, path, one_unit((basic("worn", 0.01),), ()))
    assert f"{path}:2:1: reading 'u.turns' is not known at this site" in told


# -- crashes -----------------------------------------------------------------------


@pytest.mark.slow
def test_opened_after_a_cut_at_every_byte(path: Path) -> None:
    data = path.read_bytes()
    ends = [n + 1 for n, byte in enumerate(data) if byte == 10]
    torn = path.with_name("call.jsonl.torn")
    for cut in range(ends[0] - 1, len(data)):
        path.write_bytes(data[:cut])
        torn.unlink(missing_ok=True)
        with Record.open(path, SITE) as record:
            whole = sum(end - 1 <= cut for end in ends)
            assert record.lines == whole
            if cut not in ends and cut + 1 not in ends:
                rest = data[ends[whole - 1] : cut]
                assert torn.read_bytes() == rest + b"\n"
                assert f"line {whole + 1} was cut off" in record.notices[0]
                assert str(torn) in record.notices[1]
            else:
                assert not torn.exists()
                assert bool(record.notices) == (cut + 1 in ends)
            record.append({"kind": "note", "text": "after"})
        chain = read_record(path)
        assert (chain.lines, chain.notices) == (whole + 1, ())
        assert path.read_bytes().startswith(data[: ends[whole - 1]])


def test_cut_within_the_opening_nothing_was_recorded(path: Path) -> None:
    data = path.read_bytes()
    for cut in (0, 1, 100, data.index(b"\n") - 1):
        path.write_bytes(data[:cut])
        assert "delete the file and create it again" in said(Record.open, path, SITE)
        assert path.read_bytes() == data[:cut]


def test_torn_bytes_of_two_crashes_are_both_kept(path: Path) -> None:
    for torn in (b'{"line": 4, "ent', b"{"):
        with path.open("ab") as stream:
            stream.write(torn)
        with Record.open(path, SITE) as record:
            assert "was cut off" in record.notices[0]
    assert path.with_name("call.jsonl.torn").read_bytes() == b'{"line": 4, "ent\n{\n'


def test_reading_leaves_a_torn_end_where_it_is(path: Path) -> None:
    data = path.read_bytes() + b'{"line": 4'
    path.write_bytes(data)
    chain = read_record(path)
    assert (chain.lines, chain.torn) == (3, b'{"line": 4')
    assert path.read_bytes() == data
    assert len(list(path.parent.iterdir())) == 1


def writer(path: Path, *numbers: int) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "tests.record.writer", str(path), *map(str, numbers)],
        cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)}, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )


@pytest.mark.slow
@pytest.mark.parametrize("size", [20, 3_000_000])
def test_killed_in_the_middle_nothing_that_was_recorded_is_lost(path: Path, size: int) -> None:
    rng = random.Random(size)  # noqa: S311 - when to kill
    recorded = ["opened", *(e.id for e in read_record(path).entries)]
    for _ in range(4):
        process = writer(path, size, 100_000)
        assert process.stdout is not None
        recorded += [process.stdout.readline().strip() for _ in range(rng.randint(1, 4))]
        process.send_signal(signal.SIGKILL)
        recorded += process.stdout.read().split()
        process.communicate()
        assert process.returncode == -signal.SIGKILL
        assert holder_note(path).exists()
        with Record.open(path, SITE) as record:
            there = [e.id for e in record.entries()]
            assert set(recorded) <= set(there)
            assert len(there) <= len(recorded) + 1  # what was written and not yet said
            recorded = there
            assert f"left locked by process {process.pid} on " in record.notices[0]
            assert "is gone; the lock was taken over" in record.notices[0]


# -- two writers ---------------------------------------------------------------------


def test_the_second_writer_is_told_who_is_first(path: Path) -> None:
    with Record.open(path, SITE) as record:
        process = writer(path, 10, 1)
        out, err = process.communicate(timeout=60)
        assert (process.returncode, out) == (1, "")
        assert f"is being written by process {os.getpid()} on " in err
        assert "end it first; reading needs no lock" in err
        with pytest.raises(RecordError, match="is being written by"):  # within one process too
            Record.open(path, SITE)
        assert read_record(path).lines == 3
        record.append(fact(30))
        assert holder_note(path).exists()
    process = writer(path, 10, 1)
    assert process.communicate(timeout=60)[0].startswith("e4-")


def test_a_lock_without_a_note_holds_too(path: Path) -> None:
    with Record.open(path, SITE):
        holder_note(path).unlink()
        assert "is being written by another program" in said(Record.open, path, SITE)


@pytest.mark.parametrize("note", ["", "no json", '{"process": "x"}', "[]", "\udcff"])
def test_a_note_that_cannot_be_read_is_a_left_over_one(path: Path, note: str) -> None:
    holder_note(path).write_bytes(note.encode("utf-8", "surrogateescape"))
    with Record.open(path, SITE) as record:
        assert bool(record.notices) == (note != "\udcff")
        assert json.loads(holder_note(path).read_text(encoding="utf-8"))["process"] == os.getpid()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")
def test_a_fork_does_not_write_into_the_record_of_its_parent(path: Path) -> None:
    code = (
        "import os, sys\nfrom faultkit.record import Record\nfrom tests.engine.small import rig\n"
        "record = Record.open(sys.argv[1], rig())\npid = os.fork()\n"
        "try:\n    record.append({'kind': 'note', 'text': 'from the ' + ('parent' if pid else 'child')})\n"
        "except ValueError as fault:\n    print(fault, flush=True)\n    os._exit(0)\n"
        "os.waitpid(pid, 0)\nrecord.close()\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, str(path)], cwd=ROOT, capture_output=True, text=True, check=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)}, timeout=60,
    )
    assert "was opened by process" in run.stdout
    assert [e.to_dict()["text"] for e in read_record(path).entries if e.kind == "note"] == ["hums", "from the parent"]


def test_a_program_that_knows_no_lock_is_noticed(path: Path) -> None:
    with Record.open(path, SITE) as record:
        with path.open("ab") as stream:
            stream.write(b"hello\n")
        kept = path.read_bytes()
        assert "was changed, moved or deleted by another program" in said(record.append, fact(30))
        assert path.read_bytes() == kept
    path.write_bytes(kept.removesuffix(b"hello\n"))
    with Record.open(path, SITE) as record:
        path.rename(path.with_name("gone.jsonl"))
        assert "was changed, moved or deleted" in said(record.append, fact(30))
        path.write_bytes(path.with_name("gone.jsonl").read_bytes())  # the same bytes, another file
        assert "was changed, moved or deleted" in said(record.append, fact(30))


def test_a_closed_record_takes_nothing(path: Path) -> None:
    record = Record.open(path, SITE)
    record.close()
    record.close()
    assert "is closed" in said(record.append, fact(30))


# -- no room, no right -------------------------------------------------------------------


def test_a_full_disk_loses_nothing(path: Path) -> None:
    """The system lets the file grow to 20 000 bytes and writes what fits, like a disk that fills up."""
    process = writer(path, 500, 100, 20_000)
    out, err = process.communicate(timeout=60)
    assert process.returncode == 3
    assert "could not take the entry: file too large" in err
    assert "nothing before it is lost" in err
    recorded = out.split()
    assert 10 < len(recorded) < 40
    chain = read_record(path)
    assert (chain.torn, chain.notices) == (b"", ())
    assert [e.id for e in chain.entries][2:] == recorded
    with Record.open(path, SITE) as record:
        record.append(fact(30))


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 128 kB."""
    folder = tmp_path / "disk"
    folder.mkdir()
    done = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=128k", "none", str(folder)],  # noqa: S607
        check=False, capture_output=True,
    ) if sys.platform == "linux" else None
    if done is None or done.returncode:
        pytest.skip("no disk can be mounted here; the limit on the size of a file is tested besides")
    yield folder
    subprocess.run(["umount", str(folder)], check=True)  # noqa: S607


def test_a_disk_that_is_really_full(small_disk: Path) -> None:
    path = small_disk / "call.jsonl"
    (small_disk / "spare").write_bytes(b"x" * 16_384)
    with start(path) as record:
        with pytest.raises(RecordError, match="could not take the entry: no space left on device"):
            append_many(record)
        assert 5 < len(record.call.entries) < 40
        assert read_record(path).entries == record.call.entries
        small = record.append({"kind": "note", "text": "x"})  # what is short may still find room
    assert read_record(path).entries[-1] == small
    assert read_record(path).notices == ()
    fill(small_disk)
    assert "cannot be created: no space left on device" in said(start, small_disk / "new.jsonl")
    assert not (small_disk / "new.jsonl").exists()
    with Record.open(path, SITE) as record:  # it opens without room for its note
        assert "no space left" in said(record.append, {"kind": "note", "text": "x" * 5000})
    with path.open("r+b") as stream:
        stream.truncate(path.stat().st_size - 10)
    fill(small_disk)
    kept = path.read_bytes()
    assert "torn end that cannot be set aside: no space left" in said(Record.open, path, SITE)
    assert path.read_bytes() == kept
    (small_disk / "spare").unlink()
    with Record.open(path, SITE) as record:
        assert "was cut off" in record.notices[0]


def append_many(record: Record) -> None:
    for _ in range(100):
        record.append({"kind": "note", "text": "x" * 3000})


def fill(folder: Path) -> None:
    with (folder / "fill").open("ab", buffering=0) as stream, pytest.raises(OSError, match="No space left"):
        stream.writelines([b"x" * 512] * 1000)


@pytest.fixture
def as_nobody() -> Iterator[Path]:
    """A folder that the one who runs the test may read and not write."""
    if not hasattr(os, "geteuid"):
        pytest.skip("this system has no such users")
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        with start(folder / "call.jsonl"):
            pass
        (folder / "call.jsonl").chmod(0o444)
        folder.chmod(0o555)
        me = os.geteuid()
        if me == 0:
            os.seteuid(65534)  # root may write everywhere
        try:
            yield folder
        finally:
            os.seteuid(me)
            folder.chmod(0o755)


def test_a_folder_that_may_only_be_read(as_nobody: Path) -> None:
    told = said(start, as_nobody / "new.jsonl")
    assert "cannot be created: permission denied" in told
    assert "a folder that exists and may be written to" in told
    told = said(Record.open, as_nobody / "call.jsonl", SITE)
    assert "cannot be opened for writing: permission denied" in told
    assert "reading needs no more" in told
    assert read_record(as_nobody / "call.jsonl").lines == 1
    assert [p.name for p in as_nobody.iterdir()] == ["call.jsonl"]


def test_names_that_are_no_record(tmp_path: Path, path: Path) -> None:
    assert "does not exist" in said(read_record, tmp_path / "nowhere.jsonl")
    assert "no such file" in said(Record.open, tmp_path / "nowhere.jsonl", SITE)
    assert "is no plain file" in said(read_record, tmp_path)
    assert "is a directory" in said(Record.open, tmp_path, SITE)
    assert "no such file" in said(start, tmp_path / "no" / "folder.jsonl")
    assert "exists already" in said(start, path)
    assert "was opened at 'noon'" in said(Record.create, tmp_path / "new.jsonl", SITE, "noon")
    assert not (tmp_path / "new.jsonl").exists()
    path.write_bytes(b"kind: note\n")
    assert "line 1 is no line of a record" in said(Record.open, path, SITE)


def test_a_changed_line_keeps_a_record_from_being_written(path: Path) -> None:
    data = path.read_bytes().replace(b"hums", b"hum!")
    path.write_bytes(data)
    assert f"{path}:3:1: line 3 was changed after it was written" in said(Record.open, path, SITE)
    assert path.read_bytes() == data
    assert not holder_note(path).exists()
