"""Folders of equipment files."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from faultkit.model.catalogue import Catalogue
from faultkit.problems import InputError, Problem
from faultkit.reading import load_catalogue_folders
from faultkit.reading.catalogue import read_catalogue

COMMON = "schema: 1\ncommon: trade\nhazards: {live_voltage: {caution: Shock.}}\ntools: {meter: Multimeter}\n"
SECTION = "schema: 1\nsection: coil\nevents: {iced: {how_common: common}}\n"
RAIL = """\
schema: 1
equipment: rail
sections: {coil: {use: coil}}
readings: {drips: yes_no}
tells: {drips: [{coil.iced: {yes: usually}}, {otherwise: {no: nearly_always}}]}
checks: {look: {gives: [drips], minutes: 1, hazards: [live_voltage], tools: [meter]}}
"""
FILES = {"trade.yaml": COMMON, "parts/coil.yaml": SECTION, "rail/rail.yaml": RAIL}


def write(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    return folder


def read(folder: Path, **changed: str) -> tuple[Catalogue, list[Problem]]:
    files = dict(FILES) | {k.replace("__", "/") + ".yaml": v for k, v in changed.items()}
    problems: list[Problem] = []
    return read_catalogue([write(folder, files)], problems), problems


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return Path("cat")


def test_types_common_words_and_files(here: Path) -> None:
    catalogue, problems = read(here)
    assert problems == []
    assert list(catalogue.types) == ["rail"]
    assert set(catalogue.types["rail"].events) == {"coil.iced"}
    assert list(catalogue.common.hazards) == ["live_voltage"]
    assert catalogue.files == ("cat/parts/coil.yaml", "cat/rail/rail.yaml", "cat/trade.yaml")


def test_other_files_are_not_part_of_it(here: Path) -> None:
    plain, _ = read(here)
    write(
        here,
        {
            "rail/rail.cases.yaml": "not: [read",
            "rail/notes.txt": "not: [read",
            ".hidden.yaml": "not: [read",
            ".git/config.yaml": "not: [read",
            "site.yaml": "schema: 1\nsite: s\nunits: {a: {equipment: nothing}}\n",
            "call.yaml": "schema: 1\ncall: c\nsite: s.yaml\n",
        },
    )
    again, problems = read(here)
    assert problems == []
    assert again == plain


def test_the_hash_is_over_names_and_contents(here: Path) -> None:
    expected = hashlib.sha256()
    for name in sorted(FILES):
        for part in (name.encode(), FILES[name].encode()):
            expected.update(len(part).to_bytes(8, "big") + part)
    assert read(here)[0].hash == expected.hexdigest()


def test_the_hash_changes_with_a_name_or_a_byte_but_not_with_the_place(tmp_path: Path) -> None:
    first = read(tmp_path / "a")[0].hash
    assert read(tmp_path / "b")[0].hash == first
    assert read(tmp_path / "c", rail__rail=RAIL + "# x\n")[0].hash != first
    moved = write(tmp_path / "d", {("x.yaml" if n == "trade.yaml" else n): t for n, t in FILES.items()})
    assert load_catalogue_folders([moved]).hash != first


@pytest.mark.usefixtures("here")
def test_several_folders_make_one_catalogue() -> None:
    write(Path("one"), {"trade.yaml": COMMON, "coil.yaml": SECTION})
    write(Path("two"), {"rail.yaml": RAIL})
    assert list(load_catalogue_folders(["one", "two"]).types) == ["rail"]


def test_a_file_reached_twice_is_read_once(here: Path) -> None:
    read(here)
    assert load_catalogue_folders([here, here / "rail", here]).files == load_catalogue_folders([here]).files


def test_a_link_in_a_circle_ends(here: Path) -> None:
    read(here)
    (here / "again").symlink_to(here.resolve(), target_is_directory=True)
    assert list(load_catalogue_folders([here]).types) == ["rail"]


def test_an_empty_folder_is_an_empty_catalogue(tmp_path: Path) -> None:
    catalogue = load_catalogue_folders([tmp_path])
    assert catalogue.types == {}
    assert catalogue.files == ()


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize("name", ["none", "file.yaml"])
def test_a_folder_must_be_one(name: str) -> None:
    Path("file.yaml").write_text(RAIL)
    problems: list[Problem] = []
    read_catalogue([name], problems)
    assert [str(p.where) for p in problems] == [f"{name}:1:1"]
    assert "folder" in problems[0].what


@pytest.mark.parametrize(("kind", "text"), [("equipment", RAIL), ("section", SECTION), ("common", COMMON)])
def test_the_same_name_in_two_files_names_both_places(here: Path, kind: str, text: str) -> None:
    _, [problem] = read(here, zz=text)
    assert str(problem.where) == "cat/zz.yaml:2:1"
    assert f"{kind} '" in problem.what
    first = next(n for n, t in FILES.items() if t == text)
    assert f"first at cat/{first}:2:1" in problem.what


def test_problems_of_all_files_come_together(here: Path) -> None:
    broken = {"one": "a: [1", "two": "schema: 1\nequipment: Two\n", "three": "equipment: three\n", "four": "hello"}
    write(here, {**FILES, **{f"bad/{name}.yaml": text for name, text in broken.items()}})
    with pytest.raises(InputError) as caught:
        load_catalogue_folders([here])
    assert [str(p.where) for p in caught.value.problems] == [
        "cat/bad/four.yaml:1:1", "cat/bad/one.yaml:1:4", "cat/bad/three.yaml:1:1", "cat/bad/two.yaml:2:12",
    ]  # fmt: skip


def test_meaning_is_checked_too(here: Path) -> None:
    catalogue, [problem] = read(here, rail__rail=RAIL.replace("hazards: [live_voltage]", "hazards: [live_voltag]"))
    assert str(problem.where) == "cat/rail/rail.yaml:6:55"
    assert "did you mean 'live_voltage'?" in problem.expected
    assert catalogue.types == {}


# What uses a broken file would only repeat that file's mistake.
@pytest.mark.parametrize(
    ("changed", "place"),
    [
        (
            {"parts__coil": "schema: 1\nsection: coil\nevents: {iced: {how_common: comon}}\n"},
            "cat/parts/coil.yaml:3:29",
        ),
        ({"parts__coil": "schema: 1\nsection: coil\nevents: {iced: [\n"}, "cat/parts/coil.yaml:3:16"),
        ({"trade": "schema: 1\ncommon: trade\nhazards: {live_voltage: {}}\n"}, "cat/trade.yaml:3:25"),
        ({"trade": "schema: 1\ncommon: trade\nhazards: {live_voltage\n"}, "cat/trade.yaml:3:10"),
        ({"trade": "schema: 1\ncommn: trade\n"}, "cat/trade.yaml:2:1"),
    ],
)
def test_one_broken_file_gives_one_problem(here: Path, changed: dict[str, str], place: str) -> None:
    _, problems = read(here, **changed)
    assert [str(p.where) for p in problems] == [place]


def test_a_broken_type_does_not_hide_mistakes_of_another(here: Path) -> None:
    other = RAIL.replace("equipment: rail", "equipment: other").replace("gives: [drips]", "gives: [drip]")
    _, problems = read(here, rail__rail="schema: 1\nequipment: rail\nplain: [\n", other=other)
    assert {p.where.file for p in problems if p.where} == {"cat/rail/rail.yaml", "cat/other.yaml"}


def test_a_missing_section_is_named(here: Path) -> None:
    _, [problem] = read(
        here, rail__rail=RAIL.replace("use: coil", "use: coyl").replace("{coil.iced: {yes: usually}}, ", "")
    )
    assert "no section 'coyl'" in problem.what
    assert "did you mean 'coil'?" in problem.expected


def test_a_mistake_in_a_section_comes_once_however_many_use_it(here: Path) -> None:
    broken = SECTION.replace("events: {", "events: {frosted: {any_of: [icd]}, ")
    _, [problem] = read(here, parts__coil=broken, other=RAIL.replace("equipment: rail", "equipment: other"))
    assert problem.where is not None
    assert problem.where.file == "cat/parts/coil.yaml"


def test_a_section_that_nobody_uses_is_checked(here: Path) -> None:
    _, [problem] = read(here, parts__unused="schema: 1\nsection: unused\nevents: {a: {any_of: [b]}}\n")
    assert problem.where is not None
    assert problem.where.file == "cat/parts/unused.yaml"


def test_a_file_that_cannot_be_read(here: Path) -> None:
    read(here)
    (here / "gone.yaml").symlink_to("nowhere.yaml")
    problems: list[Problem] = []
    read_catalogue([here], problems)
    assert ["no such file" in p.what for p in problems] == [True]
